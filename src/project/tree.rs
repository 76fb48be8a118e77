//! The TOML text as a tree of values with their places, and the merging of a file into the one it is based on.

use crate::diag::FileId;
use crate::diag::Span;
use toml::de::{DeTable, DeValue};

/// A value and where it is written.
#[derive(Clone, Debug)]
pub(super) struct Node {
    pub(super) span: Span,
    pub(super) value: Value,
}

/// What a value is.
#[derive(Clone, Debug)]
pub(super) enum Value {
    Text(String),
    /// Integers and decimals; `None` for an integer or decimal out of range. May be NaN or infinite.
    Number(Option<f64>),
    Flag(bool),
    Date,
    List(Vec<Node>),
    Table(Vec<Entry>),
}

/// A key with its value, in the order of the file.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    pub(super) key: String,
    pub(super) key_span: Span,
    pub(super) node: Node,
}

impl Value {
    /// What it is, in a maker's words.
    pub(super) fn kind(&self) -> &'static str {
        match self {
            Self::Text(_) => "a text",
            Self::Number(_) => "a number",
            Self::Flag(_) => "true or false",
            Self::Date => "a date",
            Self::List(_) => "a list",
            Self::Table(_) => "a table",
        }
    }
}

/// A later file's first key puts the second out of force, as they say the same thing or no longer belong together.
const SUPERSEDES: [(&str, &str); 17] = [
    ("width", "clear_width"),
    ("clear_width", "width"),
    ("depth", "clear_depth"),
    ("clear_depth", "depth"),
    ("height", "clear_height"),
    ("clear_height", "height"),
    ("at", "on"),
    ("at", "shift"),
    ("on", "at"),
    ("above", "washers"),
    ("above", "washer"),
    ("washers", "above"),
    ("hole", "width"),
    ("hole", "depth"),
    ("width", "hole"),
    // Thickness readings are of one board; another profile is another board.
    ("profile", "readings"),
    ("outline", "size"),
];

/// Parses a text; every syntax error with its place, or the document's root table.
pub(super) fn parse(text: &str, file: FileId) -> Result<Node, Vec<(String, Span)>> {
    let (root, errors) = DeTable::parse_recoverable(text);
    if !errors.is_empty() {
        let place = |range: Option<std::ops::Range<usize>>| {
            let range = range.unwrap_or(0..0);
            Span { file, start: range.start, end: range.end }
        };
        return Err(errors.iter().map(|e| (e.message().to_owned(), place(e.span()))).collect());
    }
    let span = Span { file, start: root.span().start, end: root.span().end };
    Ok(Node { span, value: Value::Table(table(root.get_ref(), file)) })
}

fn table(entries: &DeTable<'_>, file: FileId) -> Vec<Entry> {
    let mut list: Vec<Entry> = entries
        .iter()
        .map(|(key, value)| Entry {
            key: key.get_ref().to_string(),
            key_span: Span { file, start: key.span().start, end: key.span().end },
            node: node(value.get_ref(), Span { file, start: value.span().start, end: value.span().end }, file),
        })
        .collect();
    list.sort_by_key(|entry| entry.key_span);
    list
}

/// Depth is bounded: the parser refuses deep nesting before this sees it.
fn node(value: &DeValue<'_>, span: Span, file: FileId) -> Node {
    let value = match value {
        DeValue::String(text) => Value::Text(text.to_string()),
        DeValue::Integer(integer) => {
            Value::Number(i64::from_str_radix(integer.as_str(), integer.radix()).ok().map(|i| i as f64))
        }
        DeValue::Float(float) => Value::Number(float.as_str().parse().ok()),
        DeValue::Boolean(flag) => Value::Flag(*flag),
        DeValue::Datetime(_) => Value::Date,
        DeValue::Array(items) => Value::List(
            items
                .iter()
                .map(|item| node(item.get_ref(), Span { file, start: item.span().start, end: item.span().end }, file))
                .collect(),
        ),
        DeValue::Table(entries) => Value::Table(table(entries, file)),
    };
    Node { span, value }
}

/// Lays `later` over `base`: tables merge by key, lists of named tables by name, everything else is replaced.
pub(super) fn merge(base: &mut Node, later: Node) {
    match (&mut base.value, later.value) {
        (Value::Table(entries), Value::Table(news)) => {
            for new in news {
                for (_, old) in SUPERSEDES.iter().filter(|(key, _)| *key == new.key) {
                    entries.retain(|entry| entry.key != *old || entry.key_span.file == new.key_span.file);
                }
                match entries.iter_mut().find(|entry| entry.key == new.key) {
                    Some(old) => {
                        old.key_span = new.key_span;
                        merge(&mut old.node, new.node);
                    }
                    None => entries.push(new),
                }
            }
            base.span = later.span;
        }
        // An empty list clears what was there.
        (Value::List(olds), Value::List(news)) if !news.is_empty() && named(olds) && named(&news) => {
            for new in news {
                match olds.iter_mut().find(|old| old.span.file != new.span.file && name(old) == name(&new)) {
                    Some(old) => merge(old, new),
                    None => olds.push(new),
                }
            }
        }
        (_, value) => *base = Node { span: later.span, value },
    }
}

fn named(list: &[Node]) -> bool {
    list.iter().all(|node| name(node).is_some())
}

fn name(node: &Node) -> Option<&str> {
    let Value::Table(entries) = &node.value else { return None };
    entries.iter().find(|entry| entry.key == "name").and_then(|entry| match &entry.node.value {
        Value::Text(text) => Some(text.as_str()),
        _ => None,
    })
}

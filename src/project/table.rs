//! A cursor over one table of the file: asks for keys by name and kind, and reports what is wrong or left over.

use super::codes;
use super::tree::{Entry, Node, Value};
use super::Written;
use crate::diag::{FileId, Finding, Span};
use crate::shop::nearest;
use crate::units::{parse_length, Mm, Unit};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

/// What all cursors share: the findings so far and the unit of each file.
#[derive(Debug, Default)]
pub(super) struct Desk {
    pub(super) findings: RefCell<Vec<Finding>>,
    pub(super) units: BTreeMap<FileId, Unit>,
}

/// A value that is either put away with `false` or given in some form.
pub(super) enum OffOr<T> {
    Off,
    Given(T),
}

/// A cursor over one table.
pub(super) struct Table<'a> {
    pub(super) desk: &'a Desk,
    /// How messages call it: `[[carcass]] "lower"`.
    pub(super) what: String,
    pub(super) span: Span,
    entries: &'a [Entry],
    asked: Vec<&'static str>,
}

impl Desk {
    pub(super) fn report(&self, finding: Finding) {
        self.findings.borrow_mut().push(finding);
    }

    fn unit(&self, file: FileId) -> Option<Unit> {
        self.units.get(&file).copied()
    }

    fn wrong_type(&self, what: &str, wanted: &str, node: &Node) {
        self.report(
            Finding::stop(codes::WRONG_TYPE, format!("{what} wants {wanted}, not {}", node.value.kind()))
                .at(node.span)
                .remedy(format!("write {wanted}")),
        );
    }

    /// A finite number.
    pub(super) fn number(&self, what: &str, node: &Node) -> Option<Written<f64>> {
        match node.value {
            Value::Number(Some(value)) if value.is_finite() => Some(Written { value, span: node.span }),
            Value::Number(_) => {
                self.report(
                    Finding::stop(codes::NUMBER_OUT_OF_RANGE, format!("{what} is not a finite number"))
                        .at(node.span)
                        .remedy("write an ordinary number"),
                );
                None
            }
            _ => {
                self.wrong_type(what, "a number", node);
                None
            }
        }
    }

    /// A length: a bare number in the file's unit, or a text with its own.
    pub(super) fn length(&self, what: &str, node: &Node) -> Option<Written<Mm>> {
        match &node.value {
            Value::Number(_) => {
                let number = self.number(what, node)?;
                let unit = self.unit(node.span.file).unwrap_or(Unit::Mm);
                let value = unit.in_mm() * number.value;
                value.0.is_finite().then_some(Written { value, span: node.span })
            }
            Value::Text(text) => match parse_length(text, self.unit(node.span.file)) {
                Ok(value) => Some(Written { value, span: node.span }),
                Err(error) => {
                    self.report(
                        Finding::stop(codes::UNREADABLE_LENGTH, format!("{what} cannot be read: {error}"))
                            .at(node.span)
                            .remedy("write 685.8, \"68.58 cm\", \"26 7/8 in\" or \"2 ft 3 1/2 in\""),
                    );
                    None
                }
            },
            _ => {
                self.wrong_type(what, "a length", node);
                None
            }
        }
    }

    pub(super) fn text(&self, what: &str, node: &Node) -> Option<Written<String>> {
        if let Value::Text(text) = &node.value {
            if text.trim().is_empty() {
                self.report(
                    Finding::stop(codes::WRONG_TYPE, format!("{what} is an empty text"))
                        .at(node.span)
                        .remedy("write a word, or leave the key out"),
                );
                return None;
            }
            return Some(Written { value: text.clone(), span: node.span });
        }
        self.wrong_type(what, "a text", node);
        None
    }

    /// One of a list of words.
    pub(super) fn word<T: Copy>(&self, what: &str, node: &Node, words: &[(&str, T)]) -> Option<Written<T>> {
        let text = self.text(what, node)?;
        if let Some((_, value)) = words.iter().find(|(word, _)| *word == text.value) {
            return Some(Written { value: *value, span: text.span });
        }
        let list: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        self.report(
            Finding::stop(codes::UNKNOWN_WORD, format!("{what} does not take \"{}\"", text.value))
                .at(text.span)
                .limit(format!("one of {}", list.join(", ")))
                .remedy(
                    did_you_mean(&text.value, list.iter().copied())
                        .unwrap_or_else(|| "use one of the words listed".to_owned()),
                ),
        );
        None
    }

    /// A list of lengths of a fixed count.
    pub(super) fn lengths<const N: usize>(&self, what: &str, node: &Node) -> Option<Written<[Mm; N]>> {
        match &node.value {
            Value::List(items) if items.len() == N => {
                // All are read before giving up, so that each bad one is reported.
                let read: Vec<Option<Written<Mm>>> = items.iter().map(|item| self.length(what, item)).collect();
                let all: Vec<Mm> = read.into_iter().flatten().map(|length| length.value).collect();
                Some(Written { value: all.try_into().ok()?, span: node.span })
            }
            _ => {
                self.wrong_list(what, N, node);
                None
            }
        }
    }

    fn wrong_list(&self, what: &str, count: usize, node: &Node) {
        let found = match &node.value {
            Value::List(items) => format!("a list of {}", items.len()),
            other => other.kind().to_owned(),
        };
        self.report(
            Finding::stop(codes::WRONG_TYPE, format!("{what} wants a list of {count} lengths, not {found}"))
                .at(node.span)
                .remedy(format!("write {count} lengths between square brackets")),
        );
    }
}

impl<'a> Table<'a> {
    /// A cursor over a node that must be a table.
    pub(super) fn open(desk: &'a Desk, what: &str, node: &'a Node) -> Option<Self> {
        if let Value::Table(entries) = &node.value {
            return Some(Self { desk, what: what.to_owned(), span: node.span, entries, asked: Vec::new() });
        }
        desk.wrong_type(what, "a table", node);
        None
    }

    /// How messages call one of its keys.
    pub(super) fn called(&self, key: &str) -> String {
        if self.what.is_empty() {
            format!("`{key}`")
        } else {
            format!("`{key}` of {}", self.what)
        }
    }

    /// The node under a key, whatever it is; the key counts as known from now on.
    pub(super) fn get(&mut self, key: &'static str) -> Option<&'a Node> {
        self.asked.push(key);
        self.entries.iter().find(|entry| entry.key == key).map(|entry| &entry.node)
    }

    /// Whether a key is written, even with a value that cannot be read: that has been told already.
    pub(super) fn gives(&self, key: &str) -> bool {
        self.entries.iter().any(|entry| entry.key == key)
    }

    /// Every entry, for tables whose keys are the maker's own names.
    pub(super) fn entries(&self) -> &'a [Entry] {
        self.entries
    }

    /// Reports a key that must be there.
    pub(super) fn missing(&self, key: &str, example: &str) {
        self.desk.report(
            Finding::stop(codes::MISSING_KEY, format!("{} is missing", self.called(key)))
                .at(self.span)
                .remedy(format!("add `{key} = {example}`")),
        );
    }

    /// Asks for a key that must be there.
    pub(super) fn need<T>(
        &mut self,
        key: &'static str,
        example: &str,
        read: impl FnOnce(&mut Self, &'static str) -> Option<T>,
    ) -> Option<T> {
        if !self.entries.iter().any(|entry| entry.key == key) {
            self.missing(key, example);
        }
        read(self, key)
    }

    pub(super) fn length(&mut self, key: &'static str) -> Option<Written<Mm>> {
        let node = self.get(key)?;
        self.desk.length(&self.called(key), node)
    }

    pub(super) fn lengths<const N: usize>(&mut self, key: &'static str) -> Option<Written<[Mm; N]>> {
        let node = self.get(key)?;
        self.desk.lengths(&self.called(key), node)
    }

    pub(super) fn text(&mut self, key: &'static str) -> Option<Written<String>> {
        let node = self.get(key)?;
        self.desk.text(&self.called(key), node)
    }

    pub(super) fn number(&mut self, key: &'static str) -> Option<Written<f64>> {
        let node = self.get(key)?;
        self.desk.number(&self.called(key), node)
    }

    /// A number that is zero or more.
    pub(super) fn amount(&mut self, key: &'static str) -> Option<Written<f64>> {
        let number = self.number(key)?;
        if number.value >= 0.0 {
            return Some(number);
        }
        self.out_of_range(key, "zero or more", number.span);
        None
    }

    /// A whole number from 1 to 10 000.
    pub(super) fn count(&mut self, key: &'static str) -> Option<Written<u32>> {
        let number = self.number(key)?;
        if number.value.fract() == 0.0 && (1.0..=10_000.0).contains(&number.value) {
            return Some(Written { value: number.value as u32, span: number.span });
        }
        self.out_of_range(key, "a whole number from 1 to 10000", number.span);
        None
    }

    /// A share between 0 and 1: a number, or a fraction as text.
    pub(super) fn share(&mut self, key: &'static str) -> Option<Written<f64>> {
        let node = self.get(key)?;
        let value = match &node.value {
            Value::Text(text) => {
                let parts: Option<(f64, f64)> =
                    text.split_once('/').and_then(|(a, b)| Some((a.trim().parse().ok()?, b.trim().parse().ok()?)));
                parts.map_or(f64::NAN, |(above, below)| above / below)
            }
            _ => self.desk.number(&self.called(key), node)?.value,
        };
        if (0.0..1.0).contains(&value) {
            return Some(Written { value, span: node.span });
        }
        self.out_of_range(key, "a share from 0 to under 1, such as 0.4 or \"1/3\"", node.span);
        None
    }

    pub(super) fn out_of_range(&self, key: &str, wanted: &str, span: Span) {
        self.desk.report(
            Finding::stop(codes::NUMBER_OUT_OF_RANGE, format!("{} is out of range", self.called(key)))
                .at(span)
                .limit(wanted)
                .remedy(format!("write {wanted}")),
        );
    }

    pub(super) fn flag(&mut self, key: &'static str) -> Option<Written<bool>> {
        let node = self.get(key)?;
        if let Value::Flag(value) = node.value {
            return Some(Written { value, span: node.span });
        }
        self.desk.wrong_type(&self.called(key), "true or false", node);
        None
    }

    pub(super) fn one_of<T: Copy>(&mut self, key: &'static str, words: &[(&str, T)]) -> Option<Written<T>> {
        let node = self.get(key)?;
        self.desk.word(&self.called(key), node, words)
    }

    /// A text, or `false` to do without.
    pub(super) fn text_or_off(&mut self, key: &'static str) -> Option<OffOr<Written<String>>> {
        let node = self.get(key)?;
        match &node.value {
            Value::Flag(false) => Some(OffOr::Off),
            Value::Text(_) => self.desk.text(&self.called(key), node).map(OffOr::Given),
            _ => {
                self.desk.wrong_type(&self.called(key), "a name or false", node);
                None
            }
        }
    }

    /// A table, or `false` to do without.
    pub(super) fn table_or_off(&mut self, key: &'static str) -> Option<OffOr<Table<'a>>> {
        let node = self.get(key)?;
        if let Value::Flag(false) = node.value {
            return Some(OffOr::Off);
        }
        Table::open(self.desk, &self.called(key), node).map(OffOr::Given)
    }

    pub(super) fn table(&mut self, key: &'static str) -> Option<Table<'a>> {
        let node = self.get(key)?;
        let what = if self.what.is_empty() { format!("[{key}]") } else { self.called(key) };
        Table::open(self.desk, &what, node)
    }

    /// The items of a list, each with how messages call it.
    pub(super) fn list(&mut self, key: &'static str) -> Vec<(String, &'a Node)> {
        let Some(node) = self.get(key) else { return Vec::new() };
        let called = self.called(key);
        if let Value::List(items) = &node.value {
            return items.iter().map(|item| (called.clone(), item)).collect();
        }
        self.desk.wrong_type(&called, "a list", node);
        Vec::new()
    }

    /// The tables of a list of tables.
    pub(super) fn tables(&mut self, key: &'static str) -> Vec<Table<'a>> {
        let desk = self.desk;
        let prefix = if self.what.is_empty() { String::new() } else { format!(" of {}", self.what) };
        let items = self.list(key);
        items.into_iter().filter_map(|(_, node)| Table::open(desk, &format!("[[{key}]]{prefix}"), node)).collect()
    }

    /// Reads the name every table of a list must have; a missing one is reported and replaced by its place in the list.
    pub(super) fn own_name(&mut self, kind: &str, index: usize) -> Written<String> {
        let name = self.need("name", "\"...\"", Self::text);
        let name = name.unwrap_or_else(|| Written { value: format!("{kind} {}", index + 1), span: self.span });
        self.what = format!("{kind} \"{}\"", name.value);
        name
    }

    /// Reports every key nobody asked for, with the nearest that somebody did.
    pub(super) fn finish(self) {
        for entry in self.entries.iter().filter(|entry| !self.asked.iter().any(|asked| *asked == entry.key)) {
            let mut known = self.asked.clone();
            known.sort_unstable();
            let place = if self.what.is_empty() { "the file".to_owned() } else { self.what.clone() };
            let remedy = did_you_mean(&entry.key, known.iter().copied()).unwrap_or_else(|| "take it out".to_owned());
            self.desk.report(
                Finding::stop(codes::UNKNOWN_KEY, format!("`{}` is not a key of {place}", entry.key))
                    .at(entry.key_span)
                    .limit(format!("known here: {}", known.join(", ")))
                    .remedy(remedy),
            );
        }
    }
}

/// Reports names that occur twice in a list.
pub(super) fn unique<'a>(desk: &Desk, kind: &str, names: impl Iterator<Item = &'a Written<String>>) {
    let mut seen: BTreeSet<&str> = BTreeSet::new();
    for name in names {
        if !seen.insert(&name.value) {
            desk.report(
                Finding::stop(codes::DUPLICATE_NAME, format!("there are two {kind}s named \"{}\"", name.value))
                    .at(name.span)
                    .remedy("give one of them another name"),
            );
        }
    }
}

/// `did you mean ...?` with the words nearest to the one written, if any comes close.
pub(crate) fn did_you_mean<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<String> {
    let near: Vec<String> = nearest(word, known).iter().map(|near| format!("`{near}`")).collect();
    (!near.is_empty()).then(|| format!("did you mean {}?", near.join(" or ")))
}

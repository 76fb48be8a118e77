//! `[bay]`: the measured room.

use super::table::{unique, Desk, Table};
use super::tree::{Node, Value};
use super::{Length, Text, Written};
use crate::diag::Span;
use crate::units::Mm;

/// A size measured with a tape.
#[derive(Clone, Debug)]
pub struct Measured {
    /// The readings; at least one.
    pub readings: Vec<Length>,
    /// How far each may be off, either way; `None` when not said.
    pub uncertainty: Option<Length>,
    /// Where it is written.
    pub span: Span,
}

/// `[bay]`.
#[derive(Clone, Debug)]
pub struct Bay {
    /// `width`.
    pub width: Option<Measured>,
    /// `depth`.
    pub depth: Option<Measured>,
    /// `height`.
    pub height: Option<Measured>,
    /// `opening`.
    pub opening: Option<Opening>,
    /// `door`: pairs of height and reach.
    pub door: Vec<Written<[Mm; 2]>>,
    /// `[[bay.keep_out]]`.
    pub keep_outs: Vec<KeepOut>,
    /// `[[bay.anchor]]`.
    pub anchors: Vec<Anchor>,
    /// Where it is written.
    pub span: Span,
}

/// `opening = { width, height, sill, left }`.
#[derive(Clone, Debug)]
pub struct Opening {
    /// `width`.
    pub width: Option<Length>,
    /// `height`.
    pub height: Option<Length>,
    /// `sill`.
    pub sill: Option<Length>,
    /// `left`.
    pub left: Option<Length>,
    /// Where it is written.
    pub span: Span,
}

/// `[[bay.keep_out]]`.
#[derive(Clone, Debug)]
pub struct KeepOut {
    /// `name`.
    pub name: Text,
    /// `from`: left, front, bottom.
    pub from: Option<Written<[Mm; 3]>>,
    /// `size`: width, depth, height.
    pub size: Option<Written<[Mm; 3]>>,
    /// Where it is written.
    pub span: Span,
}

/// `[[bay.anchor]]`.
#[derive(Clone, Debug)]
pub struct Anchor {
    /// `name`.
    pub name: Text,
    /// `at`: x and y.
    pub at: Option<Written<[Mm; 2]>>,
    /// `thread`: a fastener's id.
    pub thread: Option<Text>,
    /// `rating` in N; `None` for "not known" or not said.
    pub rating_n: Option<Written<f64>>,
    /// Where it is written.
    pub span: Span,
}

pub(super) fn read(mut table: Table<'_>) -> Bay {
    let bay = Bay {
        width: measured(&mut table, "width"),
        depth: measured(&mut table, "depth"),
        height: measured(&mut table, "height"),
        opening: table.table("opening").map(opening),
        door: door(&mut table),
        keep_outs: table.tables("keep_out").into_iter().enumerate().map(|(i, t)| keep_out(t, i)).collect(),
        anchors: table.tables("anchor").into_iter().enumerate().map(|(i, t)| anchor(t, i)).collect(),
        span: table.span,
    };
    unique(table.desk, "keep-out", bay.keep_outs.iter().map(|k| &k.name));
    unique(table.desk, "anchor", bay.anchors.iter().map(|a| &a.name));
    table.finish();
    bay
}

/// A number, a list of readings, or `{ readings, uncertainty }`.
fn measured(table: &mut Table<'_>, key: &'static str) -> Option<Measured> {
    let node = table.get(key)?;
    let called = table.called(key);
    let (readings, uncertainty) = match &node.value {
        Value::Table(_) => {
            let mut inner = Table::open(table.desk, &called, node)?;
            let uncertainty = inner.length("uncertainty");
            let readings =
                inner.need("readings", "[...]", |t, key| t.get(key).map(|node| readings(t.desk, &t.called(key), node)));
            inner.finish();
            (readings?, uncertainty)
        }
        _ => (readings(table.desk, &called, node), None),
    };
    if readings.is_empty() {
        return None;
    }
    Some(Measured { readings, uncertainty, span: node.span })
}

/// One reading or a list of them; a bad one is reported and left out.
pub(super) fn readings(desk: &Desk, called: &str, node: &Node) -> Vec<Length> {
    match &node.value {
        Value::List(items) if items.is_empty() => {
            desk.report(
                crate::diag::Finding::stop(super::codes::WRONG_TYPE, format!("{called} is an empty list"))
                    .at(node.span)
                    .remedy("write at least one reading, or leave the key out"),
            );
            Vec::new()
        }
        Value::List(items) => items.iter().filter_map(|item| desk.length(called, item)).collect(),
        _ => desk.length(called, node).into_iter().collect(),
    }
}

fn opening(mut table: Table<'_>) -> Opening {
    let opening = Opening {
        width: table.need("width", "1100", Table::length),
        height: table.need("height", "870", Table::length),
        sill: table.length("sill"),
        left: table.length("left"),
        span: table.span,
    };
    table.finish();
    opening
}

fn door(table: &mut Table<'_>) -> Vec<Written<[Mm; 2]>> {
    let desk = table.desk;
    table.list("door").into_iter().filter_map(|(called, node)| desk.lengths(&called, node)).collect()
}

fn keep_out(mut table: Table<'_>, index: usize) -> KeepOut {
    let span = table.span;
    let name = table.own_name("keep-out", index);
    let keep_out = KeepOut {
        name,
        from: table.need("from", "[x, y, z]", Table::lengths),
        size: table.need("size", "[width, depth, height]", Table::lengths),
        span,
    };
    table.finish();
    keep_out
}

fn anchor(mut table: Table<'_>, index: usize) -> Anchor {
    let span = table.span;
    let name = table.own_name("anchor", index);
    let at = table.need("at", "[x, y]", Table::lengths);
    let thread = table.need("thread", "\"M8\"", Table::text);
    // A rating is an input or it is not known; it is never worked out.
    let rating_n = match table.get("rating").map(|node| &node.value) {
        Some(Value::Text(text)) if text == "not known" => None,
        Some(Value::Text(_)) => table.one_of("rating", &[("not known", 0.0)]),
        _ => table.amount("rating"),
    };
    let anchor = Anchor { name, at, thread, rating_n, span };
    table.finish();
    anchor
}

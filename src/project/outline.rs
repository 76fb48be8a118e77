//! `outline`: a shape traced from the vehicle or drawn elsewhere, and the lengths that prove its size.

use super::table::Table;
use super::tree::Value;
use super::{codes, Length, Text, Written};
use crate::diag::{Finding, Span};
use crate::geom::Contour;
use crate::units::{Mm, Unit};

/// `outline`, with the `check` beside it.
#[derive(Clone, Debug)]
pub struct Outline {
    /// Where its points come from.
    pub source: OutlineSource,
    /// `check`.
    pub check: Option<OutlineCheck>,
    /// Where it is written.
    pub span: Span,
}

/// Where an outline's points come from.
#[derive(Clone, Debug)]
pub enum OutlineSource {
    /// Corners, once round.
    Points(Vec<[Mm; 2]>),
    /// A drawing.
    Drawing(Drawing),
}

/// `outline = { file, unit, at, mirrored }`.
#[derive(Clone, Debug)]
pub struct Drawing {
    /// `file`, looked for beside the project.
    pub file: Text,
    /// `unit`, for a drawing that does not say its own.
    pub unit: Option<Written<Unit>>,
    /// `at`: where the lower left corner of its bounds lies.
    pub at: Option<Written<[Mm; 2]>>,
    /// `mirrored`: seen from the other side.
    pub mirrored: Option<Written<bool>>,
    /// What was read from the file, in mm; `None` until that is done, and when it failed.
    pub contour: Option<Contour>,
}

/// `check`: what a tape says of the same shape.
#[derive(Clone, Debug)]
pub struct OutlineCheck {
    /// `width`, all over.
    pub width: Option<Length>,
    /// `height`, all over.
    pub height: Option<Length>,
    /// `points`: the numbers of two points, from 1.
    pub points: Option<Written<[u32; 2]>>,
    /// `length` between them.
    pub length: Option<Length>,
    /// Where it is written.
    pub span: Span,
}

/// `scribed`: an edge of a panel that follows something crooked.
#[derive(Clone, Debug)]
pub struct Scribed {
    /// `edge`.
    pub edge: Option<Written<ScribedEdge>>,
    /// `points`: how far along the edge, and how far it lies in there.
    pub points: Option<Written<Vec<[Mm; 2]>>>,
    /// `check`.
    pub check: Option<OutlineCheck>,
    /// Where it is written.
    pub span: Span,
}

/// `edge = "bottom" | "right" | "top" | "left"`, of a panel lying with its length across.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ScribedEdge {
    /// Along the length, at the lower end of the width.
    Bottom,
    /// Along the width, at the far end of the length.
    Right,
    /// Along the length, at the upper end of the width.
    Top,
    /// Along the width, at the near end of the length.
    Left,
}

/// `outline` and `check` of a table.
pub(super) fn outline(table: &mut Table<'_>) -> Option<Outline> {
    let check = table.table("check").map(check);
    let node = table.get("outline")?;
    let source = if let Value::Table(_) = &node.value {
        let mut inner = Table::open(table.desk, &table.called("outline"), node)?;
        let drawing = Drawing {
            file: inner.need("file", "\"arch.dxf\"", Table::text)?,
            unit: inner.one_of("unit", &[("mm", Unit::Mm), ("in", Unit::Inch)]),
            at: inner.lengths("at"),
            mirrored: inner.flag("mirrored"),
            contour: None,
        };
        inner.finish();
        OutlineSource::Drawing(drawing)
    } else {
        OutlineSource::Points(points(table, "outline")?.value)
    };
    Some(Outline { source, check, span: node.span })
}

/// A list of points, two lengths each.
fn points(table: &mut Table<'_>, key: &'static str) -> Option<Written<Vec<[Mm; 2]>>> {
    let desk = table.desk;
    let span = table.get(key)?.span;
    let corners: Vec<_> = table.list(key).into_iter().map(|(called, node)| desk.lengths::<2>(&called, node)).collect();
    let read: Option<Vec<[Mm; 2]>> = corners.into_iter().map(|corner| corner.map(|c| c.value)).collect();
    Some(Written { value: read?, span })
}

/// `scribed = { edge, points, check }`.
pub(super) fn scribed(table: &mut Table<'_>) -> Option<Scribed> {
    use ScribedEdge::{Bottom, Left, Right, Top};
    let mut inner = table.table("scribed")?;
    let edges = [("bottom", Bottom), ("right", Right), ("top", Top), ("left", Left)];
    let scribed = Scribed {
        edge: inner.need("edge", "\"right\"", |t, key| t.one_of(key, &edges)),
        points: inner.need("points", "[[0, 0], [150, 12], [300, 18]]", points),
        check: inner.table("check").map(check),
        span: inner.span,
    };
    inner.finish();
    Some(scribed)
}

fn check(mut table: Table<'_>) -> OutlineCheck {
    let numbers = numbers(&mut table);
    let check = OutlineCheck {
        width: table.length("width"),
        height: table.length("height"),
        points: numbers,
        length: table.length("length"),
        span: table.span,
    };
    if table.gives("points") != table.gives("length") {
        super::carcass::clash(
            &table,
            "only one of `points` and `length`",
            "write both: `points = [1, 4], length = 702`",
            check.span,
        );
    }
    table.finish();
    check
}

/// Two numbers of points, counted from 1.
fn numbers(table: &mut Table<'_>) -> Option<Written<[u32; 2]>> {
    let node = table.get("points")?;
    let called = table.called("points");
    let items = match &node.value {
        Value::List(items) => items.as_slice(),
        _ => &[],
    };
    let numbers: Vec<Written<f64>> = items.iter().filter_map(|item| table.desk.number(&called, item)).collect();
    let whole = numbers.iter().filter(|n| n.value.fract() == 0.0 && (1.0..=1e6).contains(&n.value)).map(|n| n.value as u32);
    let read = <[u32; 2]>::try_from(whole.collect::<Vec<u32>>()).ok();
    // What is no number at all has been told already.
    if read.is_none() && numbers.len() == items.len() {
        table.desk.report(
            Finding::stop(codes::WRONG_TYPE, format!("{called} wants the numbers of two points"))
                .at(node.span)
                .remedy("write two whole numbers, counted from 1: [1, 4]"),
        );
    }
    Some(Written { value: read?, span: node.span })
}

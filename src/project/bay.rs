//! `[bay]`: the measured room.

use super::measure::measured;
use super::outline::outline;
use super::table::{unique, Desk, Table};
use super::tree::{Node, Value};
use super::{Length, Outline, Text, Written};
use crate::diag::Span;
use crate::geom::Axis;
use crate::units::Mm;

/// A size measured with a tape.
#[derive(Clone, Debug)]
pub struct Measured {
    /// The readings; at least one. A grid is read row by row.
    pub readings: Vec<Length>,
    /// Where each was taken, when said: `height 300, depth 900`; as many as there are readings, or none.
    pub places: Vec<String>,
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
    /// `[[bay.open_door]]`: doors as they stand while loading.
    pub open_doors: Vec<OpenDoor>,
    /// `square`: four sides and two diagonals that must agree.
    pub square: Option<Square>,
    /// `[[bay.keep_out]]`.
    pub keep_outs: Vec<KeepOut>,
    /// `[[bay.access]]`.
    pub access: Vec<Access>,
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
    /// `also_from`: where else it may stand, as a seat back at another recline.
    pub also_from: Vec<Written<[Mm; 3]>>,
    /// `outline`: its shape in one view, instead of `from` and `size`.
    pub outline: Option<Outline>,
    /// `view`: the view its outline is drawn in.
    pub view: Option<Written<View>>,
    /// `along`: from where to where it reaches, straight into the view.
    pub along: Option<Written<[Mm; 2]>>,
    /// `uncertainty` of its outline, either way; `None` when not said.
    pub uncertainty: Option<Length>,
    /// Where it is written.
    pub span: Span,
}

/// `[[bay.access]]`: what a hand must get at.
#[derive(Clone, Debug)]
pub struct Access {
    /// `name`.
    pub name: Text,
    /// `from`: left, front, bottom.
    pub from: Option<Written<[Mm; 3]>>,
    /// `size`: width, depth, height.
    pub size: Option<Written<[Mm; 3]>>,
    /// `reached_from`.
    pub reached_from: Option<Written<Axis>>,
    /// `bolts`: the most that may have to come out first; `None` when not said.
    pub most_bolts: Option<Written<u32>>,
    /// Where it is written.
    pub span: Span,
}

/// `view = "side" | "front" | "plan"`: which two directions a traced point's figures are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum View {
    /// Into the vehicle, up.
    Side,
    /// To the right, up.
    Front,
    /// To the right, into the vehicle.
    Plan,
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

/// `[[bay.open_door]]`.
#[derive(Clone, Debug)]
pub struct OpenDoor {
    /// `hinge`: true for left, looking in.
    pub hinge_left: Option<Written<bool>>,
    /// `width` of the leaf, from its hinge.
    pub width: Option<Length>,
    /// `angle` it opens to from shut, in degrees.
    pub angle_deg: Option<Written<f64>>,
    /// `thickness` of the leaf.
    pub thickness: Option<Length>,
    /// Where it is written.
    pub span: Span,
}

/// `square = { front, rear, left, right, diagonals }`: a level measured all round.
#[derive(Clone, Debug)]
pub struct Square {
    /// `front`, `rear`, `left`, `right`, then the diagonals: front left to rear right, front right to rear left.
    pub readings: [Option<Length>; 6],
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
        open_doors: table.tables("open_door").into_iter().map(open_door).collect(),
        square: table.table("square").map(square),
        keep_outs: table.tables("keep_out").into_iter().enumerate().map(|(i, t)| keep_out(t, i)).collect(),
        access: table.tables("access").into_iter().enumerate().map(|(i, t)| access(t, i)).collect(),
        anchors: table.tables("anchor").into_iter().enumerate().map(|(i, t)| anchor(t, i)).collect(),
        span: table.span,
    };
    unique(table.desk, "keep-out", bay.keep_outs.iter().map(|k| &k.name));
    unique(table.desk, "access", bay.access.iter().map(|a| &a.name));
    unique(table.desk, "anchor", bay.anchors.iter().map(|a| &a.name));
    table.finish();
    bay
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

fn open_door(mut table: Table<'_>) -> OpenDoor {
    let sides = [("left", true), ("right", false)];
    let door = OpenDoor {
        hinge_left: table.need("hinge", "\"left\"", |t, key| t.one_of(key, &sides)),
        width: table.need("width", "545", Table::length),
        angle_deg: table.need("angle", "90", Table::amount),
        thickness: table.length("thickness"),
        span: table.span,
    };
    table.finish();
    door
}

fn square(mut table: Table<'_>) -> Square {
    let diagonals = table.need("diagonals", "[1768, 1770]", Table::lengths::<2>);
    let diagonal = |i: usize| diagonals.as_ref().map(|d| Written { value: d.value[i], span: d.span });
    let mut side = |key: &'static str| table.need(key, "1184", Table::length);
    let readings = [side("front"), side("rear"), side("left"), side("right"), diagonal(0), diagonal(1)];
    let square = Square { readings, span: table.span };
    table.finish();
    square
}

fn keep_out(mut table: Table<'_>, index: usize) -> KeepOut {
    let span = table.span;
    let name = table.own_name("keep-out", index);
    let views = [("side", View::Side), ("front", View::Front), ("plan", View::Plan)];
    let traced = table.entries().iter().any(|e| e.key == "outline");
    let keep_out = if traced {
        KeepOut {
            name,
            from: None,
            size: None,
            also_from: Vec::new(),
            outline: outline(&mut table),
            view: table.need("view", "\"side\"", |t, key| t.one_of(key, &views)),
            along: table.need("along", "[0, 128]", Table::lengths),
            uncertainty: table.length("uncertainty"),
            span,
        }
    } else {
        let from = table.need("from", "[x, y, z]", Table::lengths);
        let size = table.need("size", "[width, depth, height]", Table::lengths);
        let desk = table.desk;
        let also = table.list("also_from");
        KeepOut {
            name,
            from,
            size,
            also_from: also.into_iter().filter_map(|(called, node)| desk.lengths(&called, node)).collect(),
            outline: None,
            view: None,
            along: None,
            uncertainty: None,
            span,
        }
    };
    table.finish();
    keep_out
}

fn access(mut table: Table<'_>, index: usize) -> Access {
    let span = table.span;
    let name = table.own_name("access", index);
    let sides = [("above", Axis::PlusZ), ("front", Axis::MinusY), ("left", Axis::MinusX), ("right", Axis::PlusX)];
    let access = Access {
        name,
        from: table.need("from", "[x, y, z]", Table::lengths),
        size: table.need("size", "[width, depth, height]", Table::lengths),
        reached_from: table.need("reached_from", "\"above\"", |t, key| t.one_of(key, &sides)),
        most_bolts: table.count("bolts"),
        span,
    };
    table.finish();
    access
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

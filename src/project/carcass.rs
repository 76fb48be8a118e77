//! `[[carcass]]` with its columns and cells.

use super::additions::EDGES;
use super::drawer;
use super::table::{unique, OffOr, Table};
use super::tree::Value;
use super::{Choice, Drawer, Length, LipEdge, Text, Written};
use crate::diag::{Finding, Span};
use crate::units::Mm;

/// A size by its outside, its clear inside, or both.
#[derive(Clone, Debug, Default)]
pub struct Size {
    /// `width`, `depth` or `height`.
    pub outside: Option<Length>,
    /// `clear_width`, `clear_depth` or `clear_height`.
    pub clear: Option<Length>,
}

/// `[[carcass]]`.
#[derive(Clone, Debug)]
pub struct Carcass {
    /// `name`.
    pub name: Text,
    /// `at`: left, front, bottom.
    pub at: Option<Written<[Mm; 3]>>,
    /// `on`: the carcass below.
    pub on: Option<Text>,
    /// `shift` from the carcass below, x and y.
    pub shift: Option<Written<[Mm; 2]>>,
    /// `width`, `clear_width`.
    pub width: Size,
    /// `depth`, `clear_depth`.
    pub depth: Size,
    /// `height`, `clear_height`.
    pub height: Size,
    /// `board`.
    pub board: Option<Text>,
    /// `joint`.
    pub joint: Option<Written<Joint>>,
    /// `base`: a board, or false.
    pub base: Choice<Text>,
    /// `top`: a table, or false.
    pub top: Choice<Top>,
    /// `back`: a table, or false.
    pub back: Choice<Back>,
    /// `uprights = "doubled"`.
    pub doubled: Option<Written<bool>>,
    /// `anchors`.
    pub anchors: Vec<Text>,
    /// `screw`.
    pub screw: Option<Text>,
    /// `[[carcass.column]]`.
    pub columns: Vec<Column>,
    /// Where it is written.
    pub span: Span,
}

/// `joint = "butt" | "finger" | "dado" | "rabbet"`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Joint {
    /// `butt`.
    Butt,
    /// `finger`.
    Finger,
    /// `dado`.
    Dado,
    /// `rabbet`.
    Rabbet,
}

/// The words of `joint`.
pub(super) const JOINTS: &[(&str, Joint)] =
    &[("butt", Joint::Butt), ("finger", Joint::Finger), ("dado", Joint::Dado), ("rabbet", Joint::Rabbet)];

/// `top = { board, overhang_front, overhang_back, overhang_left, overhang_right, removable, lid, load }`.
#[derive(Clone, Debug)]
pub struct Top {
    /// `board`.
    pub board: Option<Text>,
    /// `overhang_front`.
    pub front: Option<Length>,
    /// `overhang_back`.
    pub back: Option<Length>,
    /// `overhang_left`.
    pub left: Option<Length>,
    /// `overhang_right`.
    pub right: Option<Length>,
    /// `removable`.
    pub removable: Option<Written<bool>>,
    /// `lid`: hinged instead of joined.
    pub lid: Option<Lid>,
    /// `load` it is to carry, spread over it, in kg.
    pub load_kg: Option<Written<f64>>,
}

/// `lid = { hinge, angle }`.
#[derive(Clone, Debug)]
pub struct Lid {
    /// `hinge`: the edge it turns about.
    pub hinge: Option<Written<LipEdge>>,
    /// `angle` it opens to from shut, in degrees.
    pub angle_deg: Option<Written<f64>>,
    /// Where it is written.
    pub span: Span,
}

/// `back = { board, place }`.
#[derive(Clone, Debug)]
pub struct Back {
    /// `board`.
    pub board: Option<Text>,
    /// `place = "behind"`.
    pub behind: Option<Written<bool>>,
}

/// `[[carcass.column]]`.
#[derive(Clone, Debug)]
pub struct Column {
    /// `name`.
    pub name: Text,
    /// `width`, clear.
    pub width: Option<Length>,
    /// `[[carcass.column.cell]]`, bottom to top.
    pub cells: Vec<Cell>,
    /// Where it is written.
    pub span: Span,
}

/// `[[carcass.column.cell]]`.
#[derive(Clone, Debug)]
pub struct Cell {
    /// `height`, clear.
    pub height: Option<Length>,
    /// `shelf`: a board's name; `None` inside for `true`, the carcass's board.
    pub shelf: Option<Written<Option<String>>>,
    /// `load` the shelf under it is to carry, spread over it, in kg.
    pub load_kg: Option<Written<f64>>,
    /// `drawer`.
    pub drawer: Option<Drawer>,
    /// Where it is written.
    pub span: Span,
}

pub(super) fn read(mut table: Table<'_>, index: usize) -> Carcass {
    let span = table.span;
    let name = table.own_name("carcass", index);
    let carcass = Carcass {
        name,
        at: table.lengths("at"),
        on: table.text("on"),
        shift: table.lengths("shift"),
        width: Size { outside: table.length("width"), clear: table.length("clear_width") },
        depth: Size { outside: table.length("depth"), clear: table.length("clear_depth") },
        height: Size { outside: table.length("height"), clear: table.length("clear_height") },
        board: table.need("board", "\"carcass\"", Table::text),
        joint: table.one_of("joint", JOINTS),
        base: choice(table.text_or_off("base"), |text| text),
        top: choice(table.table_or_off("top"), top),
        back: choice(table.table_or_off("back"), back),
        doubled: table.one_of("uprights", &[("single", false), ("doubled", true)]),
        anchors: texts(&mut table, "anchors"),
        screw: table.text("screw"),
        columns: table.tables("column").into_iter().enumerate().map(|(i, t)| column(t, i)).collect(),
        span,
    };
    if let (Some(at), Some(_)) = (&carcass.at, &carcass.on) {
        clash(&table, "`at` and `on`", "say where it stands either way, not both", at.span);
    }
    if let Some(shift) = carcass.shift.as_ref().filter(|_| !table.gives("on")) {
        clash(&table, "`shift` without `on`", "add `on = \"...\"`, or use `at`", shift.span);
    }
    unique(table.desk, "column", carcass.columns.iter().map(|c| &c.name));
    table.finish();
    carcass
}

/// Reports two keys of one table that do not go together.
pub(super) fn clash(table: &Table<'_>, keys: &str, remedy: &str, span: Span) {
    table.desk.report(Finding::stop(super::codes::KEYS_CLASH, format!("{} has {keys}", table.what)).at(span).remedy(remedy));
}

pub(super) fn choice<T, U>(value: Option<OffOr<T>>, read: impl FnOnce(T) -> U) -> Choice<U> {
    match value {
        None => Choice::Default,
        Some(OffOr::Off) => Choice::Off,
        Some(OffOr::Given(given)) => Choice::Given(read(given)),
    }
}

/// A list of texts.
pub(super) fn texts(table: &mut Table<'_>, key: &'static str) -> Vec<Text> {
    let desk = table.desk;
    table.list(key).into_iter().filter_map(|(called, node)| desk.text(&called, node)).collect()
}

fn top(mut table: Table<'_>) -> Top {
    let top = Top {
        board: table.text("board"),
        front: table.length("overhang_front"),
        back: table.length("overhang_back"),
        left: table.length("overhang_left"),
        right: table.length("overhang_right"),
        removable: table.flag("removable"),
        lid: table.table("lid").map(lid),
        load_kg: table.amount("load"),
    };
    table.finish();
    top
}

fn lid(mut table: Table<'_>) -> Lid {
    let lid = Lid {
        hinge: table.need("hinge", "\"back\"", |t, key| t.one_of(key, EDGES)),
        angle_deg: table.need("angle", "95", Table::amount),
        span: table.span,
    };
    table.finish();
    lid
}

fn back(mut table: Table<'_>) -> Back {
    let back = Back { board: table.text("board"), behind: table.one_of("place", &[("between", false), ("behind", true)]) };
    table.finish();
    back
}

fn column(mut table: Table<'_>, index: usize) -> Column {
    let span = table.span;
    let name = table.own_name("column", index);
    let column =
        Column { name, width: table.length("width"), cells: table.tables("cell").into_iter().map(cell).collect(), span };
    table.finish();
    column
}

fn cell(mut table: Table<'_>) -> Cell {
    let shelf = match table.get("shelf") {
        Some(node) if matches!(node.value, Value::Flag(true)) => Some(Written { value: None, span: node.span }),
        Some(node) if matches!(node.value, Value::Flag(false)) => None,
        _ => table.text("shelf").map(|text| Written { value: Some(text.value), span: text.span }),
    };
    let cell = Cell {
        height: table.length("height"),
        shelf,
        load_kg: table.amount("load"),
        drawer: match table.table_or_off("drawer") {
            Some(OffOr::Given(inner)) => Some(drawer::read(inner)),
            Some(OffOr::Off) | None => None,
        },
        span: table.span,
    };
    table.finish();
    cell
}

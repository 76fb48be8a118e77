//! `[boards.NAME]`, `[shop]`, `[saw]` and `[joints]`: what it is made of and how.

use super::bay::readings;
use super::table::Table;
use super::{Length, Text, Written};
use crate::diag::Span;
use crate::units::Mm;

/// `[boards.NAME]`.
#[derive(Clone, Debug)]
pub struct BoardText {
    /// The name.
    pub name: Text,
    /// `profile`.
    pub profile: Option<Text>,
    /// `readings` of its thickness.
    pub readings: Vec<Length>,
    /// `stock`.
    pub stock: Vec<Stock>,
    /// `offcuts`: the list of another pack, by its path from the file that names it.
    pub offcuts: Option<Text>,
    /// What that list holds for this board; filled by [`take_offcuts`](super::take_offcuts).
    pub kept: Vec<Stock>,
    /// Where it is written.
    pub span: Span,
}

/// One of `stock = [{ length, width, count, price }]`.
#[derive(Clone, Debug)]
pub struct Stock {
    /// `length`, along the grain.
    pub length: Option<Length>,
    /// `width`.
    pub width: Option<Length>,
    /// `count`.
    pub count: Option<Written<u32>>,
    /// `price` of one.
    pub price: Option<Written<f64>>,
    /// `defects`.
    pub defects: Vec<Defect>,
    /// Where it is written.
    pub span: Span,
}

/// One of `defects = [{ at, size }]`: a rectangle of a sheet that no part may touch.
#[derive(Clone, Debug)]
pub struct Defect {
    /// `at`: its corner nearest the sheet's, along the length and across.
    pub at: Option<Written<[Mm; 2]>>,
    /// `size`: along the length and across.
    pub size: Option<Written<[Mm; 2]>>,
    /// Where it is written.
    pub span: Span,
}

/// `[shop]`.
#[derive(Clone, Debug, Default)]
pub struct ShopChoice {
    /// `machine`.
    pub machine: Option<Text>,
    /// `outline_cutter`.
    pub outline_cutter: Option<Text>,
    /// `dxf_release`: true for release 12.
    pub dxf_release_12: Option<Written<bool>>,
    /// `split`: parts larger than every sheet in pieces.
    pub split: Option<Written<bool>>,
    /// `parts_in_openings`: small parts may be laid into openings of others.
    pub parts_in_openings: Option<Written<bool>>,
    /// `part_gap`.
    pub part_gap: Option<Length>,
    /// `sheet_margin`.
    pub sheet_margin: Option<Length>,
    /// `min_web`.
    pub min_web: Option<Length>,
    /// `relief`.
    pub relief: Option<Written<Relief>>,
    /// `relief_extra`.
    pub relief_extra: Option<Length>,
}

/// `relief = "diagonal" | "along-edge" | "none"`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Relief {
    /// `diagonal`.
    Diagonal,
    /// `along-edge`.
    AlongEdge,
    /// `none`.
    None,
}

/// `[saw]`: for makers who cut panels on a saw.
#[derive(Clone, Debug, Default)]
pub struct SawText {
    /// `kerf`.
    pub kerf: Option<Length>,
    /// `trim`, off each edge of a sheet.
    pub trim: Option<Length>,
    /// `turns` between rips and crosscuts.
    pub turns: Option<Written<u32>>,
}

/// `[joints]`: clearances.
#[derive(Clone, Debug, Default)]
pub struct Joints {
    /// `glued`.
    pub glued: Option<Length>,
    /// `finger`.
    pub finger: Option<Length>,
    /// `loose`.
    pub loose: Option<Length>,
}

pub(super) fn boards(table: &Table<'_>) -> Vec<BoardText> {
    table
        .entries()
        .iter()
        .filter_map(|entry| {
            let what = format!("[boards.{}]", entry.key);
            let inner = Table::open(table.desk, &what, &entry.node)?;
            Some(board(inner, Written { value: entry.key.clone(), span: entry.key_span }))
        })
        .collect()
}

fn board(mut table: Table<'_>, name: Text) -> BoardText {
    let called = table.called("readings");
    let board = BoardText {
        name,
        profile: table.need("profile", "\"birch-ply-15\"", Table::text),
        readings: table.get("readings").map(|node| readings(table.desk, &called, node)).unwrap_or_default(),
        stock: table.tables("stock").into_iter().map(stock).collect(),
        offcuts: table.text("offcuts"),
        kept: Vec::new(),
        span: table.span,
    };
    table.finish();
    board
}

fn stock(mut table: Table<'_>) -> Stock {
    let stock = Stock {
        length: table.need("length", "2440", Table::length),
        width: table.need("width", "1220", Table::length),
        count: table.count("count"),
        price: table.amount("price"),
        defects: table.tables("defects").into_iter().map(defect).collect(),
        span: table.span,
    };
    table.finish();
    stock
}

fn defect(mut table: Table<'_>) -> Defect {
    let desk = table.desk;
    let mut pair = |key: &'static str, example: &str| {
        let node = table.need(key, example, Table::get)?;
        desk.lengths::<2>(&table.called(key), node)
    };
    let (at, size) = (pair("at", "[400, 200]"), pair("size", "[80, 50]"));
    let defect = Defect { at, size, span: table.span };
    table.finish();
    defect
}

pub(super) fn shop(mut table: Table<'_>) -> ShopChoice {
    let shop = ShopChoice {
        machine: table.text("machine"),
        outline_cutter: table.text("outline_cutter"),
        dxf_release_12: table.one_of("dxf_release", &[("2000", false), ("12", true)]),
        split: table.flag("split"),
        parts_in_openings: table.flag("parts_in_openings"),
        part_gap: table.length("part_gap"),
        sheet_margin: table.length("sheet_margin"),
        min_web: table.length("min_web"),
        relief: table
            .one_of("relief", &[("diagonal", Relief::Diagonal), ("along-edge", Relief::AlongEdge), ("none", Relief::None)]),
        relief_extra: table.length("relief_extra"),
    };
    table.finish();
    shop
}

pub(super) fn saw(mut table: Table<'_>) -> SawText {
    let saw = SawText { kerf: table.length("kerf"), trim: table.length("trim"), turns: table.count("turns") };
    table.finish();
    saw
}

pub(super) fn joints(mut table: Table<'_>) -> Joints {
    let joints = Joints { glued: table.length("glued"), finger: table.length("finger"), loose: table.length("loose") };
    table.finish();
    joints
}

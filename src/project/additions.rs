//! `[[pull_out]]` and `[[lip]]`: what is built onto a carcass.

use super::carcass::{choice, clash};
use super::table::Table;
use super::{Choice, Length, Text, Written};
use crate::diag::Span;

/// `[[pull_out]]`.
#[derive(Clone, Debug)]
pub struct PullOut {
    /// `name`.
    pub name: Text,
    /// `over`: a carcass, or one of its columns as `lower.left`.
    pub over: Option<Text>,
    /// `board`.
    pub board: Option<Text>,
    /// `strip_board`.
    pub strip_board: Option<Text>,
    /// `strip_width`.
    pub strip_width: Option<Length>,
    /// `strip_length`.
    pub strip_length: Option<Length>,
    /// `length`.
    pub length: Option<Length>,
    /// `play`.
    pub play: Play,
    /// `keep_under_cover`, 0 to under 1.
    pub keep_under_cover: Option<Written<f64>>,
    /// `cover`: a board, or `"above"`.
    pub cover: Option<Text>,
    /// `stop`: a bolt, or false.
    pub stop: Choice<Text>,
    /// `catch`: something that holds it out.
    pub catch: Option<Written<bool>>,
    /// `load` it is to carry, spread over it, in kg.
    pub load_kg: Option<Written<f64>>,
    /// Where it is written.
    pub span: Span,
}

/// `play = { sides, above, pad }` or `play = { sides, washers, washer, pad }`.
#[derive(Clone, Debug, Default)]
pub struct Play {
    /// `sides`.
    pub sides: Option<Length>,
    /// `above`.
    pub above: Option<Length>,
    /// `washers`: how many as a shim.
    pub washers: Option<Written<u32>>,
    /// `washer`: whose.
    pub washer: Option<Text>,
    /// `pad`: felt or foam under what is above, by its thickness.
    pub pad: Option<Length>,
}

/// `[[lip]]`.
#[derive(Clone, Debug)]
pub struct Lip {
    /// `on`: the carcass.
    pub on: Option<Text>,
    /// `edges`.
    pub edges: Vec<Written<LipEdge>>,
    /// `height` above the top.
    pub height: Option<Length>,
    /// `board`.
    pub board: Option<Text>,
    /// `screw`.
    pub screw: Option<Text>,
    /// Where it is written.
    pub span: Span,
}

/// An edge of a top: `edges = ["front", "back", "left", "right"]` of a lip, `hinge` of a lid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LipEdge {
    /// `front`.
    Front,
    /// `back`.
    Back,
    /// `left`.
    Left,
    /// `right`.
    Right,
}

/// The words of an edge.
pub(super) const EDGES: &[(&str, LipEdge)] =
    &[("front", LipEdge::Front), ("back", LipEdge::Back), ("left", LipEdge::Left), ("right", LipEdge::Right)];

pub(super) fn pull_out(mut table: Table<'_>, index: usize) -> PullOut {
    let span = table.span;
    let name = table.own_name("pull-out", index);
    let pull_out = PullOut {
        name,
        over: table.need("over", "\"lower\"", Table::text),
        board: table.text("board"),
        strip_board: table.text("strip_board"),
        strip_width: table.length("strip_width"),
        strip_length: table.length("strip_length"),
        length: table.length("length"),
        play: table.table("play").map(play).unwrap_or_default(),
        keep_under_cover: table.share("keep_under_cover"),
        cover: table.text("cover"),
        stop: choice(table.text_or_off("stop"), |text| text),
        catch: table.flag("catch"),
        load_kg: table.amount("load"),
        span,
    };
    table.finish();
    pull_out
}

fn play(mut table: Table<'_>) -> Play {
    let play = Play {
        sides: table.length("sides"),
        above: table.length("above"),
        washers: table.count("washers"),
        washer: table.text("washer"),
        pad: table.length("pad"),
    };
    if let (Some(above), Some(_)) = (&play.above, &play.washers) {
        clash(&table, "`above` and `washers`", "give the play as a length or as washers, not both", above.span);
    }
    if let Some(washer) = play.washer.as_ref().filter(|_| !table.gives("washers")) {
        clash(&table, "`washer` without `washers`", "say how many: `washers = 1`", washer.span);
    }
    table.finish();
    play
}

pub(super) fn lip(mut table: Table<'_>) -> Lip {
    let desk = table.desk;
    let lip = Lip {
        on: table.need("on", "\"lower\"", Table::text),
        edges: table.list("edges").into_iter().filter_map(|(called, node)| desk.word(&called, node, EDGES)).collect(),
        height: table.length("height"),
        board: table.text("board"),
        screw: table.text("screw"),
        span: table.span,
    };
    table.finish();
    lip
}

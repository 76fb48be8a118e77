//! `drawer = { ... }` of a cell.

use super::carcass::JOINTS;
use super::table::{OffOr, Table};
use super::tree::Value;
use super::{Joint, Length, Text, Written};
use crate::diag::Span;

/// `drawer = { ... }`.
#[derive(Clone, Debug)]
pub struct Drawer {
    /// `slide`.
    pub slide: Option<Text>,
    /// `latch`; `false` counts as not given.
    pub latch: Option<Text>,
    /// `finger_pull`.
    pub finger_pull: Option<FingerPull>,
    /// `front`: a board.
    pub front: Option<Text>,
    /// `box`: a board.
    pub box_board: Option<Text>,
    /// `bottom_board`.
    pub bottom_board: Option<Text>,
    /// `fit = "overlay"`.
    pub overlay: Option<Written<bool>>,
    /// `reveal`.
    pub reveal: Reveal,
    /// `setback`.
    pub setback: Option<Length>,
    /// `depth`.
    pub depth: Option<Length>,
    /// `height`.
    pub height: Option<Length>,
    /// `gap_under`.
    pub gap_under: Option<Length>,
    /// `gap_over`.
    pub gap_over: Option<Length>,
    /// `bottom`.
    pub bottom: Option<Written<Bottom>>,
    /// `joint`.
    pub joint: Option<Written<Joint>>,
    /// Where it is written.
    pub span: Span,
}

/// `bottom = "under" | "between" | "groove"`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bottom {
    /// `under`.
    Under,
    /// `between`.
    Between,
    /// `groove`.
    Groove,
}

/// `reveal = 2`, or one length for each side; `None` where not said.
#[derive(Clone, Debug, Default)]
pub struct Reveal {
    /// `left`.
    pub left: Option<Length>,
    /// `right`.
    pub right: Option<Length>,
    /// `top`.
    pub top: Option<Length>,
    /// `bottom`.
    pub bottom: Option<Length>,
}

/// `finger_pull = { width, depth }` or `{ hole }`.
#[derive(Clone, Debug)]
pub enum FingerPull {
    /// A notch in the upper edge.
    Notch {
        /// `width`.
        width: Length,
        /// `depth`.
        depth: Length,
    },
    /// A round hole.
    Hole {
        /// `hole`: its diameter.
        diameter: Length,
    },
}

pub(super) fn read(mut table: Table<'_>) -> Drawer {
    let span = table.span;
    let drawer = Drawer {
        slide: table.need("slide", "\"side-mount-500\"", Table::text),
        latch: match table.text_or_off("latch") {
            Some(OffOr::Given(text)) => Some(text),
            Some(OffOr::Off) | None => None,
        },
        finger_pull: match table.table_or_off("finger_pull") {
            Some(OffOr::Given(inner)) => finger_pull(inner),
            Some(OffOr::Off) | None => None,
        },
        front: table.text("front"),
        box_board: table.text("box"),
        bottom_board: table.text("bottom_board"),
        overlay: table.one_of("fit", &[("inset", false), ("overlay", true)]),
        reveal: reveal(&mut table),
        setback: table.length("setback"),
        depth: table.length("depth"),
        height: table.length("height"),
        gap_under: table.length("gap_under"),
        gap_over: table.length("gap_over"),
        bottom: table
            .one_of("bottom", &[("under", Bottom::Under), ("between", Bottom::Between), ("groove", Bottom::Groove)]),
        joint: table.one_of("joint", JOINTS),
        span,
    };
    table.finish();
    drawer
}

fn reveal(table: &mut Table<'_>) -> Reveal {
    let Some(node) = table.get("reveal") else { return Reveal::default() };
    if !matches!(node.value, Value::Table(_)) {
        let all = table.length("reveal");
        return Reveal { left: all.clone(), right: all.clone(), top: all.clone(), bottom: all };
    }
    let Some(mut inner) = table.table("reveal") else { return Reveal::default() };
    let reveal = Reveal {
        left: inner.length("left"),
        right: inner.length("right"),
        top: inner.length("top"),
        bottom: inner.length("bottom"),
    };
    inner.finish();
    reveal
}

fn finger_pull(mut table: Table<'_>) -> Option<FingerPull> {
    let hole = table.length("hole");
    let (width, depth) = (table.length("width"), table.length("depth"));
    let pull = match (hole, width, depth) {
        (Some(diameter), None, None) => Some(FingerPull::Hole { diameter }),
        (Some(diameter), _, _) => {
            super::carcass::clash(&table, "`hole` and a notch", "keep the hole or the notch", diameter.span);
            None
        }
        (None, Some(width), Some(depth)) => Some(FingerPull::Notch { width, depth }),
        (None, width, depth) => {
            if !table.gives("hole") {
                if width.is_none() && !table.gives("width") {
                    table.missing("width", "90");
                }
                if depth.is_none() && !table.gives("depth") {
                    table.missing("depth", "25");
                }
            }
            None
        }
    };
    table.finish();
    pull
}

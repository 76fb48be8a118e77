//! Carcasses, their columns and cells. Outside sizes and places are in the bay frame: x right, y into the vehicle, z up.

use super::{BoardId, Drawer, Edge};
use crate::diag::Span;
use crate::dim::Dim;
use crate::shop::Fastener;
use std::sync::Arc;

/// A size given by its outside, its clear inside, or both.
#[derive(Clone, Debug, Default)]
pub struct Size {
    /// Outside.
    pub outside: Option<Dim>,
    /// Clear inside.
    pub clear: Option<Dim>,
}

/// A carcass: base, uprights, top, back, and columns of cells between.
#[derive(Clone, Debug)]
pub struct Carcass {
    /// Its name.
    pub name: String,
    /// Where its left, front, bottom corner is.
    pub at: CarcassPlace,
    /// Width, x.
    pub width: Size,
    /// Depth, y.
    pub depth: Size,
    /// Height, z; `outside` includes base and top.
    pub height: Size,
    /// Board of uprights (and of what names no other).
    pub board: BoardId,
    /// How uprights meet base and top.
    pub joint: JointKind,
    /// Board of the base; `None` for no base.
    pub base: Option<BoardId>,
    /// The top; `None` for none.
    pub top: Option<Top>,
    /// The back; `None` for none.
    pub back: Option<Back>,
    /// Single or doubled inner uprights.
    pub uprights: UprightStyle,
    /// Columns, left to right.
    pub columns: Vec<Column>,
    /// Indices into [`Bay::anchors`](super::Bay::anchors) of the points that hold it down.
    pub anchors: Vec<usize>,
    /// Screw of butt joints.
    pub screw: Arc<Fastener>,
    /// Bolt that holds it to the carcass below, when it stands on one.
    pub standing_bolt: Arc<Fastener>,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// Where a carcass stands.
#[derive(Clone, Debug)]
pub enum CarcassPlace {
    /// At a point of the bay.
    At([Dim; 3]),
    /// On another carcass (index into [`Design::carcasses`](super::Design::carcasses)), shifted in x and y; its height follows from what lies between.
    On {
        /// The carcass below.
        below: usize,
        /// Shift to the right and into the vehicle from the lower one's left front corner.
        shift: [Dim; 2],
    },
}

/// Ways two panels meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JointKind {
    /// Edge against face, screwed.
    Butt,
    /// Equal fingers.
    Finger,
    /// A channel across a face that takes the mate's edge.
    Dado,
    /// A step along an edge that takes the mate's edge.
    Rabbet,
}

/// A carcass's top.
#[derive(Clone, Debug)]
pub struct Top {
    /// Its board.
    pub board: BoardId,
    /// How far it reaches beyond the carcass.
    pub overhang: Sides,
    /// Screwed without glue, to come off again.
    pub removable: bool,
    /// Hinged instead of joined.
    pub lid: Option<Lid>,
    /// What it is to carry, spread over it, in kg; `None` when not said.
    pub load_kg: Option<f64>,
}

/// How a top that is a lid opens.
#[derive(Clone, Copy, Debug)]
pub struct Lid {
    /// The edge it turns about, on that edge's lower arris.
    pub hinge: Edge,
    /// How far it opens from shut, in radians.
    pub angle: f64,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// One length for each side.
#[derive(Clone, Debug)]
pub struct Sides {
    /// At the load opening.
    pub front: Dim,
    /// At the rear of the unit.
    pub back: Dim,
    /// Left, looking in.
    pub left: Dim,
    /// Right, looking in.
    pub right: Dim,
}

/// A carcass's back.
#[derive(Clone, Debug)]
pub struct Back {
    /// Its board.
    pub board: BoardId,
    /// Where it sits.
    pub place: BackPlace,
}

/// Where a back sits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BackPlace {
    /// Between the outer uprights; inner uprights end in front of it.
    Between,
    /// Behind all uprights, on the base.
    Behind,
}

/// How an inner upright is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum UprightStyle {
    /// One panel serves both columns.
    Single,
    /// Each column has its own; two panels back to back.
    Doubled,
}

/// A column of cells.
#[derive(Clone, Debug)]
pub struct Column {
    /// Its name.
    pub name: String,
    /// Clear width; columns without one share what is left.
    pub width: Option<Dim>,
    /// Cells, bottom to top.
    pub cells: Vec<Cell>,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// One cell of a column.
#[derive(Clone, Debug)]
pub struct Cell {
    /// Its name; `lower.left` when the column has one cell, else `lower.left.1` from the bottom.
    pub name: String,
    /// Clear height; cells without one share what is left.
    pub height: Option<Dim>,
    /// A shelf under this cell (never under the lowest).
    pub shelf: Option<BoardId>,
    /// What the shelf under it is to carry, spread over it, in kg; `None` when not said.
    pub load_kg: Option<f64>,
    /// The drawer in it; `None` for an open cell.
    pub drawer: Option<Drawer>,
    /// Where it is declared.
    pub span: Option<Span>,
}

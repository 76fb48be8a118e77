//! What is built onto a carcass. Outside sizes and places are in the bay frame: x right, y into the vehicle, z up.

use super::BoardId;
use crate::diag::Span;
use crate::dim::Dim;
use crate::shop::Fastener;
use std::sync::Arc;

/// A table that slides between runner strips on a carcass's top.
#[derive(Clone, Debug)]
pub struct PullOut {
    /// Its name.
    pub name: String,
    /// The carcass whose top it slides on.
    pub over: usize,
    /// The column it lies over; `None` for the whole width.
    pub column: Option<usize>,
    /// Board of the table.
    pub board: BoardId,
    /// Board of the runner strips.
    pub strip_board: BoardId,
    /// Width of a strip, across the sliding direction.
    pub strip_width: Dim,
    /// Length of a strip; `None` for the table's.
    pub strip_length: Option<Dim>,
    /// Length of the table; `None` for the carcass's depth.
    pub length: Option<Dim>,
    /// Play at each side.
    pub play_side: Dim,
    /// Play above the table.
    pub play_above: PlayAbove,
    /// Felt or foam under what is above, which takes its thickness off the play.
    pub pad: Option<Dim>,
    /// Whether something holds it when it is out.
    pub catch: bool,
    /// Share of its length that stays under cover when pulled out, 0 to 1.
    pub keep_under_cover: f64,
    /// Board of a cover of its own; `None` when the carcass above covers it.
    pub cover: Option<BoardId>,
    /// Bolt that stops it at both ends, in a slot of the table.
    pub stop: Option<Arc<Fastener>>,
    /// Bolts through cover, strips and the top below.
    pub strip_bolt: Arc<Fastener>,
    /// What the table is to carry, spread over it, in kg; `None` when not said.
    pub load_kg: Option<f64>,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// How the play above a table is made.
#[derive(Clone, Debug)]
pub enum PlayAbove {
    /// Strips of the table's board, packed up with washers as shims: this many of this fastener's washer.
    Washers {
        /// How many washers lie on each other.
        count: u32,
        /// Whose washer.
        fastener: Arc<Fastener>,
    },
    /// A plain figure; the strips are packed to give it.
    Play(Dim),
}

/// A ledge along an edge of a carcass's top.
#[derive(Clone, Debug)]
pub struct Lip {
    /// The carcass.
    pub on: usize,
    /// Which edges of its top.
    pub edges: Vec<Edge>,
    /// How far it stands above the top.
    pub height: Dim,
    /// Its board.
    pub board: BoardId,
    /// The screw that holds it, from below through the top.
    pub screw: Arc<Fastener>,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// Edges of a top, looking in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Edge {
    /// At the load opening.
    Front,
    /// At the rear.
    Back,
    /// Left.
    Left,
    /// Right.
    Right,
}

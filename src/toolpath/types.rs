//! The programs' types.
//!
//! Program frame: the sheet's, z up, zero at the underside of the sheet (top of the spoilboard); `write` shifts z when the machine
//! zeroes on the sheet's top. Lengths in mm, feeds in mm/min.

use crate::design::BoardId;
use crate::geom::{Point, Point3};
use crate::shop::Cutter;
use crate::units::Mm;
use std::sync::Arc;

/// One run of the machine: one sheet, one side, one cutter.
#[derive(Clone, Debug)]
pub struct Program {
    /// The sheet's board.
    pub board: BoardId,
    /// Index into [`crate::nest::Layout::sheets`].
    pub sheet: usize,
    /// Which side of the sheet lies up.
    pub side: SheetSide,
    /// Order of running on this sheet, from 1.
    pub order: u32,
    /// The cutter.
    pub cutter: Arc<Cutter>,
    /// Spindle speed, 1/min.
    pub rpm: f64,
    /// Thickness of the sheet.
    pub thickness: Mm,
    /// Height of rapid moves over the spoilboard.
    pub clearance: Mm,
    /// Blocks of moves, each belonging to one cut of one part.
    pub blocks: Vec<Block>,
    /// Estimated run time in seconds, with acceleration.
    pub run_s: f64,
}

/// Which side of the sheet lies up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SheetSide {
    /// As nested.
    First,
    /// Turned over about the sheet's long (x) axis: y becomes width − y.
    Second,
}

/// The moves of one cut; begins and ends at clearance height.
#[derive(Clone, Debug)]
pub struct Block {
    /// Placement index on the sheet; `None` for registration holes and the like.
    pub placement: Option<usize>,
    /// Feature id of the cut; `outline` for the outline.
    pub feature: String,
    /// In words, for the comment: `LO-1-003-L 1 outline`.
    pub label: String,
    /// Start point in the plane at clearance height.
    pub start: Point,
    /// The moves, in order, the first from `start` at clearance height.
    pub moves: Vec<Move>,
}

/// One move of the tool's tip centre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Move {
    /// Not cutting, as fast as it goes; never sideways below clearance.
    Rapid {
        /// Where to.
        to: Point3,
    },
    /// Straight, cutting.
    Line {
        /// Where to.
        to: Point3,
        /// mm/min.
        feed: f64,
    },
    /// An arc in the plane of at most a half turn, z changing evenly (a helix), cutting.
    Arc {
        /// Where to.
        to: Point3,
        /// Centre in the plane.
        centre: Point,
        /// Turning sense.
        ccw: bool,
        /// mm/min.
        feed: f64,
    },
    /// Drills at the current place in the plane and comes back up to `retract`.
    Drill {
        /// Bottom of the hole.
        bottom: Mm,
        /// Height to come back to and to feed from.
        retract: Mm,
        /// Depth of one peck; `None` to go in one.
        peck: Option<Mm>,
        /// mm/min.
        feed: f64,
    },
}

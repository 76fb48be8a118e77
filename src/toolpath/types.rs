//! The programs' types.
//!
//! Program frame: the sheet's, z up, zero at the underside of the sheet (top of the spoilboard); `write` shifts z when the machine
//! zeroes on the sheet's top. Lengths in mm, feeds in mm/min.

use crate::design::BoardId;
use crate::geom::{Point, Point3, Rect};
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
    /// The run time by what is done, in order; together [`Program::run_s`].
    pub times: Vec<(Work, f64)>,
    /// Which set-up of the sheet this is.
    pub set_up: SetUp,
    /// The rectangle of everything this set-up cuts, to be run round in the air before the first cut, where the machine's
    /// profile asks for it and this is the set-up's first program.
    pub trace: Option<Rect>,
}

impl Program {
    /// Whether another program may follow in the same file, on a machine whose cutters are changed inside a file: the sheet lies and
    /// is held as it did. After the holes for hold-down screws, the screws are put in first.
    #[must_use]
    pub fn may_be_followed_by(&self, next: &Self) -> bool {
        let same = self.sheet == next.sheet && self.set_up.number == next.set_up.number;
        same && self.blocks.iter().all(|b| b.work != Work::HoldDown)
    }
}

/// Which set-up of a sheet a program belongs to.
#[derive(Clone, Debug, PartialEq)]
pub struct SetUp {
    /// From 1.
    pub number: u32,
    /// 1, or 2 for a sheet with work on both faces.
    pub of: u32,
    /// Middles of the registration holes, program frame of this set-up, and their diameter; empty with one set-up.
    pub pins: Vec<Point>,
    /// Diameter of the registration holes.
    pub pin_diameter: Mm,
    /// Middles of the hold-down screws, program frame of this set-up.
    pub screws: Vec<Point>,
}

impl SetUp {
    /// The one set-up of a sheet that is not turned over, without screws.
    #[must_use]
    pub fn only() -> Self {
        Self { number: 1, of: 1, pins: Vec::new(), pin_diameter: Mm::ZERO, screws: Vec::new() }
    }
}

/// What time is spent on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Work {
    /// Holes for hold-down screws.
    HoldDown,
    /// Registration holes.
    Registration,
    /// Drilled and bored holes.
    Holes,
    /// Pockets, grooves and screw seats.
    Pockets,
    /// Openings.
    Openings,
    /// Outlines.
    Outlines,
    /// Moves in the air from cut to cut.
    Travel,
    /// The run round the used rectangle in the air.
    AirTrace,
    /// Waiting for the spindle.
    RunUp,
}

impl Work {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::HoldDown => "hold-down holes",
            Self::Registration => "registration holes",
            Self::Holes => "holes",
            Self::Pockets => "pockets",
            Self::Openings => "openings",
            Self::Outlines => "outlines",
            Self::Travel => "travel",
            Self::AirTrace => "air trace",
            Self::RunUp => "spindle run-up",
        }
    }
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
    /// What it does.
    pub work: Work,
    /// Number of the restart point that begins with this block, from 1 in each file: a run can be taken up again there. A
    /// restart point begins wherever the program comes to another part, or to another kind of work.
    pub restart: Option<u32>,
    /// The tabs it leaves to hold the piece it goes round.
    pub tabs: Option<TabsLeft>,
    /// Start point in the plane at clearance height.
    pub start: Point,
    /// The moves, in order, the first from `start` at clearance height.
    pub moves: Vec<Move>,
}

/// Tabs along one cut, all alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TabsLeft {
    /// How many.
    pub count: usize,
    /// Of the wood between the two sweeps of the cutter, along its way, at full height.
    pub length: Mm,
    /// Above the spoilboard.
    pub height: Mm,
    /// How far the tool centre runs above the cut's bottom for one of them: the wood, twice the cutter's radius, and both flanks.
    pub way: Mm,
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

//! The layout's types.
//!
//! Sheet frame: corner origin, x along the sheet's length (its grain), y across, in mm.

use crate::design::BoardId;
use crate::geom::{Contour, Point, Rect};
use crate::units::Mm;

/// All sheets of a job.
#[derive(Clone, Debug, Default)]
pub struct Layout {
    /// Sheets, by board, then number.
    pub sheets: Vec<Sheet>,
    /// For each board with parts, how few sheets could ever do.
    pub bounds: Vec<BoardBound>,
}

/// How near a board's layout is to the best there can be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BoardBound {
    /// The board.
    pub board: BoardId,
    /// Sheets in use.
    pub sheets: u32,
    /// No layout of these parts on this stock uses fewer sheets (proved by area and dual feasible functions).
    pub sheets_at_least: u32,
    /// No layout is better by the stock's own measure: price where prices are given, else the order of preference.
    pub proved_best: bool,
}

/// One sheet with its parts.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// Its board.
    pub board: BoardId,
    /// Number among the sheets of this board, from 1.
    pub number: u32,
    /// Index into the board's stock.
    pub stock: usize,
    /// Along the grain.
    pub length: Mm,
    /// Across.
    pub width: Mm,
    /// What lies on it, in cutting order.
    pub placements: Vec<Placement>,
    /// The largest rectangle left over, in one piece, when worth keeping.
    pub offcut: Option<Rect>,
    /// Parts' area over the sheet's area.
    pub used_ratio: f64,
}

/// One copy of a part on a sheet: turned counter-clockwise about the part frame's origin, then moved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    /// Index into [`crate::flat::FlatParts::parts`].
    pub part: usize,
    /// Which copy, from 1.
    pub copy: u32,
    /// How it is turned.
    pub turn: Turn,
    /// Where the part frame's origin goes.
    pub at: Point,
}

impl Placement {
    /// A contour of the part as it lies on the sheet.
    #[must_use]
    pub fn laid(&self, contour: &Contour) -> Contour {
        contour.quarter_turned(self.turn.quarters()).moved(self.at.to_vec2())
    }
}

/// A quarter turn, counter-clockwise.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Turn {
    /// Not turned.
    None,
    /// 90 degrees.
    Quarter,
    /// 180 degrees.
    Half,
    /// 270 degrees.
    ThreeQuarter,
}

impl Turn {
    /// The four turns, by quarters.
    pub const ALL: [Self; 4] = [Self::None, Self::Quarter, Self::Half, Self::ThreeQuarter];

    /// How many quarters.
    #[must_use]
    pub fn quarters(self) -> u32 {
        self.degrees() / 90
    }

    /// In degrees, for files and messages.
    #[must_use]
    pub fn degrees(self) -> u32 {
        match self {
            Self::None => 0,
            Self::Quarter => 90,
            Self::Half => 180,
            Self::ThreeQuarter => 270,
        }
    }
}

/// How hard to look for a better layout. Budgets are counted in work, not time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Effort {
    /// A glance.
    Draft,
    /// The usual: about a second at most.
    Quick,
    /// About ten seconds.
    Thorough,
    /// As long as it takes.
    Exhaustive,
}

//! What a saw plan is made of. Rectangles are in the sheet frame, in mm.

use crate::geom::Rect;
use crate::nest::options::Options;
use crate::nest::types::{BoardBound, Sheet};
use crate::units::Mm;

/// What the saw is like, and how hard to look.
#[derive(Clone, Copy, Debug)]
pub struct SawOptions<'a> {
    /// Width of a cut.
    pub kerf: Mm,
    /// Cut off the sheet's edges first, since a factory edge is never a part's edge.
    pub trim: Mm,
    /// How often the work may be turned between rips and crosscuts, 1 at least.
    pub turns: u32,
    /// How to search.
    pub search: Options<'a>,
}

/// All sheets with their cuts.
#[derive(Clone, Debug, Default)]
pub struct SawPlan {
    /// Width of a cut.
    pub kerf: Mm,
    /// What is cut off the sheets' edges.
    pub trim: Mm,
    /// How often the work may be turned between rips and crosscuts.
    pub turns: u32,
    /// Sheets, by board, then number.
    pub sheets: Vec<SawSheet>,
    /// For each board with parts, how few sheets could ever do.
    pub bounds: Vec<BoardBound>,
}

/// One sheet and how it is cut up.
#[derive(Clone, Debug)]
pub struct SawSheet {
    /// Where its parts' blanks lie; its offcut is the largest piece that is kept.
    pub sheet: Sheet,
    /// The cuts, in order.
    pub cuts: Vec<SawCut>,
}

impl SawSheet {
    /// How often the cutting changes between rips and crosscuts on the way to the most deeply cut part, plus one.
    #[must_use]
    pub fn stages(&self) -> u32 {
        self.cuts.iter().map(|c| c.stage).max().unwrap_or(0)
    }

    /// How often the fence is set while the cuts are made in order.
    #[must_use]
    pub fn fence_settings(&self) -> usize {
        let settings: Vec<(Direction, i64)> = self.cuts.iter().map(SawCut::setting).collect();
        settings.chunk_by(|a, b| a == b).count()
    }

    /// Different widths between fence and blade among the rips.
    #[must_use]
    pub fn rip_widths(&self) -> usize {
        let rips = self.cuts.iter().map(SawCut::setting).filter(|(d, _)| *d == Direction::Rip);
        rips.collect::<std::collections::BTreeSet<_>>().len()
    }

    /// Pieces worth keeping that hold no blank, in the order of cutting.
    #[must_use]
    pub fn kept(&self) -> Vec<Rect> {
        let both = self.cuts.iter().flat_map(|c| [Some((c.off_is, c.off)), c.rest.map(|rest| (c.rest_is, rest))]);
        both.flatten().filter(|(is, _)| *is == Outcome::Kept).map(|(_, r)| r).collect()
    }
}

/// Which way a cut runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Direction {
    /// Along the sheet's length.
    Rip,
    /// Across it.
    Cross,
}

/// Where the piece on the saw comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Source {
    /// The whole sheet.
    Sheet,
    /// Between fence and blade at the cut of this number.
    Off(u32),
    /// The other piece of that cut.
    Rest(u32),
}

/// What becomes of a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// It is cut again.
    Again,
    /// It is the blank of the placement of this index.
    Blank(usize),
    /// It holds no blank and is worth keeping.
    Kept,
    /// It is waste.
    Waste,
}

/// One cut, from edge to edge of the piece on the saw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SawCut {
    /// Its number, from 1.
    pub number: u32,
    /// Which way it runs.
    pub direction: Direction,
    /// Where the piece on the saw comes from.
    pub from: Source,
    /// The piece on the saw.
    pub piece: Rect,
    /// Width between fence and blade.
    pub fence: Mm,
    /// The fence stands at the upper (rip) or right (crosscut) edge of the piece, not at the lower or left one: so a trimmed
    /// edge falls off on the free side.
    pub far: bool,
    /// What lies between fence and blade.
    pub off: Rect,
    /// What is left beyond the kerf, if anything.
    pub rest: Option<Rect>,
    /// 1 for the first rips or crosscuts, one more with every change of direction.
    pub stage: u32,
    /// What becomes of `off`.
    pub off_is: Outcome,
    /// What becomes of `rest`.
    pub rest_is: Outcome,
}

impl SawCut {
    /// Direction and width between fence and blade in whole hundredths of a millimetre.
    #[must_use]
    pub fn setting(&self) -> (Direction, i64) {
        (self.direction, (self.fence.0 * 100.0).round() as i64)
    }
}

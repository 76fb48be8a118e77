//! The problem as the search sees it: pieces and sheets grown by the gap, so that they may touch.

use super::model::{CutRule, Problem, Turns};

/// A piece grown by the gap in both directions.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    /// The ways it may lie: width, height, whether turned by a quarter. One or two.
    pub(super) ways: Vec<(i32, i32, bool)>,
    pub(super) area: i64,
    pub(super) long: i32,
    pub(super) short: i32,
    pub(super) count: u32,
}

/// A sheet grown by the gap.
#[derive(Clone, Copy, Debug)]
pub(super) struct Blank {
    pub(super) w: i32,
    pub(super) h: i32,
    pub(super) area: i64,
    pub(super) count: u32,
    pub(super) cost: u64,
}

/// Pieces and sheets, grown.
#[derive(Clone, Debug)]
pub(super) struct Grown {
    pub(super) pieces: Vec<Piece>,
    pub(super) blanks: Vec<Blank>,
    pub(super) gap: i32,
    pub(super) cut: CutRule,
    /// Smallest side of any piece: free space narrower than this is useless.
    pub(super) least_side: i32,
}

/// Longest side the search can hold without overflow.
pub(super) const LONGEST: i64 = 1 << 29;

impl Grown {
    /// Grows everything; pieces of no size or beyond [`LONGEST`] get no way to lie and stay unplaced.
    pub(super) fn new(problem: &Problem) -> Self {
        let gap = problem.gap.clamp(0, LONGEST);
        let total: u64 = problem.items.iter().map(|i| u64::from(i.count)).sum();
        let pieces = problem
            .items
            .iter()
            .map(|item| {
                let [w, h] = item.size;
                let usable = (1..=LONGEST).contains(&w) && (1..=LONGEST).contains(&h);
                let (w, h) = if usable { ((w + gap) as i32, (h + gap) as i32) } else { (i32::MAX, i32::MAX) };
                let mut ways = Vec::new();
                if usable && item.turns != Turns::Quarter {
                    ways.push((w, h, false));
                }
                if usable && (item.turns == Turns::Quarter || (item.turns == Turns::Any && w != h)) {
                    ways.push((h, w, true));
                }
                Piece { ways, area: i64::from(w) * i64::from(h), long: w.max(h), short: w.min(h), count: item.count }
            })
            .collect::<Vec<_>>();
        let blanks = problem
            .sheets
            .iter()
            .map(|s| {
                let grown = |side: i64| (side.clamp(0, LONGEST) + gap) as i32;
                let (w, h) = (grown(s.size[0]), grown(s.size[1]));
                let count = u64::from(s.count.unwrap_or(u32::MAX)).min(total) as u32;
                Blank { w, h, area: i64::from(w) * i64::from(h), count, cost: s.cost }
            })
            .collect();
        let least_side = pieces.iter().filter(|p| p.count > 0).map(|p| p.short).min().unwrap_or(1);
        Self { pieces, blanks, gap: gap as i32, cut: problem.cut, least_side }
    }

    /// Whether a piece fits a sheet that is empty.
    pub(super) fn fits(&self, piece: usize, blank: usize) -> bool {
        let b = &self.blanks[blank];
        self.pieces[piece].ways.iter().any(|&(w, h, _)| w <= b.w && h <= b.h)
    }
}

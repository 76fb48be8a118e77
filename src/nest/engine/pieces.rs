//! The problem as the search sees it: pieces and sheets grown by the gap, so that they may touch.

use super::free_rects::{cut_out, Box2};
use super::model::{CutRule, Problem, Shape, Turns};

/// A piece grown by the gap, to the right and upwards.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    /// The ways it may lie: width, height, quarters turned.
    pub(super) ways: Vec<(i32, i32, u8)>,
    /// Its true shape for each number of quarters, grown; `None` for a rectangle.
    pub(super) shape: Option<[Vec<Box2>; 4]>,
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
    /// For each blank, where no piece may lie, grown.
    pub(super) defects: Vec<Vec<Box2>>,
    /// For each blank with defects, the largest rectangles between them.
    clear: Vec<Vec<Box2>>,
    pub(super) gap: i32,
    pub(super) cut: CutRule,
    /// Smallest side of any piece, or of any rectangle of its shape: free space narrower than this is useless.
    pub(super) least_side: i32,
}

/// Longest side the search can hold without overflow.
const LONGEST: i64 = 1 << 29;

impl Grown {
    /// Grows everything; pieces of no size or beyond [`LONGEST`] get no way to lie and stay unplaced.
    pub(super) fn new(problem: &Problem) -> Self {
        let gap = problem.gap.clamp(0, LONGEST);
        let total: u64 = problem.items.iter().map(|i| u64::from(i.count)).sum();
        let pieces: Vec<Piece> = problem
            .items
            .iter()
            .enumerate()
            .map(|(index, item)| {
                let shape = problem.shapes.get(&index).filter(|_| problem.cut == CutRule::Free);
                Piece::new(item.size, item.turns, item.count, shape, gap)
            })
            .collect();
        let blanks: Vec<Blank> = problem
            .sheets
            .iter()
            .map(|s| {
                let grown = |side: i64| (side.clamp(0, LONGEST) + gap) as i32;
                let (w, h) = (grown(s.size[0]), grown(s.size[1]));
                let count = u64::from(s.count.unwrap_or(u32::MAX)).min(total) as u32;
                Blank { w, h, area: i64::from(w) * i64::from(h), count, cost: s.cost }
            })
            .collect();
        let defects: Vec<Vec<Box2>> = (0..problem.sheets.len())
            .map(|k| problem.defects.get(&k).into_iter().flatten().map(|d| grown_defect(*d, gap)).collect())
            .collect();
        let clear = blanks.iter().zip(&defects).map(|(b, d)| clear_of(b, d)).collect();
        let least_side = pieces.iter().filter(|p| p.count > 0).map(Piece::least_side).min().unwrap_or(1);
        Self { pieces, blanks, defects, clear, gap: gap as i32, cut: problem.cut, least_side }
    }

    /// Whether a piece fits a sheet that is empty; one with a shape by its rectangle, where there are defects.
    pub(super) fn fits(&self, piece: usize, blank: usize) -> bool {
        let b = &self.blanks[blank];
        let lies = |w: i32, h: i32| self.pieces[piece].ways.iter().any(|v| v.0 <= w && v.1 <= h);
        match self.clear.get(blank).filter(|_| !self.defects[blank].is_empty()) {
            Some(clear) => clear.iter().any(|r| lies(r.x1 - r.x0, r.y1 - r.y0)),
            None => lies(b.w, b.h),
        }
    }

    /// One more kind of sheet.
    pub(super) fn add(&mut self, blank: Blank, defects: Vec<Box2>) {
        self.clear.push(clear_of(&blank, &defects));
        self.blanks.push(blank);
        self.defects.push(defects);
    }

    /// Whether some part of a sheet is not to be used.
    pub(super) fn has_defects(&self) -> bool {
        self.defects.iter().any(|d| !d.is_empty())
    }

    /// Whether any piece is not a rectangle.
    pub(super) fn has_shapes(&self) -> bool {
        self.pieces.iter().any(|p| p.shape.is_some())
    }
}

/// The largest rectangles of a sheet between its defects.
fn clear_of(blank: &Blank, defects: &[Box2]) -> Vec<Box2> {
    let mut free = vec![Box2 { x0: 0, y0: 0, x1: blank.w, y1: blank.h }];
    let mut fresh = Vec::new();
    for d in defects {
        cut_out(&mut free, &mut fresh, *d, 1);
    }
    free
}

/// A defect keeps no gap: a piece, which is grown to the right and upwards, may reach into its left and lower rim by the gap.
fn grown_defect(d: [i64; 4], gap: i64) -> Box2 {
    let side = |v: i64| v.clamp(0, LONGEST) as i32;
    let (x0, y0) = (side(d[0] + gap), side(d[1] + gap));
    Box2 { x0, y0, x1: side(d[2]).max(x0 + 1), y1: side(d[3]).max(y0 + 1) }
}

impl Piece {
    fn new(size: [i64; 2], turns: Turns, count: u32, shape: Option<&Shape>, gap: i64) -> Self {
        let usable = size.iter().all(|s| (1..=LONGEST).contains(s));
        let (w, h) = if usable { ((size[0] + gap) as i32, (size[1] + gap) as i32) } else { (i32::MAX, i32::MAX) };
        let quarters: &[u8] = match (turns, shape.is_some()) {
            _ if !usable => &[],
            (Turns::Fixed, false) => &[0],
            (Turns::Quarter, false) => &[1],
            (Turns::Any, false) if w == h => &[0],
            (Turns::Any, false) => &[0, 1],
            (Turns::Fixed, true) => &[0, 2],
            (Turns::Quarter, true) => &[1, 3],
            (Turns::Any, true) => &[0, 1, 2, 3],
        };
        let ways = quarters.iter().map(|&q| if q % 2 == 0 { (w, h, q) } else { (h, w, q) }).collect();
        let shape = shape.filter(|_| usable).map(|s| [0, 1, 2, 3].map(|q| turned(s, size, q, gap)));
        let area = shape.as_ref().map_or(i64::from(w) * i64::from(h), |s| covered(&s[0]));
        Self { ways, shape, area, long: w.max(h), short: w.min(h), count }
    }

    fn least_side(&self) -> i32 {
        let rects = self.shape.iter().flat_map(|s| &s[0]);
        rects.map(|r| (r.x1 - r.x0).min(r.y1 - r.y0)).chain([self.short]).min().unwrap_or(1)
    }
}

/// A shape's rectangles after some quarter turns counter-clockwise, from its lower left corner, grown.
fn turned(shape: &Shape, size: [i64; 2], quarters: u8, gap: i64) -> Vec<Box2> {
    let [w, h] = size;
    shape
        .cover
        .iter()
        .map(|&[x0, y0, x1, y1]| {
            let [x0, y0, x1, y1] = match quarters {
                0 => [x0, y0, x1, y1],
                1 => [h - y1, x0, h - y0, x1],
                2 => [w - x1, h - y1, w - x0, h - y0],
                _ => [y0, w - x1, y1, w - x0],
            };
            Box2 { x0: x0 as i32, y0: y0 as i32, x1: (x1 + gap) as i32, y1: (y1 + gap) as i32 }
        })
        .collect()
}

/// Area that rectangles cover together.
fn covered(rects: &[Box2]) -> i64 {
    let mut xs: Vec<i32> = rects.iter().flat_map(|r| [r.x0, r.x1]).collect();
    xs.sort_unstable();
    xs.dedup();
    xs.windows(2)
        .map(|x| {
            let mut spans: Vec<(i32, i32)> =
                rects.iter().filter(|r| r.x0 <= x[0] && r.x1 >= x[1]).map(|r| (r.y0, r.y1)).collect();
            spans.sort_unstable();
            let mut reach = i32::MIN;
            let mut length = 0;
            for (a, b) in spans {
                length += i64::from((b - a.max(reach)).max(0));
                reach = reach.max(b);
            }
            length * i64::from(x[1] - x[0])
        })
        .sum()
}

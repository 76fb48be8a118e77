//! Jobs with shapes that leave no waste at all: the lowest, leftmost free point must be the lower left corner of some piece.

use super::free_rects::{cut_out, Box2};
use super::model::PackedSheet;
use super::pieces::{Grown, Piece};
use super::rng::Rng;
use super::solve::finished_from;
use super::surface::Placed;

/// Largest count of pieces.
const MOST: u32 = 200;
/// Steps of a short try.
const TRY: u64 = 3000;
/// Work units of one step.
const STEP: u64 = 400;

/// One way a piece may lie.
#[derive(Clone, Debug)]
struct Lie {
    rects: Vec<Box2>,
    quarters: u8,
    size: (i32, i32),
    /// From the piece's left to its lowest, leftmost point.
    foot: i32,
    /// Lengths of the stretches that stand on the floor.
    stands: Vec<i32>,
}

struct Mosaic<'a> {
    g: &'a Grown,
    lies: Vec<Vec<Lie>>,
    sheets: Vec<usize>,
    left: Vec<u32>,
    placed: Vec<Vec<Placed>>,
    steps: u64,
    allowed: u64,
    rng: Rng,
    /// How far the order of choices is mixed.
    noise: f64,
    /// Shortest side of any rectangle of any piece.
    least: i32,
}

/// Fills the given number of sheets of each kind with all pieces, if they fill them exactly and the work allows.
pub(super) fn solve(g: &Grown, counts: &[u32], work: u64, seed: u64) -> Option<Vec<PackedSheet>> {
    let total: i64 = g.pieces.iter().map(|p| p.area * i64::from(p.count)).sum();
    let area: i64 = g.blanks.iter().zip(counts).map(|(b, &n)| b.area * i64::from(n)).sum();
    if total != area || g.pieces.iter().map(|p| p.count).sum::<u32>() > MOST {
        return None;
    }
    let sheets: Vec<usize> = counts.iter().enumerate().flat_map(|(k, &n)| std::iter::repeat_n(k, n as usize)).collect();
    let mut mosaic = Mosaic {
        lies: g.pieces.iter().map(lies).collect(),
        placed: vec![Vec::new(); sheets.len()],
        sheets,
        left: g.pieces.iter().map(|p| p.count).collect(),
        steps: 0,
        allowed: 0,
        rng: Rng::new(seed, 0),
        noise: 0.0,
        least: g.least_side,
        g,
    };
    // A wrong start can take for ever to refute: the first try in plain order, then many short ones in mixed order. A sheet
    // once filled without waste is hardly ever wrong, so it is kept.
    let most = work / STEP;
    let mut steps = 0;
    for sheet in 0..mosaic.sheets.len() {
        let first = mosaic.bare(sheet);
        let before = mosaic.left.clone();
        let mut tries = 0;
        mosaic.noise = 0.0;
        loop {
            mosaic.allowed = if tries == 0 { most / 16 } else { TRY + TRY * tries / 16 }.min(most - steps);
            mosaic.steps = 0;
            if mosaic.go(sheet, &first) {
                break;
            }
            steps += mosaic.steps.max(1);
            tries += 1;
            if steps >= most {
                return None;
            }
            mosaic.noise = 2.0;
            mosaic.left.clone_from(&before);
            mosaic.placed[sheet].clear();
        }
    }
    Some(finished_from(g, mosaic.sheets.iter().copied().zip(mosaic.placed.iter().map(Vec::as_slice))))
}

fn lies(piece: &Piece) -> Vec<Lie> {
    piece
        .ways
        .iter()
        .map(|&(w, h, quarters)| {
            let whole = || vec![Box2 { x0: 0, y0: 0, x1: w, y1: h }];
            let rects = piece.shape.as_ref().map_or_else(whole, |s| s[usize::from(quarters)].clone());
            let mut floor: Vec<(i32, i32)> = rects.iter().filter(|r| r.y0 == 0).map(|r| (r.x0, r.x1)).collect();
            floor.sort_unstable();
            let mut joined: Vec<(i32, i32)> = Vec::new();
            for (a, b) in floor {
                match joined.last_mut() {
                    Some(last) if a <= last.1 => last.1 = last.1.max(b),
                    _ => joined.push((a, b)),
                }
            }
            let foot = joined.first().map_or(0, |s| s.0);
            let stands = joined.iter().map(|s| s.1 - s.0).collect();
            Lie { rects, quarters, size: (w, h), foot, stands }
        })
        .collect()
}

impl Mosaic<'_> {
    fn bare(&self, sheet: usize) -> Vec<Box2> {
        let b = &self.g.blanks[self.sheets[sheet]];
        vec![Box2 { x0: 0, y0: 0, x1: b.w, y1: b.h }]
    }

    fn go(&mut self, sheet: usize, free: &[Box2]) -> bool {
        self.steps += 1;
        if self.steps > self.allowed {
            return false;
        }
        let Some(corner) = free.iter().map(|f| (f.y0, f.x0)).min() else {
            return true;
        };
        let (y, x) = corner;
        let here = || free.iter().filter(|f| (f.y0, f.x0) == corner);
        let floor = here().map(|f| f.x1 - f.x0).max().unwrap_or(0);
        if !self.can_fill(floor) {
            return false;
        }
        let mut choices: Vec<(bool, i64, usize, usize)> = Vec::new();
        for (p, list) in self.lies.iter().enumerate().filter(|(p, _)| self.left[*p] > 0) {
            for (k, lie) in list.iter().enumerate() {
                let stand = lie.stands.first().copied().unwrap_or(0);
                if stand > floor || x < lie.foot {
                    continue;
                }
                let inside = |r: &Box2| {
                    let r = r.moved(x - lie.foot, y);
                    free.iter().any(|f| f.holds(&r))
                };
                if lie.rects.iter().all(inside) {
                    let area = self.g.pieces[p].area as f64;
                    choices.push((stand != floor, -(area * (1.0 + self.noise * self.rng.unit())) as i64, p, k));
                }
            }
        }
        choices.sort_unstable();
        for (_, _, p, k) in choices {
            let lie = self.lies[p][k].clone();
            let (px, py) = (x - lie.foot, y);
            let mut next = free.to_vec();
            let mut fresh = Vec::new();
            for r in &lie.rects {
                cut_out(&mut next, &mut fresh, r.moved(px, py), 1);
            }
            if self.has_sliver(&next) {
                continue;
            }
            self.left[p] -= 1;
            let (w, h) = lie.size;
            self.placed[sheet].push(Placed { piece: p as u32, x: px, y: py, w, h, quarters: lie.quarters });
            if self.go(sheet, &next) {
                return true;
            }
            self.placed[sheet].pop();
            self.left[p] += 1;
            if self.steps > self.allowed {
                return false;
            }
        }
        false
    }

    /// Whether some free space is too narrow for every piece.
    fn has_sliver(&self, free: &[Box2]) -> bool {
        let narrow = |f: &Box2| f.x1 - f.x0 < self.least || f.y1 - f.y0 < self.least;
        free.iter().filter(|f| narrow(f)).any(|f| {
            // A narrow rectangle may still be the overlap's edge of wider ones: only what lies in none of them is lost.
            let points = [
                (f.x0, f.y0),
                (f.x1 - 1, f.y0),
                (f.x0, f.y1 - 1),
                (f.x1 - 1, f.y1 - 1),
                (i32::midpoint(f.x0, f.x1), i32::midpoint(f.y0, f.y1)),
            ];
            points.iter().any(|&(x, y)| !free.iter().any(|o| !narrow(o) && o.x0 <= x && x < o.x1 && o.y0 <= y && y < o.y1))
        })
    }

    /// Whether stretches of pieces left can fill a floor exactly, side by side.
    fn can_fill(&self, floor: i32) -> bool {
        let words = floor as usize / 64 + 1;
        let mut sums = vec![0u64; words];
        sums[0] = 1;
        let mut before = Vec::new();
        for (p, list) in self.lies.iter().enumerate() {
            let mut lengths: Vec<i32> = list.iter().flat_map(|l| l.stands.iter().copied()).collect();
            lengths.extend(list.iter().map(|l| l.stands.iter().sum::<i32>()));
            lengths.sort_unstable();
            lengths.dedup();
            for _ in 0..self.left[p] {
                before.clone_from(&sums);
                for &w in lengths.iter().filter(|w| **w <= floor) {
                    let (skip, shift) = (w as usize / 64, w as usize % 64);
                    for i in skip..words {
                        let mut bits = before[i - skip] << shift;
                        if shift > 0 && i > skip {
                            bits |= before[i - skip - 1] >> (64 - shift);
                        }
                        sums[i] |= bits;
                    }
                }
            }
            if sums[words - 1] >> (floor as usize % 64) & 1 == 1 {
                return true;
            }
        }
        false
    }
}

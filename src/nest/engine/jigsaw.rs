//! Jobs that leave (almost) no waste, as jigsaws: the lowest free corner must be filled exactly, or the little waste there
//! may be is spent. A depth-first search that such jobs make short, and that the usual search has no luck with.

use super::model::PackedSheet;
use super::pieces::Grown;
use super::rng::Rng;
use super::solve::finished_from;
use super::surface::Placed;

/// Only jobs that leave less than this part of their sheets free.
const SPARE: i64 = 400;
/// Largest count of pieces; more have too many accidental fits.
const MOST: u32 = 200;
/// Steps of a short try.
const TRY: u64 = 3000;
/// Work units of one step.
const STEP: u64 = 150;

/// A level stretch of the pieces' upper contour.
#[derive(Clone, Copy, Debug)]
struct Dent {
    x: i32,
    y: i32,
    w: i32,
}

struct Jigsaw<'a> {
    g: &'a Grown,
    /// Kinds of the sheets to be filled, in order.
    sheets: Vec<usize>,
    left: Vec<u32>,
    placed: Vec<Vec<Placed>>,
    steps: u64,
    /// Waste still allowed after the sheet that was filled last.
    spare: i64,
    allowed: u64,
    rng: Rng,
    /// How far the order of choices is mixed.
    noise: f64,
    sums: Vec<u64>,
}

/// Fills the given number of sheets of each kind with all pieces, if the job is such a jigsaw and the work allows.
pub(super) fn solve(g: &Grown, counts: &[u32], work: u64, seed: u64) -> Option<Vec<PackedSheet>> {
    let total: i64 = g.pieces.iter().map(|p| p.area * i64::from(p.count)).sum();
    let area: i64 = g.blanks.iter().zip(counts).map(|(b, &n)| b.area * i64::from(n)).sum();
    let pieces: u32 = g.pieces.iter().map(|p| p.count).sum();
    if g.has_shapes() || total > area || area - total > area / SPARE || pieces > MOST {
        return None;
    }
    let mut sheets: Vec<usize> = counts.iter().enumerate().flat_map(|(k, &n)| std::iter::repeat_n(k, n as usize)).collect();
    // Small sheets first: fewer pieces go on them, so that a wrong start shows early.
    sheets.sort_by_key(|&k| (g.blanks[k].area, k));
    let mut jigsaw = Jigsaw {
        g,
        placed: vec![Vec::new(); sheets.len()],
        sheets,
        left: g.pieces.iter().map(|p| p.count).collect(),
        steps: 0,
        spare: 0,
        allowed: 0,
        rng: Rng::new(seed, 0),
        noise: 0.0,
        sums: Vec::new(),
    };
    // A wrong start can take for ever to refute: the first try in plain order, then many short ones in mixed order. A sheet
    // once filled without waste is hardly ever wrong, so it is kept.
    let most = work / STEP;
    let mut steps = 0;
    let mut spare = area - total;
    for sheet in 0..jigsaw.sheets.len() {
        let first = jigsaw.bare(sheet);
        let before = jigsaw.left.clone();
        let mut tries = 0;
        jigsaw.noise = 0.0;
        loop {
            jigsaw.allowed = if tries == 0 { most / 16 } else { TRY + TRY * tries / 16 }.min(most - steps);
            jigsaw.steps = 0;
            if jigsaw.go(sheet, &first, spare) {
                break;
            }
            steps += jigsaw.steps.max(1);
            tries += 1;
            if steps >= most {
                return None;
            }
            jigsaw.noise = 2.0;
            jigsaw.left.clone_from(&before);
            jigsaw.placed[sheet].clear();
        }
        spare = jigsaw.spare;
    }
    Some(finished_from(g, jigsaw.sheets.iter().copied().zip(jigsaw.placed.iter().map(Vec::as_slice))))
}

impl Jigsaw<'_> {
    fn bare(&self, sheet: usize) -> Vec<Dent> {
        let kind = self.sheets[sheet];
        vec![Dent { x: 0, y: 0, w: self.g.blanks[kind].w }]
    }

    fn go(&mut self, sheet: usize, line: &[Dent], spare: i64) -> bool {
        self.steps += 1;
        if self.steps > self.allowed {
            return false;
        }
        let height = self.g.blanks[self.sheets[sheet]].h;
        let Some(i) = (0..line.len()).min_by_key(|&i| (line[i].y, line[i].x)) else { return false };
        let d = line[i];
        if d.y >= height {
            self.spare = spare;
            return sheet + 1 < self.sheets.len() || self.left.iter().all(|&n| n == 0);
        }
        let wall = |k: Option<&Dent>| k.map_or(height, |o| o.y);
        let walls = [wall(i.checked_sub(1).and_then(|k| line.get(k))), wall(line.get(i + 1))];
        let (short, low) = self.closest_fill(d.w, height - d.y);
        let rim = walls[0].min(walls[1]);
        // Whatever does not fill the floor is lost up to the lower wall or the lowest piece.
        if i64::from(d.w - short) * i64::from(low.min(rim - d.y)) > spare {
            return false;
        }
        let mut choices: Vec<(u8, i64, usize, usize)> = Vec::new();
        for (p, piece) in self.g.pieces.iter().enumerate() {
            if self.left[p] == 0 {
                continue;
            }
            for (k, &(w, h, _)) in piece.ways.iter().enumerate() {
                if w <= d.w && d.y + h <= height {
                    let flush = u8::from(w != d.w) + u8::from(!walls.contains(&(d.y + h)));
                    let area = piece.area as f64 * (1.0 + self.noise * self.rng.unit());
                    choices.push((flush, -area as i64, p, k));
                }
            }
        }
        choices.sort_unstable();
        for (_, _, p, k) in choices {
            let (w, h, quarters) = self.g.pieces[p].ways[k];
            self.left[p] -= 1;
            self.placed[sheet].push(Placed { piece: p as u32, x: d.x, y: d.y, w, h, quarters });
            if self.go(sheet, &raised(line, i, w, h), spare) {
                return true;
            }
            self.placed[sheet].pop();
            self.left[p] += 1;
            if self.steps > self.allowed {
                return false;
            }
        }
        let waste = i64::from(rim - d.y) * i64::from(d.w);
        rim > d.y && waste <= spare && self.go(sheet, &raised(line, i, d.w, rim - d.y), spare - waste)
    }

    /// The longest stretch of a floor that pieces left can fill side by side, and the height of the lowest of them.
    fn closest_fill(&mut self, floor: i32, room: i32) -> (i32, i32) {
        let words = floor as usize / 64 + 1;
        self.sums.clear();
        self.sums.resize(words, 0);
        self.sums[0] = 1;
        let mut low = i32::MAX;
        for (p, piece) in self.g.pieces.iter().enumerate() {
            // A few of a kind are enough to tell; more would only weaken the answer, never falsify it.
            for _ in 0..self.left[p] {
                let before = self.sums.clone();
                for &(w, h, _) in piece.ways.iter().filter(|v| v.0 <= floor && v.1 <= room) {
                    low = low.min(h);
                    let (skip, shift) = (w as usize / 64, w as usize % 64);
                    for i in skip..words {
                        let mut bits = before[i - skip] << shift;
                        if shift > 0 && i > skip {
                            bits |= before[i - skip - 1] >> (64 - shift);
                        }
                        self.sums[i] |= bits;
                    }
                }
            }
        }
        let best = (0..=floor).rev().find(|&x| self.sums[x as usize / 64] >> (x as usize % 64) & 1 == 1);
        (best.unwrap_or(0), low)
    }
}

/// The contour with `height` more on the left `w` of a dent.
fn raised(line: &[Dent], i: usize, w: i32, height: i32) -> Vec<Dent> {
    let mut next: Vec<Dent> = Vec::with_capacity(line.len() + 1);
    let mut push = |d: Dent| match next.last_mut() {
        Some(last) if last.y == d.y => last.w += d.w,
        _ => next.push(d),
    };
    for (k, d) in line.iter().enumerate() {
        if k == i {
            push(Dent { x: d.x, y: d.y + height, w });
            if d.w > w {
                push(Dent { x: d.x + w, y: d.y, w: d.w - w });
            }
        } else {
            push(*d);
        }
    }
    next
}

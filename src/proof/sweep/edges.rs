//! Edges of an area in a grid of cells, so that a stroke only meets those near it.

use super::area;
use crate::proof::shape::{Bounds, Pt};
use clipper2_rust::Paths64;

/// Side of a cell in mm: about a cutter's diameter.
const CELL: f64 = 8.0;
/// Most cells of one grid; beyond it cells grow.
const CELLS: f64 = 250_000.0;
/// Edges and strokes are looked up in stretches no longer than this, in mm.
const STRETCH: f64 = 32.0;

/// Lines to one strip, on average, and most strips.
const LINES_PER_STRIP: usize = 4;
const STRIPS: usize = 2_000;

/// An area with its edges indexed.
#[derive(Debug)]
pub(super) struct Edges {
    bounds: Bounds,
    lines: Vec<(Pt, Pt)>,
    cell: f64,
    columns: usize,
    rows: usize,
    /// Where each cell's entries begin.
    starts: Vec<u32>,
    entries: Vec<u32>,
    /// Lines by the strips of y that they cross, for telling inside from outside.
    strips: Vec<Vec<u32>>,
}

impl Edges {
    pub(super) fn of(paths: &Paths64) -> Self {
        let bounds = area::bounds(paths);
        let lines: Vec<(Pt, Pt)> = area::edges(paths).collect();
        let (w, h) = ((bounds.max.x - bounds.min.x).max(0.0), (bounds.max.y - bounds.min.y).max(0.0));
        let (w, h) = if lines.is_empty() { (0.0, 0.0) } else { (w, h) };
        let cell = CELL.max((w * h / CELLS).sqrt()).max(w.max(h) / CELLS.sqrt());
        let (columns, rows) = ((w / cell) as usize + 1, (h / cell) as usize + 1);
        // Long upright lines stand in many strips: fewer strips then, so that the index stays about as large as the area.
        let rise: f64 = lines.iter().map(|(a, b)| (a.y - b.y).abs()).sum::<f64>() / h.max(f64::MIN_POSITIVE);
        let affordable = (8.0 * lines.len() as f64 / rise.max(1.0)) as usize;
        let strips = vec![Vec::new(); (lines.len() / LINES_PER_STRIP).min(affordable).clamp(1, STRIPS)];
        let mut index = Self { bounds, lines, cell, columns, rows, starts: Vec::new(), entries: Vec::new(), strips };
        let mut pairs: Vec<(u32, u32)> = Vec::new();
        for k in 0..index.lines.len() {
            let (a, b) = index.lines[k];
            for strip in index.strip(a.y.min(b.y))..=index.strip(a.y.max(b.y)) {
                index.strips[strip].push(k as u32);
            }
            for (p, q) in stretches(a, b) {
                let mut around = Bounds::empty();
                around.add(p);
                around.add(q);
                pairs.extend(index.each_cell(around).map(|c| (c as u32, k as u32)));
            }
        }
        pairs.sort_unstable();
        pairs.dedup();
        index.starts = vec![0; columns * rows + 1];
        for (cell, _) in &pairs {
            index.starts[*cell as usize + 1] += 1;
        }
        for cell in 0..columns * rows {
            index.starts[cell + 1] += index.starts[cell];
        }
        index.entries = pairs.into_iter().map(|(_, k)| k).collect();
        index
    }

    /// Cells that a box touches.
    fn each_cell(&self, b: Bounds) -> impl Iterator<Item = usize> {
        let clamp = |v: f64, low: f64, most: usize| (((v - low) / self.cell).floor().max(0.0) as usize).min(most - 1);
        let (x0, x1) = (clamp(b.min.x, self.bounds.min.x, self.columns), clamp(b.max.x, self.bounds.min.x, self.columns));
        let (y0, y1) = (clamp(b.min.y, self.bounds.min.y, self.rows), clamp(b.max.y, self.bounds.min.y, self.rows));
        let columns = self.columns;
        (y0..=y1).flat_map(move |y| (x0..=x1).map(move |x| y * columns + x))
    }

    /// The strip that a height falls in.
    fn strip(&self, y: f64) -> usize {
        let share = (y - self.bounds.min.y) / (self.bounds.max.y - self.bounds.min.y);
        ((share * self.strips.len() as f64).max(0.0) as usize).min(self.strips.len() - 1)
    }

    /// Whether a point lies in the area (even-odd).
    pub(super) fn holds(&self, p: Pt) -> bool {
        if !self.bounds.holds(p) {
            return false;
        }
        let crossed = self.strips[self.strip(p.y)].iter().filter(|k| {
            let (a, b) = self.lines[**k as usize];
            (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)
        });
        crossed.count() % 2 == 1
    }

    /// Least distance from a straight stretch to the area's edges, as far as it is below `reach`; with the place on the stretch.
    pub(super) fn distance(&self, a: Pt, b: Pt, reach: f64) -> Option<(f64, Pt)> {
        let mut best: Option<(f64, Pt)> = None;
        let mut least = reach;
        for (p, q) in stretches(a, b) {
            let mut around = Bounds::empty();
            around.add(p);
            around.add(q);
            if self.lines.is_empty() || !around.grown(reach).meets(self.bounds) {
                continue;
            }
            for cell in self.each_cell(around.grown(reach)) {
                for k in &self.entries[self.starts[cell] as usize..self.starts[cell + 1] as usize] {
                    let (c, d) = self.lines[*k as usize];
                    if c.x.min(d.x) - around.max.x >= least
                        || around.min.x - c.x.max(d.x) >= least
                        || c.y.min(d.y) - around.max.y >= least
                        || around.min.y - c.y.max(d.y) >= least
                    {
                        continue;
                    }
                    let (square, place) = apart(p, q, c, d);
                    if square < least * least {
                        least = square.sqrt();
                        best = Some((least, place));
                    }
                }
            }
        }
        best
    }
}

/// A straight line in stretches short enough for the grid.
fn stretches(a: Pt, b: Pt) -> impl Iterator<Item = (Pt, Pt)> {
    let n = (a.distance(b) / STRETCH).ceil().clamp(1.0, 100_000.0) as usize;
    let at = move |k: usize| {
        let share = k as f64 / n as f64;
        Pt::new(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share)
    };
    (0..n).map(move |k| (at(k), at(k + 1)))
}

/// Square of the distance of two straight lines, and where on the first.
fn apart(a: Pt, b: Pt, c: Pt, d: Pt) -> (f64, Pt) {
    let side = |p: Pt, q: Pt, r: Pt| (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    let (s1, s2, s3, s4) = (side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b));
    if s1 * s2 < 0.0 && s3 * s4 < 0.0 {
        let share = s3 / (s3 - s4);
        return (0.0, Pt::new(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share));
    }
    let mut best = (square(a, c, d), a);
    // Where the second line's ends come near, the place is on the first line within rounding of them.
    for (found, place) in [(square(b, c, d), b), (square(c, a, b), c), (square(d, a, b), d)] {
        if found < best.0 {
            best = (found, place);
        }
    }
    best
}

/// Square of a point's distance to a straight line.
fn square(p: Pt, a: Pt, b: Pt) -> f64 {
    let (dx, dy, x, y) = (b.x - a.x, b.y - a.y, p.x - a.x, p.y - a.y);
    let length = dx * dx + dy * dy;
    let share = if length > 0.0 { ((x * dx + y * dy) / length).clamp(0.0, 1.0) } else { 0.0 };
    let (x, y) = (x - dx * share, y - dy * share);
    x * x + y * y
}

//! Edges of an area in a grid of cells, so that a stroke only meets those near it.

use super::area;
use crate::proof::shape::{segment_distance, Bounds, Pt};
use clipper2_rust::Paths64;

/// Side of a cell in mm: a few cutter diameters.
const CELL: f64 = 16.0;
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
    cells: Vec<Vec<u32>>,
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
        let mut index = Self { bounds, lines, cell, columns, rows, cells: vec![Vec::new(); columns * rows], strips };
        for k in 0..index.lines.len() {
            let (a, b) = index.lines[k];
            for strip in index.strip(a.y.min(b.y))..=index.strip(a.y.max(b.y)) {
                index.strips[strip].push(k as u32);
            }
            for (p, q) in stretches(a, b) {
                let mut around = Bounds::empty();
                around.add(p);
                around.add(q);
                index.each_cell(around).for_each(|c| {
                    if index.cells[c].last() != Some(&(k as u32)) {
                        index.cells[c].push(k as u32);
                    }
                });
            }
        }
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
        for (p, q) in stretches(a, b) {
            let mut around = Bounds::empty();
            around.add(p);
            around.add(q);
            let around = around.grown(reach);
            if self.lines.is_empty() || !around.meets(self.bounds) {
                continue;
            }
            for cell in self.each_cell(around) {
                for k in &self.cells[cell] {
                    let (c, d) = self.lines[*k as usize];
                    let least = best.map_or(reach, |(least, _)| least);
                    if c.x.min(d.x) - p.x.max(q.x) >= least
                        || p.x.min(q.x) - c.x.max(d.x) >= least
                        || c.y.min(d.y) - p.y.max(q.y) >= least
                        || p.y.min(q.y) - c.y.max(d.y) >= least
                    {
                        continue;
                    }
                    let found = apart(p, q, c, d);
                    if found.0 < reach && best.is_none_or(|(least, _)| found.0 < least) {
                        best = Some(found);
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

/// Distance of two straight lines, and where on the first.
fn apart(a: Pt, b: Pt, c: Pt, d: Pt) -> (f64, Pt) {
    let side = |p: Pt, q: Pt, r: Pt| (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    let (s1, s2, s3, s4) = (side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b));
    if s1 * s2 < 0.0 && s3 * s4 < 0.0 {
        let share = s3 / (s3 - s4);
        return (0.0, Pt::new(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share));
    }
    let ends = [(segment_distance(a, c, d, 0.0), a), (segment_distance(b, c, d, 0.0), b)];
    let first = if ends[0].0 <= ends[1].0 { ends[0] } else { ends[1] };
    // Where the second line's ends come near, the place is on the first line within rounding of them.
    [(segment_distance(c, a, b, 0.0), c), (segment_distance(d, a, b, 0.0), d)].into_iter().fold(first, |best, e| {
        if e.0 < best.0 {
            e
        } else {
            best
        }
    })
}

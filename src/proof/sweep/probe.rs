//! What the cutters open, asked along straight lines: exact, and without joining areas.
//!
//! A stroke opens a straight line's points within the cutter's radius of it: one stretch, for what a disc sweeps is convex. So
//! the stretches of a line that nothing opened are found by putting the strokes' stretches in order. Areas are only made where
//! something was left.

use super::area;
use super::strokes::Stroke;
use crate::proof::shape::{Bounds, Pt};
use clipper2_rust::{Path64, Paths64};

/// Side of a cell in mm.
const CELL: f64 = 12.0;
/// Most cells of one grid; beyond it cells grow.
const CELLS: f64 = 250_000.0;
/// Lines are looked at in stretches no longer than this, in mm.
const STRETCH: f64 = 24.0;
/// Shorter gaps are rounding, in mm.
const SHORT: f64 = 0.01;
/// Binary rounding of a place on a line, in mm.
const TIE: f64 = 0.000_001;
/// Most boxes of places where something was left; beyond it they become one.
const BOXES: usize = 200;

/// What a disc sweeps along a straight line, or at a point.
#[derive(Clone, Copy, Debug)]
struct Swept {
    a: Pt,
    b: Pt,
    radius: f64,
    /// Along it; zero at a point.
    along: Pt,
    length: f64,
}

/// Everything opened down to one height.
#[derive(Debug)]
pub(super) struct Opening {
    swept: Vec<Swept>,
    bounds: Bounds,
    cell: f64,
    columns: usize,
    rows: usize,
    /// Where each cell's entries begin in `entries`.
    starts: Vec<u32>,
    entries: Vec<u32>,
}

impl Opening {
    /// What the strokes open as far as they run at or below the height given with each.
    pub(super) fn of<'s>(strokes: impl Iterator<Item = (&'s Stroke, f64)>) -> Self {
        let mut swept: Vec<Swept> = Vec::new();
        for (stroke, height) in strokes {
            let Some((from, to)) = stroke.between(f64::NEG_INFINITY, height) else { continue };
            let (a, b, radius) = (stroke.at(from), stroke.at(to), stroke.radius);
            if !swept.last().is_some_and(|s| a == b && s.b == a && s.radius == radius) {
                swept.push(Swept::new(a, b, radius));
            }
        }
        Self::from(swept)
    }

    /// What lies within a distance of straight lines.
    pub(super) fn around(lines: impl Iterator<Item = (Pt, Pt)>, distance: f64) -> Self {
        Self::from(lines.map(|(a, b)| Swept::new(a, b, distance)).collect())
    }

    fn from(swept: Vec<Swept>) -> Self {
        let mut bounds = Bounds::empty();
        for s in &swept {
            bounds.join(s.bounds());
        }
        let (w, h) = if swept.is_empty() { (0.0, 0.0) } else { (bounds.max.x - bounds.min.x, bounds.max.y - bounds.min.y) };
        let widest = swept.iter().map(|s| s.radius).fold(0.0, f64::max);
        let cell = CELL.max(2.0 * widest).max((w * h / CELLS).sqrt()).max(w.max(h) / CELLS.sqrt());
        let (columns, rows) = ((w / cell) as usize + 1, (h / cell) as usize + 1);
        let mut opening = Self { swept, bounds, cell, columns, rows, starts: Vec::new(), entries: Vec::new() };
        opening.index();
        opening
    }

    /// Sorts the strokes into cells.
    fn index(&mut self) {
        let mut pairs: Vec<(u32, u32)> = Vec::new();
        for (k, s) in self.swept.iter().enumerate() {
            for (p, q) in stretches(s.a, s.b, 2.0 * self.cell) {
                self.cells(p, q, s.radius, |cell| {
                    let pair = (cell as u32, k as u32);
                    if pairs.last() != Some(&pair) {
                        pairs.push(pair);
                    }
                });
            }
        }
        let mut starts = vec![0_u32; self.columns * self.rows + 1];
        for (cell, _) in &pairs {
            starts[*cell as usize + 1] += 1;
        }
        for cell in 1..starts.len() {
            starts[cell] += starts[cell - 1];
        }
        let mut next = starts.clone();
        let mut entries = vec![0_u32; pairs.len()];
        for (cell, k) in pairs {
            entries[next[cell as usize] as usize] = k;
            next[cell as usize] += 1;
        }
        (self.starts, self.entries) = (starts, entries);
    }

    /// The cells about a straight stretch.
    fn cells(&self, p: Pt, q: Pt, by: f64, mut each: impl FnMut(usize)) {
        let clamp = |v: f64, low: f64, most: usize| (((v - low) / self.cell).max(0.0) as usize).min(most - 1);
        let (x0, x1) = (
            clamp(p.x.min(q.x) - by, self.bounds.min.x, self.columns),
            clamp(p.x.max(q.x) + by, self.bounds.min.x, self.columns),
        );
        let (y0, y1) =
            (clamp(p.y.min(q.y) - by, self.bounds.min.y, self.rows), clamp(p.y.max(q.y) + by, self.bounds.min.y, self.rows));
        for y in y0..=y1 {
            for x in x0..=x1 {
                each(y * self.columns + x);
            }
        }
    }

    /// The stretches of a line that nothing opened are added to `gaps`; `spare` is room to work in.
    pub(super) fn gaps(&self, a: Pt, b: Pt, spare: &mut Vec<(f64, f64)>, gaps: &mut Vec<(Pt, Pt)>) {
        for (p, q) in stretches(a, b, STRETCH) {
            let length = p.distance(q);
            if length <= 0.0 {
                continue;
            }
            let d = Pt::new((q.x - p.x) / length, (q.y - p.y) / length);
            let at = |t: f64| Pt::new(p.x + d.x * t, p.y + d.y * t);
            spare.clear();
            let mut whole = false;
            if !self.swept.is_empty() {
                self.cells(p, q, 0.0, |cell| {
                    if whole {
                        return;
                    }
                    let (from, to) = (self.starts[cell] as usize, self.starts[cell + 1] as usize);
                    for k in &self.entries[from..to] {
                        if let Some((low, high)) = self.swept[*k as usize].stretch(p, d) {
                            if high > 0.0 && low < length {
                                whole |= low <= TIE && high >= length - TIE;
                                spare.push((low, high));
                            }
                        }
                    }
                });
            }
            if whole {
                continue;
            }
            spare.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
            let mut reached = 0.0;
            for (low, high) in spare.iter().copied().chain([(length, length)]) {
                if low > reached + SHORT.min(length - TIE) {
                    gaps.push((at(reached), at(low)));
                }
                reached = high.max(reached);
            }
        }
    }

    /// What was opened about some boxes, as an area.
    pub(super) fn area(&self, boxes: &[Bounds]) -> Paths64 {
        let mut radii: Vec<(f64, Paths64, Vec<Pt>)> = Vec::new();
        let mut last: Option<(usize, usize)> = None;
        for (k, s) in self.swept.iter().enumerate() {
            let around = s.bounds();
            if !boxes.iter().any(|b| b.meets(around)) {
                continue;
            }
            let index = radii.iter().position(|(r, _, _)| *r == s.radius).unwrap_or_else(|| {
                radii.push((s.radius, Paths64::new(), Vec::new()));
                radii.len() - 1
            });
            let (_, lines, dots) = &mut radii[index];
            if area::grid(s.a) == area::grid(s.b) {
                dots.push(s.a);
                continue;
            }
            let goes_on = k > 0 && last == Some((k - 1, index)) && self.swept[k - 1].b == s.a;
            match lines.last_mut().filter(|_| goes_on) {
                Some(line) => line.push(area::grid(s.b)),
                None => lines.push(Path64::from([area::grid(s.a), area::grid(s.b)])),
            }
            last = Some((k, index));
        }
        let all: Paths64 = radii
            .iter_mut()
            .flat_map(|(radius, lines, dots)| {
                dots.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
                dots.dedup();
                area::swept(lines, dots, *radius)
            })
            .collect();
        area::union(&all)
    }
}

impl Swept {
    fn new(a: Pt, b: Pt, radius: f64) -> Self {
        let length = a.distance(b);
        let along = if length > 0.0 { Pt::new((b.x - a.x) / length, (b.y - a.y) / length) } else { Pt::new(0.0, 0.0) };
        Self { a, b, radius, along, length }
    }

    fn bounds(&self) -> Bounds {
        let mut bounds = Bounds::empty();
        bounds.add(self.a);
        bounds.add(self.b);
        bounds.grown(self.radius)
    }

    /// Where a line from `p` along `d` (of length one) is within the radius.
    fn stretch(&self, p: Pt, d: Pt) -> Option<(f64, f64)> {
        let square = self.radius * self.radius;
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let mut add = |from: f64, to: f64| {
            low = low.min(from);
            high = high.max(to);
        };
        let disc = |c: Pt| {
            let (x, y) = (c.x - p.x, c.y - p.y);
            let along = x * d.x + y * d.y;
            let rest = square - (x * x + y * y - along * along);
            (rest >= 0.0).then(|| (along - rest.sqrt(), along + rest.sqrt()))
        };
        if let Some((from, to)) = disc(self.a) {
            add(from, to);
        }
        if self.length > 0.0 {
            if let Some((from, to)) = disc(self.b) {
                add(from, to);
            }
            // Between the ends: along the stroke from 0 to its length, across it within the radius.
            let (x, y) = (p.x - self.a.x, p.y - self.a.y);
            let slab = |at: f64, rise: f64, least: f64, most: f64| {
                if rise.abs() < f64::EPSILON {
                    return (at >= least && at <= most).then_some((f64::NEG_INFINITY, f64::INFINITY));
                }
                let (s, t) = ((least - at) / rise, (most - at) / rise);
                Some((s.min(t), s.max(t)))
            };
            let e = self.along;
            let along = slab(x * e.x + y * e.y, d.x * e.x + d.y * e.y, 0.0, self.length);
            let across = slab(y * e.x - x * e.y, d.y * e.x - d.x * e.y, -self.radius, self.radius);
            if let (Some(one), Some(two)) = (along, across) {
                let (from, to) = (one.0.max(two.0), one.1.min(two.1));
                if from <= to {
                    add(from, to);
                }
            }
        }
        (low <= high).then_some((low, high))
    }
}

/// A straight line in stretches no longer than `most`.
fn stretches(a: Pt, b: Pt, most: f64) -> impl Iterator<Item = (Pt, Pt)> {
    let n = (a.distance(b) / most).ceil().clamp(1.0, 100_000.0) as usize;
    let at = move |k: usize| {
        if k == n {
            return b;
        }
        let share = k as f64 / n as f64;
        Pt::new(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share)
    };
    (0..n).map(move |k| (at(k), at(k + 1)))
}

/// The lines along which an area is looked at: its edges, and lines through it in both directions.
#[derive(Clone, Debug, Default)]
pub(super) struct Probes(Vec<(Pt, Pt)>);

impl Probes {
    /// `pitch` is the distance of the lines along the longer side of the area's bounds, and of those across it.
    pub(super) fn of(paths: &Paths64, pitch: [f64; 2]) -> Self {
        let mut lines: Vec<(Pt, Pt)> = area::edges(paths).collect();
        let edges = lines.clone();
        let b = area::bounds(paths);
        if edges.is_empty() {
            return Self(lines);
        }
        let wide = b.max.x - b.min.x >= b.max.y - b.min.y;
        let (pitch_y, pitch_x) = if wide { (pitch[0], pitch[1]) } else { (pitch[1], pitch[0]) };
        let swap = |p: Pt| Pt::new(p.y, p.x);
        lines.extend(across(&edges, b.min.y, b.max.y, pitch_y));
        let turned: Vec<(Pt, Pt)> = edges.iter().map(|(a, b)| (swap(*a), swap(*b))).collect();
        lines.extend(across(&turned, b.min.x, b.max.x, pitch_x).into_iter().map(|(a, b)| (swap(a), swap(b))));
        Self(lines)
    }

    /// What none of the openings opened.
    pub(super) fn gaps(&self, openings: &[&Opening]) -> Vec<(Pt, Pt)> {
        let mut spare = Vec::new();
        let mut left: Option<Vec<(Pt, Pt)>> = None;
        for opening in openings {
            let mut gaps = Vec::new();
            for (a, b) in left.as_ref().unwrap_or(&self.0) {
                opening.gaps(*a, *b, &mut spare, &mut gaps);
            }
            left = Some(gaps);
        }
        left.unwrap_or_default()
    }
}

/// Lines along x through an area of these edges (even-odd), evenly over its height.
fn across(edges: &[(Pt, Pt)], low: f64, high: f64, pitch: f64) -> Vec<(Pt, Pt)> {
    let rows = ((high - low) / pitch).ceil().clamp(1.0, MOST_ROWS) as usize;
    let row = |k: usize| low + (high - low) * (k as f64 + 0.5) / rows as f64;
    let mut crossings: Vec<(usize, f64)> = Vec::new();
    for (a, b) in edges {
        let (least, most) = (a.y.min(b.y), a.y.max(b.y));
        let first = (((least - low) / (high - low) * rows as f64 - 0.5).floor().max(0.0) as usize).min(rows);
        for k in first..rows {
            let y = row(k);
            if y > most {
                break;
            }
            if (a.y > y) != (b.y > y) {
                crossings.push((k, a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x)));
            }
        }
    }
    crossings.sort_unstable_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    crossings
        .chunks(2)
        .filter(|pair| pair.len() == 2 && pair[0].0 == pair[1].0)
        .map(|pair| (Pt::new(pair[0].1, row(pair[0].0)), Pt::new(pair[1].1, row(pair[1].0))))
        .collect()
}

/// Most lines in one direction.
const MOST_ROWS: f64 = 20_000.0;

/// The part of an area about some gaps that none of the openings opened.
pub(super) fn left(need: &Paths64, gaps: &[(Pt, Pt)], openings: &[&Opening], room: f64) -> Paths64 {
    if gaps.is_empty() {
        return Paths64::new();
    }
    let boxes = boxes(gaps, room);
    let about: Paths64 = boxes.iter().flat_map(|b| area::rect(*b)).collect();
    let mut wood = area::both(need, &area::union(&about));
    for opening in openings {
        wood = area::minus(&wood, &opening.area(&boxes));
    }
    wood
}

/// Boxes about gaps, those that meet made one.
fn boxes(gaps: &[(Pt, Pt)], room: f64) -> Vec<Bounds> {
    let mut boxes: Vec<Bounds> = Vec::new();
    for (a, b) in gaps {
        let mut around = Bounds::empty();
        around.add(*a);
        around.add(*b);
        let mut around = around.grown(room);
        while let Some(k) = boxes.iter().position(|other| other.meets(around)) {
            around.join(boxes.swap_remove(k));
        }
        boxes.push(around);
        if boxes.len() > BOXES {
            let all = boxes.drain(..).reduce(|mut all, b| {
                all.join(b);
                all
            });
            boxes.extend(all);
        }
    }
    boxes
}

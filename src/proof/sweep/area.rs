//! Areas as straight-line polygons on an integer grid, by a general polygon library.

use crate::proof::limits;
use crate::proof::shape::{Bounds, Pt, Ring};
use clipper2_rust::{
    area, difference_64, inflate_paths_64, intersect_64, union_subjects_64, EndType, FillRule, JoinType, Path64, Paths64,
    Point64,
};

/// Grid steps per mm: 0.1 micrometre.
const STEPS: f64 = 10_000.0;
/// How far a mitred corner may reach when an area is drawn in or out, in offsets.
const MITRE: f64 = 2.0;

fn step(v: f64) -> i64 {
    (v * STEPS).round() as i64
}

/// A point on the grid.
pub(super) fn grid(p: Pt) -> Point64 {
    Point64::new(step(p.x), step(p.y))
}

fn plane(p: Point64) -> Pt {
    Pt::new(p.x as f64 / STEPS, p.y as f64 / STEPS)
}

/// A ring as an area.
pub(super) fn of(ring: &Ring) -> Paths64 {
    let mut path: Path64 = ring.flattened().into_iter().map(grid).collect();
    if area(&path) < 0.0 {
        path.reverse();
    }
    vec![path]
}

/// A ring as an area, arcs within a thousandth.
pub(super) fn fine(ring: &Ring) -> Paths64 {
    let mut path: Path64 = ring.flattened_to(limits::BEAM_CHORD).into_iter().map(grid).collect();
    if area(&path) < 0.0 {
        path.reverse();
    }
    vec![path]
}

/// What a disc takes along a closed line.
pub(super) fn round_line(ring: &Ring, radius: f64) -> Paths64 {
    let path: Path64 = ring.flattened_to(limits::BEAM_CHORD).into_iter().map(grid).collect();
    inflate_paths_64(&vec![path], radius * STEPS, JoinType::Round, EndType::Joined, MITRE, limits::BEAM_CHORD * STEPS)
}

/// A box as an area.
pub(super) fn rect(b: Bounds) -> Paths64 {
    vec![[(b.min.x, b.min.y), (b.max.x, b.min.y), (b.max.x, b.max.y), (b.min.x, b.max.y)]
        .map(|(x, y)| grid(Pt::new(x, y)))
        .to_vec()]
}

pub(super) fn union(all: &Paths64) -> Paths64 {
    union_subjects_64(all, FillRule::NonZero)
}

pub(super) fn minus(a: &Paths64, b: &Paths64) -> Paths64 {
    if a.is_empty() || b.is_empty() {
        return a.clone();
    }
    difference_64(a, b, FillRule::NonZero)
}

pub(super) fn both(a: &Paths64, b: &Paths64) -> Paths64 {
    if a.is_empty() || b.is_empty() {
        return Paths64::new();
    }
    intersect_64(a, b, FillRule::NonZero)
}

/// Grown by `by` mm with round corners, or drawn in when negative.
pub(super) fn grown(a: &Paths64, by: f64) -> Paths64 {
    offset(a, by, JoinType::Round)
}

/// Drawn in or out with square corners kept.
pub(super) fn squared(a: &Paths64, by: f64) -> Paths64 {
    offset(a, by, JoinType::Miter)
}

fn offset(a: &Paths64, by: f64, join: JoinType) -> Paths64 {
    if a.is_empty() {
        return Paths64::new();
    }
    inflate_paths_64(a, by * STEPS, join, EndType::Polygon, MITRE, limits::CHORD * STEPS)
}

/// What a disc sweeps along open lines, and where it only goes down.
pub(super) fn swept(lines: &Paths64, dots: &[Pt], radius: f64) -> Paths64 {
    let mut all = if lines.is_empty() {
        Paths64::new()
    } else {
        inflate_paths_64(lines, radius * STEPS, JoinType::Round, EndType::Round, MITRE, limits::CHORD * STEPS)
    };
    all.extend(dots.iter().flat_map(|p| of(&Ring::circle(*p, radius))));
    all
}

/// Size in mm², holes taken off.
pub(super) fn size(a: &Paths64) -> f64 {
    a.iter().map(area).sum::<f64>() / (STEPS * STEPS)
}

/// Connected pieces, each an outer path with its holes.
pub(super) fn pieces(a: &Paths64) -> Vec<Paths64> {
    let (outer, holes): (Vec<&Path64>, Vec<&Path64>) = a.iter().partition(|p| area(*p) > 0.0);
    let mut pieces: Vec<Paths64> = outer.into_iter().map(|p| vec![p.clone()]).collect();
    for hole in holes {
        let Some(first) = hole.first().map(|p| plane(*p)) else { continue };
        // The smallest outer path round a hole is the one it belongs to.
        let around = pieces.iter_mut().filter(|p| inside(&p[0], first));
        if let Some(piece) = around.min_by(|a, b| area(&a[0]).total_cmp(&area(&b[0]))) {
            piece.push(hole.clone());
        }
    }
    pieces
}

/// The same area elsewhere, in steps of the grid.
pub(super) fn moved(a: &Paths64, x: i64, y: i64) -> Paths64 {
    a.iter().map(|path| path.iter().map(|p| Point64::new(p.x + x, p.y + y)).collect()).collect()
}

/// Bounds of an area.
pub(super) fn bounds(a: &Paths64) -> Bounds {
    let mut bounds = Bounds::empty();
    a.iter().flatten().for_each(|p| bounds.add(plane(*p)));
    bounds
}

/// Most points at which one piece is looked at.
const SAMPLES: f64 = 4_000.0;

/// Corners of an area and points inside it on a grid of about the given pitch.
pub(super) fn samples(a: &Paths64, pitch: f64) -> Vec<Pt> {
    let b = bounds(a);
    let (w, h) = (b.max.x - b.min.x, b.max.y - b.min.y);
    let mut points: Vec<Pt> = a.iter().flatten().map(|p| plane(*p)).collect();
    if w.is_finite() && h.is_finite() {
        let pitch = pitch.max((w * h / SAMPLES).sqrt());
        let (columns, rows) = ((w / pitch) as usize, (h / pitch) as usize);
        let grid = (0..=rows).flat_map(|j| (0..=columns).map(move |i| (i, j)));
        let point = |(i, j): (usize, usize)| Pt::new(b.min.x + (i as f64 + 0.5) * pitch, b.min.y + (j as f64 + 0.5) * pitch);
        points.extend(grid.map(point).filter(|p| holds(a, *p)));
    }
    points
}

/// Edges of an area.
pub(super) fn edges(a: &Paths64) -> impl Iterator<Item = (Pt, Pt)> + '_ {
    a.iter().flat_map(|path| (0..path.len()).map(move |i| (plane(path[i]), plane(path[(i + 1) % path.len()]))))
}

/// Whether a point lies in an area (even-odd over all its paths).
pub(super) fn holds(a: &Paths64, p: Pt) -> bool {
    a.iter().filter(|path| inside(path, p)).count() % 2 == 1
}

fn inside(path: &Path64, p: Pt) -> bool {
    let (x, y) = (p.x * STEPS, p.y * STEPS);
    let mut odd = false;
    let Some(last) = path.last() else { return false };
    let mut before = last;
    for here in path {
        let (ay, by) = (before.y as f64, here.y as f64);
        if (ay > y) != (by > y) {
            let (ax, bx) = (before.x as f64, here.x as f64);
            odd ^= x < ax + (y - ay) / (by - ay) * (bx - ax);
        }
        before = here;
    }
    odd
}

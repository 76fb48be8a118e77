//! How far a beam's line lies from its edge, and what the beam leaves.

use super::area;
use crate::proof::job::{Operation, Part, Placement};
use crate::proof::limits;
use crate::proof::shape::{Bounds, Pt, Ring};
use clipper2_rust::Paths64;

/// How far lines are moved off the finished edge, onto the waste.
#[derive(Clone, Copy, Debug)]
pub(super) struct Moved(f64);

impl Moved {
    pub(super) fn by(half_kerf: f64) -> Self {
        Self(half_kerf)
    }

    /// Outwards for an outline, inwards for an opening, not at all for marks and folds.
    fn outward(self, operation: Operation) -> f64 {
        match operation {
            Operation::ThroughOutside => self.0,
            Operation::Mark | Operation::Fold => 0.0,
            Operation::Pocket | Operation::Drill | Operation::Countersink | Operation::ThroughInside => -self.0,
        }
    }

    /// Bounds of the line that should be burnt.
    pub(super) fn bounds(self, operation: Operation, edge: &Ring) -> Bounds {
        edge.bounds().grown(self.outward(operation))
    }

    /// The largest departure of a line from its place: at no point nearer to the edge than half a kerf, every point of the edge
    /// away from inner corners reached at just that, and on the side of the waste.
    pub(super) fn worst(self, operation: Operation, edge: &Ring, line: &Ring) -> f64 {
        let by = self.outward(operation);
        let half = by.abs();
        if half < limits::SAME_POINT {
            return one_way(edge, line).max(one_way(line, edge));
        }
        let too_near = probes(line).map(|p| half - edge.distance_to(p)).fold(0.0, f64::max);
        let reach = corner_reach(edge, half);
        let off = probes_inside(edge, reach).map(|p| (line.distance_to(p) - half).abs()).fold(0.0, f64::max);
        // Turned inside out it would lie at the same distance on the part's side.
        let (grown, was) = (line.area().abs(), edge.area().abs());
        let wrong_side = if (grown > was) == (by > 0.0) { 0.0 } else { 2.0 * half };
        too_near.max(off).max(wrong_side)
    }
}

/// At an inner corner the line is cut short by as much as it is moved; what is nearer to a vertex than this is not measured.
fn corner_reach(edge: &Ring, half: f64) -> f64 {
    let shortest = edge.segments().map(|(a, b, _)| a.distance(b)).fold(f64::INFINITY, f64::min);
    (2.0 * half).min(shortest / 2.0)
}

fn one_way(from: &Ring, to: &Ring) -> f64 {
    from.probes().map(|p| to.distance_to(p)).fold(0.0, f64::max)
}

/// Ends, middles and quarters of every stretch.
fn probes(ring: &Ring) -> impl Iterator<Item = Pt> + '_ {
    ring.segments().flat_map(|(a, b, bulge)| [0.0, 0.25, 0.5, 0.75].map(|share| along(a, b, bulge, share)))
}

/// Points of every stretch that keep a length from its ends; the middle always.
fn probes_inside(ring: &Ring, keep: f64) -> impl Iterator<Item = Pt> + '_ {
    ring.segments().flat_map(move |(a, b, bulge)| {
        let share = keep / a.distance(b).max(keep);
        let near = share.min(0.5);
        [near, 0.5, 1.0 - near].map(|share| along(a, b, bulge, share))
    })
}

fn along(a: Pt, b: Pt, bulge: f64, share: f64) -> Pt {
    if bulge.abs() >= limits::STRAIGHT_BULGE && a != b {
        return crate::proof::shape::Arc::of(a, b, bulge).at(share);
    }
    Pt::new(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share)
}

/// Everything the beam takes along lines that are cut through.
pub(super) fn band(lines: &[(&Ring, Operation)], kerf: f64) -> Paths64 {
    if kerf <= 0.0 {
        return Paths64::new();
    }
    let through = lines.iter().filter(|(_, operation)| cuts(*operation));
    through.flat_map(|(ring, _)| area::round_line(ring, kerf / 2.0)).collect()
}

fn cuts(operation: Operation) -> bool {
    !matches!(operation, Operation::Mark | Operation::Fold)
}

/// The finished part where it lies on the sheet.
pub(super) fn finished(part: &Part, p: &Placement) -> Paths64 {
    let rings: Vec<(Ring, Operation)> =
        part.contours.iter().map(|c| (c.ring.mapped(false, |at| p.place(at)), c.operation)).collect();
    let lines: Vec<(&Ring, Operation)> = rings.iter().map(|(ring, operation)| (ring, *operation)).collect();
    cut_out(&lines)
}

/// What lies inside the outline and outside all openings.
pub(super) fn cut_out(lines: &[(&Ring, Operation)]) -> Paths64 {
    let of = |which: &dyn Fn(Operation) -> bool| -> Paths64 {
        lines.iter().filter(|(_, o)| which(*o)).flat_map(|(ring, _)| area::fine(ring)).collect()
    };
    let outline = of(&|o| o == Operation::ThroughOutside);
    let openings = of(&|o| cuts(o) && o != Operation::ThroughOutside);
    if openings.is_empty() {
        return outline;
    }
    area::minus(&outline, &area::union(&openings))
}

/// What is missing of the finished part, beyond the tolerance.
pub(super) fn gouged(finished: &Paths64, remains: &Paths64) -> Paths64 {
    area::squared(&area::minus(finished, remains), -limits::BEAM_SLIVER)
}

/// What is left over the finished part: the round beam leaves a speck in each inner corner, which is no more than its own radius can
/// leave there.
pub(super) fn left(finished: &Paths64, remains: &Paths64, kerf: f64) -> Paths64 {
    let speck = limits::CUT.max(limits::BEAM_SLIVER + kerf / 2.0 * CORNER);
    area::squared(&area::minus(remains, finished), -speck)
}

/// Radius of the largest circle in what a disc leaves in a corner of 65 degrees, in the disc's radii: (1 − sin α) / (1 + sin α) with
/// α half the corner's angle. A square corner keeps 0.17.
const CORNER: f64 = 0.3;

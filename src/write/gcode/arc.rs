//! Arcs after rounding: the centre is moved onto the bisector of the rounded chord, then rounded, so that both radii agree.

use crate::geom::tolerance;
use crate::geom::{Point, Point3};

/// How far both radii of an arc may differ under G21, mm (NISTIR 6556, 3.5.3.2).
pub(super) const RADII_MM: f64 = 0.002;
/// The same under G20, inches.
pub(super) const RADII_INCH: f64 = 0.0002;
/// An arc of a smaller radius than this many counts of the last decimal is a line: rounding would turn it round.
const LEAST_RADIUS: f64 = 10.0;
/// An arc that bows less than this many counts is a line.
const LEAST_BOW: f64 = 0.5;
/// How far a chord may stray from its arc, mm.
const CHORD: f64 = 0.002;

/// An arc in counts of the last decimal.
pub(super) struct Round {
    pub(super) start: [i64; 2],
    pub(super) end: [i64; 2],
    /// Unrounded.
    pub(super) centre: [f64; 2],
    /// How far both radii may differ.
    pub(super) limit: f64,
}

/// What an arc is written as.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Fit {
    /// Straight, or nothing where the ends fall together.
    Line,
    /// With its centre from the start, in counts.
    Arc { i: i64, j: i64 },
    /// No rounded centre keeps the rule.
    Chords,
}

impl Round {
    pub(super) fn fit(&self) -> Fit {
        let (dx, dy) = ((self.end[0] - self.start[0]) as f64, (self.end[1] - self.start[1]) as f64);
        let chord = dx.hypot(dy);
        if chord < LEAST_BOW {
            return Fit::Line;
        }
        let middle = [self.start[0] as f64 + dx / 2.0, self.start[1] as f64 + dy / 2.0];
        let normal = [-dy / chord, dx / chord];
        let off = (self.centre[0] - middle[0]) * normal[0] + (self.centre[1] - middle[1]) * normal[1];
        let radius = off.hypot(chord / 2.0);
        if radius < LEAST_RADIUS || radius - off.abs() < LEAST_BOW {
            return Fit::Line;
        }
        let ideal = [middle[0] + normal[0] * off - self.start[0] as f64, middle[1] + normal[1] * off - self.start[1] as f64];
        // Of the rounded centres about, the one whose radii agree best.
        let near = |v: f64| [v.floor() as i64, v.ceil() as i64];
        let candidates = near(ideal[0]).into_iter().flat_map(|i| near(ideal[1]).map(|j| (i, j)));
        let miss = |(i, j): (i64, i64)| {
            let (i, j) = (i as f64, j as f64);
            (i.hypot(j) - (i - dx).hypot(j - dy)).abs()
        };
        match candidates.min_by(|a, b| miss(*a).total_cmp(&miss(*b))) {
            Some((i, j)) if miss((i, j)) <= self.limit => Fit::Arc { i, j },
            _ => Fit::Chords,
        }
    }
}

/// Points along an arc, the last being `to`, with chords that stray at most [`CHORD`]; z changes evenly.
pub(super) fn chords(from: Point3, to: Point3, centre: Point, ccw: bool) -> Vec<Point3> {
    let (a, b) = (Point::new(from.x, from.y) - centre, Point::new(to.x, to.y) - centre);
    let side = if ccw { 1.0 } else { -1.0 };
    let sweep = (side * a.cross(b)).atan2(a.dot(b)).rem_euclid(std::f64::consts::TAU);
    let radius = a.hypot().max(tolerance::PATH_STEP);
    let step = 2.0 * (1.0 - (CHORD / radius).min(1.0)).acos();
    let count = (sweep / step.max(tolerance::PATH_STEP)).ceil().max(1.0) as u32;
    (1..=count)
        .map(|k| {
            if k == count {
                return to;
            }
            let share = f64::from(k) / f64::from(count);
            let (sin, cos) = (side * sweep * share).sin_cos();
            let (x, y) = (centre.x + a.x * cos - a.y * sin, centre.y + a.x * sin + a.y * cos);
            Point3::new(x, y, from.z + (to.z - from.z) * share)
        })
        .collect()
}

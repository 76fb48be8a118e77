//! The proof's own plane geometry: closed rings of lines and arcs. All numbers in mm; angles in radians, counter-clockwise.

use super::limits;
use std::f64::consts::{PI, TAU};

/// A point in the plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Pt {
    pub(super) x: f64,
    pub(super) y: f64,
}

impl Pt {
    pub(super) fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    pub(super) fn distance(self, other: Self) -> f64 {
        // Coordinates are bounded, so that the plain root, which is faster than a guarded one, cannot overflow.
        let (dx, dy) = (self.x - other.x, self.y - other.y);
        (dx * dx + dy * dy).sqrt()
    }
}

/// A vertex and the bulge of the segment that starts there: tan(sweep / 4), positive counter-clockwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Corner {
    pub(super) at: Pt,
    pub(super) bulge: f64,
}

/// An axis-aligned box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Bounds {
    pub(super) min: Pt,
    pub(super) max: Pt,
}

impl Bounds {
    pub(super) fn empty() -> Self {
        Self { min: Pt::new(f64::INFINITY, f64::INFINITY), max: Pt::new(f64::NEG_INFINITY, f64::NEG_INFINITY) }
    }

    pub(super) fn add(&mut self, p: Pt) {
        self.min = Pt::new(self.min.x.min(p.x), self.min.y.min(p.y));
        self.max = Pt::new(self.max.x.max(p.x), self.max.y.max(p.y));
    }

    pub(super) fn join(&mut self, other: Self) {
        self.min = Pt::new(self.min.x.min(other.min.x), self.min.y.min(other.min.y));
        self.max = Pt::new(self.max.x.max(other.max.x), self.max.y.max(other.max.y));
    }

    pub(super) fn grown(self, by: f64) -> Self {
        Self { min: Pt::new(self.min.x - by, self.min.y - by), max: Pt::new(self.max.x + by, self.max.y + by) }
    }

    pub(super) fn meets(self, other: Self) -> bool {
        self.min.x <= other.max.x && other.min.x <= self.max.x && self.min.y <= other.max.y && other.min.y <= self.max.y
    }

    pub(super) fn holds(self, p: Pt) -> bool {
        self.min.x <= p.x && p.x <= self.max.x && self.min.y <= p.y && p.y <= self.max.y
    }

    /// The largest of the four sides' differences.
    pub(super) fn differs(self, other: Self) -> f64 {
        let worst = (self.min.x - other.min.x).abs().max((self.min.y - other.min.y).abs());
        worst.max((self.max.x - other.max.x).abs()).max((self.max.y - other.max.y).abs())
    }
}

/// An arc's centre, radius, start angle and signed sweep.
#[derive(Clone, Copy, Debug)]
pub(super) struct Arc {
    pub(super) centre: Pt,
    pub(super) radius: f64,
    pub(super) start: f64,
    pub(super) sweep: f64,
}

impl Arc {
    /// The arc from `a` to `b` with a bulge that is not zero.
    pub(super) fn of(a: Pt, b: Pt, bulge: f64) -> Self {
        let chord = a.distance(b);
        let radius = chord * (1.0 + bulge * bulge) / (4.0 * bulge.abs());
        let along = (1.0 - bulge * bulge) / (4.0 * bulge);
        let centre = Pt::new(f64::midpoint(a.x, b.x) - (b.y - a.y) * along, f64::midpoint(a.y, b.y) + (b.x - a.x) * along);
        Self { centre, radius, start: (a.y - centre.y).atan2(a.x - centre.x), sweep: 4.0 * bulge.atan() }
    }

    pub(super) fn at(&self, share: f64) -> Pt {
        let angle = self.start + self.sweep * share;
        Pt::new(self.centre.x + self.radius * angle.cos(), self.centre.y + self.radius * angle.sin())
    }

    /// Whether the arc passes the given direction from its centre.
    fn passes(&self, angle: f64) -> bool {
        let turned = if self.sweep >= 0.0 { angle - self.start } else { self.start - angle };
        turned.rem_euclid(TAU) <= self.sweep.abs()
    }

    /// Exact bounds of the arc between its ends.
    pub(super) fn bounds(&self, a: Pt, b: Pt) -> Bounds {
        let mut bounds = Bounds::empty();
        bounds.add(a);
        bounds.add(b);
        for (angle, dx, dy) in [(0.0, 1.0, 0.0), (PI / 2.0, 0.0, 1.0), (PI, -1.0, 0.0), (-PI / 2.0, 0.0, -1.0)] {
            if self.passes(angle) {
                bounds.add(Pt::new(self.centre.x + self.radius * dx, self.centre.y + self.radius * dy));
            }
        }
        bounds
    }

    /// How many chords keep within `error` of the arc; bounded.
    pub(super) fn chords(&self, error: f64) -> usize {
        if self.radius <= error {
            return 2;
        }
        let step = 2.0 * (1.0 - error / self.radius).acos();
        ((self.sweep.abs() / step).ceil() as usize).clamp(1, 20_000)
    }
}

/// A closed ring; the last vertex joins the first.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Ring(pub(super) Vec<Corner>);

impl Ring {
    /// A full circle, counter-clockwise, as two half turns.
    pub(super) fn circle(centre: Pt, radius: f64) -> Self {
        let corner = |x| Corner { at: Pt::new(x, centre.y), bulge: 1.0 };
        Self(vec![corner(centre.x - radius), corner(centre.x + radius)])
    }

    pub(super) fn segments(&self) -> impl Iterator<Item = (Pt, Pt, f64)> + '_ {
        let n = self.0.len();
        (0..n).map(move |i| (self.0[i].at, self.0[(i + 1) % n].at, self.0[i].bulge))
    }

    /// Signed area, positive counter-clockwise, arcs exact.
    pub(super) fn area(&self) -> f64 {
        let Some(origin) = self.0.first().map(|c| c.at) else { return 0.0 };
        self.segments()
            .map(|(a, b, bulge)| {
                let flat = ((a.x - origin.x) * (b.y - origin.y) - (b.x - origin.x) * (a.y - origin.y)) / 2.0;
                if bulge.abs() < limits::STRAIGHT_BULGE {
                    return flat;
                }
                let arc = Arc::of(a, b, bulge);
                flat + arc.radius * arc.radius * (arc.sweep - arc.sweep.sin()) / 2.0
            })
            .sum()
    }

    /// Exact bounds, arcs included.
    pub(super) fn bounds(&self) -> Bounds {
        let mut bounds = Bounds::empty();
        for (a, b, bulge) in self.segments() {
            bounds.add(a);
            if bulge.abs() < limits::STRAIGHT_BULGE {
                continue;
            }
            bounds.join(Arc::of(a, b, bulge).bounds(a, b));
        }
        bounds
    }

    /// A copy made of straight lines, chords within [`limits::CHORD`] of their arcs.
    pub(super) fn flattened(&self) -> Vec<Pt> {
        self.flattened_to(limits::CHORD)
    }

    /// The same with chords within `error` of their arcs.
    pub(super) fn flattened_to(&self, error: f64) -> Vec<Pt> {
        let mut points = Vec::with_capacity(self.0.len());
        for (a, b, bulge) in self.segments() {
            points.push(a);
            if bulge.abs() >= limits::STRAIGHT_BULGE && a.distance(b) > 0.0 {
                let arc = Arc::of(a, b, bulge);
                let n = arc.chords(error);
                points.extend((1..n).map(|i| arc.at(i as f64 / n as f64)));
            }
        }
        points
    }

    /// How many points [`Ring::flattened`] gives.
    pub(super) fn fineness(&self) -> usize {
        let chords = |(a, b, bulge): (Pt, Pt, f64)| {
            if bulge.abs() >= limits::STRAIGHT_BULGE {
                Arc::of(a, b, bulge).chords(limits::CHORD)
            } else {
                1
            }
        };
        self.segments().map(chords).sum()
    }

    pub(super) fn reversed(&self) -> Self {
        let n = self.0.len();
        Self((0..n).map(|i| Corner { at: self.0[n - 1 - i].at, bulge: -self.0[(2 * n - 2 - i) % n].bulge }).collect())
    }

    /// Mapped by a rigid motion; `mirror` says whether it turns the ring inside out (bulges change sign).
    pub(super) fn mapped(&self, mirror: bool, map: impl Fn(Pt) -> Pt) -> Self {
        let sign = if mirror { -1.0 } else { 1.0 };
        Self(self.0.iter().map(|c| Corner { at: map(c.at), bulge: sign * c.bulge }).collect())
    }

    /// The circle that the ring is, if it is one.
    pub(super) fn as_circle(&self) -> Option<(Pt, f64)> {
        let arc =
            |(a, b, bulge): (Pt, Pt, f64)| (bulge.abs() >= limits::STRAIGHT_BULGE && a != b).then(|| Arc::of(a, b, bulge));
        let first = arc(self.segments().next()?)?;
        let mut turned = 0.0;
        for segment in self.segments() {
            let arc = arc(segment)?;
            if arc.centre.distance(first.centre) > limits::SAME_POINT
                || (arc.radius - first.radius).abs() > limits::SAME_POINT
            {
                return None;
            }
            turned += arc.sweep;
        }
        ((turned.abs() - TAU).abs() < limits::SAME_POINT).then_some((first.centre, first.radius))
    }

    /// Distance from a point to the ring's line itself, arcs exact.
    pub(super) fn distance_to(&self, p: Pt) -> f64 {
        self.segments().map(|(a, b, bulge)| segment_distance(p, a, b, bulge)).fold(f64::INFINITY, f64::min)
    }

    /// Vertices and the middles of arcs: enough to tell two rings of lines and arcs apart.
    pub(super) fn probes(&self) -> impl Iterator<Item = Pt> + '_ {
        self.segments().flat_map(|(a, b, bulge)| {
            let middle = (bulge.abs() >= limits::STRAIGHT_BULGE && a != b).then(|| Arc::of(a, b, bulge).at(0.5));
            std::iter::once(a).chain(middle)
        })
    }
}

/// Distance from a point to one line or arc.
pub(super) fn segment_distance(p: Pt, a: Pt, b: Pt, bulge: f64) -> f64 {
    if bulge.abs() >= limits::STRAIGHT_BULGE && a != b {
        let arc = Arc::of(a, b, bulge);
        let angle = (p.y - arc.centre.y).atan2(p.x - arc.centre.x);
        if arc.passes(angle) {
            return (p.distance(arc.centre) - arc.radius).abs();
        }
        return p.distance(a).min(p.distance(b));
    }
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let square = dx * dx + dy * dy;
    let share = if square > 0.0 { (((p.x - a.x) * dx + (p.y - a.y) * dy) / square).clamp(0.0, 1.0) } else { 0.0 };
    p.distance(Pt::new(a.x + dx * share, a.y + dy * share))
}

/// The middle of a line or arc.
pub(super) fn middle(a: Pt, b: Pt, bulge: f64) -> Pt {
    if bulge.abs() >= limits::STRAIGHT_BULGE && a != b {
        return Arc::of(a, b, bulge).at(0.5);
    }
    Pt::new(f64::midpoint(a.x, b.x), f64::midpoint(a.y, b.y))
}

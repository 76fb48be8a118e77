//! Ways of the tool centre: closed runs of lines and arcs, with places measured along them in mm.

use super::Move;
use crate::geom::tolerance;
use crate::geom::{Contour, Point, Point3, Rect, Vec2};

/// A line or an arc (`bulge` as in [`crate::geom::Vertex`]) between two points.
#[derive(Clone, Copy, Debug)]
pub(super) struct Seg {
    pub(super) from: Point,
    pub(super) to: Point,
    pub(super) bulge: f64,
}

impl Seg {
    /// Angle turned, radians, positive counter-clockwise.
    fn sweep(&self) -> f64 {
        4.0 * self.bulge.atan()
    }

    pub(super) fn is_line(&self) -> bool {
        self.bulge.abs() < tolerance::STRAIGHT_BULGE
    }

    /// Centre of the arc.
    pub(super) fn centre(&self) -> Point {
        let chord = self.to - self.from;
        let rise = (1.0 - self.bulge * self.bulge) / (4.0 * self.bulge);
        self.from + chord * 0.5 + Vec2::new(-chord.y, chord.x) * rise
    }

    pub(super) fn length(&self) -> f64 {
        let chord = (self.to - self.from).hypot();
        if self.is_line() {
            return chord;
        }
        let k = self.bulge.abs();
        chord * (1.0 + k * k) / (4.0 * k) * self.sweep().abs()
    }

    /// The point at a share of its length, 0 to 1.
    pub(super) fn at(&self, share: f64) -> Point {
        if self.is_line() {
            return self.from + (self.to - self.from) * share;
        }
        let centre = self.centre();
        centre + turned(self.from - centre, self.sweep() * share)
    }

    /// Unit vector of travel at a share of its length.
    pub(super) fn direction(&self, share: f64) -> Vec2 {
        let chord = self.to - self.from;
        let along = chord / chord.hypot().max(tolerance::NO_MOVE);
        if self.is_line() {
            return along;
        }
        turned(along, self.sweep() * (share - 0.5))
    }

    /// Bounds that hold all of it, somewhat larger for an arc.
    pub(super) fn bounds(&self) -> Rect {
        let bow = self.bulge.abs().min(1.0) * (self.to - self.from).hypot() / 2.0;
        Rect::from_points(self.from, self.to).inflate(bow, bow)
    }

    /// Share of its length at which it comes nearest to a point.
    fn nearest_share(&self, p: Point) -> f64 {
        if self.is_line() {
            let chord = self.to - self.from;
            return ((p - self.from).dot(chord) / chord.hypot2().max(tolerance::NO_MOVE)).clamp(0.0, 1.0);
        }
        let centre = self.centre();
        let (from, out) = (self.from - centre, p - centre);
        let side = self.bulge.signum();
        let turned = (side * from.cross(out)).atan2(from.dot(out)).rem_euclid(std::f64::consts::TAU);
        if turned <= self.sweep().abs() {
            turned / self.sweep().abs()
        } else {
            f64::from(u8::from((p - self.to).hypot() < (p - self.from).hypot()))
        }
    }

    /// Distance from a point.
    pub(super) fn distance_to(&self, p: Point) -> f64 {
        (self.at(self.nearest_share(p)) - p).hypot()
    }

    /// The stretch between two shares of its length.
    pub(super) fn between(&self, a: f64, b: f64) -> Self {
        let from = if a <= 0.0 { self.from } else { self.at(a) };
        let to = if b >= 1.0 { self.to } else { self.at(b) };
        let bulge = if self.is_line() { 0.0 } else { (self.sweep() * (b.min(1.0) - a.max(0.0)) / 4.0).tan() };
        Self { from, to, bulge }
    }

    /// The same stretch the other way.
    pub(super) fn reversed(&self) -> Self {
        Self { from: self.to, to: self.from, bulge: -self.bulge }
    }

    /// The cutting move along it, ending at height `z`.
    pub(super) fn cutting(&self, z: f64, feed: f64) -> Move {
        let to = Point3::new(self.to.x, self.to.y, z);
        if self.is_line() {
            Move::Line { to, feed }
        } else {
            Move::Arc { to, centre: self.centre(), ccw: self.bulge > 0.0, feed }
        }
    }
}

/// A vector turned counter-clockwise by an angle in radians.
pub(super) fn turned(v: Vec2, angle: f64) -> Vec2 {
    let (sin, cos) = angle.sin_cos();
    Vec2::new(v.x * cos - v.y * sin, v.x * sin + v.y * cos)
}

/// The segments of a contour as it turns.
pub(super) fn segs(c: &Contour) -> Vec<Seg> {
    c.segments().into_iter().map(|(v, to)| Seg { from: Point::new(v.x, v.y), to, bulge: v.bulge }).collect()
}

/// A closed way. Places along it are in mm from its first point and may run past its length, lap after lap.
#[derive(Clone, Debug)]
pub(super) struct Path {
    segs: Vec<Seg>,
    /// Length from the first point to the end of each segment.
    ends: Vec<f64>,
}

impl Path {
    /// The contour as a way, walked as it turns or the other way; `None` when nothing longer than
    /// [`tolerance::PATH_STEP`] is left.
    pub(super) fn new(contour: &Contour, reverse: bool) -> Option<Self> {
        let contour = if reverse { contour.clone().reversed() } else { contour.clone() };
        let mut segs: Vec<Seg> = Vec::new();
        let mut held: Option<Point> = None;
        for (vertex, to) in contour.segments() {
            let seg = Seg { from: held.take().unwrap_or(Point::new(vertex.x, vertex.y)), to, bulge: vertex.bulge };
            if seg.length() < tolerance::PATH_STEP {
                held = Some(seg.from);
            } else {
                segs.push(seg);
            }
        }
        let first = segs.first()?.from;
        if let Some(last) = segs.last_mut() {
            last.to = first;
        }
        let mut sum = 0.0;
        let ends = segs
            .iter()
            .map(|s| {
                sum += s.length();
                sum
            })
            .collect();
        Some(Self { segs, ends })
    }

    pub(super) fn length(&self) -> f64 {
        self.ends.last().copied().unwrap_or(0.0)
    }

    /// Segments with the place where each begins.
    pub(super) fn segments(&self) -> impl Iterator<Item = (f64, &Seg)> {
        self.segs.iter().zip(&self.ends).map(|(s, end)| (end - s.length(), s))
    }

    /// Segment and share of its length at a place.
    fn locate(&self, place: f64) -> (usize, f64) {
        let place = place.rem_euclid(self.length());
        let index = self.ends.partition_point(|end| *end <= place).min(self.segs.len() - 1);
        let length = self.segs[index].length();
        (index, ((place - (self.ends[index] - length)) / length).clamp(0.0, 1.0))
    }

    pub(super) fn at(&self, place: f64) -> Point {
        let (index, share) = self.locate(place);
        self.segs[index].at(share)
    }

    pub(super) fn direction(&self, place: f64) -> Vec2 {
        let (index, share) = self.locate(place);
        self.segs[index].direction(share)
    }

    /// The stretch from one place to a later one, segment by segment.
    pub(super) fn stretch(&self, from: f64, to: f64) -> Vec<Seg> {
        let mut pieces = Vec::new();
        let mut left = to - from;
        let (mut index, mut share) = self.locate(from);
        while left > tolerance::NO_MOVE {
            let length = self.segs[index].length();
            let rest = length * (1.0 - share);
            let step = rest.min(left);
            if step > tolerance::NO_MOVE {
                pieces.push(self.segs[index].between(share, share + step / length));
            }
            left -= step;
            share = 0.0;
            index = (index + 1) % self.segs.len();
        }
        pieces
    }

    /// The place nearest to a point.
    pub(super) fn closest(&self, p: Point) -> f64 {
        let near = |(start, seg): (f64, &Seg)| {
            let share = seg.nearest_share(p);
            ((seg.at(share) - p).hypot2(), start + share * seg.length())
        };
        self.segments().map(near).min_by(|a, b| a.0.total_cmp(&b.0)).map_or(0.0, |(_, place)| place)
    }

    /// The place, among starts and middles of segments, nearest to a point.
    pub(super) fn nearest(&self, p: Point) -> f64 {
        let places = self.segments().flat_map(|(start, seg)| [start, start + seg.length() / 2.0]);
        places
            .map(|place| ((self.at(place) - p).hypot2(), place))
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map_or(0.0, |(_, place)| place)
    }
}

//! Walking along a contour: points, directions, starts and pieces by length from its first vertex, in its turning sense.
//!
//! A length along a closed contour wraps round: minus one millimetre is one millimetre before the end.

use super::{tolerance, Contour, GeomError, Point, Vec2, Vertex};

/// One segment of a contour: its start with the bulge, and its end.
pub type Segment = (Vertex, Point);

impl Contour {
    /// Length of each segment, in mm, in order.
    #[must_use]
    pub fn segment_lengths(&self) -> Vec<f64> {
        self.segments().iter().map(segment_length).collect()
    }

    /// The point at a length along the contour.
    #[must_use]
    pub fn point_at(&self, length: f64) -> Point {
        let (segment, fraction) = self.located(length);
        point_on(&segment, fraction)
    }

    /// The direction of travel at a length along the contour, of unit length; at a vertex, that of the segment which starts
    /// there.
    #[must_use]
    pub fn tangent_at(&self, length: f64) -> Vec2 {
        let (segment, fraction) = self.located(length);
        tangent_on(&segment, fraction)
    }

    /// The length along the contour at which its point nearest to `p` lies.
    #[must_use]
    pub fn length_nearest(&self, p: Point) -> f64 {
        let mut before = 0.0;
        let mut best = (f64::INFINITY, 0.0);
        for segment in self.segments() {
            let whole = segment_length(&segment);
            let fraction = fraction_nearest(&segment, p);
            let away = point_on(&segment, fraction).distance(p);
            if away < best.0 {
                best = (away, before + whole * fraction);
            }
            before += whole;
        }
        best.1
    }

    /// The same contour, starting at its vertex number `index` (counted round when it exceeds their number).
    #[must_use]
    pub fn start_at_vertex(&self, index: usize) -> Self {
        let mut vertices = self.vertices();
        let count = vertices.len();
        vertices.rotate_left(index % count);
        self.with_vertices(&vertices)
    }

    /// The same contour, starting at a length along it; the segment there is split unless a vertex is that near already.
    #[must_use]
    pub fn start_at_length(&self, length: f64) -> Self {
        let start = self.wrapped(length);
        let vertices: Vec<Vertex> = self.between(start, start + self.length()).iter().map(|s| s.0).collect();
        self.with_vertices(&vertices)
    }

    /// The same contour, starting at its point nearest to `p`.
    #[must_use]
    pub fn start_near(&self, p: Point) -> Self {
        self.start_at_length(self.length_nearest(p))
    }

    /// The open run of segments from one length along the contour to another, past the start if need be; the whole contour,
    /// once round, when `to` lies a full length or more beyond `from`. Empty when they coincide.
    #[must_use]
    pub fn between(&self, from: f64, to: f64) -> Vec<Segment> {
        let whole = self.length();
        if !(from.is_finite() && to.is_finite()) {
            return Vec::new();
        }
        let start = self.wrapped(from);
        let run = if to - from >= whole { whole } else { (to - from).rem_euclid(whole) };
        let end = start + run;
        let mut taken = Vec::new();
        let mut before = 0.0;
        let segments = self.segments();
        for segment in segments.iter().chain(&segments) {
            let here = segment_length(segment);
            let (a, b) = ((start - before).max(0.0), (end - before).min(here));
            // A remainder that is no longer than one point is the vertex itself.
            if b - a > tolerance::SAME_POINT {
                let from = if a <= tolerance::SAME_POINT { 0.0 } else { a / here };
                let to = if here - b <= tolerance::SAME_POINT { 1.0 } else { b / here };
                taken.push(part_of(segment, from, to));
            }
            before += here;
        }
        taken
    }

    /// The contour cut at the given lengths: one open run of segments from each cut to the next, in order along the contour
    /// from the first cut. Cuts that coincide count once; a single cut gives the whole contour as one run, none gives none.
    #[must_use]
    pub fn pieces(&self, cuts: &[f64]) -> Vec<Vec<Segment>> {
        let whole = self.length();
        let mut cuts: Vec<f64> = cuts.iter().filter(|c| c.is_finite()).map(|c| self.wrapped(*c)).collect();
        cuts.sort_by(f64::total_cmp);
        cuts.dedup_by(|a, b| *a - *b <= tolerance::SAME_POINT);
        if cuts.len() > 1 && cuts[0] + whole - cuts[cuts.len() - 1] <= tolerance::SAME_POINT {
            cuts.pop();
        }
        let next = cuts.iter().skip(1).copied().chain(cuts.first().map(|c| c + whole));
        cuts.iter().zip(next).map(|(a, b)| self.between(*a, b)).collect()
    }

    /// A length brought into the range from zero to the whole length.
    fn wrapped(&self, length: f64) -> f64 {
        let whole = self.length();
        let inside = if length.is_finite() { length.rem_euclid(whole) } else { 0.0 };
        if whole - inside <= tolerance::SAME_POINT {
            0.0
        } else {
            inside
        }
    }

    /// The segment at a length, and the fraction of it that lies before that length.
    fn located(&self, length: f64) -> (Segment, f64) {
        let mut rest = self.wrapped(length);
        let segments = self.segments();
        for segment in &segments {
            let here = segment_length(segment);
            if rest < here - tolerance::SAME_POINT {
                return (*segment, rest / here);
            }
            rest = (rest - here).max(0.0);
        }
        (segments[0], 0.0)
    }

    /// Rebuilt from vertices that trace the same shape; the shape was valid, so a failure keeps the contour as it was.
    fn with_vertices(&self, vertices: &[Vertex]) -> Self {
        Self::new(vertices).unwrap_or_else(|_: GeomError| self.clone())
    }
}

/// Length of a segment in mm: chord times (angle over sine of angle) for half the sweep.
pub(super) fn segment_length(segment: &Segment) -> f64 {
    let (a, b) = segment;
    let chord = b.distance(Point::new(a.x, a.y));
    if a.bulge.abs() < tolerance::STRAIGHT_BULGE {
        return chord;
    }
    let half_sweep = 2.0 * a.bulge.atan();
    chord * half_sweep / half_sweep.sin()
}

/// The chord from the segment's start, turned by an angle and scaled.
fn turned_chord(segment: &Segment, angle: f64, factor: f64) -> Vec2 {
    let chord = segment.1 - Point::new(segment.0.x, segment.0.y);
    let (sin, cos) = angle.sin_cos();
    Vec2::new(chord.x * cos - chord.y * sin, chord.x * sin + chord.y * cos) * factor
}

/// The point a fraction along a segment. From the start of an arc of sweep t, the chord over the first part f of it has the
/// length ratio sin(t f / 2) / sin(t / 2) and lies turned by t (f − 1) / 2 from the whole chord: exact for shallow arcs too.
pub(super) fn point_on(segment: &Segment, fraction: f64) -> Point {
    let start = Point::new(segment.0.x, segment.0.y);
    if fraction <= 0.0 {
        return start;
    }
    if fraction >= 1.0 {
        return segment.1;
    }
    if segment.0.bulge.abs() < tolerance::STRAIGHT_BULGE {
        return start.lerp(segment.1, fraction);
    }
    let half = 2.0 * segment.0.bulge.atan();
    start + turned_chord(segment, half * (fraction - 1.0), (half * fraction).sin() / half.sin())
}

fn tangent_on(segment: &Segment, fraction: f64) -> Vec2 {
    let half = 2.0 * segment.0.bulge.atan();
    turned_chord(segment, half * (2.0 * fraction - 1.0), 1.0).normalize()
}

/// The fraction along a segment of its point nearest to `p`.
fn fraction_nearest(segment: &Segment, p: Point) -> f64 {
    let start = Point::new(segment.0.x, segment.0.y);
    let chord = segment.1 - start;
    let bulge = segment.0.bulge;
    if bulge.abs() < tolerance::STRAIGHT_BULGE {
        return ((p - start).dot(chord) / chord.hypot2()).clamp(0.0, 1.0);
    }
    // Centre of the arc: left of the chord's middle by chord · (1 − bulge²) / (4 · bulge).
    let left = Vec2::new(-chord.y, chord.x) * ((1.0 - bulge * bulge) / (4.0 * bulge));
    let centre = start + chord / 2.0 + left;
    let (from, to) = (start - centre, p - centre);
    let sweep = 4.0 * bulge.atan();
    let mut turned = from.cross(to).atan2(from.dot(to)) * sweep.signum();
    if turned < 0.0 {
        turned += std::f64::consts::TAU;
    }
    let fraction = turned / sweep.abs();
    if fraction <= 1.0 {
        fraction
    } else if start.distance(p) <= segment.1.distance(p) {
        0.0
    } else {
        1.0
    }
}

/// The part of a segment between two fractions of it.
fn part_of(segment: &Segment, from: f64, to: f64) -> Segment {
    if from <= 0.0 && to >= 1.0 {
        return *segment;
    }
    let start = point_on(segment, from);
    let bulge = (segment.0.bulge.atan() * (to - from)).tan();
    (Vertex { x: start.x, y: start.y, bulge }, point_on(segment, to))
}

//! Moving, turning and mirroring contours, and measuring to them. Angles in radians, counter-clockwise.

use super::{tolerance, Contour, Point, Vec2, Vertex};
use cavalier_contours::core::math::Vector2;
use cavalier_contours::polyline::{PlineSource, PlineSourceMut};

impl Contour {
    /// Moved by a vector.
    #[must_use]
    pub fn moved(&self, by: Vec2) -> Self {
        let mut copy = self.pline().clone();
        copy.translate_mut(by.x, by.y);
        Self(copy)
    }

    /// Turned by quarter turns about the origin, exactly.
    #[must_use]
    pub fn quarter_turned(&self, turns: u32) -> Self {
        self.mapped(|x, y| match turns % 4 {
            0 => (x, y),
            1 => (-y, x),
            2 => (-x, -y),
            _ => (y, -x),
        })
    }

    /// Mirrored in the y axis (x becomes −x), turning sense kept.
    #[must_use]
    pub fn mirrored_x(&self) -> Self {
        let mut flipped = self.mapped(|x, y| (-x, y));
        for v in 0..flipped.0.vertex_count() {
            let mut vertex = flipped.0.at(v);
            vertex.bulge = -vertex.bulge;
            flipped.0.set_vertex(v, vertex);
        }
        flipped.reversed()
    }

    /// Times a factor from the origin, arcs kept; the factor must be over zero.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Self {
        self.mapped(|x, y| (x * factor, y * factor))
    }

    fn mapped(&self, map: impl Fn(f64, f64) -> (f64, f64)) -> Self {
        let mut copy = self.pline().clone();
        for i in 0..copy.vertex_count() {
            let mut v = copy.at(i);
            (v.x, v.y) = map(v.x, v.y);
            copy.set_vertex(i, v);
        }
        Self(copy)
    }

    /// Distance from a point to the contour itself, in mm, never negative.
    #[must_use]
    pub fn distance_to(&self, p: Point) -> f64 {
        self.pline().closest_point(Vector2::new(p.x, p.y), tolerance::SAME_POINT).map_or(f64::INFINITY, |c| c.distance)
    }

    /// Whether a point lies inside (points on the contour may go either way).
    #[must_use]
    pub fn contains(&self, p: Point) -> bool {
        self.pline().winding_number(Vector2::new(p.x, p.y)) != 0
    }

    /// Vertices of a copy made of straight lines only, each chord within `tolerance_mm` of its arc and with its ends on it:
    /// inside a convex arc, outside a concave one.
    #[must_use]
    pub fn flattened(&self, tolerance_mm: f64) -> Vec<Point> {
        let lines = self.pline().arcs_to_approx_lines(tolerance_mm).unwrap_or_else(|| self.pline().clone());
        lines.iter_vertexes().map(|v| Point::new(v.x, v.y)).collect()
    }

    /// Splits the contour into its segments: start vertex (with bulge) and end point.
    #[must_use]
    pub fn segments(&self) -> Vec<(Vertex, Point)> {
        self.pline()
            .iter_segments()
            .map(|(a, b)| (Vertex { x: a.x, y: a.y, bulge: a.bulge }, Point::new(b.x, b.y)))
            .collect()
    }
}

//! Closed contours of lines and arcs, and what can be done with them. All numbers in mm.

use super::{tolerance, GeomError, Point, Rect};
use cavalier_contours::polyline::{PlineCreation, PlineSource, PlineSourceMut, PlineVertex, Polyline};

/// A vertex and the segment that starts there: `bulge = tan(sweep / 4)`, positive counter-clockwise, zero for a line,
/// at most 1 in size (a half turn), as in DXF.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vertex {
    /// In mm.
    pub x: f64,
    /// In mm.
    pub y: f64,
    /// Of the segment from here to the next vertex.
    pub bulge: f64,
}

/// A closed contour of lines and arcs: no zero-length segment, no arc over a half turn.
///
/// Turning sense is kept as given: outer contours counter-clockwise, inner ones clockwise; [`Contour::ccw`] and
/// [`Contour::cw`] set it.
#[derive(Clone, Debug)]
pub struct Contour(pub(super) Polyline<f64>);

/// An outer contour (counter-clockwise) and the inner ones (clockwise) that it holds.
#[derive(Clone, Debug)]
pub struct Region {
    /// Counter-clockwise.
    pub outer: Contour,
    /// Clockwise.
    pub inner: Vec<Contour>,
}

impl Contour {
    /// Builds a contour from its vertices; the last joins the first.
    ///
    /// # Errors
    /// When a number is not finite, an arc exceeds a half turn, or fewer than two distinct vertices or no area remain.
    /// Simplicity is checked by [`Contour::check_simple`], since it costs more.
    pub fn new(vertices: &[Vertex]) -> Result<Self, GeomError> {
        let mut pline = Polyline::with_capacity(vertices.len(), true);
        for v in vertices {
            if !(v.x.is_finite() && v.y.is_finite() && v.bulge.is_finite()) {
                return Err(GeomError::NotFinite);
            }
            if v.bulge.abs() > 1.0 + tolerance::STRAIGHT_BULGE {
                return Err(GeomError::ArcTooLong);
            }
            let bulge = if v.bulge.abs() < tolerance::STRAIGHT_BULGE { 0.0 } else { v.bulge.clamp(-1.0, 1.0) };
            pline.add_vertex(PlineVertex::new(v.x, v.y, bulge));
        }
        Self::from_pline(pline)
    }

    /// Takes over a closed polyline, dropping vertices that coincide.
    pub(super) fn from_pline(pline: Polyline<f64>) -> Result<Self, GeomError> {
        let clean = pline.remove_repeat_pos(tolerance::SAME_POINT).unwrap_or(pline);
        if clean.vertex_count() < 2 || clean.area().abs() < tolerance::NO_AREA {
            return Err(GeomError::Degenerate);
        }
        Ok(Self(clean))
    }

    /// The underlying polyline, for the other files of this room.
    pub(super) fn pline(&self) -> &Polyline<f64> {
        &self.0
    }

    /// An axis-aligned rectangle, counter-clockwise from its lower left corner.
    ///
    /// # Errors
    /// When it has no area.
    pub fn rect(r: Rect) -> Result<Self, GeomError> {
        let corner = |x, y| Vertex { x, y, bulge: 0.0 };
        Self::new(&[corner(r.x0, r.y0), corner(r.x1, r.y0), corner(r.x1, r.y1), corner(r.x0, r.y1)])
    }

    /// A full circle, counter-clockwise, as two half turns.
    ///
    /// # Errors
    /// When the radius is not positive.
    pub fn circle(centre: Point, radius: f64) -> Result<Self, GeomError> {
        Self::new(&[
            Vertex { x: centre.x - radius, y: centre.y, bulge: 1.0 },
            Vertex { x: centre.x + radius, y: centre.y, bulge: 1.0 },
        ])
    }

    /// The vertices, in order.
    #[must_use]
    pub fn vertices(&self) -> Vec<Vertex> {
        self.0.iter_vertexes().map(|v| Vertex { x: v.x, y: v.y, bulge: v.bulge }).collect()
    }

    /// Signed area in mm²: positive when counter-clockwise.
    #[must_use]
    pub fn area(&self) -> f64 {
        self.0.area()
    }

    /// Length of the contour in mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.0.path_length()
    }

    /// Whether it turns counter-clockwise.
    #[must_use]
    pub fn is_ccw(&self) -> bool {
        self.area() > 0.0
    }

    /// Turned counter-clockwise, as an outer contour is.
    #[must_use]
    pub fn ccw(self) -> Self {
        if self.is_ccw() {
            self
        } else {
            self.reversed()
        }
    }

    /// Turned clockwise, as an inner contour is.
    #[must_use]
    pub fn cw(self) -> Self {
        if self.is_ccw() {
            self.reversed()
        } else {
            self
        }
    }

    /// The same contour walked the other way.
    #[must_use]
    pub fn reversed(mut self) -> Self {
        self.0.invert_direction_mut();
        self
    }

    /// Exact bounds, arcs included.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        self.0.extents().map_or(Rect::ZERO, |b| Rect::new(b.min_x, b.min_y, b.max_x, b.max_y))
    }
}

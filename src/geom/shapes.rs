//! Ready-made contours: slots, rounded rectangles, polygons, and rectangular openings whose corners take a square mate.

use super::{Contour, GeomError, Point, Rect, Vertex};
use std::f64::consts::SQRT_2;

/// How one corner of a rectangular opening is made. All radii in mm.
///
/// A round cutter leaves an inner corner filled; a relief takes away enough beyond the corner for a square mate to seat.
/// A cutter of radius `c` can make each of them when the relief's radius is `c` or more.
///
/// ```text
///   None        Rounded(r)    Diagonal(r)       AlongX(r)         AlongY(r)
///   |           |             |                 |                 |
///   |           |             \   P             |                  \
///   |           |              )                |                   )   O on the edge, r above C
///   |            \            (  O              |                  /
///   C-----        `-----       \__.-Q---        C.   .-----        C-----
///                                                  `-'  O on the edge, r right of C
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Relief {
    /// Square: only a tool without a radius (a laser, a chisel) makes it.
    #[default]
    None,
    /// Rounded inward with this radius: a square mate does not seat.
    Rounded(f64),
    /// A half turn through the square corner C, its centre O inside the opening on the corner's bisector:
    /// `O = C + r·(±1, ±1)/√2`, `|OC| = r`; it leaves the edges at P and Q, both at `r·√2` from C, and PQ is a diameter.
    /// It cuts `r·(1 − 1/√2)` into the material beyond either edge.
    Diagonal(f64),
    /// A half turn with its centre on the edge that runs along x, at distance r from the corner: from C to `2·r` from C.
    /// It cuts `r` into the material beyond that edge, nothing beyond the other.
    AlongX(f64),
    /// The same on the edge that runs along y.
    AlongY(f64),
}

impl Relief {
    /// Its radius; zero for a square corner.
    #[must_use]
    pub fn radius(self) -> f64 {
        match self {
            Self::None => 0.0,
            Self::Rounded(r) | Self::Diagonal(r) | Self::AlongX(r) | Self::AlongY(r) => r,
        }
    }

    /// How much of the edge along x and of the edge along y it takes, measured from the corner, in mm.
    #[must_use]
    pub fn takes(self) -> (f64, f64) {
        match self {
            Self::None => (0.0, 0.0),
            Self::Rounded(r) => (r, r),
            Self::Diagonal(r) => (r * SQRT_2, r * SQRT_2),
            Self::AlongX(r) => (2.0 * r, 0.0),
            Self::AlongY(r) => (0.0, 2.0 * r),
        }
    }
}

impl Contour {
    /// A closed polygon of straight lines, turning sense as given; the last point joins the first.
    ///
    /// # Errors
    /// As [`Contour::new`].
    pub fn polygon(points: &[Point]) -> Result<Self, GeomError> {
        let vertices: Vec<Vertex> = points.iter().map(|p| Vertex { x: p.x, y: p.y, bulge: 0.0 }).collect();
        Self::new(&vertices)
    }

    /// A slot with half-round ends, counter-clockwise: all that lies within `width / 2` of the line between two end centres.
    /// A circle when the centres coincide.
    ///
    /// # Errors
    /// When the width is not positive, or a number is not finite.
    pub fn obround(from: Point, to: Point, width: f64) -> Result<Self, GeomError> {
        let radius = width / 2.0;
        let run = to - from;
        if !(run.hypot().is_finite() && width.is_finite()) {
            return Err(GeomError::NotFinite);
        }
        if width <= super::tolerance::SAME_POINT {
            return Err(GeomError::Degenerate);
        }
        if run.hypot() < super::tolerance::SAME_POINT {
            return Self::circle(from, radius);
        }
        let side = kurbo::Vec2::new(-run.y, run.x) * (radius / run.hypot());
        let vertex = |p: Point, bulge| Vertex { x: p.x, y: p.y, bulge };
        Self::new(&[vertex(from - side, 0.0), vertex(to - side, 1.0), vertex(to + side, 0.0), vertex(from + side, 1.0)])
    }

    /// A rectangle with rounded corners, counter-clockwise; a plain one when the radius is zero.
    ///
    /// # Errors
    /// [`GeomError::NoRoom`] when a side is shorter than twice the radius; otherwise as [`Contour::relieved_rect`].
    pub fn rounded_rect(rect: Rect, radius: f64) -> Result<Self, GeomError> {
        let corner = if radius == 0.0 { Relief::None } else { Relief::Rounded(radius) };
        Self::relieved_rect(rect, [corner; 4])
    }

    /// A rectangular opening with its corners made as asked, counter-clockwise: lower left, lower right, upper right, upper
    /// left. One closed contour of lines and arcs; the square rectangle lies inside it wherever no corner is rounded.
    ///
    /// # Errors
    /// [`GeomError::NoRoom`] when a side is shorter than what its two corners take of it ([`Relief::takes`]);
    /// [`GeomError::Degenerate`] when the rectangle has no area or a radius is negative; [`GeomError::NotFinite`].
    pub fn relieved_rect(rect: Rect, corners: [Relief; 4]) -> Result<Self, GeomError> {
        let (width, height) = (rect.x1 - rect.x0, rect.y1 - rect.y0);
        let radii = corners.map(Relief::radius);
        if !(rect.is_finite() && radii.iter().all(|r| r.is_finite())) {
            return Err(GeomError::NotFinite);
        }
        if width <= 0.0 || height <= 0.0 || radii.iter().any(|r| *r < 0.0) {
            return Err(GeomError::Degenerate);
        }
        let takes = corners.map(Relief::takes);
        let sides = [
            (width, takes[0].0 + takes[1].0),
            (height, takes[1].1 + takes[2].1),
            (width, takes[2].0 + takes[3].0),
            (height, takes[3].1 + takes[0].1),
        ];
        for (have, need) in sides {
            if need > have + super::tolerance::SAME_POINT {
                return Err(GeomError::NoRoom { need, have });
            }
        }
        let at = [(rect.x0, rect.y0), (rect.x1, rect.y0), (rect.x1, rect.y1), (rect.x0, rect.y1)];
        // Walking counter-clockwise, the side that leaves each corner.
        let leaving = [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)];
        let mut vertices = Vec::with_capacity(8);
        for i in 0..4 {
            let (arriving, leaving) = (leaving[(i + 3) % 4], leaving[i]);
            let (before, after) = if i % 2 == 0 { (takes[i].1, takes[i].0) } else { takes[i] };
            let bulge = match corners[i] {
                Relief::None => 0.0,
                Relief::Rounded(_) => QUARTER_TURN,
                Relief::Diagonal(_) | Relief::AlongX(_) | Relief::AlongY(_) => 1.0,
            };
            let (x, y) = at[i];
            if before + after > 0.0 {
                vertices.push(Vertex { x: x - arriving.0 * before, y: y - arriving.1 * before, bulge });
            }
            vertices.push(Vertex { x: x + leaving.0 * after, y: y + leaving.1 * after, bulge: 0.0 });
        }
        Self::new(&vertices)
    }
}

/// Bulge of a quarter turn: tan(90°/4) = √2 − 1.
const QUARTER_TURN: f64 = SQRT_2 - 1.0;

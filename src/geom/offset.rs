//! Offsets of contours, with the distance check that the library does not make itself.

use super::{tolerance, Contour, GeomError, Region};
use cavalier_contours::core::math::Vector2;
use cavalier_contours::polyline::{seg_midpoint, PlineSource, Polyline};
use cavalier_contours::shape_algorithms::{Shape, ShapeOffsetOptions};

impl Region {
    /// A region from its outer contour and the inner ones; turning senses are set here.
    #[must_use]
    pub fn new(outer: Contour, inner: Vec<Contour>) -> Self {
        Self { outer: outer.ccw(), inner: inner.into_iter().map(Contour::cw).collect() }
    }

    /// Area in mm², holes taken off.
    #[must_use]
    pub fn area(&self) -> f64 {
        self.outer.area() + self.inner.iter().map(Contour::area).sum::<f64>()
    }

    /// Shrinks (`distance` > 0) or grows (`distance` < 0) the region; joins are true arcs.
    ///
    /// Empty when nothing is left. Outer contours come first, counter-clockwise, then inner ones, clockwise.
    ///
    /// # Errors
    /// [`GeomError::Unreliable`] when the result fails its distance check even after a nudge of
    /// [`tolerance::OFFSET_NUDGE`] either way (a neck or slot exactly as wide as twice the distance).
    pub fn shrunk(&self, distance: f64) -> Result<Vec<Contour>, GeomError> {
        let source: Vec<Polyline<f64>> =
            std::iter::once(&self.outer).chain(&self.inner).map(|c| c.pline().clone()).collect();
        let nudge = tolerance::OFFSET_NUDGE * distance.signum();
        for tried in [distance, distance - nudge, distance + nudge] {
            let result = offset(&source, tried);
            if lies_at(&source, &result, tried) {
                return Ok(result.into_iter().filter_map(|p| Contour::from_pline(p).ok()).collect());
            }
        }
        Err(GeomError::Unreliable("offset"))
    }
}

impl Contour {
    /// Moves the contour outward by `distance` (inward when negative), whatever its turning sense.
    ///
    /// # Errors
    /// As [`Region::shrunk`].
    pub fn grown(&self, distance: f64) -> Result<Vec<Contour>, GeomError> {
        Region::new(self.clone(), Vec::new()).shrunk(-distance)
    }
}

fn offset(source: &[Polyline<f64>], distance: f64) -> Vec<Polyline<f64>> {
    let shape = Shape::from_plines(source.to_vec()).parallel_offset(distance, &ShapeOffsetOptions::default());
    shape.ccw_plines.into_iter().chain(shape.cw_plines).map(|p| p.polyline).collect()
}

/// Whether every result is closed and lies, at each vertex and mid-segment, at the asked distance from the source.
fn lies_at(source: &[Polyline<f64>], result: &[Polyline<f64>], distance: f64) -> bool {
    let nearest = |q: Vector2<f64>| {
        source
            .iter()
            .filter_map(|s| s.closest_point(q, tolerance::SAME_POINT))
            .map(|c| c.distance)
            .fold(f64::INFINITY, f64::min)
    };
    result.iter().all(|p| {
        p.is_closed()
            && p.iter_segments().all(|(a, b)| {
                [seg_midpoint(a, b), a.pos()]
                    .iter()
                    .all(|q| (nearest(*q) - distance.abs()).abs() < tolerance::OFFSET_DISTANCE)
            })
    })
}

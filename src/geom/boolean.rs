//! Union, difference and intersection of two contours; arcs stay arcs.

use super::{Contour, GeomError, Region};
use cavalier_contours::polyline::{BooleanOp, PlineSource};

impl Contour {
    /// What remains of this contour's area without the other's.
    ///
    /// # Errors
    /// [`GeomError::Unreliable`] when a result is not closed.
    pub fn minus(&self, other: &Contour) -> Result<Vec<Region>, GeomError> {
        self.boolean(other, BooleanOp::Not)
    }

    /// The area covered by either.
    ///
    /// # Errors
    /// As [`Contour::minus`].
    pub fn union(&self, other: &Contour) -> Result<Vec<Region>, GeomError> {
        self.boolean(other, BooleanOp::Or)
    }

    /// The area covered by both.
    ///
    /// # Errors
    /// As [`Contour::minus`].
    pub fn intersection(&self, other: &Contour) -> Result<Vec<Region>, GeomError> {
        self.boolean(other, BooleanOp::And)
    }

    fn boolean(&self, other: &Contour, op: BooleanOp) -> Result<Vec<Region>, GeomError> {
        let (a, b) = (self.clone().ccw(), other.clone().ccw());
        let result = a.pline().boolean(b.pline(), op);
        let take = |plines: Vec<_>| -> Result<Vec<Contour>, GeomError> {
            plines
                .into_iter()
                .map(|p: cavalier_contours::polyline::BooleanResultPline<_>| p.pline)
                .filter(|p: &cavalier_contours::polyline::Polyline<f64>| p.vertex_count() > 1)
                .map(|p| if p.is_closed() { Ok(Contour::from_pline(p).ok()) } else { Err(GeomError::Unreliable("boolean")) })
                .filter_map(Result::transpose)
                .collect()
        };
        let outers = take(result.pos_plines)?;
        let mut holes = take(result.neg_plines)?;
        let mut regions = Vec::with_capacity(outers.len());
        for outer in outers {
            let outer = outer.ccw();
            let (inside, rest) = holes.into_iter().partition(|h| outer.holds(h));
            holes = rest;
            regions.push(Region::new(outer, inside));
        }
        Ok(regions)
    }

    /// Whether another contour, known not to cross this one, lies inside it.
    #[must_use]
    pub fn holds(&self, other: &Contour) -> bool {
        other.pline().iter_segments().next().is_some_and(|(a, b)| {
            let middle = cavalier_contours::polyline::seg_midpoint(a, b);
            self.pline().winding_number(middle) != 0
        })
    }
}

//! Offsets of contours, with the distance check that the library does not make itself.

use super::{tolerance, Contour, GeomError, Region};
use cavalier_contours::core::math::{dist_squared, Vector2};
use cavalier_contours::polyline::{seg_closest_point, seg_midpoint, PlineSource, Polyline};
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
    /// Where a slot or neck is exactly twice the distance wide (within 1 µm), the passage is kept: the contour through it then
    /// lies at a distance smaller by [`tolerance::OFFSET_NUDGE`], so that a slot as wide as its cutter is cut, not dropped.
    ///
    /// # Errors
    /// [`GeomError::Unreliable`] when the result fails its distance check even after a nudge either way;
    /// [`GeomError::NotFinite`].
    pub fn shrunk(&self, distance: f64) -> Result<Vec<Contour>, GeomError> {
        if !distance.is_finite() {
            return Err(GeomError::NotFinite);
        }
        if distance == 0.0 {
            return Ok(std::iter::once(&self.outer).chain(&self.inner).cloned().collect());
        }
        let source: Vec<&Polyline<f64>> = std::iter::once(&self.outer).chain(&self.inner).map(Contour::pline).collect();
        let nudge = tolerance::OFFSET_NUDGE * distance.signum();
        let result =
            witnessed(checked(&source, distance), checked(&source, distance - nudge), || checked(&source, distance + nudge));
        let result = result.ok_or(GeomError::Unreliable("offset"))?;
        Ok(result.into_iter().filter_map(|p| Contour::from_pline(p).ok()).collect())
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

type Loops = Vec<Polyline<f64>>;

/// The result at the asked distance, or at one a nudge away, that another result bears out; a lone one stands by its own check.
fn witnessed(exact: Option<Loops>, eased: Option<Loops>, firm: impl FnOnce() -> Option<Loops>) -> Option<Loops> {
    if let (Some(x), Some(e)) = (&exact, &eased) {
        if agree(x, e) {
            return if passage_opens(x, e) { Some(with_passage(x, e)) } else { exact };
        }
    }
    match (exact, eased, firm()) {
        (Some(x), _, Some(f)) if agree(&x, &f) => Some(x),
        (_, Some(e), Some(f)) if agree(&e, &f) => Some(e),
        (Some(only), None, None) | (None, Some(only), None) | (None, None, Some(only)) => Some(only),
        _ => None,
    }
}

/// Whether two offsets a nudge or two apart can both be right: area follows the distance at the rate of the contours' length.
/// The library drops a whole loop now and then.
fn agree(a: &[Polyline<f64>], b: &[Polyline<f64>]) -> bool {
    let area = |all: &[Polyline<f64>]| all.iter().map(PlineSource::area).sum::<f64>();
    let rate = length(a).max(length(b));
    (area(a) - area(b)).abs() <= 3.0 * tolerance::OFFSET_NUDGE * rate
}

fn length(loops: &[Polyline<f64>]) -> f64 {
    loops.iter().map(PlineSource::path_length).sum()
}

/// Whether easing the distance by a nudge opens a passage that the exact distance shut, or left as two lines on one another.
fn passage_opens(exact: &[Polyline<f64>], eased: &[Polyline<f64>]) -> bool {
    exact.iter().any(PlineSource::scan_for_self_intersect)
        || exact.len() != eased.len()
        || (length(eased) - length(exact)).abs() > tolerance::OFFSET_LENGTH_JUMP
}

/// The eased loops, each replaced by its exact counterpart where there is one without a shut passage.
fn with_passage(exact: &[Polyline<f64>], eased: &[Polyline<f64>]) -> Loops {
    let near = |a: &Polyline<f64>, b: &Polyline<f64>| {
        let (Some(x), Some(y)) = (a.extents(), b.extents()) else { return false };
        let apart = [x.min_x - y.min_x, x.min_y - y.min_y, x.max_x - y.max_x, x.max_y - y.max_y];
        apart.iter().all(|d| d.abs() <= tolerance::OFFSET_DISTANCE)
            && (a.path_length() - b.path_length()).abs() <= tolerance::OFFSET_LENGTH_JUMP
            && a.orientation() == b.orientation()
            && !a.scan_for_self_intersect()
    };
    eased.iter().map(|one| exact.iter().find(|e| near(e, one)).unwrap_or(one).clone()).collect()
}

/// The offset, if it passes its check.
fn checked(source: &[&Polyline<f64>], distance: f64) -> Option<Loops> {
    let shape =
        Shape::from_plines(source.iter().map(|p| (*p).clone())).parallel_offset(distance, &ShapeOffsetOptions::default());
    let result = shape.ccw_plines.into_iter().chain(shape.cw_plines).map(|p| p.polyline);
    // A slit shut to nothing is a loop without area.
    let result: Vec<_> = result.filter(|p| !p.is_closed() || p.area().abs() >= tolerance::NO_AREA).collect();
    lies_at(source, &result, distance.abs()).then_some(result)
}

/// Whether every result is closed and lies, at each vertex and mid-segment, at the asked distance from the source.
fn lies_at(source: &[&Polyline<f64>], result: &[Polyline<f64>], distance: f64) -> bool {
    let indexed: Vec<_> = source.iter().map(|p| (*p, p.create_approx_aabb_index())).collect();
    let reach = distance + tolerance::OFFSET_DISTANCE;
    let mut stack = Vec::new();
    let mut right = |q: Vector2<f64>| {
        let mut least = f64::INFINITY;
        for (p, index) in &indexed {
            for i in index.query_with_stack(q.x - reach, q.y - reach, q.x + reach, q.y + reach, &mut stack) {
                let (a, b) = (p.at(i), p.at(p.next_wrapping_index(i)));
                least = least.min(dist_squared(seg_closest_point(a, b, q, f64::EPSILON), q));
            }
        }
        (least.sqrt() - distance).abs() < tolerance::OFFSET_DISTANCE
    };
    result.iter().all(|p| p.is_closed() && p.iter_segments().all(|(a, b)| right(a.pos()) && right(seg_midpoint(a, b))))
}

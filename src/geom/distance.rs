//! Exact distances between contours, and where they meet.

use super::{tolerance, Contour, GeomError, Point};
use cavalier_contours::core::math::Vector2;
use cavalier_contours::core::Control;
use cavalier_contours::polyline::{
    pline_seg_intr, seg_arc_radius_and_center, seg_bounding_box, seg_closest_point, PlineIntersect, PlineSegIntr,
    PlineSource, PlineVertex,
};

type Ends = (PlineVertex<f64>, PlineVertex<f64>);

/// A segment with its exact bounds: left, bottom, right, top.
struct Boxed {
    ends: Ends,
    bounds: [f64; 4],
}

impl Contour {
    /// Smallest distance between the lines of two contours, in mm; zero when they cross or touch. A contour that lies inside
    /// another, clear of its line, has a distance above zero.
    #[must_use]
    pub fn distance_between(&self, other: &Contour) -> f64 {
        let (a, b) = (self.boxed(), other.boxed());
        let mut order: Vec<(f64, &Boxed)> = a.iter().map(|s| (gap(s.bounds, all_bounds(&b)), s)).collect();
        order.sort_by(|x, y| x.0.total_cmp(&y.0));
        let mut best = f64::INFINITY;
        for (least, mine) in order {
            if least > best {
                break;
            }
            for theirs in &b {
                // Segments whose bounds are further apart than the best found so far cannot matter.
                if gap(mine.bounds, theirs.bounds) <= best {
                    best = best.min(segment_distance(mine.ends, theirs.ends));
                    if best == 0.0 {
                        return 0.0;
                    }
                }
            }
        }
        best
    }

    /// Whether the lines of two contours cross or touch.
    #[must_use]
    pub fn crosses(&self, other: &Contour) -> bool {
        let (a, b) = (self.boxed(), other.boxed());
        let whole = all_bounds(&b);
        a.iter().filter(|mine| gap(mine.bounds, whole) <= tolerance::SAME_POINT).any(|mine| {
            b.iter().any(|theirs| gap(mine.bounds, theirs.bounds) <= tolerance::SAME_POINT && meet(mine.ends, theirs.ends))
        })
    }

    /// Checks that the contour neither crosses nor touches itself.
    ///
    /// # Errors
    /// [`GeomError::SelfCrossing`] with a point at which it does.
    pub fn check_simple(&self) -> Result<(), GeomError> {
        let mut found = None;
        self.pline().visit_self_intersects(&mut |meeting: PlineIntersect<f64>| {
            found = Some(match meeting {
                PlineIntersect::Basic(at) => at.point,
                PlineIntersect::Overlapping(run) => run.point1,
            });
            Control::Break(())
        });
        found.map_or(Ok(()), |at| Err(GeomError::SelfCrossing { x: at.x, y: at.y }))
    }

    /// The point of the contour nearest to `p`.
    #[must_use]
    pub fn nearest_to(&self, p: Point) -> Point {
        self.point_at(self.length_nearest(p))
    }

    fn boxed(&self) -> Vec<Boxed> {
        self.pline()
            .iter_segments()
            .map(|(a, b)| {
                let bounds = seg_bounding_box(a, b);
                Boxed { ends: (a, b), bounds: [bounds.min_x, bounds.min_y, bounds.max_x, bounds.max_y] }
            })
            .collect()
    }
}

fn all_bounds(segments: &[Boxed]) -> [f64; 4] {
    segments.iter().fold([f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY], |all, s| {
        let b = s.bounds;
        [all[0].min(b[0]), all[1].min(b[1]), all[2].max(b[2]), all[3].max(b[3])]
    })
}

/// Distance between two axis-aligned boxes; zero when they overlap.
fn gap(a: [f64; 4], b: [f64; 4]) -> f64 {
    let dx = (b[0] - a[2]).max(a[0] - b[2]).max(0.0);
    let dy = (b[1] - a[3]).max(a[1] - b[3]).max(0.0);
    dx.hypot(dy)
}

fn meet(a: Ends, b: Ends) -> bool {
    !matches!(pline_seg_intr(a.0, a.1, b.0, b.1, tolerance::SAME_POINT), PlineSegIntr::NoIntersect)
}

/// Distance between two segments. Where they do not meet, the nearest pair either has an end of one segment in it, or lies on
/// the normal through an arc's centre: to the line for a line, to the other centre for two arcs. Each candidate is a true pair
/// of points of the two segments, so the smallest is exact.
fn segment_distance(a: Ends, b: Ends) -> f64 {
    if meet(a, b) {
        return 0.0;
    }
    let candidates = ends_and_normals(a, b).into_iter().map(|p| away(p, b));
    candidates.chain(ends_and_normals(b, a).into_iter().map(|p| away(p, a))).fold(f64::INFINITY, f64::min)
}

fn away(p: Vector2<f64>, from: Ends) -> f64 {
    (nearest(from, p) - p).length()
}

fn nearest(on: Ends, p: Vector2<f64>) -> Vector2<f64> {
    seg_closest_point(on.0, on.1, p, NO_LENGTH)
}

/// Only a point on an arc's centre itself has no direction from it.
const NO_LENGTH: f64 = f64::EPSILON;

/// Points of `a` that can be the nearest to `b`: its ends, and those on the normal through the centre of `b` (or, between two
/// arcs, through both centres).
fn ends_and_normals(a: Ends, b: Ends) -> Vec<Vector2<f64>> {
    let mut points = vec![a.0.pos(), a.1.pos()];
    if b.0.bulge_is_zero() {
        return points;
    }
    let (_, centre) = seg_arc_radius_and_center(b.0, b.1);
    points.push(nearest(a, centre));
    if !a.0.bulge_is_zero() {
        let (radius, own) = seg_arc_radius_and_center(a.0, a.1);
        let apart = centre - own;
        if apart.length() > tolerance::SAME_POINT {
            // The far side of the circle matters when it encloses the other arc.
            points.push(nearest(a, own - apart.scale(radius / apart.length())));
        }
    }
    points
}

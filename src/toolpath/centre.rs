//! From finished edge to tool centre, and whether a cutter reaches all of an edge.

use super::narrow;
use super::path::segs;
use crate::flat::{FlatCut, Operation};
use crate::geom::tolerance;
use crate::geom::{Contour, GeomError, Point, Region};

/// Which side of a finished edge is waste.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Waste {
    /// Outside a counter-clockwise outline.
    Outside,
    /// Inside a clockwise opening or pocket.
    Inside,
}

impl Waste {
    /// Of a cut.
    pub(super) fn of(cut: &FlatCut) -> Self {
        match cut.operation {
            Operation::ThroughOutside => Self::Outside,
            _ => Self::Inside,
        }
    }
}

/// What a round cutter leaves in a square corner, over its radius: √2 − 1.
const CORNER_LEFT: f64 = 0.415;
/// How far about an outline its cutter runs free, in radii: more than its own width.
const ROOM_ABOUT: f64 = 3.0;

/// Tool-centre contours along a finished edge: one radius away on the waste side, counter-clockwise ones first.
///
/// `None` when some of the edge could not be reached by a cutter of this radius.
pub(super) fn along_edge(
    edge: &Contour,
    islands: &[Contour],
    waste: Waste,
    radius: f64,
) -> Result<Option<Vec<Contour>>, GeomError> {
    let region = match waste {
        Waste::Outside => Region::new(edge.clone(), Vec::new()),
        Waste::Inside => Region::new(edge.clone(), islands.to_vec()),
    };
    let sign = if waste == Waste::Outside { -1.0 } else { 1.0 };
    let whole = all_of(region.clone(), waste, radius)?;
    let mut fault = None;
    // The second try keeps a corridor open where a slot is exactly as wide as the cutter.
    for r in [radius, radius - tolerance::RADIUS_SLACK] {
        match region.shrunk(sign * r) {
            Ok(centre) => {
                if !centre.is_empty()
                    && reaches(edge, waste, &centre, radius)
                    && islands.iter().all(|i| reaches(i, Waste::Outside, &centre, radius))
                {
                    match narrow::left_by(&whole, r) {
                        Ok(left) if left.is_empty() => return Ok(Some(centre)),
                        Ok(_) => (),
                        Err(e) => fault = Some(e),
                    }
                }
            }
            Err(e) => fault = Some(e),
        }
    }
    fault.map_or(Ok(None), Err)
}

/// What a cutter is to clear: the inside of an opening, or all about an outline.
pub(super) fn all_of(region: Region, waste: Waste, radius: f64) -> Result<Region, GeomError> {
    match waste {
        Waste::Inside => Ok(region),
        Waste::Outside => {
            let bounds = region.outer.bounds().inflate(ROOM_ABOUT * radius, ROOM_ABOUT * radius);
            Ok(Region::new(Contour::rect(bounds)?, vec![region.outer]))
        }
    }
}

/// Whether the middle of every segment of an edge is touched by a cutter on one of the tool-centre contours.
fn reaches(edge: &Contour, waste: Waste, centre: &[Contour], radius: f64) -> bool {
    let edge = match waste {
        Waste::Outside => edge.clone().ccw(),
        Waste::Inside => edge.clone().cw(),
    };
    let segs = segs(&edge);
    // With the part on the left, a right-hand corner is one the waste runs into.
    let sharp: Vec<Point> = (0..segs.len())
        .filter(|i| {
            let before = segs[(i + segs.len() - 1) % segs.len()];
            before.direction(1.0).cross(segs[*i].direction(0.0)) < -narrow::SHARP
        })
        .map(|i| segs[i].from)
        .collect();
    segs.iter().filter(|s| s.length() > tolerance::PATH_STEP).all(|seg| {
        let middle = seg.at(0.5);
        let gap = centre.iter().map(|c| c.distance_to(middle)).fold(f64::INFINITY, f64::min) - radius;
        let near_corner = seg.is_line() && sharp.iter().any(|c| (*c - middle).hypot() < radius);
        gap < if near_corner { CORNER_LEFT * radius } else { tolerance::EDGE_REACHED }
    })
}

/// Widest cutter diameter for which `fits(radius)` holds, to a tenth of a millimetre, up to 25 mm; `None` when not even a tenth.
pub(super) fn widest(fits: &dyn Fn(f64) -> bool) -> Option<f64> {
    let (mut low, mut high) = (0_u32, 251_u32);
    while high - low > 1 {
        let middle = u32::midpoint(low, high);
        if fits(f64::from(middle) / 20.0) {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low > 0).then(|| f64::from(low) / 10.0)
}

//! Wood that a cutter leaves where it does not pass: everything but the round of inner corners.

use super::path::segs;
use crate::geom::{tolerance, Contour, GeomError, Point, Region};

/// A turn sharper than this (sine of its angle) is a corner no round cutter reaches into.
pub(super) const SHARP: f64 = 0.1;
/// How much more than a corner's exact round may stay in it: rounding.
const CORNER_SPARE: f64 = 1.1;
/// The same where arcs may meet instead of straight sides: where the cutter stops in one place only, as it does in a corner, and
/// not on two sides of a passage.
const BOW_SPARE: f64 = 2.0;

/// What a cutter of this radius leaves of a region, the round of its inner corners apart.
///
/// A corner keeps `(tan(t/2) − t/2)·r²` for a turn of the edge by `t`: 0.215 r² when it is square. A piece without a corner, or
/// larger than its corners keep, stands in a passage too narrow for the cutter.
///
/// # Errors
/// As [`Region::unreachable`].
pub(super) fn left_by(region: &Region, radius: f64) -> Result<Vec<Region>, GeomError> {
    let mut pieces = region.unreachable(radius)?;
    if pieces.is_empty() {
        return Ok(pieces);
    }
    let outer = region.outer.clone().ccw();
    let inner = region.inner.iter().map(|c| c.clone().cw());
    let corners: Vec<(Point, f64)> = std::iter::once(outer).chain(inner).flat_map(|c| corners(&c)).collect();
    pieces.retain(|piece| {
        let bounds = piece.outer.bounds();
        let near = bounds.inflate(tolerance::EDGE_REACHED, tolerance::EDGE_REACHED);
        let mine = corners.iter().filter(|(at, _)| near.contains(*at));
        let kept: f64 = mine.filter(|(at, _)| piece.outer.distance_to(*at) < tolerance::EDGE_REACHED).map(|c| c.1).sum();
        let spare = if stops(&piece.outer, radius) > 1 { CORNER_SPARE } else { BOW_SPARE };
        let rest = piece.area() - spare * kept * radius * radius;
        rest > tolerance::EDGE_REACHED * bounds.width().max(bounds.height())
    });
    Ok(pieces)
}

/// In how many places a cutter stood that rounded a piece it left.
fn stops(piece: &Contour, radius: f64) -> usize {
    let mut middles: Vec<Point> = Vec::new();
    for seg in segs(piece).iter().filter(|s| !s.is_line()) {
        let middle = seg.centre();
        let round = (middle - seg.from).hypot() - radius - tolerance::UNREACHED;
        if round.abs() < tolerance::OFFSET_DISTANCE
            && middles.iter().all(|m| (*m - middle).hypot() > tolerance::EDGE_REACHED)
        {
            middles.push(middle);
        }
    }
    middles.len()
}

/// Corners that the area on the left of a contour runs into, each with what it keeps over the square of the radius.
fn corners(c: &Contour) -> Vec<(Point, f64)> {
    let segs = segs(c);
    (0..segs.len())
        .filter_map(|i| {
            let (before, after) = (segs[(i + segs.len() - 1) % segs.len()].direction(1.0), segs[i].direction(0.0));
            let sine = before.cross(after);
            let turn = sine.atan2(before.dot(after));
            (sine > SHARP || turn > std::f64::consts::FRAC_PI_2).then(|| (segs[i].from, (turn / 2.0).tan() - turn / 2.0))
        })
        .collect()
}

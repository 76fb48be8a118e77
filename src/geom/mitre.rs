//! Offsets that keep corners: where the plain offset rounds a corner with an arc, the two sides are prolonged until they meet.

use super::{tolerance, Contour, GeomError, Point, Vec2, Vertex};
use std::f64::consts::PI;

/// A corner sharper than this many radians of turning keeps its round join, since its tip would run far out.
const SHARPEST: f64 = PI * 5.0 / 6.0;

impl Contour {
    /// Moves the contour outward by `distance` (inward when negative), whatever its turning sense, with sharp corners: a beam that
    /// follows the result passes every convex corner without rounding it.
    ///
    /// # Errors
    /// As [`Contour::grown`]; [`GeomError::SelfCrossing`] when two prolonged sides meet another stretch of the contour.
    pub fn grown_sharp(&self, distance: f64) -> Result<Vec<Contour>, GeomError> {
        let corners: Vec<Point> = self.vertices().iter().map(|v| Point::new(v.x, v.y)).collect();
        let sharp = |round: Contour| {
            let made = sharpened(&round, &corners, distance.abs())?;
            made.check_simple().map(|()| made)
        };
        self.grown(distance)?.into_iter().map(sharp).collect()
    }
}

/// Joins of this radius about one of the corners become points.
fn sharpened(round: &Contour, corners: &[Point], radius: f64) -> Result<Contour, GeomError> {
    let vertices = round.vertices();
    let n = vertices.len();
    let tips: Vec<Option<Point>> = (0..n).map(|i| tip(vertices[i], vertices[(i + 1) % n], corners, radius)).collect();
    let mut sharp = Vec::with_capacity(n);
    for i in 0..n {
        let (here, before) = (vertices[i], (i + n - 1) % n);
        let straight_before = vertices[before].bulge == 0.0 || tips[before].is_some();
        match tips[i] {
            // On a straight side the join's ends are no corners any more.
            Some(tip) => {
                if !straight_before {
                    sharp.push(Vertex { bulge: 0.0, ..here });
                }
                sharp.push(Vertex { x: tip.x, y: tip.y, bulge: 0.0 });
            }
            None if tips[before].is_some() && here.bulge == 0.0 => {}
            None => sharp.push(here),
        }
    }
    Contour::new(&sharp)
}

/// Where the sides beside a join would meet; `None` when the segment is no join.
fn tip(from: Vertex, to: Vertex, corners: &[Point], radius: f64) -> Option<Point> {
    let sweep = 4.0 * from.bulge.atan();
    if from.bulge == 0.0 || sweep.abs() > SHARPEST {
        return None;
    }
    let (a, b) = (Point::new(from.x, from.y), Point::new(to.x, to.y));
    let chord = b - a;
    let arc_radius = chord.hypot() * (1.0 + from.bulge * from.bulge) / (4.0 * from.bulge.abs());
    let along = (1.0 - from.bulge * from.bulge) / (4.0 * from.bulge);
    let centre = a.midpoint(b) + Vec2::new(-chord.y, chord.x) * along;
    let near = |p: &Point| (*p - centre).hypot() <= tolerance::OFFSET_DISTANCE;
    if (arc_radius - radius).abs() > tolerance::OFFSET_DISTANCE || !corners.iter().any(near) {
        return None;
    }
    let half = (sweep / 2.0).abs();
    let out = a.midpoint(b) - centre;
    let outward = if out.hypot() > 0.0 { out / out.hypot() } else { return None };
    Some(centre + outward * (arc_radius / half.cos()))
}

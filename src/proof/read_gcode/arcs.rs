//! Arc centres from I and J or from R, with the rule on radii (NISTIR 6556, 3.5.3).

use super::moves::Path;
use super::words::Block;
use crate::proof::limits;
use crate::units::{Mm, MM_PER_INCH};
use std::f64::consts::TAU;

/// The arc from `from` to `to`, and how much its radii at the two ends differ. `scale` is mm per unit of the file.
pub(super) fn path(block: &Block, from: [f64; 2], to: [f64; 2], ccw: bool, scale: f64) -> Result<(Path, f64), String> {
    let (i, j) = (block.get('I'), block.get('J'));
    match (block.get('R'), i.or(j)) {
        (Some(_), Some(_)) => Err("an arc with both a radius and a centre".to_owned()),
        (None, None) => Err("an arc without a centre or a radius".to_owned()),
        (Some(r), None) => by_radius(from, to, r * scale, ccw, scale).map(|p| (p, 0.0)),
        (None, Some(_)) => {
            if !block.any("XY") {
                // 3.5.3.2: at least one of X and Y.
                return Err("an arc without an end: X or Y must be given".to_owned());
            }
            by_centre(from, to, [i.unwrap_or(0.0) * scale, j.unwrap_or(0.0) * scale], ccw, scale)
        }
    }
}

fn limit(scale: f64) -> f64 {
    if scale > 1.0 {
        limits::ARC_RADII_INCH * MM_PER_INCH
    } else {
        limits::ARC_RADII_MM
    }
}

/// Centre format, 3.5.3.2: I and J are increments from the start, whatever the distance mode.
fn by_centre(from: [f64; 2], to: [f64; 2], offset: [f64; 2], ccw: bool, scale: f64) -> Result<(Path, f64), String> {
    let centre = [from[0] + offset[0], from[1] + offset[1]];
    let start = offset[0].hypot(offset[1]);
    let end = (to[0] - centre[0]).hypot(to[1] - centre[1]);
    let differ = (start - end).abs();
    if start <= limits::ROUNDING || end <= limits::ROUNDING {
        return Err("an arc of no radius".to_owned());
    }
    if differ > limit(scale) + limits::ROUNDING {
        let allowed = limit(scale);
        return Err(format!("the arc's radius is {start:.4} mm at its start and {end:.4} mm at its end; they may differ by {allowed} mm (NISTIR 6556, 3.5.3.2)"));
    }
    Ok((arc(from, to, centre, ccw), differ))
}

/// Radius format, 3.5.3.1: a positive radius takes the shorter arc, a negative one the longer.
fn by_radius(from: [f64; 2], to: [f64; 2], r: f64, ccw: bool, scale: f64) -> Result<Path, String> {
    let (dx, dy) = (to[0] - from[0], to[1] - from[1]);
    let half = dx.hypot(dy) / 2.0;
    if half <= limits::ROUNDING {
        return Err("a radius-format arc that ends where it starts".to_owned());
    }
    if half > r.abs() + limit(scale) {
        return Err(format!(
            "the arc's ends are {:.4} mm apart, more than twice its radius of {:.4} mm",
            2.0 * half,
            r.abs()
        ));
    }
    let rise = (r * r - half * half).max(0.0).sqrt();
    let left = if ccw == (r > 0.0) { rise } else { -rise };
    let (ux, uy) = (dx / (2.0 * half), dy / (2.0 * half));
    let centre = [f64::midpoint(from[0], to[0]) - uy * left, f64::midpoint(from[1], to[1]) + ux * left];
    Ok(arc(from, to, centre, ccw))
}

fn arc(from: [f64; 2], to: [f64; 2], centre: [f64; 2], ccw: bool) -> Path {
    let angle = |p: [f64; 2]| (p[1] - centre[1]).atan2(p[0] - centre[0]);
    let turned = if ccw { angle(to) - angle(from) } else { angle(from) - angle(to) }.rem_euclid(TAU);
    let full = (to[0] - from[0]).hypot(to[1] - from[1]) <= limits::ROUNDING || turned == 0.0;
    let size = if full { TAU } else { turned };
    Path::Arc { centre_x: Mm(centre[0]), centre_y: Mm(centre[1]), sweep_rad: if ccw { size } else { -size } }
}

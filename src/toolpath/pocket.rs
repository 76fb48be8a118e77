//! Clears an area: rings each computed directly from the area's edge, from the middle outwards, the wall last in each pass.

use super::edge::{Setting, ABOVE_WOOD};
use super::moves::Moves;
use super::path::Path;
use crate::geom::tolerance;
use crate::geom::{GeomError, Point, Region};

/// Distance between neighbouring rings over the cutter's diameter: under a half, so that nothing stays between them even where
/// rings end. Common practice, no source.
pub const STEPOVER: f64 = 0.45;
/// A ramp that would need more laps than this is a plunge instead, when the cutter may plunge.
const MOST_LAPS: f64 = 6.0;
/// How fine a straight way from ring to ring is checked.
const CHECK_EVERY: f64 = 0.5;
/// No pocket has more rings.
const MOST_RINGS: u32 = 2000;

/// Rings for a cutter, the outermost (the wall) first; climbing turns them counter-clockwise, islands clockwise. The wall has its
/// own direction, the rings inside it theirs.
pub(super) fn rings(
    region: &Region,
    wall: &[crate::geom::Contour],
    radius: f64,
    [climb, rough_climb]: [bool; 2],
) -> Result<Vec<Vec<Path>>, GeomError> {
    let paths = |contours: &[crate::geom::Contour], climb: bool| {
        contours.iter().filter_map(|c| Path::new(c, !climb)).collect::<Vec<_>>()
    };
    let mut list = vec![paths(wall, climb)];
    for k in 1..MOST_RINGS {
        let distance = radius + f64::from(k) * STEPOVER * 2.0 * radius;
        // A ring's exact distance does not matter: a tie is stepped off further than the offset's own nudge does.
        let tries = [0.0, -0.01, 0.01, -0.03].map(|nudge| region.shrunk(distance + nudge * radius));
        let Some(contours) = tries.iter().find_map(|r| r.as_ref().ok()) else {
            return Err(GeomError::Unreliable("offset"));
        };
        if contours.is_empty() {
            break;
        }
        list.push(paths(contours, rough_climb));
    }
    Ok(list)
}

/// Clears the area at each of the heights.
pub(super) fn clear(region: &Region, rings: &[Vec<Path>], heights: &[f64], radius: f64, setting: &Setting) -> Option<Moves> {
    let touch = setting.top + ABOVE_WOOD;
    let slope = setting.ramp_angle.tan().max(tolerance::PATH_STEP);
    let mut moves: Option<Moves> = None;
    let mut above = setting.top;
    for z in heights {
        for (nth, path) in in_order(rings, moves.as_ref().map(Moves::plane), radius).into_iter().enumerate() {
            let m = moves.get_or_insert_with(|| {
                let mut m = Moves::new(path.at(0.0), setting.clearance, setting.feeds);
                m.air_to(touch);
                m
            });
            let start = path.nearest(m.plane());
            let linked = linked(region, m.plane(), path.at(start), radius);
            if !linked {
                m.over(path.at(start));
                m.air_to(above + ABOVE_WOOD);
            }
            m.straight(path.at(start));
            if nth > 0 && linked {
                m.follow(path, &[(start, *z), (start + path.length(), *z)]);
                continue;
            }
            let from = m.here.z;
            let ramp = (from - z) / slope;
            if setting.centre_cutting && ramp > MOST_LAPS * path.length() {
                m.plunge(*z);
                m.follow(path, &[(start, *z), (start + path.length(), *z)]);
            } else {
                m.follow(path, &[(start, from), (start + ramp, *z), (start + ramp + path.length(), *z)]);
            }
        }
        above = *z;
    }
    if let Some(m) = moves.as_mut() {
        m.up();
    }
    moves
}

/// Innermost rings first, the nearest next; a first ring too small to ramp along changes places with the second.
fn in_order(rings: &[Vec<Path>], here: Option<Point>, radius: f64) -> Vec<&Path> {
    let mut here = here;
    let mut list: Vec<&Path> = Vec::new();
    for ring in rings.iter().rev() {
        let mut left: Vec<&Path> = ring.iter().collect();
        while !left.is_empty() {
            let distance = |p: &Path| here.map_or(0.0, |h| (p.at(p.nearest(h)) - h).hypot());
            let next = (0..left.len()).min_by(|a, b| distance(left[*a]).total_cmp(&distance(left[*b]))).unwrap_or(0);
            let path = left.remove(next);
            here = Some(path.at(0.0));
            list.push(path);
        }
    }
    if list.len() > 1 && list[0].length() < 2.0 * radius {
        list.swap(0, 1);
    }
    list
}

/// Whether the cutter may go straight from one point to another inside the area.
fn linked(region: &Region, from: Point, to: Point, radius: f64) -> bool {
    let way = to - from;
    let count = (way.hypot() / CHECK_EVERY).ceil().max(1.0) as u32;
    (0..=count).all(|i| {
        let p = from + way * (f64::from(i) / f64::from(count));
        std::iter::once(&region.outer).chain(&region.inner).all(|c| c.distance_to(p) > radius - tolerance::OFFSET_DISTANCE)
    })
}

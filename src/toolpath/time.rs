//! Run time of a program, limited by acceleration.
//!
//! Every move speeds up, cruises and slows down evenly (a trapezoid). Where two cutting moves meet, the speed is the lower of
//! both, times `(1 + cos turn) / 2`: full speed straight on, half at a right angle, nought when turning back. Rapid moves start
//! and end at rest. A pass forwards and one backwards keep every change of speed within the acceleration.

use super::path::turned;
use super::{Block, Move, Work};
use crate::geom::tolerance;
use crate::geom::{Point, Point3, Rect, Vec2};
use crate::shop::Machine;

struct Leg {
    length: f64,
    /// Highest speed, mm/s.
    speed: f64,
    rapid: bool,
    leaving: [f64; 3],
    arriving: [f64; 3],
    /// Speed at its start, mm/s.
    entry: f64,
}

/// Seconds for all blocks, from the first block's start, with the rapid moves between them; by what is done, in order.
pub(super) fn by_work(blocks: &[Block], clearance: f64, machine: &Machine) -> Vec<(Work, f64)> {
    let accel = machine.accel_mm_s2.max(1.0);
    let mut legs: Vec<(Work, Leg)> = Vec::new();
    let mut here: Option<Point3> = None;
    for block in blocks {
        let start = Point3::new(block.start.x, block.start.y, clearance);
        if let Some(from) = here {
            legs.push((Work::Travel, straight(from, start, machine.rapid_mm_min, true)));
        }
        let mut at = start;
        for m in &block.moves {
            match *m {
                Move::Rapid { to } => {
                    legs.push((block.work, straight(at, to, machine.rapid_mm_min, true)));
                    at = to;
                }
                Move::Line { to, feed } => {
                    legs.push((block.work, straight(at, to, feed.min(machine.feed_max_mm_min), false)));
                    at = to;
                }
                Move::Arc { to, centre, ccw, feed } => {
                    legs.push((block.work, arc(at, to, centre, ccw, feed.min(machine.feed_max_mm_min))));
                    at = to;
                }
                Move::Drill { bottom, retract, peck, feed } => {
                    let mut down = Vec::new();
                    drill(&mut down, at, [bottom.0, retract.0], peck.map(|p| p.0), feed, machine);
                    legs.extend(down.into_iter().map(|leg| (block.work, leg)));
                    at.z = retract.0;
                }
            }
        }
        here = Some(at);
    }
    legs.retain(|(_, leg)| leg.length > tolerance::NO_MOVE);
    meet(&mut legs, accel);
    let mut times: Vec<(Work, f64)> = Vec::new();
    for (i, (work, leg)) in legs.iter().enumerate() {
        let exit = legs.get(i + 1).map_or(0.0, |(_, next)| next.entry);
        let seconds = trapezoid(leg.length, leg.entry, leg.speed, exit, accel);
        match times.iter_mut().find(|(w, _)| w == work) {
            Some(entry) => entry.1 += seconds,
            None => times.push((*work, seconds)),
        }
    }
    times.sort_by_key(|(work, _)| *work);
    times
}

/// Seconds for a run round a rectangle in the air and back to its first corner, at a feed.
pub(super) fn round_s(rect: Rect, feed_mm_min: f64, machine: &Machine) -> f64 {
    let side = |length: f64| trapezoid(length, 0.0, feed_mm_min / 60.0, 0.0, machine.accel_mm_s2.max(1.0));
    2.0 * (side(rect.width()) + side(rect.height()))
}

/// Down, and for each peck back out and in again.
fn drill(legs: &mut Vec<Leg>, at: Point3, [bottom, retract]: [f64; 2], peck: Option<f64>, feed: f64, machine: &Machine) {
    let level = |z| Point3::new(at.x, at.y, z);
    legs.push(straight(at, level(retract), machine.rapid_mm_min, true));
    let peck = peck.unwrap_or(f64::INFINITY).max(tolerance::EDGE_REACHED);
    let mut depth = retract;
    while depth > bottom + tolerance::NO_MOVE {
        let next = (depth - peck).max(bottom);
        legs.push(straight(level(retract), level(depth), machine.rapid_mm_min, true));
        legs.push(straight(level(depth), level(next), feed, false));
        legs.push(straight(level(next), level(retract), machine.rapid_mm_min, true));
        depth = next;
    }
}

fn straight(from: Point3, to: Point3, per_min: f64, rapid: bool) -> Leg {
    let d = to.plus(from, -1.0);
    let length = (d.x * d.x + d.y * d.y + d.z * d.z).sqrt();
    let way = d.to_array().map(|c| c / length.max(tolerance::NO_MOVE));
    Leg { length, speed: per_min.max(1.0) / 60.0, rapid, leaving: way, arriving: way, entry: 0.0 }
}

fn arc(from: Point3, to: Point3, centre: Point, ccw: bool, per_min: f64) -> Leg {
    let (a, b) = (Point::new(from.x, from.y) - centre, Point::new(to.x, to.y) - centre);
    let side = if ccw { 1.0 } else { -1.0 };
    let sweep = (side * a.cross(b)).atan2(a.dot(b)).rem_euclid(std::f64::consts::TAU);
    let flat = a.hypot() * sweep;
    let rise = to.z - from.z;
    let length = flat.hypot(rise);
    let way = |r: Vec2| {
        let t = turned(r, side * std::f64::consts::FRAC_PI_2) / r.hypot().max(tolerance::NO_MOVE)
            * (flat / length.max(tolerance::NO_MOVE));
        [t.x, t.y, rise / length.max(tolerance::NO_MOVE)]
    };
    Leg { length, speed: per_min.max(1.0) / 60.0, rapid: false, leaving: way(a), arriving: way(b), entry: 0.0 }
}

/// Sets the speeds at which legs meet.
fn meet(legs: &mut [(Work, Leg)], accel: f64) {
    for i in 1..legs.len() {
        let (before, after) = (&legs[i - 1].1, &legs[i].1);
        let cos: f64 = before.arriving.iter().zip(after.leaving).map(|(a, b)| a * b).sum();
        let corner = if before.rapid || after.rapid {
            0.0
        } else {
            before.speed.min(after.speed) * f64::midpoint(1.0, cos.clamp(-1.0, 1.0))
        };
        let reached = (before.entry * before.entry + 2.0 * accel * before.length).sqrt();
        legs[i].1.entry = corner.min(reached);
    }
    let mut exit = 0.0_f64;
    for (_, leg) in legs.iter_mut().rev() {
        leg.entry = leg.entry.min((exit * exit + 2.0 * accel * leg.length).sqrt());
        exit = leg.entry;
    }
}

/// Seconds over a length with given first, highest and last speed.
fn trapezoid(length: f64, entry: f64, speed: f64, exit: f64, accel: f64) -> f64 {
    let top = speed.min(((2.0 * accel * length + entry * entry + exit * exit) / 2.0).sqrt()).max(entry).max(exit);
    let ramps = (2.0 * top * top - entry * entry - exit * exit) / (2.0 * accel);
    (2.0 * top - entry - exit) / accel + (length - ramps).max(0.0) / top.max(tolerance::NO_MOVE)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_line_takes_its_cruise_and_two_ramps() {
        // 1000 mm at 100 mm/s and 500 mm/s²: 0.2 s up over 10 mm, 0.2 s down, 980 mm at 100 mm/s.
        assert!((trapezoid(1000.0, 0.0, 100.0, 0.0, 500.0) - 10.2).abs() < 1e-9);
    }

    #[test]
    fn a_short_line_never_reaches_its_speed() {
        // Half the way up, half down: t = 2 sqrt(s / a).
        assert!((trapezoid(2.0, 0.0, 100.0, 0.0, 500.0) - 2.0 * (2.0_f64 / 500.0).sqrt()).abs() < 1e-9);
    }

    #[test]
    fn turning_a_corner_costs_time_and_going_straight_on_does_not() {
        use crate::shop::{Laser, Process};
        use crate::units::{Mm, Unit};
        let machine = Machine {
            id: "m".into(),
            name: "m".into(),
            units: Unit::Mm,
            travel: [Mm(3000.0), Mm(3000.0), Mm(100.0)],
            process: Process::Laser(Laser { kerf: Mm(0.0), compensate: false, lines: Box::default() }),
            rapid_mm_min: 10_000.0,
            feed_max_mm_min: 6_000.0,
            accel_mm_s2: 500.0,
            basis: std::collections::BTreeMap::new(),
        };
        let line = |x, y| Move::Line { to: Point3::new(x, y, 5.0), feed: 6_000.0 };
        let seconds = |moves: Vec<Move>| {
            let block = Block {
                placement: None,
                feature: String::new(),
                label: String::new(),
                work: Work::Outlines,
                restart: None,
                tabs: None,
                start: Point::ORIGIN,
                moves,
            };
            by_work(&[block], 5.0, &machine).iter().map(|(_, s)| s).sum::<f64>()
        };
        let whole = seconds(vec![line(1000.0, 0.0)]);
        let halves = seconds(vec![line(500.0, 0.0), line(1000.0, 0.0)]);
        let corner = seconds(vec![line(500.0, 0.0), line(500.0, 500.0)]);
        let back = seconds(vec![line(500.0, 0.0), line(0.0, 0.0)]);
        assert!((whole - 10.2).abs() < 1e-9 && (halves - whole).abs() < 1e-9);
        // At a right angle half the speed is left: 50 mm/s lost and won again at 500 mm/s² costs 2 x 0.1 s less the way made.
        assert!((corner - (10.2 + 2.0 * 0.1 - 2.0 * 7.5 / 100.0)).abs() < 1e-9, "{corner}");
        assert!((back - (10.2 + 2.0 * 0.2 - 2.0 * 10.0 / 100.0)).abs() < 1e-9, "{back}");
    }
}

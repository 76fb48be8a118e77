//! Hold-down screws: where they stand in the waste, and their holes.
//!
//! A screw keeps clear of every pass: the tool centre runs a radius outside the finished edges and its leads reach two radii
//! further, so a middle is that far from every part, and half a head and [`HEAD_SPARE`] more.

use super::bench::{Bench, Op, Phase};
use super::codes;
use super::holes::{self, Hole};
use super::Block;
use crate::diag::Finding;
use crate::geom::Point;
use crate::shop::Router;

/// Air between a screw's head and the cutter. Practice of cutting services, common practice: 5 mm.
const HEAD_SPARE: f64 = 5.0;
/// Air between the top of a screw's head and rapid moves (trade pages: clamp height plus 5 mm).
pub(super) const OVER_HEAD: f64 = 5.0;
/// How fine places are tried.
const TRY_EVERY: f64 = 10.0;
/// A hole stays this far inside the sheet's edge, beyond its own radius. Common practice, no source.
const FROM_EDGE: f64 = 8.0;

/// Radius round a screw's middle that a cutter's edge stays out of.
pub(super) fn kept_clear(router: &Router) -> f64 {
    router.habits.screws.map_or(0.0, |s| s.head.0 / 2.0) + HEAD_SPARE
}

/// Holes for hold-down screws, when the machine's profile asks for them: the first near the sheet's corner, each next one where
/// the waste is farthest from those chosen, until none is farther than the spacing. `pins` are registration holes.
pub(super) fn holes(bench: &mut Bench, number: u32, pins: &[Point], pin_diameter: f64) -> Vec<Op> {
    let Some(screws) = bench.router.habits.screws else { return Vec::new() };
    let all = &bench.design.process.cutters;
    let widest = all.iter().map(|c| c.diameter.0).fold(0.0, f64::max);
    let outline = bench.design.process.outline_cutter.map_or(widest, |i| bench.cutter(i).diameter.0);
    let clear = kept_clear(bench.router) + 1.5 * outline;
    let inside = screws.hole.0 / 2.0 + FROM_EDGE;
    let free = |p: Point| {
        bench.laid.iter().all(|l| {
            !l.outline.bounds().inflate(clear, clear).contains(p)
                || (l.outline.distance_to(p) >= clear && !l.outline.contains(p))
        }) && pins.iter().all(|pin| (*pin - p).hypot() >= pin_diameter / 2.0 + kept_clear(bench.router))
    };
    let steps = |length: f64| ((length - 2.0 * inside) / TRY_EVERY).max(0.0) as u32;
    let mut places: Vec<(Point, f64)> = Vec::new();
    for j in 0..=steps(bench.sheet.height()) {
        for i in 0..=steps(bench.sheet.width()) {
            let p = Point::new(inside + f64::from(i) * TRY_EVERY, inside + f64::from(j) * TRY_EVERY);
            if free(p) {
                places.push((p, f64::INFINITY));
            }
        }
    }
    let mut chosen: Vec<Point> = Vec::new();
    while let Some((next, far)) = farthest(&places) {
        if far <= screws.spacing.0 {
            break;
        }
        chosen.push(next);
        for (p, far) in &mut places {
            *far = far.min((*p - next).hypot());
        }
    }
    if chosen.len() < 2 {
        bench.found.push(
            Finding::caution(
                codes::NO_SCREWS,
                format!("sheet {number} has room in its waste for {} hold-down screws", chosen.len()),
            )
            .limit(format!("{clear:.1} mm from every part"))
            .remedy("hold the sheet down by clamps beyond the parts or by vacuum, or leave more waste"),
        );
    }
    let mut ops = Vec::new();
    for at in &chosen {
        let hole = Hole { at: *at, diameter: screws.hole.0, floor: bench.through };
        let Some((cutter, moves)) = holes::plain(bench, hole) else {
            bench.found.push(
                Finding::stop(
                    codes::NO_CUTTER,
                    format!("no drill or cutter at hand makes hold-down holes of {}", screws.hole),
                )
                .remedy(format!("add a drill of {} mm, or name another hole in the machine's profile", screws.hole)),
            );
            return Vec::new();
        };
        let k = ops.len() + 1;
        let block = Block {
            placement: None,
            feature: format!("hold-down hole {k}"),
            label: format!("hold-down hole {k} of {}, {} mm", chosen.len(), screws.hole),
            work: Phase::HoldDown.work(),
            restart: None,
            tabs: None,
            start: moves.start,
            moves: moves.list,
        };
        ops.push(Op { phase: Phase::HoldDown, cutter, block });
    }
    ops
}

/// The first of the places farthest from those chosen.
fn farthest(places: &[(Point, f64)]) -> Option<(Point, f64)> {
    places.iter().copied().reduce(|best, next| if next.1 > best.1 { next } else { best })
}

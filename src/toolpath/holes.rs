//! Round holes: drilled, plunged, bored in a helix or cleared; and conical screw seats.

use super::bench::{Bench, Op, Phase};
use super::codes;
use super::cuts;
use super::edge::{Setting, ABOVE_WOOD};
use super::moves::Moves;
use super::passes;
use super::path::Path;
use super::Move;
use crate::diag::Finding;
use crate::flat::{FlatCut, Operation};
use crate::geom::{tolerance, Contour, Point, Region};
use crate::shop::CutterKind;
use crate::units::Mm;

/// A drill this close to the hole's diameter drills it. Common practice, no source.
const DRILL_MATCH: f64 = 0.05;
/// A hole deeper than this many diameters is pecked (drilling handbooks: three diameters; from memory).
const PECK_OVER: f64 = 3.0;
/// Each peck over the diameter. Common practice, no source.
const PECK: f64 = 1.0;
/// A helix is preferred with a cutter of at most this share of the hole, so that chips come out. Common practice, no source.
const HELIX_SHARE: f64 = 0.85;
/// More laps than this and a centre-cutting tool pecks first, then opens the hole.
const MOST_LAPS: f64 = 40.0;
/// Height of one step of a conical seat.
const SEAT_STEP: f64 = 0.25;

/// A hole's centre in the program frame, diameter and bottom.
#[derive(Clone, Copy, Debug)]
pub(super) struct Hole {
    pub(super) at: Point,
    pub(super) diameter: f64,
    pub(super) floor: f64,
}

/// How a hole is to be made.
#[derive(Clone, Copy, Debug)]
enum Way {
    Drill(usize),
    Helix(usize),
    Clear(usize),
}

/// A round hole of part `i`.
pub(super) fn hole(bench: &mut Bench, i: usize, cut: &FlatCut, at: Point, diameter: f64, depth: Option<f64>) -> Vec<Op> {
    let floor = depth.map_or(bench.through, |d| bench.thickness - d);
    let part = bench.laid[i].part;
    if depth.is_some() && floor <= tolerance::EDGE_REACHED {
        bench.found.push(
            Finding::stop(
                codes::NO_CUTTER,
                format!(
                    "{} {} is {:.1} deep in a board of {:.1}",
                    part.id,
                    cut.feature,
                    depth.unwrap_or(0.0),
                    bench.thickness
                ),
            )
            .part(&part.id)
            .at(cut.span)
            .remedy("make the hole shallower, or drill it through"),
        );
        return Vec::new();
    }
    let hole = Hole { at: bench.laid[i].point(at), diameter, floor };
    match choose(bench, hole) {
        Some(Way::Clear(index)) => {
            let Ok(circle) = Contour::circle(hole.at, diameter / 2.0) else {
                bench.unreliable(i, cut);
                return Vec::new();
            };
            // A piece that would fall out is held like any other opening's.
            if depth.is_none() {
                return cuts::opening(bench, i, cut);
            }
            cuts::clear(bench, i, cut, &Region::new(circle, Vec::new()), index, floor, Phase::Drill)
        }
        Some(way) => {
            let (index, moves) = make(bench, hole, way);
            vec![Op { phase: Phase::Drill, cutter: index, block: bench.block(i, cut, moves) }]
        }
        None => {
            let missing = || {
                Finding::stop(
                    codes::NO_CUTTER,
                    format!("no drill or cutter at hand makes {} {} of {}", part.id, cut.feature, Mm(diameter)),
                )
                .part(&part.id)
                .at(cut.span)
                .remedy(format!("add a drill of {} mm, or a cutter smaller than the hole", Mm(diameter)))
            };
            let why = bench.pick(part, cut, floor, &|r| 2.0 * r <= diameter + DRILL_MATCH).err();
            let finding = why.map_or_else(missing, |f| *f);
            bench.found.push(finding);
            Vec::new()
        }
    }
}

/// A registration hole, belonging to no part.
pub(super) fn plain(bench: &mut Bench, hole: Hole) -> Option<(usize, Moves)> {
    let way = choose(bench, hole)?;
    Some(make(bench, hole, way))
}

fn choose(bench: &Bench, hole: Hole) -> Option<Way> {
    let all = &bench.design.process.cutters;
    let matches =
        |i: usize| (all[i].diameter.0 - hole.diameter).abs() <= DRILL_MATCH && bench.long_enough(&all[i], hole.floor);
    if let Some(i) = (0..all.len()).find(|i| all[*i].kind == CutterKind::Drill && matches(*i)) {
        return Some(Way::Drill(i));
    }
    let blind = hole.floor > bench.through + tolerance::EDGE_REACHED;
    let sideways: Vec<usize> = bench
        .cutters()
        .into_iter()
        .filter(|i| match all[*i].kind {
            CutterKind::Compression { up_cut } => !blind || bench.thickness - hole.floor >= up_cut.0,
            _ => true,
        })
        .collect();
    if let Some(i) = sideways.iter().find(|i| all[**i].centre_cutting && matches(**i)) {
        return Some(Way::Drill(*i));
    }
    let enters =
        |i: &usize, share: f64| all[*i].diameter.0 < hole.diameter * share && bench.long_enough(&all[*i], hole.floor);
    let index = sideways.iter().find(|i| enters(i, HELIX_SHARE)).or_else(|| sideways.iter().find(|i| enters(i, 1.0)))?;
    // Wider than two diameters leaves a core.
    Some(if hole.diameter > 2.0 * all[*index].diameter.0 { Way::Clear(*index) } else { Way::Helix(*index) })
}

fn make(bench: &mut Bench, hole: Hole, way: Way) -> (usize, Moves) {
    match way {
        Way::Drill(index) => {
            let cutter = bench.cutter(index);
            let depth = bench.top - hole.floor;
            let mut feeds = bench.feeds(cutter, &[bench.top - cutter.diameter.0.min(depth)]);
            if cutter.kind != CutterKind::Drill {
                feeds.cut = feeds.plunge;
            }
            let mut moves = Moves::new(hole.at, bench.clearance, feeds);
            let peck = (depth > PECK_OVER * hole.diameter).then_some(Mm(PECK * cutter.diameter.0));
            moves.drill(Move::Drill { bottom: Mm(hole.floor), retract: Mm(bench.clearance), peck, feed: feeds.cut });
            (index, moves)
        }
        Way::Helix(index) | Way::Clear(index) => {
            let cutter = bench.cutter(index);
            let heights = passes::heights(bench.top, hole.floor, cutter);
            let setting = bench.setting(cutter, &heights);
            (index, helix(bench, hole, cutter.diameter.0 / 2.0, &heights, &setting))
        }
    }
}

/// Down in a helix, at most a pass depth each lap, then once round at the bottom. The feed is that of the tool centre, less than
/// the edge's by the ratio of their radii.
fn helix(bench: &Bench, hole: Hole, radius: f64, heights: &[f64], setting: &Setting) -> Moves {
    let orbit = hole.diameter / 2.0 - radius;
    let mut setting = *setting;
    let slow = (2.0 * orbit / hole.diameter).max(0.2);
    setting.feeds.cut *= slow;
    setting.feeds.ramp *= slow;
    let touch = bench.top + ABOVE_WOOD;
    let Some(path) = Contour::circle(hole.at, orbit).ok().and_then(|c| Path::new(&c, !bench.router.climb)) else {
        // Nothing to go round: straight down.
        let mut moves = Moves::new(hole.at, setting.clearance, setting.feeds);
        moves.air_to(touch);
        moves.plunge(hole.floor);
        moves.up();
        return moves;
    };
    let around = path.length();
    let drop = (around * setting.ramp_angle.tan()).max(tolerance::PATH_STEP).min(passes::deepest(bench.top, heights));
    let laps = (touch - hole.floor) / drop;
    if laps > MOST_LAPS && setting.centre_cutting {
        let mut moves = Moves::new(hole.at, setting.clearance, setting.feeds);
        for z in heights {
            moves.air_to((moves.here.z).min(touch));
            moves.plunge(*z);
            moves.straight(path.at(0.0));
            moves.follow(&path, &[(0.0, *z), (around, *z)]);
            moves.straight(hole.at);
        }
        moves.up();
        return moves;
    }
    let mut moves = Moves::new(path.at(0.0), setting.clearance, setting.feeds);
    moves.air_to(touch);
    let down = laps * around;
    moves.follow(&path, &[(0.0, touch), (down, hole.floor), (down + around, hole.floor)]);
    moves.straight(hole.at);
    moves.up();
    moves
}

/// A 90 degree conical seat, in steps that stay inside the cone, down to the hole's edge or as deep as the cutter enters.
pub(super) fn seat(bench: &mut Bench, i: usize, cut: &FlatCut, at: Point, diameter: f64) -> Vec<Op> {
    let part = bench.laid[i].part;
    let under = part.cuts.iter().find_map(|c| match c.operation {
        Operation::Drill { at: p, diameter: d, .. } if (p - at).hypot() < tolerance::ON_OUTLINE => Some(d.0 / 2.0),
        _ => None,
    });
    let mouth = diameter / 2.0;
    let neck = under.unwrap_or(0.0);
    let floor = bench.thickness - (mouth - neck);
    let fits = |r: f64| r <= neck.max(mouth / 2.0) && r < mouth;
    let Ok(index) = bench.pick(part, cut, floor, &fits) else {
        bench.found.push(
            Finding::caution(codes::SEAT_BY_HAND, format!("{} {} has no cutter small enough", part.id, cut.feature))
                .part(&part.id)
                .at(cut.span)
                .remedy(format!("countersink it by hand to {} mm, or add a small cutter", Mm(diameter))),
        );
        return Vec::new();
    };
    let cutter = bench.cutter(index);
    let radius = cutter.diameter.0 / 2.0;
    let steps = ((mouth - neck.max(radius)) / SEAT_STEP).floor() as u32;
    let heights: Vec<f64> = (1..=steps).map(|k| bench.thickness - SEAT_STEP * f64::from(k)).collect();
    let setting = bench.setting(cutter, &heights);
    let centre = bench.laid[i].point(at);
    let mut moves = Moves::new(centre, setting.clearance, setting.feeds);
    moves.air_to(bench.top + ABOVE_WOOD);
    for z in &heights {
        let orbit = mouth - (bench.thickness - z) - radius;
        let path = Contour::circle(centre, orbit.max(0.0)).ok().and_then(|c| Path::new(&c, !bench.router.climb));
        let Some(path) = path else { continue };
        moves.straight(path.at(0.0));
        let above = moves.here.z;
        let ramp = (above - z) / setting.ramp_angle.tan().max(tolerance::PATH_STEP);
        moves.follow(&path, &[(0.0, above), (ramp, *z), (ramp + path.length(), *z)]);
        // A core inside the ring is cleared by the rings below; the widest seat of a screw is under three cutters.
        moves.straight(centre);
    }
    moves.up();
    bench.found.push(
        Finding::note(
            codes::STEPPED_SEAT,
            format!("screw seats of {} mm are cut in steps of {SEAT_STEP} mm with {}", Mm(diameter), cutter.name),
        )
        .remedy("turn a hand countersink once in each seat"),
    );
    vec![Op { phase: Phase::Pocket, cutter: index, block: bench.block(i, cut, moves) }]
}

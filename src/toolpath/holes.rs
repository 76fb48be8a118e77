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
use crate::geom::{tolerance, Contour, Point};
use crate::shop::{Cutter, CutterKind};
use crate::units::Mm;

/// A drill this close to the hole's diameter drills it. Common practice, no source.
const DRILL_MATCH: f64 = 0.05;
/// A hole deeper than this many diameters is pecked (drilling handbooks: three diameters; from memory).
const PECK_OVER: f64 = 3.0;
/// A helix is preferred with a cutter of at most this share of the hole, so that chips come out. Common practice, no source.
const HELIX_SHARE: f64 = 0.85;
/// A helix of a centre-cutting tool may go down by this share of its diameter in each lap. Common practice, no source.
const HELIX_DROP: f64 = 0.25;
/// A tool centre never runs slower than this share of its feed, however small its orbit.
const SLOWEST: f64 = 0.2;
/// Holes of one size that the outlines' cutter makes in so many seconds are not worth another cutter: about what it takes to put
/// one in and set its zero. Common practice, no source.
const PATIENCE: f64 = 60.0;
/// In a hole of at most this many diameters a plunging tool goes down as a drill does where that is quicker; a wider one is entered
/// in a helix. Common practice, no source.
const TIGHT: f64 = 1.5;
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
            // A piece that would fall out is held like any other opening's.
            if depth.is_none() {
                return cuts::opening(bench, i, cut);
            }
            cuts::clear(bench, i, cut, index, floor, Phase::Drill)
        }
        Some(way) => {
            let (index, moves) = make(bench, hole, way);
            vec![Op {
                phase: Phase::Drill,
                cutter: index,
                block: bench.block(i, cut, Phase::Drill, moves.start, moves.list),
            }]
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
            let why = bench.pick(i, cut, floor, &|r| 2.0 * r <= diameter + DRILL_MATCH).err();
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

/// A drill of that size; else a cutter of that size that may plunge; else, for a through hole that leaves a core, the opening's
/// own cutter; else whichever cutter goes round in it quickest, the outlines' own when
/// that takes no longer than [`PATIENCE`] for all holes of this size on the sheet.
fn choose(bench: &Bench, hole: Hole) -> Option<Way> {
    let all = &bench.design.process.cutters;
    let able = |i: usize| bench.long_enough(&all[i], hole.floor) && bench.cuts_this(&all[i]);
    let matches = |i: usize| (all[i].diameter.0 - hole.diameter).abs() <= DRILL_MATCH && able(i);
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
        .filter(|i| able(*i))
        .collect();
    if let Some(i) = sideways.iter().find(|i| all[**i].centre_cutting && matches(**i)) {
        return Some(Way::Drill(*i));
    }
    let across = |i: usize| all[i].diameter.0;
    let outline = bench.design.process.outline_cutter;
    let entering: Vec<usize> = sideways.into_iter().filter(|i| across(*i) < hole.diameter).collect();
    // Wider than two diameters leaves a core.
    let cored = |i: usize| hole.diameter > 2.0 * across(i);
    if let Some(i) = entering.iter().find(|i| Some(**i) == outline && cored(**i)) {
        return Some(Way::Clear(*i));
    }
    // Chips come out of a hole that is a good deal wider than the cutter, or that a plunging cutter opens step by step.
    let loose = |i: usize| all[i].centre_cutting || across(i) < hole.diameter * HELIX_SHARE;
    let round = |i: usize| if cored(i) { f64::INFINITY } else { round_s(bench, hole, i) };
    let quickest = |list: &mut dyn Iterator<Item = usize>| list.min_by(|a, b| round(*a).total_cmp(&round(*b)));
    let alike = bench.holes_of(hole.diameter).max(1) as f64;
    let patient = entering.iter().copied().find(|i| Some(*i) == outline && loose(*i) && alike * round(*i) <= PATIENCE);
    let index = patient
        .or_else(|| quickest(&mut entering.iter().copied().filter(|i| loose(*i))))
        .or_else(|| quickest(&mut entering.iter().copied()))?;
    Some(if cored(index) { Way::Clear(index) } else { Way::Helix(index) })
}

/// Roughly the seconds a cutter needs for a hole, without its acceleration.
fn round_s(bench: &Bench, hole: Hole, index: usize) -> f64 {
    let cutter = bench.cutter(index);
    let heights = passes::heights(bench.top, hole.floor, cutter);
    let feeds = passes::feeds(
        cutter,
        bench.material,
        bench.machine,
        bench.router,
        passes::deepest(bench.top, &heights),
        &mut Vec::new(),
    );
    let depth = bench.top - hole.floor;
    let orbit = (hole.diameter - cutter.diameter.0) / 2.0;
    let (around, slow) = (std::f64::consts::TAU * orbit, slowed(hole.diameter, orbit));
    let laps = depth / drop(bench, cutter, around, &heights);
    let orbits = around / (feeds.cut * slow);
    let helix = laps * around / (feeds.ramp * slow);
    let plunged = depth / feeds.plunge + heights.len() as f64 * orbits;
    60.0 * if plunges(cutter, hole, laps, helix, plunged) { plunged } else { helix }
}

/// Whether a hole is opened step by step, straight down and once round, rather than in a helix.
fn plunges(cutter: &Cutter, hole: Hole, laps: f64, helix: f64, plunged: f64) -> bool {
    let tight = hole.diameter <= TIGHT * cutter.diameter.0;
    cutter.centre_cutting && (laps > MOST_LAPS || (tight && plunged < helix))
}

/// Share of the feed for a tool centre on an orbit: the edge moves faster by the ratio of their radii.
fn slowed(diameter: f64, orbit: f64) -> f64 {
    (2.0 * orbit / diameter).max(SLOWEST)
}

/// How far a helix goes down in each lap: at the ramp angle, or steeper with a cutter that may plunge; a pass depth at most.
fn drop(bench: &Bench, cutter: &Cutter, around: f64, heights: &[f64]) -> f64 {
    let steep = if cutter.centre_cutting { HELIX_DROP * cutter.diameter.0 } else { 0.0 };
    (around * bench.router.ramp_angle.tan()).max(steep).max(tolerance::PATH_STEP).min(passes::deepest(bench.top, heights))
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
            let peck = (depth > PECK_OVER * hole.diameter).then_some(cutter.pass_depth);
            // The feed begins just above the wood; the air above is crossed at the rapid rate.
            let retract = Mm(bench.clearance.min(bench.top + ABOVE_WOOD));
            moves.drill(Move::Drill { bottom: Mm(hole.floor), retract, peck, feed: feeds.cut });
            moves.up();
            (index, moves)
        }
        Way::Helix(index) | Way::Clear(index) => {
            let cutter = bench.cutter(index);
            let heights = passes::heights(bench.top, hole.floor, cutter);
            let setting = bench.setting(cutter, &heights);
            (index, helix(bench, hole, cutter, &heights, &setting))
        }
    }
}

/// Down in a helix, at most a pass depth each lap, then once round at the bottom. The feed is that of the tool centre, less than
/// the edge's by the ratio of their radii.
fn helix(bench: &Bench, hole: Hole, cutter: &Cutter, heights: &[f64], setting: &Setting) -> Moves {
    let orbit = (hole.diameter - cutter.diameter.0) / 2.0;
    let mut setting = *setting;
    let slow = slowed(hole.diameter, orbit);
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
    let laps = (touch - hole.floor) / drop(bench, cutter, around, heights);
    let feeds = setting.feeds;
    let plunged = (bench.top - hole.floor) / feeds.plunge + heights.len() as f64 * around / feeds.cut;
    if plunges(cutter, hole, laps, laps * around / feeds.ramp, plunged) {
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
    let Ok(index) = bench.pick(i, cut, floor, &fits) else {
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
    vec![Op { phase: Phase::Pocket, cutter: index, block: bench.block(i, cut, Phase::Pocket, moves.start, moves.list) }]
}

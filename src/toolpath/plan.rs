//! From cuts to programs: what is cut by which cutter, in which order.
//!
//! Cutters follow one another by their earliest work (registration, holes, pockets, openings); the cutter of the outlines comes
//! last and does all its work in one program, outlines at its end. So every outline comes after everything else, whatever cutter
//! did it, and each cutter is put in once per set-up (twice only when outlines need more than one cutter). Inside a program the
//! kinds of work keep their order; within a kind the way between entries is short.

use super::bench::{Bench, Op, Phase};
use super::path::turned;
use super::store::Store;
use super::{codes, cuts, holes, passes, sides, time, travel};
use super::{screws, Block, Move, Program, SetUp, SheetSide, Work};
use crate::design::Design;
use crate::diag::{Checked, Finding};
use crate::flat::{FlatParts, Operation};
use crate::geom::{tolerance, Point, Point3, Rect};
use crate::nest::Layout;
use crate::shop::{Machine, Process, Router, ZZero};
use crate::units::Mm;
use std::collections::BTreeSet;

/// Programs for every sheet, in the order they are run; none for a laser, whose files are drawings.
#[must_use]
pub fn plan(design: &Design, parts: &FlatParts, layout: &Layout) -> Checked<Vec<Program>> {
    let Process::Router(router) = &design.process.machine.process else {
        return Checked::new(Vec::new(), Vec::new());
    };
    let router: &Router = router;
    let mut found = Vec::new();
    let mut programs = Vec::new();
    let store = Store::default();
    if design.process.outline_cutter.is_none_or(|i| i >= design.process.cutters.len()) {
        found.push(
            Finding::stop(codes::NO_OUTLINE_CUTTER, "no cutter for outlines is chosen")
                .remedy("give the machine a cutter that is not a drill"),
        );
        return Checked::failed(found);
    }
    for (index, sheet) in layout.sheets.iter().enumerate() {
        for p in sheet.placements.iter().filter(|p| p.part >= parts.parts.len()) {
            found.push(
                Finding::stop(
                    codes::BAD_PLACEMENT,
                    format!("sheet {} places part {} of {}", sheet.number, p.part, parts.parts.len()),
                )
                .remedy("lay the parts out again"),
            );
        }
        if sheet.board.0 >= design.boards.len() {
            found.push(
                Finding::stop(
                    codes::BAD_PLACEMENT,
                    format!("sheet {} is of a board that is not in the design", sheet.number),
                )
                .remedy("lay the parts out again"),
            );
        }
        let first = programs.len();
        let all = sides::set_ups(sheet, &parts.parts);
        // Places on the sheet as nested that the next set-up takes over from the first.
        let (mut pins, mut held) = (Vec::new(), Vec::new());
        let mut pin_diameter = Mm::ZERO;
        for (nth, set_up) in all.iter().enumerate() {
            let Some(mut bench) = Bench::new(design, router, &parts.parts, sheet, set_up.side, &store) else { continue };
            let turn = |p: &Point| match set_up.side {
                SheetSide::First => *p,
                SheetSide::Second => Point::new(p.x, sheet.width.0 - p.y),
            };
            let mut ops = Vec::new();
            if set_up.register {
                let board = design.boards[sheet.board.0].name.as_str();
                let (holes, diameter) = sides::registration(&mut bench, board, sheet.number);
                pins = holes.iter().map(|op| turn(&op.block.start)).collect();
                pin_diameter = diameter;
                ops.extend(holes);
            }
            if nth == 0 {
                let pins: Vec<Point> = pins.iter().map(turn).collect();
                let holes = screws::holes(&mut bench, sheet.number, &pins, pin_diameter.0);
                held = holes.iter().map(|op| turn(&op.block.start)).collect();
                ops.extend(holes);
            }
            bench.screws = held.iter().map(turn).collect();
            ops.extend(all_ops(&mut bench, *set_up));
            let said = SetUp {
                number: nth as u32 + 1,
                of: all.len() as u32,
                pins: pins.iter().map(turn).collect(),
                pin_diameter,
                screws: bench.screws.clone(),
            };
            let outermost: Vec<usize> = bench.laid.iter().map(|l| l.outermost).collect();
            let groups = into_programs(ops, &outermost);
            let used = groups.iter().flat_map(|(_, blocks)| blocks).filter_map(used_rect).reduce(|a, b| a.union(b));
            for (k, (cutter, blocks)) in groups.into_iter().enumerate() {
                let cutter = bench.cutter(cutter).clone();
                let trace = used.filter(|_| router.habits.air_trace && k == 0);
                let mut times = time::by_work(&blocks, bench.clearance, bench.machine);
                times.extend(trace.map(|r| (Work::AirTrace, time::round_s(r, trace_feed(bench.machine), bench.machine))));
                times.push((Work::RunUp, router.spindle_wait_s));
                programs.push(Program {
                    board: sheet.board,
                    sheet: index,
                    side: set_up.side,
                    order: (programs.len() - first) as u32 + 1,
                    rpm: passes::spindle_rpm(&cutter, router),
                    cutter,
                    thickness: Mm(bench.thickness),
                    clearance: Mm(bench.clearance),
                    run_s: times.iter().map(|(_, s)| s).sum(),
                    times,
                    set_up: said.clone(),
                    trace,
                    blocks,
                });
            }
            found.append(&mut bench.found);
        }
    }
    if router.dialect.tool_change_in_file {
        number_on(&mut programs);
    }
    reach(design, layout, &programs, &mut found);
    notes(parts, layout, router, &mut found);
    let mut seen = BTreeSet::new();
    found.retain(|f| seen.insert((f.code.id, f.message.clone(), f.parts.clone())));
    Checked::new(programs, found)
}

/// Restart points are numbered on through a file with several cutters.
fn number_on(programs: &mut [Program]) {
    for k in 1..programs.len() {
        let (before, next) = programs.split_at_mut(k);
        let (before, next) = (&before[k - 1], &mut next[0]);
        if before.may_be_followed_by(next) {
            let last = before.blocks.iter().filter_map(|b| b.restart).max().unwrap_or(0);
            next.blocks.iter_mut().filter_map(|b| b.restart.as_mut()).for_each(|number| *number += last);
        }
    }
}

/// Feed of the run round the used rectangle in the air: half of what the machine cuts at, slow enough to watch. Common practice,
/// no source.
#[must_use]
pub fn trace_feed(machine: &Machine) -> f64 {
    machine.feed_max_mm_min / 2.0
}

/// At how many places an arc is looked at for the used rectangle: within a hundredth of its radius at a half turn.
const ARC_LOOKS: u32 = 12;

/// The rectangle the tool centre stays in while it does a block.
fn used_rect(block: &Block) -> Option<Rect> {
    let mut r = Rect::from_points(block.start, block.start);
    let mut here = block.start;
    for m in &block.moves {
        match *m {
            Move::Rapid { to } | Move::Line { to, .. } => here = Point::new(to.x, to.y),
            Move::Arc { to, centre, ccw, .. } => {
                let end = Point::new(to.x, to.y);
                let (a, b) = (here - centre, end - centre);
                let side = if ccw { 1.0 } else { -1.0 };
                let sweep = side * (side * a.cross(b)).atan2(a.dot(b)).rem_euclid(std::f64::consts::TAU);
                for k in 1..ARC_LOOKS {
                    r = r.union_pt(centre + turned(a, sweep * f64::from(k) / f64::from(ARC_LOOKS)));
                }
                here = end;
            }
            Move::Drill { .. } => {}
        }
        r = r.union_pt(here);
    }
    block.placement.map(|_| r)
}

/// Every cut of one set-up.
fn all_ops(bench: &mut Bench, set_up: sides::SetUp) -> Vec<Op> {
    let mut ops = Vec::new();
    for i in 0..bench.laid.len() {
        let part = bench.laid[i].part;
        for cut in part.cuts.iter().filter(|c| sides::belongs(&c.operation, c.side, set_up)) {
            ops.extend(match cut.operation {
                Operation::ThroughInside => cuts::opening(bench, i, cut),
                Operation::Pocket { depth } => cuts::pocket(bench, i, cut, depth.0),
                Operation::Drill { at, diameter, depth } => holes::hole(bench, i, cut, at, diameter.0, depth.map(|d| d.0)),
                Operation::Countersink { at, diameter } => holes::seat(bench, i, cut, at, diameter.0),
                // The outline is kept apart from the other cuts; marks and folds are counted in `notes`.
                Operation::ThroughOutside | Operation::Mark | Operation::Fold { .. } => Vec::new(),
            });
        }
        if set_up.last {
            ops.extend(cuts::outline(bench, i));
        }
    }
    ops
}

/// Groups cuts by cutter and puts them in order; for each part the outermost around it.
///
/// A cutter of outlines is put in again where parts in openings need another one in between: nothing is cut in wood that is free.
fn into_programs(ops: Vec<Op>, outermost: &[usize]) -> Vec<(usize, Vec<Block>)> {
    let outlines = |op: &Op| matches!(op.phase, Phase::Outline(_));
    // Outermost part, and how far out round it: outlines of parts at one depth, then openings round them, and so on.
    let step = |op: &Op| match (op.phase, op.block.placement) {
        (Phase::Outline(rank), Some(i)) => Some((outermost.get(i).copied().unwrap_or(i), rank / 2)),
        _ => None,
    };
    // The cutter with the inmost outlines goes first among outline cutters.
    let inmost = |ops: &[Op]| ops.iter().filter(|op| outlines(op)).map(|op| (op.phase, op.cutter)).min();
    let first_finishing = inmost(&ops).map(|f| f.1);

    let mut early: Vec<(Phase, usize)> = Vec::new();
    for op in ops.iter().filter(|op| !outlines(op) && Some(op.cutter) != first_finishing) {
        match early.iter_mut().find(|(_, c)| *c == op.cutter) {
            Some(entry) => entry.0 = entry.0.min(op.phase),
            None => early.push((op.phase, op.cutter)),
        }
    }
    early.sort_unstable();
    // Holes for hold-down screws are a program of their own, so that the screws are in before anything else is cut; registration
    // holes are drilled before anything else too, even by the cutter of the outlines.
    let holds = ops.iter().find(|op| op.phase == Phase::HoldDown).map(|op| op.cutter);
    let registers = ops.iter().find(|op| op.phase == Phase::Register).map(|op| op.cutter);
    let mut groups: Vec<(usize, Vec<Op>)> = Vec::new();
    let mut rest = ops;
    let mut take = |rest: &mut Vec<Op>, cutter: usize, which: &dyn Fn(&Op) -> bool| {
        let (taken, left): (Vec<Op>, Vec<Op>) =
            std::mem::take(rest).into_iter().partition(|op| op.cutter == cutter && which(op));
        *rest = left;
        if !taken.is_empty() {
            groups.push((cutter, taken));
        }
    };
    if let Some(cutter) = holds {
        take(&mut rest, cutter, &|op| matches!(op.phase, Phase::HoldDown));
    }
    if let Some(cutter) = registers.filter(|c| Some(*c) == first_finishing && !early.is_empty()) {
        take(&mut rest, cutter, &|op| op.phase == Phase::Register);
    }
    for (_, cutter) in early {
        take(&mut rest, cutter, &|op| !outlines(op));
    }
    while let Some((_, cutter)) = inmost(&rest) {
        // What another cutter has to do first round the same outermost part.
        let others: Vec<(usize, u32)> = rest.iter().filter(|op| op.cutter != cutter).filter_map(step).collect();
        let free = |op: &Op| step(op).is_none_or(|(nest, own)| others.iter().all(|o| o.0 != nest || o.1 >= own));
        take(&mut rest, cutter, &free);
    }
    groups.into_iter().map(|(cutter, ops)| (cutter, in_order(ops))).collect()
}

/// Blocks of one program: kinds of work in order, a short way within each.
fn in_order(ops: Vec<Op>) -> Vec<Block> {
    let mut by_phase: std::collections::BTreeMap<Phase, Vec<Block>> = std::collections::BTreeMap::new();
    for op in ops {
        by_phase.entry(op.phase).or_default().push(op.block);
    }
    let mut here = Point::ORIGIN;
    let mut list = Vec::new();
    for blocks in by_phase.into_values() {
        let starts: Vec<Point> = blocks.iter().map(|b| b.start).collect();
        let mut blocks: Vec<Option<Block>> = blocks.into_iter().map(Some).collect();
        let next: Vec<Block> = travel::order(here, &starts).into_iter().filter_map(|k| blocks[k].take()).collect();
        if let Some(last) = next.last() {
            here = end_of(last);
        }
        list.extend(next);
    }
    let mut number = 0;
    for k in 0..list.len() {
        let goes_on = k > 0 && list[k - 1].placement == list[k].placement && list[k - 1].work == list[k].work;
        if !goes_on {
            number += 1;
            list[k].restart = Some(number);
        }
    }
    list
}

fn end_of(block: &Block) -> Point {
    let ends = |m: &Move| match m {
        Move::Rapid { to } | Move::Line { to, .. } | Move::Arc { to, .. } => Some(Point::new(to.x, to.y)),
        Move::Drill { .. } => None,
    };
    block.moves.iter().rev().find_map(ends).unwrap_or(block.start)
}

/// Whether the machine reaches everything, and stays on the sheet.
fn reach(design: &Design, layout: &Layout, programs: &[Program], found: &mut Vec<Finding>) {
    let travel = design.process.machine.travel;
    for p in programs {
        let mut low = Point3::new(f64::INFINITY, f64::INFINITY, f64::INFINITY);
        let mut high = Point3::new(f64::NEG_INFINITY, f64::NEG_INFINITY, p.clearance.0);
        let mut see = |x: f64, y: f64, z: f64| {
            low = Point3::new(low.x.min(x), low.y.min(y), low.z.min(z));
            high = Point3::new(high.x.max(x), high.y.max(y), high.z.max(z));
        };
        for block in &p.blocks {
            see(block.start.x, block.start.y, p.clearance.0);
            for m in &block.moves {
                match m {
                    Move::Rapid { to } | Move::Line { to, .. } | Move::Arc { to, .. } => see(to.x, to.y, to.z),
                    Move::Drill { bottom, .. } => see(block.start.x, block.start.y, bottom.0),
                }
            }
        }
        let (number, sheet) =
            layout.sheets.get(p.sheet).map_or((0, [f64::INFINITY; 2]), |s| (s.number, [s.length.0, s.width.0]));
        let beyond = (-low.x).max(-low.y).max(high.x - sheet[0]).max(high.y - sheet[1]);
        let board = design.boards.get(p.board.0).map_or("", |b| b.name.as_str());
        if beyond > tolerance::EDGE_REACHED {
            found.push(
                Finding::caution(
                    codes::BEYOND_SHEET,
                    format!("the cutter's centre runs {beyond:.1} mm outside sheet {number} of {board}"),
                )
                .limit("the sheet's edge")
                .remedy("use a wider margin along the sheet's edges"),
            );
        }
        let size = high.plus(low, -1.0).to_array();
        let far = high.to_array();
        for axis in 0..3 {
            let over = if axis == 2 { size[2] } else { size[axis].max(far[axis]) };
            if over > travel[axis].0 {
                let name = ["x", "y", "z"][axis];
                found.push(
                    Finding::stop(codes::OUT_OF_REACH, format!("sheet {number} of {board} needs {over:.0} mm in {name}"))
                        .limit(format!("{} mm, the machine's profile ({})", travel[axis], design.process.machine.name))
                        .remedy("use smaller sheets, or correct the machine's travel"),
                );
            }
        }
    }
}

/// What the shop should know though nothing is wrong.
fn notes(parts: &FlatParts, layout: &Layout, router: &Router, found: &mut Vec<Finding>) {
    let placed: BTreeSet<usize> = layout.sheets.iter().flat_map(|s| &s.placements).map(|p| p.part).collect();
    let used = || placed.iter().filter_map(|i| parts.parts.get(*i));
    let marks =
        used().flat_map(|p| &p.cuts).filter(|c| matches!(c.operation, Operation::Mark | Operation::Fold { .. })).count();
    if marks > 0 {
        found.push(
            Finding::note(codes::MARK_NOT_CUT, format!("{marks} marks are on the drawings only"))
                .remedy("transfer them by hand from the part's drawing"),
        );
    }
    if router.z_zero == ZZero::Spoilboard {
        let deepened = used().filter(|p| p.cuts.iter().any(|c| sides::is_blind(&c.operation)));
        let spread = deepened.map(|p| p.thickness_max.0 - p.thickness.0).fold(0.0, f64::max);
        if spread > tolerance::EDGE_REACHED {
            found.push(
                Finding::note(
                    codes::DEPTH_SPREAD,
                    format!("pockets may come out up to {spread:.2} mm deeper where the sheet is thickest"),
                )
                .limit("thickest against working thickness; z is zero on the spoilboard")
                .remedy("measure the sheet in more places"),
            );
        }
    }
}

//! Which set-ups a sheet needs, and what is cut in each.
//!
//! A sheet with blind work (pockets, blind holes, screw seats) from one face only is cut in one set-up, that face up. With blind
//! work from both, the face that needs less comes first, without anything that goes through except two registration holes; then
//! the sheet is turned over about its long axis and the other face is cut, with all openings, through holes and outlines. So
//! nothing is loose before the last set-up, and the sheet is turned once.

use super::bench::{Bench, Op, Phase};
use super::codes;
use super::holes::{self, Hole};
use super::{Block, SheetSide};
use crate::diag::Finding;
use crate::flat::{FlatPart, Operation, Side};
use crate::geom::Point;
use crate::nest::Sheet;
use crate::shop::CutterKind;
use crate::units::Mm;

/// Registration pins are about this thick (practice of cutting services).
const PIN: f64 = 8.0;
/// Drills taken for registration holes instead.
const PIN_RANGE: (f64, f64) = (5.0, 10.0);
/// Wood left round a registration hole, beyond the outline cutter's path.
const PIN_WEB: f64 = 3.0;
/// How fine places are tried along the turning axis.
const TRY_EVERY: f64 = 1.0;
/// The holes' distances from the sheet's two ends differ by at least this, so that a sheet turned end for end does not fit.
const UNEQUAL: f64 = 15.0;

/// One set-up: the side up, whether through cuts are made, whether registration holes are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct SetUp {
    pub(super) side: SheetSide,
    pub(super) last: bool,
    pub(super) register: bool,
}

/// Whether a cut stops inside the board.
pub(super) fn is_blind(operation: &Operation) -> bool {
    match operation {
        Operation::Pocket { .. } | Operation::Countersink { .. } | Operation::Drill { depth: Some(_), .. } => true,
        Operation::ThroughOutside
        | Operation::ThroughInside
        | Operation::Drill { depth: None, .. }
        | Operation::Mark
        | Operation::Fold { .. } => false,
    }
}

/// The set-ups of a sheet, in order.
pub(super) fn set_ups(sheet: &Sheet, parts: &[FlatPart]) -> Vec<SetUp> {
    let cuts =
        sheet.placements.iter().filter_map(|p| parts.get(p.part)).flat_map(|p| &p.cuts).filter(|c| is_blind(&c.operation));
    let (up, down): (Vec<_>, Vec<_>) = cuts.partition(|c| c.side == Side::Up);
    let only = |side| vec![SetUp { side, last: true, register: false }];
    match (up.len(), down.len()) {
        (_, 0) => only(SheetSide::First),
        (0, _) => only(SheetSide::Second),
        (u, d) => {
            let (first, last) =
                if d < u { (SheetSide::Second, SheetSide::First) } else { (SheetSide::First, SheetSide::Second) };
            vec![SetUp { side: first, last: false, register: true }, SetUp { side: last, last: true, register: false }]
        }
    }
}

/// Two through holes clear of all parts: on the turning axis, half the sheet's width up, one towards each end; or, where parts
/// lie there, one over the other at the same distance from both long edges, so that they change places when turned over.
pub(super) fn registration(bench: &mut Bench, board: &str, number: u32) -> (Vec<Op>, Mm) {
    let cutters = &bench.design.process.cutters;
    let drill = cutters
        .iter()
        .filter(|c| c.kind == CutterKind::Drill && (PIN_RANGE.0..=PIN_RANGE.1).contains(&c.diameter.0))
        .min_by(|a, b| (a.diameter.0 - PIN).abs().total_cmp(&(b.diameter.0 - PIN).abs()));
    let diameter = drill.map_or(PIN, |c| c.diameter.0);
    let cutter = bench.design.process.outline_cutter.map_or(0.0, |i| bench.cutter(i).diameter.0);
    let clear = diameter / 2.0 + cutter + PIN_WEB;
    let axis = bench.sheet.height() / 2.0;
    let length = bench.sheet.width();
    let inside = diameter / 2.0 + PIN_WEB;
    let free = |p: Point| {
        bench.laid.iter().all(|l| {
            !l.outline.bounds().inflate(clear, clear).contains(p)
                || (l.outline.distance_to(p) >= clear && !l.outline.contains(p))
        })
    };
    let tries = |from: f64, to: f64| ((to - from) / TRY_EVERY).max(0.0) as u32;
    let along = || (0..=tries(inside, length - inside)).map(|i| inside + f64::from(i) * TRY_EVERY);
    let uneven = |a: f64, b: f64| (a - (length - b)).abs() >= UNEQUAL;
    let places: Vec<f64> = along().filter(|x| free(Point::new(*x, axis))).collect();
    let on_axis = places.first().and_then(|left| {
        let right = places.iter().rev().find(|right| uneven(*left, **right) && **right - *left > length / 2.0);
        right.map(|right| [Point::new(*left, axis), Point::new(*right, axis)])
    });
    // Else one hole over the other, the same way from both long edges: turned over, they change places.
    let outermost = (0..=tries(inside, axis / 2.0)).map(|i| inside + f64::from(i) * TRY_EVERY);
    let across = |y: f64| {
        let pair = |x: f64| [Point::new(x, y), Point::new(x, 2.0 * axis - y)];
        along().filter(|x| uneven(*x, *x)).map(pair).find(|p| free(p[0]) && free(p[1]))
    };
    let pair = on_axis.or_else(|| outermost.into_iter().find_map(across));
    let mut ops = Vec::new();
    for (k, at) in pair.iter().flatten().enumerate() {
        let hole = Hole { at: *at, diameter, floor: bench.through };
        if let Some((cutter, moves)) = holes::plain(bench, hole) {
            let block = Block {
                placement: None,
                feature: format!("registration hole {}", k + 1),
                label: format!("registration hole {} of 2, {:.1} mm", k + 1, diameter),
                work: Phase::Register.work(),
                restart: None,
                tabs: None,
                start: moves.start,
                moves: moves.list,
            };
            ops.push(Op { phase: Phase::Register, cutter, block });
        }
    }
    if ops.len() < 2 {
        bench.found.push(
            Finding::stop(
                codes::NO_REGISTRATION,
                format!("sheet {number} of {board} is cut from both faces and has no two places for {diameter:.1} mm holes that meet again when it is turned over"),
            )
            .limit(format!("{clear:.1} mm from every part, ends unequal by {UNEQUAL} mm"))
            .remedy("leave some waste at both ends of the sheet's middle line, or along one end, or make the cuts from one face"),
        );
        return (Vec::new(), Mm(diameter));
    }
    let at: Vec<String> = ops.iter().map(|op| format!("x {:.1} y {:.1}", op.block.start.x, op.block.start.y)).collect();
    bench.found.push(
        Finding::note(
            codes::TURNED_OVER,
            format!(
                "sheet {number} of {board} is turned over about its long axis; pins of {diameter:.1} mm at {}",
                at.join(" and ")
            ),
        )
        .remedy("drill the spoilboard through both registration holes, turn the sheet front to back, and set it on pins"),
    );
    (ops, Mm(diameter))
}

/// Whether a cut belongs to a set-up.
pub(super) fn belongs(operation: &Operation, side: Side, set_up: SetUp) -> bool {
    if is_blind(operation) {
        (side == Side::Up) == (set_up.side == SheetSide::First)
    } else {
        set_up.last
    }
}

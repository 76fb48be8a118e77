//! The cut: every move swept with its cutter, sheet by sheet, in order, and held against the finished parts.

mod air;
mod area;
mod band;
mod beam;
mod beam_edge;
mod depth;
mod edges;
mod gouge;
mod inside;
mod laid;
mod left;
mod order;
mod outline;
mod probe;
mod reach;
mod screws;
mod seat;
mod strokes;
mod tabs;
mod target;
mod turned;

use super::codes;
use super::job::{Operation, Placement, Sheet};
use super::limits;
use super::pack::{sheet_name, sheet_of, Pack};
use super::shape::{Bounds, Pt};
use super::verdict::Rule;
use crate::diag::Finding;
use crate::share::in_order;
use band::Band;
pub(super) use inside::said;
use laid::{Laid, Spot};
use left::{Left, Needs};
use outline::Outline;
use reach::Shapes;
use seat::Seats;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;
use strokes::{Run, Stroke};
use target::Target;

/// The rules of the cut.
struct Rules {
    covered: Rule,
    air: air::Air,
    screws: Rule,
    turned: Rule,
    depth: depth::Depth,
    gouge: Rule,
    left: Left,
    outline: Outline,
    order: Rule,
    seat: Rule,
}

/// A part with what is the same for all its copies.
struct Prepared<'a> {
    target: Target<'a>,
    needs: Needs,
    bands: Vec<Band>,
    seats: Seats,
}

impl Rules {
    fn new() -> Self {
        Self {
            covered: Rule::counting(codes::NOT_SIMULATED, "sheets simulated"),
            air: air::Air::new(),
            screws: screws::rule(),
            turned: turned::rule(),
            depth: depth::Depth::new(),
            gouge: gouge::rule(),
            left: Left::new(),
            outline: Outline::new(),
            order: order::rule(),
            seat: seat::rule(),
        }
    }

    fn into_list(self) -> Vec<Rule> {
        let mut all = vec![self.covered];
        all.extend(self.air.into_rules());
        let Outline { cut, hold } = self.outline;
        all.extend([
            self.screws,
            self.turned,
            self.depth.pass,
            self.depth.plunge,
            self.gouge,
            self.left.opening,
            self.left.floor,
            cut,
            hold,
            self.order,
            self.seat,
        ]);
        all
    }
}

/// Simulates every sheet.
pub(super) fn check(pack: &Pack<'_>) -> Vec<Rule> {
    if pack.job.machine.process == "laser" {
        return beam::check(pack);
    }
    let mut rules = Rules::new();
    coverage(&mut rules.covered, pack);
    let mut all = rules.into_list();
    let sheets: Vec<&Sheet> = pack.job.sheets.iter().collect();
    let each = in_order(&sheets, Parts::default, |parts, sheet| {
        let mut rules = Rules::new();
        cut_sheet(&mut rules, pack, sheet, parts);
        rules.into_list()
    });
    for rules in each {
        all.iter_mut().zip(rules).for_each(|(all, more)| all.join(more));
    }
    all
}

/// Parts made ready by one thread.
#[derive(Default)]
struct Parts<'a> {
    parts: BTreeMap<&'a str, Prepared<'a>>,
    shapes: Rc<RefCell<Shapes>>,
}

/// Every sheet has readable programs, every program a sheet; and what the simulation leaves out is said.
fn coverage(rule: &mut Rule, pack: &Pack<'_>) {
    let job = &pack.job;
    let count = |operation| job.parts.iter().flat_map(|p| &p.contours).filter(|c| c.operation == operation).count();
    let (cones, marks) = (count(Operation::Countersink), count(Operation::Mark));
    if cones > 0 {
        rule.remark(|code| {
            Finding::note(code, format!("{cones} conical seats are held not to go past their cone, not to fill it"))
        });
    }
    if marks > 0 {
        rule.remark(|code| {
            Finding::note(code, format!("{marks} marks are compared in the drawings; no program may cut them"))
        });
    }
    for program in &job.programs {
        if sheet_of(job, program).is_none() {
            rule.fault(|code| {
                Finding::stop(
                    code,
                    format!(
                        "Program {} is for sheet {} of {}, which the job does not have",
                        program.file, program.sheet, program.board
                    ),
                )
            });
        }
    }
    for sheet in &job.sheets {
        let mine: Vec<_> = job.programs.iter().filter(|p| p.board == sheet.board && p.sheet == sheet.number).collect();
        let read = mine.iter().filter(|p| pack.programs.contains_key(&(p.file.as_str(), p.section))).count();
        if !sheet.placements.is_empty() && (mine.is_empty() || read < mine.len()) {
            rule.fault(|code| {
                Finding::stop(
                    code,
                    format!(
                        "{}: {read} of its {} programs could be read, so its cut is not simulated",
                        sheet_name(sheet),
                        mine.len()
                    ),
                )
            });
        }
        let mut orders: Vec<u32> = mine.iter().map(|p| p.order).collect();
        orders.sort_unstable();
        if orders.windows(2).any(|w| w[0] == w[1]) {
            rule.fault(|code| {
                Finding::stop(code, format!("{}: two of its programs have the same place in the order", sheet_name(sheet)))
            });
        }
    }
}

fn cut_sheet<'a>(rules: &mut Rules, pack: &'a Pack<'_>, sheet: &'a Sheet, ready: &mut Parts<'a>) {
    let runs = strokes::runs(pack, sheet);
    for run in &runs {
        rules.air.check(run, sheet);
    }
    screws::check(&mut rules.screws, &runs, sheet);
    let programs = pack.job.programs.iter().filter(|p| p.board == sheet.board && p.sheet == sheet.number).count();
    if runs.is_empty() || runs.len() < programs {
        return;
    }
    let name = sheet_name(sheet);
    let all = strokes::strokes(&runs, sheet).filter(|all| all.len().saturating_mul(sheet.placements.len()) <= limits::LOOKS);
    let Some(all) = all.filter(|all| rules.depth.check(all, &runs, sheet)) else {
        rules.covered.fault(|code| Finding::stop(code, format!("{name} has more moves and parts than are simulated")));
        return;
    };
    rules.covered.count(1);
    inside::check(&mut rules.order, &mut rules.outline.hold, pack, sheet, &runs, &all);
    turned::check(&mut rules.turned, &all, &runs, sheet);
    for placement in &sheet.placements {
        let Some(part) = pack.part(&placement.part) else { continue };
        let shapes = &ready.shapes;
        let prepared = ready.parts.entry(&part.id).or_insert_with(|| Prepared {
            target: Target::of(part, Rc::clone(shapes)),
            needs: Needs::new(),
            bands: Vec::new(),
            seats: Seats::new(),
        });
        let spot = Spot { sheet: &name, part: &part.id, copy: placement.copy };
        let strokes = nearby(&all, prepared.target.bounds, placement);
        if is_too_much(&prepared.target, &strokes) {
            rules.covered.fault(|code| {
                Finding::stop(
                    code,
                    format!("{}: its programs go over the same wood more often than is simulated", spot.words()),
                )
                .part(spot.part)
            });
            continue;
        }
        cut_part(rules, prepared, &strokes, &runs, spot, placement, local_sheet(sheet, placement));
    }
}

fn cut_part(
    rules: &mut Rules,
    prepared: &mut Prepared<'_>,
    strokes: &[Stroke],
    runs: &[Run<'_>],
    spot: Spot<'_>,
    placement: &Placement,
    sheet: Bounds,
) {
    let Prepared { target, needs, bands, seats } = prepared;
    let opened = left::open(target, strokes, runs);
    let laid = Laid { target, strokes, runs, opened: &opened, sheet, spot, placement };
    gouge::check(&mut rules.gouge, &laid);
    let held = rules.outline.check(&laid, bands);
    rules.left.check(&laid, needs, held.skin, &mut rules.outline.hold);
    order::check(&mut rules.order, &laid);
    seat::check(&mut rules.seat, &laid, &held.bridges, needs, seats);
}

/// Whether simulating the strokes near a copy would take unreasonable time: no real program goes over its wood so often.
fn is_too_much(target: &Target<'_>, strokes: &[Stroke]) -> bool {
    let swept: f64 = strokes.iter().map(|s| 2.0 * s.radius * (s.a.distance(s.b) + s.radius)).sum();
    let size = target.bounds.grown(strokes.iter().map(|s| 3.0 * s.radius).fold(0.0, f64::max));
    let area = (size.max.x - size.min.x) * (size.max.y - size.min.y);
    swept > limits::PASSES * area || strokes.len().saturating_mul(target.cuts.len()) > limits::LOOKS_NEAR
}

/// The strokes that come near a copy, in its part's frame.
fn nearby(all: &[Stroke], part: Bounds, placement: &Placement) -> Vec<Stroke> {
    let mut there = Bounds::empty();
    for corner in [part.min, part.max, Pt::new(part.min.x, part.max.y), Pt::new(part.max.x, part.min.y)] {
        there.add(placement.place(corner));
    }
    let mut end = None;
    let mut strokes = Vec::new();
    for (index, stroke) in all.iter().enumerate() {
        if stroke.bounds().meets(there.grown(3.0 * stroke.radius)) {
            let (a, b) = (placement.lift(stroke.a), placement.lift(stroke.b));
            strokes.push(Stroke { a, b, follows: stroke.follows && end == Some(index), ..*stroke });
            end = Some(index + 1);
        }
    }
    strokes
}

/// The sheet as the part's frame sees it.
fn local_sheet(sheet: &Sheet, placement: &Placement) -> Bounds {
    let mut bounds = Bounds::empty();
    bounds.add(placement.lift(Pt::new(0.0, 0.0)));
    bounds.add(placement.lift(Pt::new(sheet.length_mm, sheet.width_mm)));
    bounds
}

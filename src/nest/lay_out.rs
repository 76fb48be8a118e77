//! The stage's entry: boards one by one, findings for what cannot be done.

use super::check;
use super::codes;
use super::engine::{CutRule, Packing};
use super::job::{Job, Manner};
use super::mates;
use super::offcut;
use super::options::Options;
use super::types::{BoardBound, Layout, Sheet};
use crate::design::Design;
use crate::diag::Checked;
use crate::diag::Finding;
use crate::flat::FlatParts;
use crate::shop::{HoldDown, Process};
use crate::units::Mm;

/// Room for a lead-in beside the cutter between two parts: cutter diameter + 4 mm (common practice, no source).
const LEAD_ALLOWANCE: Mm = Mm(4.0);

/// The gap kept between parts: the maker's own, or the outline cutter and its lead-in if that is more.
#[must_use]
pub fn gap(design: &Design) -> Mm {
    let process = &design.process;
    let cutter = process.outline_cutter.and_then(|i| process.cutters.get(i));
    cutter.map_or(process.part_gap, |c| process.part_gap.max(c.diameter + LEAD_ALLOWANCE))
}

/// Of a router that holds parts by tabs: least width of the ring of waste round a part in an opening, which the part's tabs and
/// the opening's hang on. A strip of less breaks its tabs (common practice, no source).
const RING: Mm = Mm(10.0);

/// What parts keep from the edge of an opening they lie in: the gap. Where tabs hold them it is more: both edges are cut round a
/// ring of waste, and the ring must stay strong enough to hang on its tabs with the part in it.
#[must_use]
pub fn opening_gap(design: &Design) -> Mm {
    let process = &design.process;
    let cutter = process.outline_cutter.and_then(|i| process.cutters.get(i));
    match (&process.machine.process, cutter) {
        (Process::Router(router), Some(cutter)) if matches!(router.hold_down, HoldDown::Tabs { .. }) => {
            gap(design).max(cutter.diameter * 2.0 + RING)
        }
        _ => gap(design),
    }
}

/// Parts go into openings of others for the sake of an offcut when the largest becomes larger by this, in mm²: the smallest
/// rectangle worth keeping.
const WORTH: f64 = offcut::LEAST_SIDE.0 * offcut::LEAST_SIDE.0;

/// Lays every copy of every part on the sheets of its board.
///
/// Parts lie in openings of others only where that is allowed, and saves sheets or leaves a larger offcut.
/// No layout is given when a part fits no sheet or the stock does not hold all parts: a pack must never miss a part.
#[must_use]
pub fn lay_out(design: &Design, parts: &FlatParts, options: &Options<'_>) -> Checked<Layout> {
    let process = &design.process;
    let plain = Manner { gap: gap(design), margin: process.sheet_margin, cut: CutRule::Free, openings: None };
    let in_openings = Manner { openings: Some(opening_gap(design)), ..plain };
    let manners = [plain, in_openings];
    let manners = if process.parts_in_openings { &manners[..] } else { &manners[..1] };
    let mut layout = Layout::default();
    let mut findings = boards_laid(design, parts, options, manners, |ways, boards| {
        let Some(cost) = ways.iter().map(|way| way.packing.cost).min() else { return };
        let mut best: Option<(f64, Vec<Sheet>, BoardBound)> = None;
        for way in ways.iter().filter(|way| way.packing.cost == cost) {
            // Among layouts on the same sheets, the first with the largest offcut in one piece.
            let variants = way.job.variants(&way.packing, parts, options, boards);
            let area = |sheets: &Vec<Sheet>| sheets.iter().filter_map(|s| s.offcut).map(|o| o.area()).fold(0.0, f64::max);
            let sheets = variants.into_iter().rev().max_by(|a, b| area(a).total_cmp(&area(b))).unwrap_or_default();
            if best.as_ref().is_none_or(|(offcut, ..)| area(&sheets) >= offcut + WORTH) {
                best = Some((area(&sheets), sheets, way.job.bound(&way.packing)));
            }
        }
        let Some((_, sheets, mut bound)) = best else { return };
        // What is proved holds for every way that parts may lie.
        for way in ways {
            bound.sheets_at_least = bound.sheets_at_least.min(way.job.bound(&way.packing).sheets_at_least);
            bound.proved_best &= cost <= way.packing.bound;
        }
        layout.sheets.extend(sheets);
        layout.bounds.push(bound);
    });
    if !findings.is_empty() {
        return Checked::failed(findings);
    }
    for fault in check::layout(design, parts, &layout) {
        findings.push(Finding::stop(codes::LAYOUT_FAULT, fault).remedy("report this design to the program's authors"));
    }
    if findings.is_empty() {
        Checked::new(layout, findings)
    } else {
        Checked::failed(findings)
    }
}

/// A board packed completely in one of the manners asked for.
pub(super) struct Way<'w, 'a> {
    pub(super) job: &'w Job<'a>,
    pub(super) packing: Packing,
}

/// Lays board after board, in each manner, and hands the complete packings on, with the board's index and the number of boards;
/// gives what stands in the way.
pub(super) fn boards_laid(
    design: &Design,
    parts: &FlatParts,
    options: &Options<'_>,
    manners: &[Manner],
    mut each: impl FnMut(&[Way<'_, '_>], (usize, usize)),
) -> Vec<Finding> {
    let mut findings = Vec::new();
    for p in parts.parts.iter().filter(|p| p.board.0 >= design.boards.len()) {
        let message = format!("{} names a board that is not declared", p.name);
        findings.push(Finding::stop(codes::NO_STOCK, message).part(&p.id).at(p.span));
    }
    findings.extend(mates::refuse(design, parts));
    if !findings.is_empty() {
        return findings;
    }
    let manners: Vec<Vec<Job<'_>>> = manners.iter().map(|manner| Job::all(design, parts, *manner)).collect();
    let boards = manners.first().map_or(0, Vec::len);
    for index in 0..boards {
        let mut jobs: Vec<&Job<'_>> = Vec::new();
        for job in manners.iter().map(|jobs| &jobs[index]) {
            if jobs.iter().all(|other| !job.asks_the_same(other)) {
                jobs.push(job);
            }
        }
        let before = findings.len();
        jobs[0].refuse_oversize(parts, &mut findings);
        if findings.len() > before {
            continue;
        }
        let pack = |job| Way { job, packing: job.pack(index, boards, jobs.len(), options) };
        let (whole, short): (Vec<Way<'_, '_>>, Vec<_>) =
            jobs.iter().map(|job| pack(job)).partition(|way| way.packing.unplaced.is_empty());
        match short.last().filter(|_| whole.is_empty()) {
            Some(way) => findings.push(way.job.short(&way.packing, parts)),
            None => each(&whole, (index, boards)),
        }
    }
    findings
}

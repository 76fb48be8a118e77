//! The stage's entry: boards one by one, findings for what cannot be done.

use super::check;
use super::codes;
use super::engine::{CutRule, Packing};
use super::job::{Job, Manner};
use super::mates;
use super::options::Options;
use super::types::{Layout, Sheet};
use crate::design::Design;
use crate::diag::Checked;
use crate::diag::Finding;
use crate::flat::FlatParts;
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

/// Lays every copy of every part on the sheets of its board.
///
/// No layout is given when a part fits no sheet or the stock does not hold all parts: a pack must never miss a part.
#[must_use]
pub fn lay_out(design: &Design, parts: &FlatParts, options: &Options<'_>) -> Checked<Layout> {
    let process = &design.process;
    let manner =
        Manner { gap: gap(design), margin: process.sheet_margin, cut: CutRule::Free, openings: options.use_openings };
    let mut layout = Layout::default();
    let mut findings = boards_laid(design, parts, options, manner, |job, packing, boards| {
        // Among layouts on the same sheets, the first with the largest offcut in one piece.
        let variants = job.variants(packing, parts, options, boards);
        let area = |sheets: &Vec<Sheet>| sheets.iter().filter_map(|s| s.offcut).map(|o| o.area()).fold(0.0, f64::max);
        let best = variants.into_iter().rev().max_by(|a, b| area(a).total_cmp(&area(b)));
        layout.sheets.extend(best.unwrap_or_default());
        layout.bounds.push(job.bound(packing));
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

/// Lays board after board and hands each complete packing on, with its index and the number of boards; gives what stands in the way.
pub(super) fn boards_laid(
    design: &Design,
    parts: &FlatParts,
    options: &Options<'_>,
    manner: Manner,
    mut each: impl FnMut(&Job<'_>, &Packing, (usize, usize)),
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
    let jobs = Job::all(design, parts, manner);
    for (index, job) in jobs.iter().enumerate() {
        let before = findings.len();
        job.refuse_oversize(parts, &mut findings);
        if findings.len() > before {
            continue;
        }
        let packing = job.pack(index, jobs.len(), options);
        if packing.unplaced.is_empty() {
            each(job, &packing, (index, jobs.len()));
        } else {
            findings.push(job.short(&packing, parts));
        }
    }
    findings
}

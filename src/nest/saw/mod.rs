//! The saw plan: every part (as its blank) by straight cuts from edge to edge, in order, each with its fence setting.

mod choose;
mod cutting;
mod order;
mod types;

pub use types::{Direction, Outcome, SawCut, SawOptions, SawPlan, SawSheet, Source};

use super::codes;
use super::engine::CutRule;
use super::job::{turned, Manner};
use super::lay_out::{boards_laid, Way};
use super::types::{Placement, Sheet};
use crate::design::Design;
use crate::diag::Checked;
use crate::diag::Finding;
use crate::flat::FlatPart;
use crate::flat::FlatParts;
use crate::geom::tolerance;
use crate::geom::Rect;
use crate::units::Mm;

/// Lays every copy of every part for the saw and lists the cuts.
///
/// Parts with curves, notches or openings are cut out as their rectangles. The same findings stop it as stop a layout.
#[must_use]
pub fn saw_plan(design: &Design, parts: &FlatParts, options: &SawOptions<'_>) -> Checked<SawPlan> {
    // A trimming cut takes at least its own kerf.
    let trim = if options.trim > Mm::ZERO { options.trim.max(options.kerf) } else { Mm::ZERO };
    // A turn parts two stages, and every sheet needs rips and crosscuts.
    let most = u8::try_from(options.turns.max(1) + 1).unwrap_or(u8::MAX);
    let manner = Manner { gap: options.kerf, margin: trim, cut: CutRule::Staged(most), openings: None };
    let mut plan = SawPlan { kerf: options.kerf, trim, turns: options.turns.max(1), ..SawPlan::default() };
    let mut faults = Vec::new();
    let mut findings = boards_laid(design, parts, &options.search, &[manner], |ways, boards| {
        let Some(Way { job, packing }) = ways.first() else { return };
        let variants = job.variants(packing, parts, &options.search, boards);
        let board = &design.boards[job.board().0];
        match choose::best(variants, parts, &board.stock, options.kerf, u32::from(most)) {
            Some(sheets) => plan.sheets.extend(sheets),
            None => faults.push(format!("the sheets of board {} cannot be cut from edge to edge", board.name)),
        }
        plan.bounds.push(job.bound(packing));
    });
    findings.extend(faults.into_iter().map(|fault| Finding::stop(codes::LAYOUT_FAULT, fault)));
    if !findings.is_empty() {
        return Checked::failed(findings);
    }
    findings.extend(left_as_blanks(parts));
    Checked::new(plan, findings)
}

/// One note that names the parts which leave the saw as rectangles only.
fn left_as_blanks(parts: &FlatParts) -> Option<Finding> {
    let blanks: Vec<&FlatPart> = parts.parts.iter().filter(|p| !p.panels.is_empty() && !is_rectangle(p)).collect();
    let first = blanks.first()?;
    let copies: usize = blanks.iter().map(|p| p.panels.len()).sum();
    let message = format!(
        "{copies} of {} pieces leave the saw as their rectangle; their curves, notches and openings are cut afterwards",
        parts.parts.iter().map(|p| p.panels.len()).sum::<usize>()
    );
    let mut finding = Finding::note(codes::SAW_LEAVES_BLANK, message)
        .remedy(format!("cut them out by the drawings in parts, as parts/{} has it", first.id));
    for part in &blanks {
        finding = finding.part(&part.id);
    }
    Some(finding)
}

/// Whether straight cuts along its sides make the whole part: its outline is its rectangle, and nothing is open inside.
#[must_use]
pub fn is_rectangle(part: &FlatPart) -> bool {
    let outline = &part.outline.contour;
    let whole = outline.bounds().area();
    (outline.area().abs() - whole).abs() < tolerance::SAME_POINT * outline.bounds().width().max(1.0)
        && part.cuts.iter().all(|c| c.operation != crate::flat::Operation::ThroughInside)
}

/// A part's rectangle where it lies.
fn blank(parts: &FlatParts, p: &Placement) -> Rect {
    turned(parts.parts[p.part].outline.contour.bounds(), p.turn) + p.at.to_vec2()
}

/// The blanks of a sheet, by placement.
fn blanks(parts: &FlatParts, sheet: &Sheet) -> Vec<Rect> {
    sheet.placements.iter().map(|p| blank(parts, p)).collect()
}

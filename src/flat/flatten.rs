//! The stage's entry points.

use super::piece::{self, Piece};
use super::tools::Tools;
use super::{faces, flutes, group, hold, split, web, FlatPart, FlatParts, Seat};
use crate::design::Design;
use crate::diag::{Checked, Finding};
use crate::parts::{Model, PanelId};
use std::collections::BTreeMap;

/// Makes every panel of the model flat, groups equal ones and checks them.
///
/// A panel whose outline cannot be made, and a feature that cannot be cut, are left out and are findings that stop.
///
/// Contours are finished edges. A pocket or groove that meets the part's edge runs out beyond it by the radius of the cutter
/// it was shaped for and 1 mm: its contour reaches over the outline there, and only what lies within the outline is part of
/// the finished part.
#[must_use]
pub fn flatten(design: &Design, model: &Model) -> Checked<FlatParts> {
    let mut findings = Vec::new();
    let Some(tools) = Tools::of(&design.process, &mut findings) else { return Checked::failed(findings) };
    let pieces: Vec<Piece> =
        (0..model.panels.len()).filter_map(|i| piece::of_panel(design, model, &tools, PanelId(i), &mut findings)).collect();
    let pieces = group::merged(design, pieces);
    for piece in &pieces {
        web::check(piece, design.process.min_web, &mut findings);
        faces::check(piece, &mut findings);
        if !tools.laser {
            hold::check(piece, &mut findings);
        }
    }
    let parts = FlatParts { parts: pieces.into_iter().map(|p| p.part).collect() };
    let mut parts = split::large(design, parts, &mut findings);
    flutes::mark(design, &mut parts.parts, &mut findings);
    Checked::new(parts, joined(findings))
}

/// The mates that seat in a part's cuts and notches, in the part frame and without clearance: what must fit into the area the
/// cutter reaches, each with the id of the feature it seats in. Those of the cuts are also in
/// [`FlatCut::seats`](super::FlatCut::seats); the notches' are only here, since an outline has many.
#[must_use]
pub fn seats(design: &Design, model: &Model, part: &FlatPart) -> Vec<(String, Seat)> {
    let mut found: Vec<(String, Seat)> =
        part.cuts.iter().filter_map(|c| Some((c.feature.clone(), c.seats.clone()?))).collect();
    let mut unused = Vec::new();
    let first = part.panels.first().copied();
    if let (Some(tools), Some(panel)) = (Tools::of(&design.process, &mut unused), first) {
        found.extend(piece::of_panel(design, model, &tools, panel, &mut unused).map(|p| p.seats).unwrap_or_default());
    }
    found
}

/// Equal findings of several panels as one that names them all.
fn joined(findings: Vec<Finding>) -> Vec<Finding> {
    let mut seen: BTreeMap<(&'static str, String, Option<crate::diag::Span>), usize> = BTreeMap::new();
    let mut kept: Vec<Finding> = Vec::with_capacity(findings.len());
    for finding in findings {
        let key = (finding.code.id, finding.message.clone(), finding.span);
        if let Some(i) = seen.get(&key) {
            let parts = &mut kept[*i].parts;
            parts.extend(finding.parts.into_iter().filter(|p| !parts.contains(p)).collect::<Vec<_>>());
        } else {
            seen.insert(key, kept.len());
            kept.push(finding);
        }
    }
    kept
}

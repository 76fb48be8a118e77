//! No two panels may be in the same place, unless a joint was cut for it; two that touch are joined, or said to lie against each
//! other.

use super::codes;
use super::solid::span;
use crate::diag::Finding;
use crate::geom::tolerance::TOUCH;
use crate::geom::Box3;
use crate::parts::{Model, Panel, PanelId};
use crate::units::Mm;
use std::collections::BTreeSet;

/// Faces that meet over less than this on one of their sides, in mm, are corners or edges that come together.
const FACE: f64 = 1.0;

/// Every pair of panels that overlap without a joint between them, or touch without anyone having said so.
pub(super) fn check(model: &Model) -> Vec<Finding> {
    let mut solids: Vec<(usize, Box3)> =
        model.panels.iter().enumerate().filter_map(|(i, p)| Some((i, p.solid()?))).collect();
    solids.sort_by(|a, b| a.1.min.x.total_cmp(&b.1.min.x).then(a.0.cmp(&b.0)));
    let declared: BTreeSet<[PanelId; 2]> =
        model.contacts.iter().flat_map(|c| [c.panels, [c.panels[1], c.panels[0]]]).collect();
    let mut findings = Vec::new();
    for (n, (i, a)) in solids.iter().enumerate() {
        // Sorted by their left ends, so nothing further on can reach back once one begins beyond this one's right end.
        for (k, b) in solids[n + 1..].iter().take_while(|(_, b)| b.min.x <= a.max.x + TOUCH) {
            let deep = a.overlap_depth(b);
            let (p, q) = (&model.panels[*i], &model.panels[*k]);
            if deep > TOUCH && !joined(p, PanelId(*k)) && !joined(q, PanelId(*i)) {
                findings.push(overlap(p, q, Mm(deep)));
            } else if deep.abs() <= TOUCH && faces_meet(a, b) && !joined(p, PanelId(*k)) && !joined(q, PanelId(*i)) {
                findings.extend((!declared.contains(&[PanelId(*i), PanelId(*k)])).then(|| touching(p, q)));
            }
        }
    }
    findings
}

fn joined(panel: &Panel, other: PanelId) -> bool {
    panel.features.iter().any(|f| f.mate == Some(other)) || panel.edges.iter().any(|e| e.mate == other)
}

/// Whether two boxes that touch do so over a face, and not along an edge or at a corner.
fn faces_meet(a: &Box3, b: &Box3) -> bool {
    let shared = |i: usize| {
        let ((low, high), (from, to)) = (span(a, i), span(b, i));
        high.min(to) - low.max(from)
    };
    (0..3).filter(|i| shared(*i) > FACE).count() == 2
}

fn touching(p: &Panel, q: &Panel) -> Finding {
    Finding::caution(
        codes::CONTACT_NOT_DECLARED,
        format!("{} and {} touch, and nothing joins them or says that they may", p.name, q.name),
    )
    .part(p.id.clone())
    .part(q.id.clone())
    .at(q.span.or(p.span))
    .limit("every touching pair is a joint or a declared contact (checklist FM13)")
    .remedy("leave 1 mm between them, or line one of them with 1 mm of felt so that they do not rattle")
}

fn overlap(p: &Panel, q: &Panel, deep: Mm) -> Finding {
    Finding::stop(codes::SOLIDS_OVERLAP, format!("{} and {} are in the same place by {deep} mm", p.name, q.name))
        .part(p.id.clone())
        .part(q.id.clone())
        .at(q.span.or(p.span))
        .remedy(format!("move or shorten one of them by {deep} mm"))
}

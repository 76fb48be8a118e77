//! No two panels may be in the same place, unless a joint was cut for it.

use super::codes;
use crate::diag::Finding;
use crate::geom::tolerance::TOUCH;
use crate::geom::Box3;
use crate::parts::{Model, Panel, PanelId};
use crate::units::Mm;

/// Every pair of panels that overlap without a joint between them.
pub(super) fn check(model: &Model) -> Vec<Finding> {
    let mut solids: Vec<(usize, Box3)> =
        model.panels.iter().enumerate().filter_map(|(i, p)| Some((i, p.solid()?))).collect();
    solids.sort_by(|a, b| a.1.min.x.total_cmp(&b.1.min.x).then(a.0.cmp(&b.0)));
    let mut findings = Vec::new();
    for (n, (i, a)) in solids.iter().enumerate() {
        // Sorted by their left ends, so nothing further on can reach back once one begins beyond this one's right end.
        for (k, b) in solids[n + 1..].iter().take_while(|(_, b)| b.min.x < a.max.x) {
            let deep = a.overlap_depth(b);
            let (p, q) = (&model.panels[*i], &model.panels[*k]);
            if deep > TOUCH && !joined(p, PanelId(*k)) && !joined(q, PanelId(*i)) {
                findings.push(overlap(p, q, Mm(deep)));
            }
        }
    }
    findings
}

fn joined(panel: &Panel, other: PanelId) -> bool {
    panel.features.iter().any(|f| f.mate == Some(other)) || panel.edges.iter().any(|e| e.mate == other)
}

fn overlap(p: &Panel, q: &Panel, deep: Mm) -> Finding {
    Finding::stop(codes::SOLIDS_OVERLAP, format!("{} and {} are in the same place by {deep} mm", p.name, q.name))
        .part(p.id.clone())
        .part(q.id.clone())
        .at(q.span.or(p.span))
        .remedy(format!("move or shorten one of them by {deep} mm"))
}

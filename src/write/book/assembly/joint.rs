//! What a step takes: glue, clamps, the diagonals to check, the gaps to expect.

use super::order::{Group, Step};
use crate::fit::LedgerLine;
use crate::parts::{FeatureKind, Model, PanelEdge, PanelId};
use crate::units::Mm;
use crate::write::book::Book;

/// A clamp every so often along a glued joint. Common practice, no source.
const CLAMP_EVERY: f64 = 250.0;
/// A group of fewer parts has no corners to square.
const CORNERS: usize = 3;
/// So many gaps at most are named at one step; the ledger has all.
const GAPS: usize = 6;

/// A joint that a step closes.
pub(super) struct Joint {
    /// In words: `finger`, `butt, screwed`, `groove`.
    pub(super) kind: String,
    /// The panel that stands already.
    pub(super) mate: PanelId,
    /// Along the joint.
    pub(super) length: Mm,
}

/// Joints between what goes in and what stands.
pub(super) fn closed(model: &Model, step: &Step) -> Vec<Joint> {
    let mut list: Vec<Joint> = Vec::new();
    let mut add = |kind: &str, mate: PanelId, length: Mm| {
        if !list.iter().any(|j| j.mate == mate && j.kind == kind) {
            list.push(Joint { kind: kind.to_owned(), mate, length });
        }
    };
    let along = |panel: PanelId, edge: PanelEdge| {
        let panel = &model.panels[panel.0];
        if matches!(edge, PanelEdge::Bottom | PanelEdge::Top) {
            panel.length.nominal()
        } else {
            panel.width.nominal()
        }
    };
    for new in &step.panels {
        for note in model.panels[new.0].edges.iter().filter(|n| step.present.contains(&n.mate)) {
            add(&note.joint, note.mate, along(*new, note.edge));
        }
        for there in &step.present {
            for note in model.panels[there.0].edges.iter().filter(|n| n.mate == *new) {
                add(&note.joint, *there, along(*there, note.edge));
            }
            // A channel that no edge's note speaks of holds its mate loosely.
            let has_note = |a: PanelId, b: PanelId| model.panels[a.0].edges.iter().any(|n| n.mate == b);
            let channel = model.panels[there.0].features.iter().find_map(|f| match &f.kind {
                FeatureKind::Groove { size, .. } if f.mate == Some(*new) => Some(size[0].nominal().max(size[1].nominal())),
                _ => None,
            });
            let reverse = model.panels[new.0].features.iter().find_map(|f| match &f.kind {
                FeatureKind::Groove { size, .. } if f.mate == Some(*there) => Some(size[0].nominal().max(size[1].nominal())),
                _ => None,
            });
            if let Some(length) = channel.or(reverse) {
                if !has_note(*there, *new) && !has_note(*new, *there) {
                    add("groove", *there, length);
                }
            }
        }
    }
    list
}

/// Whether a kind of joint is glued.
pub(super) fn is_glued(kind: &str) -> bool {
    kind.contains("finger") || kind.contains("tabs") || kind.contains("dado") || kind.contains("rabbet")
}

/// How many clamps a glued joint takes.
pub(super) fn clamps(length: Mm) -> u32 {
    (length.0 / CLAMP_EVERY).ceil() as u32 + 1
}

/// Corner to corner of what a group's upright sides enclose: seen from above, and seen from the front.
pub(super) fn diagonals(book: &Book, group: &Group) -> Option<[Mm; 2]> {
    let panels: Vec<PanelId> = group.steps.iter().flat_map(|s| s.panels.clone()).collect();
    if panels.len() < CORNERS {
        return None;
    }
    let sides: Vec<_> = panels
        .iter()
        .filter_map(|id| book.job.model.panels[id.0].solid())
        .filter(|b| {
            let size = [b.max.x - b.min.x, b.max.y - b.min.y, b.max.z - b.min.z];
            size[0] < size[1] && size[0] < size[2]
        })
        .collect();
    if sides.len() < 2 {
        return None;
    }
    let reach = |i: usize| {
        let low = sides.iter().map(|b| b.min.to_array()[i]).fold(f64::INFINITY, f64::min);
        let high = sides.iter().map(|b| b.max.to_array()[i]).fold(f64::NEG_INFINITY, f64::max);
        high - low
    };
    Some([Mm(reach(0).hypot(reach(1))), Mm(reach(0).hypot(reach(2)))])
}

/// Lines of the ledger about what goes in, the tightest first, and whether there are more.
pub(super) fn gaps<'a>(book: &'a Book, step: &Step) -> (Vec<&'a LedgerLine>, bool) {
    let about = |line: &&LedgerLine| {
        let rest = line.gap.strip_prefix(step.what.as_str());
        rest.is_some_and(|r| r.starts_with([':', ' '])) && (step.front || !line.gap.contains(" front: "))
    };
    let all: Vec<&LedgerLine> = book.job.ledger.lines.iter().filter(about).collect();
    let more = all.len() > GAPS;
    (all.into_iter().take(GAPS).collect(), more)
}

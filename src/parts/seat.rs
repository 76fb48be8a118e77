//! Gaps of wood on wood: what a carcass stands on, and how boards enter their joints.

use super::builder::{cut_error, Builder};
use super::joint;
use super::{Gap, PanelId};
use crate::design::BoardId;
use crate::dim::{Dim, Range, Source, SourceKind};
use crate::units::Mm;
use std::collections::BTreeMap;

/// A carcass rocks on seats that differ by more than this. Common practice, no source.
const ROCKS: Mm = Mm(0.5);
/// A joint with more play than this is not filled by glue. Common practice, no source.
const LOOSE: Mm = Mm(0.5);

/// One panel's own departure from its batch: as far as its readings spread, or its class allows.
fn own_thickness(b: &Builder<'_>, panel: PanelId) -> Dim {
    let board = b.at(panel).board;
    let batch = b.thickness(board);
    let spread = batch.worst_case();
    let name = &b.at(panel).name;
    Dim::source(Source {
        key: format!("sheet {name}"),
        label: format!("thickness of {name} against its batch"),
        kind: SourceKind::Sheet,
        nominal: Mm::ZERO,
        minus: batch.nominal() - spread.min,
        plus: spread.max - batch.nominal(),
        basis: "as far as the board's readings, or its class, spread".into(),
        span: b.design.boards[board.0].span,
    })
}

/// The seat of a carcass that stands on several panels side by side: the last against the first.
pub(super) fn carcass(b: &mut Builder<'_>, upper: &str, on: &[PanelId]) {
    let height = |b: &Builder<'_>, id: PanelId| {
        let top = b.at(id).solid()?.max.z;
        Some(Dim::number(Mm(top), "height of its seat") + own_thickness(b, id))
    };
    let tops: Vec<(PanelId, Dim)> = on.iter().filter_map(|id| Some((*id, height(b, *id)?))).collect();
    // Only what stands highest carries.
    let most = tops.iter().map(|(_, h)| h.nominal()).fold(Mm(f64::NEG_INFINITY), Mm::max);
    let seats: Vec<&(PanelId, Dim)> = tops.iter().filter(|(_, h)| most - h.nominal() < LOOSE).collect();
    let (Some((first, low)), Some((last, high))) = (seats.first(), seats.last()) else { return };
    if first == last {
        return;
    }
    let gap = Gap {
        name: format!("{upper}: seat at the right against the left"),
        gap: high - low,
        required: Range { min: -ROCKS, max: ROCKS },
        source: "a carcass rocks beyond that; common practice, no source".into(),
        parts: vec![b.at(*first).id.clone(), b.at(*last).id.clone()],
        span: b.at(*last).span,
    };
    b.gap(gap);
}

/// For each board and kind of joint in use, the play of a board in the slots cut for it.
pub(super) fn joints(b: &mut Builder<'_>) {
    let mut used: BTreeMap<(BoardId, &'static str), Vec<String>> = BTreeMap::new();
    for panel in &b.model.panels {
        for note in &panel.edges {
            let kind = ["finger", "tab", "dado", "rabbet"].into_iter().find(|k| note.joint.starts_with(k));
            if let Some(kind) = kind {
                used.entry((panel.board, kind)).or_default().push(panel.id.clone());
            }
        }
    }
    for ((board, kind), mut parts) in used {
        parts.sort();
        parts.dedup();
        let clearance = match kind {
            "finger" | "tab" => b.design.process.joint_clearance.finger.clone(),
            _ => b.design.process.joint_clearance.glued.clone(),
        };
        let name = &b.design.boards[board.0].name;
        let cut = cut_error(&format!("{kind} slots for {name}"));
        // A finger's play is between its sides, which one cutter makes; a tab's and a dado's is across the board.
        let play = if kind == "finger" {
            clearance.built() + cut
        } else {
            let slot = (joint::thickest(b, board) + clearance).nominal();
            Dim::number(slot, format!("{kind} slot as cut")) + cut - b.thickness(board)
        };
        let gap = Gap {
            name: format!("{kind} joints of {name}: play in their slots"),
            gap: play,
            required: Range { min: Mm::ZERO, max: LOOSE },
            source: "it has to enter, and glue fills no more; common practice, no source (checklist PJ1: 0.1 to 0.3)".into(),
            parts: parts.into_iter().take(SHOWN).collect(),
            span: b.design.boards[board.0].span,
        };
        b.gap(gap);
    }
}

/// Parts named with a gap that many share.
const SHOWN: usize = 4;

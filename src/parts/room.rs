//! The room above and below every drawer box, against the bolt heads and nuts that stand there. Judged last, when every bolt is known.

use super::bolts::Standing;
use super::builder::Builder;
use super::frame::Stretch;
use super::{Gap, PanelId};
use crate::diag::Span;
use crate::dim::Dim;
use crate::units::Mm;

/// Air kept over a bolt's head or nut: 5/16 in under a box is said to clear one of a 5/16 in bolt. Common practice, no source.
const AIR: Mm = Mm(0.5);
/// Least room under a box with nothing in it. Common practice, no source.
const LEAST_UNDER: Mm = Mm(2.0);
/// Least room over a box with nothing in it. Common practice, no source.
const LEAST_OVER: Mm = Mm(3.0);

/// The space a drawer moves in.
#[derive(Clone)]
pub(super) struct Room {
    /// The drawer.
    pub(super) name: String,
    /// The panel under its cell.
    pub(super) floor: Option<PanelId>,
    /// The panel over its cell.
    pub(super) ceiling: Option<PanelId>,
    /// The box, across.
    pub(super) x: Stretch,
    /// Rear end of the closed box; opened, the box passes over everything in front of it.
    pub(super) rear: Mm,
    /// The closed front's inner face.
    pub(super) behind_front: Mm,
    /// Gap under the box.
    pub(super) under: Dim,
    /// Gap over the box.
    pub(super) over: Dim,
    /// An inset front: its left and right ends, and the gap under it.
    pub(super) front: Option<(Mm, Mm, Dim)>,
    pub(super) span: Option<Span>,
}

/// Declares the gaps of every drawer's room.
pub(super) fn declare(b: &mut Builder<'_>) {
    for room in std::mem::take(&mut b.rooms) {
        let heads = |panel: Option<PanelId>, above: bool, low: Mm, high: Mm, to: Mm| -> Mm {
            let in_way = |h: &&Standing| {
                Some(h.panel) == panel
                    && h.above == above
                    && h.at[0] > low - h.radius
                    && h.at[0] < high + h.radius
                    && h.at[1] < to + h.radius
            };
            b.heads.iter().filter(in_way).map(|h| h.height).fold(Mm::ZERO, Mm::max)
        };
        let (low, high) = (room.x.from.nominal(), room.x.to().nominal());
        let below = heads(room.floor, true, low, high, room.rear);
        let above = heads(room.ceiling, false, low, high, room.rear);
        let front = room.front.as_ref().map(|(l, r, gap)| (heads(room.floor, true, *l, *r, room.behind_front), gap.clone()));
        let mut gaps = vec![
            gap(&room, "under the box", room.under.clone(), below, LEAST_UNDER),
            gap(&room, "box to what is above", room.over.clone(), above, LEAST_OVER),
        ];
        if let Some((head, reveal)) = front.filter(|(head, _)| *head > Mm::ZERO) {
            gaps.push(gap(&room, "front over the bolts it passes", reveal, head, Mm::ZERO));
        }
        for gap in gaps {
            b.gap(gap);
        }
    }
}

fn gap(room: &Room, what: &str, gap: Dim, head: Mm, least: Mm) -> Gap {
    let (required, source) = if head + AIR > least && head > Mm::ZERO {
        (
            head + AIR,
            format!("bolt head or nut with its washer ({head} mm: ISO 4017, ISO 7093-1 or the inch sizes), {AIR} mm over"),
        )
    } else {
        (least, "common practice, no source".to_owned())
    };
    Gap {
        name: format!("{}: {what}", room.name),
        gap,
        required: Gap::at_least(required),
        source,
        parts: vec![room.name.clone()],
        span: room.span,
    }
}

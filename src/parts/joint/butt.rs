//! Edge against face, held by screws: clearance and countersink through the face, a pilot in the middle of the edge.

use super::{opposite, Meeting};
use crate::dim::Dim;
use crate::parts::builder::Builder;
use crate::parts::{Depth, Feature, FeatureKind, Hardware, Purpose};
use crate::shop::Fastener;
use crate::units::Mm;

/// Largest distance between neighbouring screws of a butt joint. Common practice, no source.
const SPACING: Mm = Mm(180.0);
/// First screw from the end of the joint: far enough not to split the edge. Common practice, no source.
const END_DISTANCE: Mm = Mm(40.0);
/// Least thread in the edge panel. Common practice, no source.
pub(in crate::parts) const BITE: Mm = Mm(19.0);

/// Screw places along a joint of some length: from its start, ends first kept, equal spacing. Short joints get one or two.
pub(in crate::parts) fn screw_positions(length: &Dim) -> Vec<Dim> {
    let run = length.nominal();
    let end = if run > END_DISTANCE * 3.0 { END_DISTANCE } else { run / 4.0 };
    if run < Mm(40.0) {
        return vec![length * 0.5];
    }
    let gaps = ((run - end * 2.0) / SPACING).ceil().max(1.0);
    let count = gaps as usize + 1;
    let first = Dim::number(end, "distance of the first screw from the end");
    let between = length - &(&first * 2.0);
    (0..count).map(|i| &first + &(&between * (i as f64 / gaps))).collect()
}

/// Cuts the holes of a screwed butt joint and counts its screws.
pub(in crate::parts) fn screwed(b: &mut Builder<'_>, meeting: &Meeting, screw: &Fastener, note: &str) {
    let run = &meeting.block[meeting.run];
    let across = meeting.across(b);
    let outside = opposite(meeting.inner_face(b));
    let edge_name = b.at(meeting.edge).name.clone();
    let edge_id = b.at(meeting.edge).id.clone();
    let span = b.at(meeting.edge).span;
    let edge = meeting.meeting_edge(b);
    let positions = screw_positions(&run.size);
    let mut along_edge = Vec::new();
    for (i, position) in positions.iter().enumerate() {
        let mut at = [Dim::zero(), Dim::zero(), Dim::zero()];
        at[meeting.run] = &run.from + position;
        at[across] = meeting.block[across].middle();
        let Some(local) = b.at(meeting.field).frame.as_ref().map(|f| f.local(&at)) else { continue };
        if let Some(frame) = &b.at(meeting.edge).frame {
            let [u, v] = frame.local(&at);
            along_edge.push(if frame.u.index() == meeting.run { u } else { v });
        }
        let id = format!("screw {edge_id} {}", i + 1);
        b.cut(meeting.field, clearance(screw, local, outside, id, meeting.edge, span));
    }
    let length = screw_length(screw, b.thickness(b.at(meeting.field).board).nominal() + BITE);
    let unit = b.at(meeting.edge).unit.clone();
    let place = format!("{} to {edge_name}{note}", b.at(meeting.field).name);
    b.hardware(Hardware {
        profile: screw.id.clone(),
        name: format!("{} x {length}", screw.name),
        quantity: positions.len() as u32,
        unit,
        place,
        mass_kg: None,
    });
    b.meets(meeting.edge, edge, meeting.field, "butt, screwed", along_edge);
}

/// A clearance hole with a countersink for the head in the given face.
fn clearance(
    screw: &Fastener,
    at: [Dim; 2],
    face: crate::parts::Face,
    id: String,
    mate: crate::parts::PanelId,
    span: Option<crate::diag::Span>,
) -> Feature {
    Feature {
        id,
        kind: FeatureKind::Countersunk {
            at,
            diameter: Dim::number(screw.clearance[1], format!("clearance hole for {}", screw.name)),
            head: Dim::number(screw.head_diameter, format!("head of {}", screw.name)),
            face,
        },
        depth: Depth::Through,
        purpose: Purpose::Clearance,
        mate: Some(mate),
        span,
    }
}

/// The shortest length sold that is at least what is needed; the longest sold when none is.
pub(in crate::parts) fn screw_length(screw: &Fastener, needed: Mm) -> Mm {
    let mut lengths = screw.lengths.clone();
    lengths.sort_by(Mm::total_cmp);
    lengths.iter().copied().find(|l| *l >= needed).or(lengths.last().copied()).unwrap_or(needed)
}

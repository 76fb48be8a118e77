//! Edge against face, held by screws: clearance and countersink through the face, a pilot in the middle of the edge.

use super::{opposite, Meeting};
use crate::diag::Finding;
use crate::dim::Dim;
use crate::parts::builder::Builder;
use crate::parts::clash::{self, Rod};
use crate::parts::codes;
use crate::parts::{Depth, Feature, FeatureKind, Hardware, Purpose};
use crate::shop::Fastener;
use crate::units::Mm;

/// Largest distance between neighbouring screws of a butt joint. Common practice, no source.
const SPACING: Mm = Mm(180.0);
/// First screw from the end of the joint: far enough not to split the edge. Common practice, no source.
const END_DISTANCE: Mm = Mm(40.0);
/// Least thread in the edge panel. Common practice, no source.
pub(in crate::parts) const BITE: Mm = Mm(19.0);

/// Wood wanted beyond a screw's point. Common practice, no source.
const POINT_COVER: Mm = Mm(3.0);
/// Step by which a screw is moved along its joint to get clear of something.
const SHIFT: Mm = Mm(3.0);
/// A screw that is moved stays this far from the joint's ends. Common practice, no source.
const SHIFT_ENDS: Mm = Mm(20.0);

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
    if b.is_paper() {
        let (edge, length) = (meeting.meeting_edge(b), run.size.nominal());
        let (unit, edge_name) = (b.at(meeting.edge).unit.clone(), b.at(meeting.edge).name.clone());
        b.tape(&unit, format!("{} to {edge_name}", b.at(meeting.field).name), length);
        b.meets(meeting.edge, edge, meeting.field, "butt, taped", Vec::new());
        return;
    }
    let across = meeting.across(b);
    let outside = opposite(meeting.inner_face(b));
    let edge_name = b.at(meeting.edge).name.clone();
    let edge_id = b.at(meeting.edge).id.clone();
    let span = b.at(meeting.edge).span;
    let edge = meeting.meeting_edge(b);
    let positions = screw_positions(&run.size);
    let length = length_for(b, meeting, screw);
    let mut along_edge = Vec::new();
    for (i, position) in positions.iter().enumerate() {
        let mut at = [Dim::zero(), Dim::zero(), Dim::zero()];
        at[across] = meeting.block[across].middle();
        at[meeting.run] = clear_place(b, meeting, screw, length, &(&run.from + position), &at[across], positions.len());
        let Some(local) = b.at(meeting.field).frame.as_ref().map(|f| f.local(&at)) else { continue };
        if let Some(frame) = &b.at(meeting.edge).frame {
            let [u, v] = frame.local(&at);
            along_edge.push(if frame.u.index() == meeting.run { u } else { v });
        }
        let id = format!("screw {edge_id} {}", i + 1);
        b.cut(meeting.field, clearance(screw, local, outside, id, meeting.edge, span));
    }
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

/// The screw for a meeting: its thread bites 19 mm where the edge panel is deep enough, and its point never comes out.
fn length_for(b: &mut Builder<'_>, meeting: &Meeting, screw: &Fastener) -> Mm {
    let t = b.at(meeting.field).thickness.nominal();
    let through = meeting.through(b);
    let depth = b.at(meeting.edge).solid().map_or(0.0, |s| s.max.to_array()[through] - s.min.to_array()[through]);
    let most = t + Mm(depth) - POINT_COVER;
    let wanted = screw_length(screw, t + BITE);
    if wanted <= most {
        return wanted;
    }
    let length = screw.lengths.iter().copied().filter(|l| *l <= most).fold(Mm::ZERO, Mm::max);
    let bite = length - t;
    if bite < BITE {
        let (name, id, span) = (b.at(meeting.edge).name.clone(), b.at(meeting.edge).id.clone(), b.at(meeting.edge).span);
        let least = BITE + POINT_COVER;
        b.findings.push(
            Finding::caution(
                codes::SCREW_BITES_LITTLE,
                format!("{name} is only {depth} mm deep, so that {} bites {} mm at most", screw.name, bite.max(Mm::ZERO)),
            )
            .part(id)
            .at(span)
            .limit(format!("{BITE} mm of thread in the edge; common practice, no source"))
            .remedy(format!("make {name} at least {least} mm deep, or glue it too")),
        );
    }
    // With no screw short enough the shortest is named; the finding above says that it comes through.
    if length > Mm::ZERO {
        length
    } else {
        screw_length(screw, Mm::ZERO)
    }
}

/// A place along the run for a screw: where it was wanted, or the nearest where neither the screw nor its head meets anything.
fn clear_place(
    b: &mut Builder<'_>,
    meeting: &Meeting,
    screw: &Fastener,
    length: Mm,
    wanted: &Dim,
    middle: &Dim,
    count: usize,
) -> Dim {
    let run = &meeting.block[meeting.run];
    let (through, across) = (meeting.through(b), meeting.across(b));
    let solid = |id| b.at(id).solid().map(|s| (s.min.to_array()[through], s.max.to_array()[through]));
    let (Some(field), Some(edge)) = (solid(meeting.field), solid(meeting.edge)) else { return wanted.clone() };
    let outward = if field.0 + field.1 > edge.0 + edge.1 { 1.0 } else { -1.0 };
    let head = if outward > 0.0 { field.1 } else { field.0 };
    let point = |along: Mm, depth: f64| {
        let mut at = [0.0; 3];
        (at[meeting.run], at[across], at[through]) = (along.0, middle.nominal().0, depth);
        at
    };
    // First with the wood the project wants between cuts, then with the least that holds.
    let hole = screw.clearance[1] / 2.0;
    let keeps = [
        (screw.head_diameter / 2.0 + clash::BETWEEN).max(hole + b.design.process.min_web),
        (screw.head_diameter / 2.0).max(hole + clash::BETWEEN),
    ];
    let trouble = |b: &Builder<'_>, along: Mm, keep: Mm| -> bool {
        let at = point(along, head).map(|x| Dim::number(Mm(x), "place of a screw"));
        let meets_cut = b.at(meeting.field).frame.as_ref().is_some_and(|f| {
            let [u, v] = f.local(&at);
            b.meets_cut(meeting.field, [u.nominal(), v.nominal()], keep)
        });
        let rod = rod(&point, screw, along, head, outward, length);
        meets_cut
            || b.meets_rod(&rod)
            || b.in_the_way_of_head(meeting.field, through, point(along, head), outward, screw.head_diameter / 2.0).is_some()
    };
    let from = run.from.nominal() + SHIFT_ENDS.min(run.size.nominal() / 4.0);
    let to = run.to().nominal() - SHIFT_ENDS.min(run.size.nominal() / 4.0);
    let reach = run.size.nominal() / (2.0 * count.max(1) as f64);
    let steps = (reach / SHIFT).floor() as i32;
    let shifts: Vec<Mm> =
        std::iter::once(0).chain((1..=steps).flat_map(|i| [i, -i])).map(|i| SHIFT * f64::from(i)).collect();
    let inside = |shift: Mm| {
        let along = wanted.nominal() + shift;
        shift == Mm::ZERO || (along >= from && along <= to)
    };
    let clear = keeps.into_iter().find_map(|keep| {
        shifts.iter().copied().find(|shift| inside(*shift) && !trouble(b, wanted.nominal() + *shift, keep))
    });
    if clear.is_none() {
        stuck(b, meeting, screw);
    }
    let shift = clear.unwrap_or(Mm::ZERO);
    let place = if shift == Mm::ZERO {
        wanted.clone()
    } else {
        wanted + &Dim::number(shift, "moved along the joint, clear of what is there")
    };
    b.rods.push(rod(&point, screw, place.nominal(), head, outward, length));
    place
}

/// The screw itself, from its head to its point.
fn rod(point: &impl Fn(Mm, f64) -> [f64; 3], screw: &Fastener, along: Mm, head: f64, outward: f64, length: Mm) -> Rod {
    Rod { from: point(along, head), to: point(along, head - outward * length.0), radius: screw.diameter / 2.0 }
}

fn stuck(b: &mut Builder<'_>, meeting: &Meeting, screw: &Fastener) {
    let (field, edge) = (b.at(meeting.field), b.at(meeting.edge));
    let finding = Finding::stop(
        codes::SCREW_HAS_NO_PLACE,
        format!("a {} through {} into {} meets another or cannot be reached", screw.name, field.name, edge.name),
    )
    .part(field.id.clone())
    .part(edge.id.clone())
    .at(edge.span)
    .remedy("move one of the panels that meet there by 20 mm, or take another joint");
    b.findings.push(finding);
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

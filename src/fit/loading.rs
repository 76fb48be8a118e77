//! Whether every unit can be brought in through the load opening, round what stands in the way, and down to its place.

use super::bay::outermost;
use super::codes;
use super::passage::{self, Body, Move};
use super::solid::{hull, span};
use super::split;
use super::vehicle;
use crate::design::{Bay, Design, Opening};
use crate::diag::{Finding, Span};
use crate::dim::Dim;
use crate::geom::tolerance::TOUCH;
use crate::geom::{Box3, Point3};
use crate::parts::{Gap, Model, Panel, PanelId};
use crate::units::{self, Mm};
use std::collections::BTreeSet;

/// Air wanted in the load opening, both sides together, and above. Common practice, no source.
pub(super) const IN_OPENING: Mm = Mm(10.0);
/// Depth given to the opening's frame, in mm: it is measured as a plane.
const FRAME: f64 = 1.0;
/// Boxes that stand for a traced keep-out in the search for a way in; they reach a little beyond it, to the safe side.
const TRACED_BOXES: usize = 6;
/// A unit is carried as so many boxes at most, one over the other.
const MOST_LAYERS: usize = 3;

/// How one unit gets in.
#[derive(Clone, Debug)]
pub struct LoadPlan {
    /// The unit.
    pub unit: String,
    /// Size as it stands: x, y, z.
    pub size: [Mm; 3],
    /// Its moves in order, in words; empty when there is no way in one piece.
    pub moves: Vec<String>,
    /// Whether it can be brought in.
    pub passes: bool,
    /// kg of its panels; what it weighs when carried in without drawers.
    pub panels: Vec<PanelId>,
}

/// A unit without its drawers.
pub(super) struct Unit<'m> {
    pub(super) name: &'m str,
    pub(super) panels: Vec<(PanelId, &'m Panel)>,
    pub(super) boxes: Vec<Box3>,
    pub(super) hull: Box3,
    pub(super) span: Option<Span>,
}

/// Units in the order they go in, each with its way; nothing without a measured opening.
#[must_use]
pub fn load(design: &Design, model: &Model) -> Vec<LoadPlan> {
    judge(design, model).0
}

/// The gap of every unit in the opening, and a finding for each that has no way in.
pub(super) fn check(design: &Design, model: &Model, findings: &mut Vec<Finding>) -> Vec<Gap> {
    let (_, gaps, found) = judge(design, model);
    findings.extend(found);
    gaps
}

fn judge(design: &Design, model: &Model) -> (Vec<LoadPlan>, Vec<Gap>, Vec<Finding>) {
    let (mut plans, mut gaps, mut findings) = (Vec::new(), Vec::new(), Vec::new());
    let Some((bay, opening)) = design.bay.as_ref().and_then(|b| Some((b, b.opening.as_ref()?))) else {
        return (plans, gaps, findings);
    };
    let mut left = units(design, model);
    // Taken out one by one: whatever can leave while the rest stands goes in after the rest.
    while !left.is_empty() {
        let rest = |skip: usize| -> Vec<Box3> {
            left.iter().enumerate().filter(|(k, _)| *k != skip).flat_map(|(_, u)| u.boxes.clone()).collect()
        };
        let found = (0..left.len()).rev().find_map(|i| Some((i, way(bay, opening, &left[i], &rest(i), Mm::ZERO)?)));
        let Some((i, _)) = found else {
            for unit in left.drain(..).rev() {
                findings.push(split::no_way(bay, opening, &unit));
                plans.push(plan(&unit, None, design.units));
            }
            break;
        };
        let others = rest(i);
        let unit = left.remove(i);
        // With the air that is wanted, when there is a way that has it.
        let best = way(bay, opening, &unit, &others, IN_OPENING).or_else(|| way(bay, opening, &unit, &others, Mm::ZERO));
        if let Some(best) = &best {
            gaps.extend(in_opening(opening, &unit, best));
        }
        plans.push(plan(&unit, best.as_ref(), design.units));
        findings.extend(out_of_reach(&unit, model));
    }
    plans.reverse();
    (plans, gaps, findings)
}

/// Carcasses with what is fixed to them; drawers and tables are carried by themselves.
fn units<'m>(design: &'m Design, model: &'m Model) -> Vec<Unit<'m>> {
    let moving: BTreeSet<PanelId> = model.motions.iter().flat_map(|m| m.panels.iter().copied()).collect();
    design
        .carcasses
        .iter()
        .filter_map(|carcass| {
            let panels: Vec<(PanelId, &Panel)> = model
                .panels
                .iter()
                .enumerate()
                .map(|(i, p)| (PanelId(i), p))
                .filter(|(id, p)| p.unit == carcass.name && !moving.contains(id))
                .collect();
            let solids: Vec<Box3> = panels.iter().filter_map(|(_, p)| p.solid()).collect();
            let hull = hull(&solids)?;
            Some(Unit { name: &carcass.name, panels, boxes: layers(&solids), hull, span: carcass.span })
        })
        .collect()
}

/// A unit as a few boxes, one over the other: what lies at each height, its hollows filled.
fn layers(solids: &[Box3]) -> Vec<Box3> {
    let mut heights: Vec<f64> = solids.iter().flat_map(|b| [b.min.z, b.max.z]).collect();
    heights.sort_by(f64::total_cmp);
    heights.dedup_by(|a, b| (*a - *b).abs() <= TOUCH);
    let mut list: Vec<Box3> = Vec::new();
    for pair in heights.windows(2) {
        let middle = f64::midpoint(pair[0], pair[1]);
        let Some(mut here) = hull(solids.iter().filter(|b| b.min.z < middle && b.max.z > middle)) else { continue };
        (here.min.z, here.max.z) = (pair[0], pair[1]);
        list.push(here);
    }
    let volume = |b: &Box3| (0..3).map(|i| span(b, i).1 - span(b, i).0).product::<f64>();
    let grows = |l: &[Box3], i: usize| volume(&l[i].around(&l[i + 1])) - volume(&l[i]) - volume(&l[i + 1]);
    while list.len() > 1 {
        let least = (0..list.len() - 1).min_by(|a, b| grows(&list, *a).total_cmp(&grows(&list, *b))).unwrap_or(0);
        if list.len() <= MOST_LAYERS && grows(&list, least) > 1.0 {
            break;
        }
        let next = list.remove(least + 1);
        list[least] = list[least].around(&next);
    }
    list
}

/// Floor, walls, roof, keep-outs, and the frame of the opening with some air taken off it.
fn obstacles(bay: &Bay, opening: &Opening, air: Mm) -> Vec<Box3> {
    const FAR: f64 = f64::INFINITY;
    let mut list: Vec<Box3> = vehicle::stills(bay, TRACED_BOXES).into_iter().flat_map(|s| s.solids).collect();
    let mut add = |min: [f64; 3], max: [f64; 3]| {
        list.push(Box3 { min: Point3::new(min[0], min[1], min[2]), max: Point3::new(max[0], max[1], max[2]) });
    };
    let (left, sill) = (opening.left.nominal().0, opening.sill.nominal().0);
    let (right, top) = (left + opening.width.nominal().0, sill + opening.height.nominal().0);
    let half = air.0 / 2.0;
    add([-FAR, 0.0, -FAR], [FAR, FAR, 0.0]);
    add([-FAR, -FRAME, -FAR], [FAR, 0.0, sill]);
    add([-FAR, -FRAME, top - air.0], [FAR, 0.0, FAR]);
    add([-FAR, -FRAME, -FAR], [left + half, 0.0, FAR]);
    add([right - half, -FRAME, -FAR], [FAR, 0.0, FAR]);
    list
}

/// A way in for a body at its place among others.
pub(super) fn way_for(bay: &Bay, opening: &Opening, solids: &[Box3], others: &[Box3], air: Mm) -> Option<passage::Way> {
    let whole = hull(solids)?;
    let centre = [0, 1, 2].map(|i| f64::midpoint(span(&whole, i).0, span(&whole, i).1));
    let shift = Point3::new(-centre[0], -centre[1], -centre[2]);
    let about = |b: &Box3| Box3 { min: b.min.plus(shift, 1.0), max: b.max.plus(shift, 1.0) };
    let mut stands = obstacles(bay, opening, air);
    stands.extend(others);
    let block = Body { boxes: vec![about(&whole)] };
    if passage::is_free(&block, &stands, centre) {
        if let Some(way) = passage::find(&block, &stands, centre) {
            return Some(way);
        }
    }
    if solids.len() < 2 {
        return None;
    }
    passage::find(&Body { boxes: solids.iter().map(about).collect() }, &stands, centre)
}

fn way(bay: &Bay, opening: &Opening, unit: &Unit<'_>, others: &[Box3], air: Mm) -> Option<passage::Way> {
    way_for(bay, opening, &unit.boxes, others, air)
}

fn plan(unit: &Unit<'_>, way: Option<&passage::Way>, shown_in: units::Unit) -> LoadPlan {
    let size = [0, 1, 2].map(|i| Mm(span(&unit.hull, i).1 - span(&unit.hull, i).0));
    LoadPlan {
        unit: unit.name.to_owned(),
        size,
        moves: way.map(|w| w.moves.iter().filter(|m| tells(m)).map(|m| words(m, shown_in)).collect()).unwrap_or_default(),
        passes: way.is_some(),
        panels: unit.panels.iter().map(|(id, _)| *id).collect(),
    }
}

/// A slide of less than a millimetre is how the search leaves a contact, no move of a person's.
fn tells(step: &Move) -> bool {
    !matches!(step, Move::Slide(_, by) if by.abs() < 1.0)
}

fn words(step: &Move, shown_in: units::Unit) -> String {
    match step {
        Move::Turn(0) => "tip by a quarter turn, front or rear edge down".to_owned(),
        Move::Turn(1) => "turn by a quarter on to its side".to_owned(),
        Move::Turn(_) => "turn by a quarter, standing".to_owned(),
        Move::Slide(axis, by) => {
            let way = match (axis, *by > 0.0) {
                (0, true) => "to the right",
                (0, false) => "to the left",
                (1, true) => "in",
                (1, false) => "out",
                (_, true) => "up",
                (_, false) => "down",
            };
            let places = usize::from(shown_in == units::Unit::Inch);
            format!("{way} {} {}", units::decimal(shown_in.count(Mm(by.abs())), places), shown_in.symbol())
        }
    }
}

/// The tighter of width and height in the opening, as the unit passes it.
fn in_opening(opening: &Opening, unit: &Unit<'_>, way: &passage::Way) -> Option<Gap> {
    let panels: Vec<&Panel> = unit.panels.iter().map(|(_, p)| *p).collect();
    let size = |axis: usize| -> Option<Dim> { Some(outermost(&panels, axis, true)?.1 - outermost(&panels, axis, false)?.1) };
    let across = &opening.width - &size(way.through[0])?;
    let above = &opening.height - &size(way.through[2])?;
    let (what, gap) = if across.nominal() < above.nominal() { ("width", across) } else { ("height", above) };
    // A body of several layers may reach beyond the opening with one and pass it with another; its own way was found.
    (gap.nominal() > Mm::ZERO).then(|| Gap {
        name: format!("{} through the load opening's {what}", unit.name),
        gap,
        required: Gap::at_least(IN_OPENING),
        source: "common practice, no source".into(),
        parts: vec![unit.name.to_owned()],
        span: unit.span,
    })
}

/// Width of the tool that turns an anchor's bolt. Common practice, no source.
const TOOL: f64 = 30.0;
/// Height it needs over the base. Common practice, no source.
const TOOL_HEIGHT: f64 = 120.0;

/// Anchor bolts that no tool reaches from above.
fn out_of_reach(unit: &Unit<'_>, model: &Model) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (id, base) in &unit.panels {
        let Some(frame) = &base.frame else { continue };
        for hole in base.features.iter().filter(|f| f.purpose == crate::parts::Purpose::Anchor) {
            let [u, v] = hole.centre();
            let at = frame.to_bay(u, v, Mm::ZERO);
            let half = TOOL / 2.0;
            let tool = Box3 {
                min: Point3::new(at.x - half, at.y - half, at.z),
                max: Point3::new(at.x + half, at.y + half, at.z + TOOL_HEIGHT),
            };
            let by = model.panels.iter().enumerate().find(|(i, p)| {
                unit.panels.iter().any(|(q, _)| q.0 == *i && q != id)
                    && p.solid().is_some_and(|s| super::solid::meet(&s, &tool))
            });
            if let Some((_, by)) = by {
                let room = by.solid().map_or(0.0, |s| (s.min.z - at.z).max(0.0));
                findings.push(
                    Finding::caution(
                        codes::BOLT_OUT_OF_REACH,
                        format!(
                            "no tool gets at the bolt of {}: {} leaves {} of {TOOL_HEIGHT} mm over it",
                            hole.id,
                            by.name,
                            Mm(room)
                        ),
                    )
                    .part(base.id.clone())
                    .part(by.id.clone())
                    .at(hole.span.or(unit.span))
                    .limit(format!("a tool {TOOL} mm across, {TOOL_HEIGHT} mm high (common practice, no source)"))
                    .remedy("move that panel, bolt down before it goes in, or use another anchor"),
                );
            }
        }
    }
    findings
}

//! The screws that hold the front to the box, from inside.

use super::{Plan, Walls};
use crate::design::BottomStyle;
use crate::diag::Finding;
use crate::dim::Dim;
use crate::parts::builder::Builder;
use crate::parts::clash::{Rod, BETWEEN};
use crate::parts::joint;
use crate::parts::{codes, Depth, Face, Feature, FeatureKind, Frame, Hardware, PanelId, Purpose};
use crate::shop::Fastener;
use crate::units::Mm;

/// How far the front's screws stand in from the box front's ends and edges, at most. Common practice, no source.
const SCREW_INSET: Mm = Mm(50.0);
/// Wood left beyond the tip of a pilot in the front. Common practice, no source.
const PILOT_FLOOR: Mm = Mm(3.0);
/// Step by which a screw is moved to get clear of something.
const STEP: Mm = Mm(4.0);
/// A screw stays this far from the box front's edges. Common practice, no source.
const FROM_EDGE: Mm = Mm(10.0);

/// Four screws: clearance through the box front, blind pilots in the front's inner face; each near its corner of the box front,
/// clear of grooves, latch and grip.
pub(super) fn make(b: &mut Builder<'_>, plan: &Plan<'_>, front: PanelId, walls: &Walls) {
    if b.is_paper() {
        let length = b.at(walls.box_front).length.nominal();
        b.tape(&plan.name, "box front to front, along its upper and lower edges".into(), length * 2.0);
        return;
    }
    let screw = &*plan.drawer.fasteners.front;
    let box_front = walls.box_front;
    let (Some(inner), Some(outer)) = (b.at(box_front).frame.clone(), b.at(front).frame.clone()) else { return };
    let (length, height) = (b.at(box_front).length.clone(), b.at(box_front).width.clone());
    let inset = |size: &Dim| Dim::number((size.nominal() / 4.0).min(SCREW_INSET), "front screws stand in from the ends");
    let (du, dv) = (inset(&length), inset(&height));
    let depth = b.thickness(plan.drawer.front) - Dim::number(PILOT_FLOOR, "wood left beyond a pilot");
    let mut number = 0;
    for (u, right) in [(du.clone(), false), (&length - &du, true)] {
        for (v, up) in [(dv.clone(), false), (&height - &dv, true)] {
            number += 1;
            let search = Search { plan, front, box_front, inner: &inner, outer: &outer, screw, depth: depth.nominal() };
            let [u, v] = search.place(b, [u.clone(), v], [right, up], number);
            let bay = [&inner.origin[0] + &u, Dim::zero(), &inner.origin[2] + &v];
            let hole = |at, diameter: Mm, why: &str, depth, purpose, mate| Feature {
                id: format!("front screw {number}"),
                kind: FeatureKind::Hole { at, diameter: Dim::number(diameter, format!("{why} for {}", screw.name)) },
                depth,
                purpose,
                mate: Some(mate),
                span: plan.drawer.span,
            };
            let through =
                hole(inner.local(&bay), screw.clearance[1], "clearance", Depth::Through, Purpose::Clearance, front);
            b.cut(box_front, through);
            let blind = Depth::Blind(Face::B, depth.clone());
            let pilot = hole(outer.local(&bay), pilot_of(screw), "pilot", blind, Purpose::Pilot, box_front);
            b.cut(front, pilot);
        }
    }
    let stack = b.thickness(plan.drawer.box_board).nominal() + depth.nominal();
    let lengths = screw.lengths.iter().copied().filter(|l| *l <= stack).fold(Mm::ZERO, Mm::max);
    let needed = if lengths > Mm::ZERO { lengths } else { joint::screw_length(screw, stack) };
    b.hardware(Hardware {
        profile: screw.id.clone(),
        name: format!("{} x {needed}", screw.name),
        quantity: number,
        unit: plan.name.clone(),
        place: "box front to front, from inside".into(),
        mass_kg: None,
    });
}

fn pilot_of(screw: &Fastener) -> Mm {
    screw.pilot.unwrap_or(screw.diameter * 0.7)
}

/// The search for a place for one screw.
struct Search<'a> {
    plan: &'a Plan<'a>,
    front: PanelId,
    box_front: PanelId,
    inner: &'a Frame,
    outer: &'a Frame,
    screw: &'a Fastener,
    depth: Mm,
}

impl Search<'_> {
    /// Where the screw was wanted, or the nearest clear place; towards the box front's middle before away from it.
    fn place(&self, b: &mut Builder<'_>, wanted: [Dim; 2], [right, up]: [bool; 2], number: u32) -> [Dim; 2] {
        let (length, height) = (b.at(self.box_front).length.nominal(), b.at(self.box_front).width.nominal());
        let steps = |size: Mm| ((size / 3.0) / STEP).floor().max(0.0) as i32;
        let inward = |steps: i32, flip: bool| STEP * f64::from(if flip { -steps } else { steps });
        let (along, across) = (steps(length), steps(height));
        let mut shifts: Vec<(i32, i32)> = (-along..=along).flat_map(|i| (-across..=across).map(move |k| (i, k))).collect();
        shifts.sort_by_key(|(i, k)| (i * i + k * k, -i, -k));
        // First with the wood the project wants between cuts, then with the least that holds.
        let found = [b.design.process.min_web, BETWEEN].into_iter().find_map(|web| {
            shifts.iter().copied().find(|(i, k)| {
                let at = [wanted[0].nominal() + inward(*i, right), wanted[1].nominal() + inward(*k, up)];
                self.is_clear(b, at, web)
            })
        });
        let Some((i, k)) = found else {
            b.findings.push(
                Finding::stop(
                    codes::SCREW_HAS_NO_PLACE,
                    format!("front screw {number} of {} has no place clear of bottom, latch and grip", self.plan.name),
                )
                .part(b.at(self.box_front).id.clone())
                .at(self.plan.drawer.span)
                .remedy("make the box 20 mm higher or wider, or take a smaller latch"),
            );
            return wanted;
        };
        let [u, v] = wanted;
        let moved = |at: Dim, by: Mm| {
            if by == Mm::ZERO {
                at
            } else {
                at + Dim::number(by, "moved clear of what is there")
            }
        };
        [moved(u, inward(i, right)), moved(v, inward(k, up))]
    }

    fn is_clear(&self, b: &Builder<'_>, at: [Mm; 2], web: Mm) -> bool {
        let panel = b.at(self.box_front);
        let head = self.screw.head_diameter / 2.0;
        let low = match self.plan.drawer.bottom {
            // The head bears on the inside, above the bottom.
            BottomStyle::Between => b.thickness(self.plan.drawer.bottom_board).nominal() + head + BETWEEN,
            BottomStyle::Under | BottomStyle::Groove => FROM_EDGE,
        };
        if at[0] < FROM_EDGE || at[0] > panel.length.nominal() - FROM_EDGE {
            return false;
        }
        if at[1] < low || at[1] > panel.width.nominal() - FROM_EDGE {
            return false;
        }
        let clearance = self.screw.clearance[1] / 2.0;
        let bay = self.inner.to_bay(at[0], at[1], Mm::ZERO).to_array();
        let [u, v] = self.outer.local(&bay.map(|x| Dim::number(Mm(x), "place of a screw")));
        let t = panel.thickness.nominal().0;
        let rod = Rod { from: [bay[0], bay[1] + t, bay[2]], to: [bay[0], bay[1] - self.depth.0, bay[2]], radius: clearance };
        !b.meets_cut(self.box_front, at, (head + BETWEEN).max(clearance + web))
            && !b.meets_cut(self.front, [u.nominal(), v.nominal()], pilot_of(self.screw) / 2.0 + web)
            && !b.meets_rod(&rod)
    }
}

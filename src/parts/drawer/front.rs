//! The drawer front, and how it is held to the box.

use super::{Plan, Walls, LEAST_REVEAL};
use crate::design::{FingerPull, FrontFit};
use crate::dim::Dim;
use crate::parts::builder::{as_cut, Builder, NewPanel};
use crate::parts::frame::{Facing, Stretch};
use crate::parts::joint;
use crate::parts::{Depth, Face, Feature, FeatureKind, Gap, Grain, Hand, Hardware, PanelId, Purpose};
use crate::units::Mm;

/// How far the front's screws stand in from the box front's ends and edges, at most. Common practice, no source.
const SCREW_INSET: Mm = Mm(50.0);
/// Wood left beyond the tip of a pilot in the front. Common practice, no source.
const PILOT_FLOOR: Mm = Mm(3.0);

/// Makes the front and the holes that hold it.
pub(super) fn make(b: &mut Builder<'_>, plan: &Plan<'_>, walls: &Walls) -> PanelId {
    let drawer = plan.drawer;
    let t = b.thickness(drawer.front);
    let r = &drawer.reveal;
    let (x, z) = (&plan.opening.x, &plan.space.z);
    let (front_x, front_z) = match drawer.fit {
        FrontFit::Inset => (
            Stretch { from: &x.from + &r.left, size: &x.size - &r.left - &r.right },
            Stretch { from: &z.from + &r.bottom, size: &z.size - &r.bottom - &r.top },
        ),
        FrontFit::Overlay => {
            let ([left, right], [below, above]) = (&plan.opening.overlay, &plan.space.overlay);
            (
                Stretch { from: &(&x.from - left) + &r.left, size: &(&x.size + left) + right - &r.left - &r.right },
                Stretch { from: &(&z.from - below) + &r.bottom, size: &(&z.size + below) + above - &r.bottom - &r.top },
            )
        }
    };
    let y = Stretch { from: &plan.behind_front - &t, size: t };
    let id = b.panel(NewPanel {
        unit: &plan.name,
        name: format!("{} front", plan.name),
        hand: Hand::None,
        board: drawer.front,
        facing: Facing::Front,
        block: [front_x, y, front_z],
        grain: Grain::AlongU,
        span: drawer.span,
    });
    if let Some(pull) = &drawer.finger_pull {
        grip(b, plan, id, pull);
    }
    hold(b, plan, id, walls.box_front);
    declare_reveals(b, plan, id);
    id
}

/// Finger grip: a round-cornered notch in the middle of the upper edge, or a hole below it.
fn grip(b: &mut Builder<'_>, plan: &Plan<'_>, front: PanelId, pull: &FingerPull) {
    let (length, width) = (b.at(front).length.clone(), b.at(front).width.clone());
    let kind = match pull {
        FingerPull::Notch { width: wide, depth } => FeatureKind::EdgeNotch {
            at: [(&length - wide) * 0.5, &width - depth],
            size: [wide.clone(), depth.clone()],
            radius: Some(depth * 0.5),
        },
        FingerPull::Hole { diameter } => {
            FeatureKind::Hole { at: [&length * 0.5, &width - &(diameter * 1.25)], diameter: diameter.clone() }
        }
    };
    b.cut(
        front,
        Feature {
            id: "grip".into(),
            kind,
            depth: Depth::Through,
            purpose: Purpose::Grip,
            mate: None,
            span: plan.drawer.span,
        },
    );
}

/// Four screws from inside: clearance through the box front, blind pilots in the front's inner face.
fn hold(b: &mut Builder<'_>, plan: &Plan<'_>, front: PanelId, box_front: PanelId) {
    let screw = &plan.drawer.fasteners.front;
    let (Some(inner), Some(outer)) = (b.at(box_front).frame.clone(), b.at(front).frame.clone()) else { return };
    let (length, height) = (b.at(box_front).length.clone(), b.at(box_front).width.clone());
    let inset = |size: &Dim| Dim::number((size.nominal() / 4.0).min(SCREW_INSET), "front screws stand in from the ends");
    let (du, dv) = (inset(&length), inset(&height));
    let pilot = screw.pilot.unwrap_or(screw.diameter * 0.7);
    let depth = b.thickness(plan.drawer.front) - Dim::number(PILOT_FLOOR, "wood left beyond a pilot");
    let mut number = 0;
    for u in [du.clone(), &length - &du] {
        for v in [dv.clone(), &height - &dv] {
            number += 1;
            let bay = [&inner.origin[0] + &u, Dim::zero(), &inner.origin[2] + &v];
            let hole = |at, diameter: Mm, why: String, depth, mate| Feature {
                id: format!("front screw {number}"),
                kind: FeatureKind::Hole { at, diameter: Dim::number(diameter, why) },
                depth,
                purpose: if mate == front { Purpose::Clearance } else { Purpose::Pilot },
                mate: Some(mate),
                span: plan.drawer.span,
            };
            let through =
                hole(inner.local(&bay), screw.clearance[1], format!("clearance for {}", screw.name), Depth::Through, front);
            b.cut(box_front, through);
            let blind = Depth::Blind(Face::B, depth.clone());
            let pilot = hole(outer.local(&bay), pilot, format!("pilot for {}", screw.name), blind, box_front);
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

fn declare_reveals(b: &mut Builder<'_>, plan: &Plan<'_>, front: PanelId) {
    if plan.drawer.fit == FrontFit::Overlay {
        return;
    }
    let panel = b.at(front);
    let (name, id) = (panel.name.clone(), panel.id.clone());
    let (length, width) = (panel.length.clone(), panel.width.clone());
    let r = &plan.drawer.reveal;
    let sides = [
        ("reveals left and right", &plan.opening.x.size, &length, r.left.nominal() + r.right.nominal()),
        ("reveals above and below", &plan.space.z.size, &width, r.top.nominal() + r.bottom.nominal()),
    ];
    for (what, opening, size, asked) in sides {
        if asked <= Mm::ZERO {
            continue;
        }
        b.gap(Gap {
            name: format!("{name}: {what}, together"),
            gap: opening.built() - as_cut(size, &format!("{name} {what}")),
            required: Gap::at_least(LEAST_REVEAL * 2.0),
            source: "a front that moves needs 0.3 mm each side; common practice, no source".into(),
            parts: vec![id.clone()],
            span: plan.drawer.span,
        });
    }
}

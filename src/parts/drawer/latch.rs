//! The latch: its opening and bolts in the front, room for its body in the box, and its strike above.

use super::walls::GROOVE_RISE;
use super::{Plan, Walls};
use crate::design::{BottomStyle, FrontFit};
use crate::diag::Finding;
use crate::dim::{Dim, Range};
use crate::geom::Axis;
use crate::parts::builder::{cut_error, Builder};
use crate::parts::frame::Stretch;
use crate::parts::{codes, Depth, Face, Feature, FeatureKind, Gap, Hardware, PanelId, Purpose};
use crate::shop::{CutOutShape, Latch};
use crate::units::Mm;

/// Wood of the box front below a latch's body, above the bottom. Common practice, no source.
const LEFT_BELOW: Mm = Mm(15.0);
/// The least that is ever left of the box front below a latch's body.
const LEAST_STRIP: Mm = Mm(5.0);
/// Play round a latch's body where it passes the box front. Common practice, no source.
const BODY_PLAY: Mm = Mm(2.0);
/// Play of the bolt in its strike, each way. Common practice, no source.
const STRIKE_PLAY: Mm = Mm(1.0);
/// Length of the strike's pocket behind the engaging face, so that the bolt can swing in. Common practice, no source.
const STRIKE_LENGTH: Mm = Mm(16.0);
/// Wood left over a blind strike; with less it goes through. Common practice, no source.
const STRIKE_FLOOR: Mm = Mm(3.0);

/// Fits the drawer's latch, or says that nothing locks it.
pub(super) fn fit(b: &mut Builder<'_>, plan: &Plan<'_>, front: PanelId, walls: &Walls) {
    let Some(latch) = &plan.drawer.latch else {
        no_lock(b, plan, "it has no latch");
        return;
    };
    if !latch.positive_lock {
        no_lock(b, plan, &format!("{} does not hold by itself", latch.name));
    }
    check_front(b, plan, latch, front);
    let Some(frame) = b.at(front).frame.clone() else { return };
    let centre = [frame.origin[0].clone() + &b.at(front).length * 0.5, Dim::zero(), height_of(b, plan, latch, front)];
    let local = frame.local(&centre);
    check_place(b, plan, latch, front, &local);
    cut_front(b, plan, latch, front, &local);
    make_room(b, plan, latch, walls.box_front, &centre);
    if let Some(ceiling) = plan.space.ceiling {
        strike(b, plan, latch, ceiling, &centre);
        engagement(b, plan, latch, front, ceiling);
    } else {
        b.findings.push(
            Finding::caution(
                codes::LATCH_HAS_NO_STRIKE,
                format!("{} has nothing above its front for the latch to strike into", plan.name),
            )
            .part(b.at(front).id.clone())
            .at(plan.drawer.span)
            .remedy("put a shelf above this cell, or fix a strike by hand"),
        );
    }
    let slide_gap = (&plan.block[0].size - &Dim::number(latch.body[0], format!("body of {}", latch.name))) * 0.5;
    b.gap(Gap {
        name: format!("{}: latch body to slide", plan.name),
        gap: slide_gap,
        required: Gap::at_least(BODY_PLAY),
        source: "common practice, no source".into(),
        parts: vec![b.at(front).id.clone()],
        span: plan.drawer.span,
    });
    b.hardware(Hardware {
        profile: latch.id.clone(),
        name: latch.name.clone(),
        quantity: 1,
        unit: plan.name.clone(),
        place: "front".into(),
        mass_kg: None,
    });
    if let Some(bolt) = &plan.drawer.fasteners.latch {
        b.hardware(Hardware {
            profile: bolt.id.clone(),
            name: bolt.name.clone(),
            quantity: latch.bolts.len() as u32,
            unit: plan.name.clone(),
            place: "latch to front".into(),
            mass_kg: None,
        });
    }
}

/// How far the bolt goes into its strike: what the profile says, less what the drawer may hang low, or more where it stands high.
fn engagement(b: &mut Builder<'_>, plan: &Plan<'_>, latch: &Latch, front: PanelId, ceiling: PanelId) {
    let name = &plan.name;
    let hangs = cut_error(&format!("{name} slide height")) + cut_error(&format!("{name} latch opening"));
    let gap = Gap {
        name: format!("{name}: latch bolt in its strike"),
        gap: Dim::number(latch.strike.reach, format!("reach of {}", latch.name)) + hangs,
        required: Range { min: latch.strike.reach / 2.0, max: latch.strike.reach + STRIKE_PLAY },
        source: "half of the bolt's reach holds, and its pocket is 1 mm deeper; common practice, no source".into(),
        parts: vec![b.at(front).id.clone(), b.at(ceiling).id.clone()],
        span: plan.drawer.span,
    };
    b.gap(gap);
}

fn no_lock(b: &mut Builder<'_>, plan: &Plan<'_>, why: &str) {
    b.findings.push(
        Finding::caution(codes::NO_POSITIVE_LOCK, format!("{} can open on the road: {why}", plan.name))
            .part(&plan.name)
            .at(plan.drawer.span)
            .limit("magnets, friction and detents do not count for stored load (common practice, no source)")
            .remedy("give it a latch that locks"),
    );
}

/// Whether the latch fits the front's face and thickness.
fn check_front(b: &mut Builder<'_>, plan: &Plan<'_>, latch: &Latch, front: PanelId) {
    let panel = b.at(front);
    let (id, length, width, t) =
        (panel.id.clone(), panel.length.nominal(), panel.width.nominal(), panel.thickness.nominal());
    let [wide, high] = [latch.face[0].max(latch.body[0]), latch.face[1].max(latch.body[1])];
    if wide > length || high > width {
        b.findings.push(
            Finding::stop(
                codes::LATCH_LARGER_THAN_FRONT,
                format!("{} needs {wide} x {high} mm, the front of {} is {length} x {width} mm", latch.name, plan.name),
            )
            .part(id.clone())
            .at(plan.drawer.span)
            .remedy("take a smaller latch or make the cell larger"),
        );
    }
    let (thin, thick) = latch.front_thickness;
    if t < thin || t > thick {
        b.findings.push(
            Finding::caution(
                codes::LATCH_FRONT_THICKNESS,
                format!("{} fits fronts of {thin} to {thick} mm, this one is {t} mm", latch.name),
            )
            .part(id)
            .at(plan.drawer.span)
            .remedy("take another board for the front or another latch"),
        );
    }
}

/// Whether the latch's face lies on the front where its bolt puts it, and clear of a finger pull.
fn check_place(b: &mut Builder<'_>, plan: &Plan<'_>, latch: &Latch, front: PanelId, centre: &[Dim; 2]) {
    let panel = b.at(front);
    let id = panel.id.clone();
    let [wide, high] = [latch.face[0].max(latch.body[0]) / 2.0, latch.face[1].max(latch.body[1]) / 2.0];
    let [u, v] = [centre[0].nominal(), centre[1].nominal()];
    let beyond = (high - v).max(v + high - panel.width.nominal());
    let fits_at_all = latch.face[1].max(latch.body[1]) <= panel.width.nominal();
    let grip = panel.features.iter().find(|f| f.purpose == Purpose::Grip).is_some_and(|grip| {
        let (half_u, half_v) = match &grip.kind {
            FeatureKind::EdgeNotch { size, .. } => (size[0].nominal() / 2.0, size[1].nominal() / 2.0),
            FeatureKind::Hole { diameter, .. } => (diameter.nominal() / 2.0, diameter.nominal() / 2.0),
            _ => (Mm::ZERO, Mm::ZERO),
        };
        let [gu, gv] = grip.centre();
        (gu - u).abs() < half_u + wide && (gv - v).abs() < half_v + high
    });
    if fits_at_all && beyond > Mm::ZERO {
        b.findings.push(
            Finding::stop(
                codes::LATCH_LARGER_THAN_FRONT,
                format!("the face of {} would reach {beyond} mm beyond the front of {}", latch.name, plan.name),
            )
            .part(id.clone())
            .at(plan.drawer.span)
            .remedy(format!("make the cell {beyond} mm higher, or take a smaller latch")),
        );
    }
    if grip {
        b.findings.push(
            Finding::stop(
                codes::GRIP_MEETS_LATCH,
                format!("the finger pull of {} lies where {} goes", plan.name, latch.name),
            )
            .part(id)
            .at(plan.drawer.span)
            .remedy("leave out `finger_pull`: a latch is pulled by itself"),
        );
    }
}

/// Height of the latch's centre: where its bolt reaches into what is above; without that, as high as its face allows.
fn height_of(b: &Builder<'_>, plan: &Plan<'_>, latch: &Latch, front: PanelId) -> Dim {
    let bolt_top = latch.strike.rise + latch.strike.height / 2.0;
    let name = format!("{} latch centre height", plan.name);
    if plan.space.ceiling.is_some() {
        let below =
            Dim::number(bolt_top - latch.strike.reach, format!("centre of {} to the underside it strikes", latch.name));
        return (&plan.space.z.to() - &below).named(name);
    }
    let panel = b.at(front);
    let top = panel.frame.as_ref().map_or_else(Dim::zero, |f| &f.origin[2] + &panel.width);
    let half = Dim::number(latch.face[1] / 2.0 + Mm(10.0), format!("half of the face of {} and 10 mm", latch.name));
    (&top - &half).named(name)
}

fn cut_front(b: &mut Builder<'_>, plan: &Plan<'_>, latch: &Latch, front: PanelId, centre: &[Dim; 2]) {
    let number = |value: Mm| Dim::number(value, format!("opening for {}", latch.name));
    let kind = match latch.cut_out {
        CutOutShape::Rectangle { width, height, radius } => FeatureKind::Rectangle {
            at: [&centre[0] - &number(width / 2.0), &centre[1] - &number(height / 2.0)],
            size: [number(width), number(height)],
            radius: Some(number(radius)),
        },
        CutOutShape::Round { diameter } => FeatureKind::Hole { at: centre.clone(), diameter: number(diameter) },
    };
    let feature = |id: String, kind| Feature {
        id,
        kind,
        depth: Depth::Through,
        purpose: Purpose::Latch,
        mate: None,
        span: plan.drawer.span,
    };
    b.cut(front, feature("latch".into(), kind));
    let Some(bolt) = &plan.drawer.fasteners.latch else { return };
    for (i, [dx, dy]) in latch.bolts.iter().enumerate() {
        let at = [
            &centre[0] + &Dim::number(*dx, format!("bolt of {}", latch.name)),
            &centre[1] + &Dim::number(*dy, format!("bolt of {}", latch.name)),
        ];
        let diameter = Dim::number(bolt.clearance[1], format!("{} clearance", bolt.name));
        b.cut(front, feature(format!("latch bolt {}", i + 1), FeatureKind::Hole { at, diameter }));
    }
}

/// Notches the box front where the latch's body stands behind the front.
fn make_room(b: &mut Builder<'_>, plan: &Plan<'_>, latch: &Latch, box_front: PanelId, centre: &[Dim; 3]) {
    if latch.body_depth <= b.thickness(plan.drawer.front).nominal() {
        return;
    }
    let Some(frame) = b.at(box_front).frame.clone() else { return };
    let width = b.at(box_front).width.clone();
    let [u, v] = frame.local(centre);
    let play = |half: Mm, why: &str| Dim::number(half + BODY_PLAY, format!("{why} of {} and play", latch.name));
    let (half_u, half_v) = (play(latch.body[0] / 2.0, "half width"), play(latch.body[1] / 2.0, "half height"));
    let bottom = &v - &half_v;
    if bottom.nominal() >= width.nominal() {
        return;
    }
    let floor = match plan.drawer.bottom {
        BottomStyle::Under => Mm::ZERO,
        BottomStyle::Between => b.thickness(plan.drawer.bottom_board).nominal(),
        BottomStyle::Groove => GROOVE_RISE + b.thickness(plan.drawer.bottom_board).nominal(),
    };
    let short = floor + LEFT_BELOW - bottom.nominal();
    if short > Mm::ZERO {
        b.findings.push(
            Finding::stop(
                codes::LATCH_SPLITS_BOX,
                format!(
                    "the body of {} leaves {} mm of the box front of {} below it; {} mm hold it together",
                    latch.name,
                    bottom.nominal().max(Mm::ZERO),
                    plan.name,
                    floor + LEFT_BELOW
                ),
            )
            .part(b.at(box_front).id.clone())
            .at(plan.drawer.span)
            .limit("common practice, no source")
            .remedy(format!("make the box at least {short} mm higher (or its cell), or take a smaller latch")),
        );
    }
    // Never right through: a box front in two halves would be two parts.
    let from =
        if bottom.nominal() < LEAST_STRIP { Dim::number(LEAST_STRIP, "a strip that holds the box front") } else { bottom };
    let depth = &width - &from;
    if depth.nominal() <= Mm::ZERO {
        return;
    }
    b.cut(
        box_front,
        Feature {
            id: "latch body".into(),
            kind: FeatureKind::EdgeNotch {
                at: [&u - &half_u, from],
                size: [&half_u * 2.0, depth],
                radius: Some(Dim::number(Mm(6.0), "rounded corner")),
            },
            depth: Depth::Through,
            purpose: Purpose::Latch,
            mate: None,
            span: plan.drawer.span,
        },
    );
}

/// Cuts the strike into the underside of the panel above.
fn strike(b: &mut Builder<'_>, plan: &Plan<'_>, latch: &Latch, ceiling: PanelId, centre: &[Dim; 3]) {
    let s = &latch.strike;
    let wide = Dim::number(s.width + STRIKE_PLAY * 2.0, format!("bolt of {} and play", latch.name));
    let behind = Dim::number(s.behind_front, format!("bolt of {} behind the front", latch.name));
    let back = match plan.drawer.fit {
        FrontFit::Inset | FrontFit::Overlay => &plan.behind_front + &behind,
    };
    let length = Dim::number(STRIKE_LENGTH, "room for the bolt to swing");
    let block = [
        Stretch { from: &centre[0] - &(&wide * 0.5), size: wide },
        Stretch { from: back, size: length },
        Stretch::new(&centre[2], &Dim::zero()),
    ];
    let Some(frame) = b.at(ceiling).frame.clone() else { return };
    debug_assert_eq!((frame.u, frame.v), (Axis::PlusX, Axis::PlusY), "tops and shelves lie face up");
    let (at, size) = frame.local_rect(&block);
    let deep = Dim::number(s.reach + STRIKE_PLAY, format!("reach of {} and play", latch.name));
    let through = b.thickness(b.at(ceiling).board).nominal() - deep.nominal() < STRIKE_FLOOR;
    b.cut(
        ceiling,
        Feature {
            id: format!("strike {}", plan.cell.name),
            kind: FeatureKind::Rectangle { at, size, radius: Some(Dim::number(Mm(3.2), "rounded corner")) },
            depth: if through { Depth::Through } else { Depth::Blind(Face::B, deep) },
            purpose: Purpose::Strike,
            mate: None,
            span: plan.drawer.span,
        },
    );
}

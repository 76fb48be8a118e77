//! The drawer box: four walls and a bottom.

use super::{Plan, Walls};
use crate::design::{BoardId, BottomStyle, JointKind};
use crate::diag::Finding;
use crate::dim::Dim;
use crate::parts::builder::{Builder, NewPanel};
use crate::parts::frame::{Facing, Stretch};
use crate::parts::joint::{self, Meeting};
use crate::parts::{codes, Depth, Feature, FeatureKind, Grain, Hand, PanelId, Purpose};
use crate::units::Mm;

/// How far a groove for the bottom stands above the walls' lower edge. Common practice, no source.
pub(super) const GROOVE_RISE: Mm = Mm(8.0);
/// Wood wanted between a groove and the end of the finger it lies in. Common practice, no source.
const LEAST_BESIDE: Mm = Mm(3.0);
/// Depth of the bottom's groove as a share of the walls' thickness: half at most may be cut away (checklist PJ2).
const GROOVE_SHARE: f64 = 0.4;

/// Makes walls and bottom.
pub(super) fn make(b: &mut Builder<'_>, plan: &Plan<'_>) -> Walls {
    let drawer = plan.drawer;
    let t = b.thickness(drawer.box_board);
    let bottom_t = b.thickness(drawer.bottom_board);
    let [x, y, z] = plan.block.clone();
    let wall_z = match drawer.bottom {
        BottomStyle::Under => Stretch { from: &z.from + &bottom_t, size: &z.size - &bottom_t },
        BottomStyle::Between | BottomStyle::Groove => z.clone(),
    };
    let left_x = Stretch::new(&x.from, &t);
    let right_x = Stretch { from: &x.to() - &t, size: t.clone() };
    let left = wall(b, plan, "left side", (Facing::Right, Hand::Left), [left_x.clone(), y.clone(), wall_z.clone()]);
    let right = wall(b, plan, "right side", (Facing::Left, Hand::Right), [right_x.clone(), y.clone(), wall_z.clone()]);

    // Front and back run between the sides (butt), into channels in them (rabbet), or to the outside (finger).
    let reach = match drawer.joint {
        JointKind::Butt => Dim::zero(),
        JointKind::Finger => t.clone(),
        JointKind::Dado | JointKind::Rabbet => &t * (1.0 / 3.0),
    };
    let inner_x = Stretch { from: &(&x.from + &t) - &reach, size: &(&x.size - &(&t * 2.0)) + &(&reach * 2.0) };
    let front_y = Stretch::new(&y.from, &t);
    let back_y = Stretch { from: &y.to() - &t, size: t.clone() };
    let box_front =
        wall(b, plan, "box front", (Facing::Front, Hand::None), [inner_x.clone(), front_y.clone(), wall_z.clone()]);
    let box_back = wall(b, plan, "box back", (Facing::Front, Hand::None), [inner_x, back_y.clone(), wall_z.clone()]);
    // The bottom first: the corners' screws then keep clear of what holds it.
    let bottom = make_bottom(b, plan, &t, &bottom_t, [left, right, box_front, box_back]);
    for (side, side_x) in [(left, &left_x), (right, &right_x)] {
        for (end, end_y) in [(box_front, &front_y), (box_back, &back_y)] {
            let meeting = Meeting { field: side, edge: end, block: [side_x.clone(), end_y.clone(), wall_z.clone()], run: 2 };
            match drawer.joint {
                JointKind::Butt => joint::screwed(b, &meeting, &drawer.fasteners.wall, ""),
                JointKind::Finger => joint::fingers(b, &meeting),
                JointKind::Dado | JointKind::Rabbet => {
                    let clearance = b.design.process.joint_clearance.glued.clone();
                    joint::channel(b, &meeting, None, &reach, &clearance, "rabbet");
                }
            }
        }
    }
    if (drawer.joint, drawer.bottom) == (JointKind::Finger, BottomStyle::Groove) {
        for wall in [box_front, box_back] {
            open_groove(b, plan, wall);
        }
    }
    Walls { left, right, box_front, all: vec![left, right, box_front, box_back, bottom] }
}

fn wall(b: &mut Builder<'_>, plan: &Plan<'_>, what: &str, (facing, hand): (Facing, Hand), block: [Stretch; 3]) -> PanelId {
    box_panel(b, plan, what, plan.drawer.box_board, facing, hand, block)
}

fn box_panel(
    b: &mut Builder<'_>,
    plan: &Plan<'_>,
    what: &str,
    board: BoardId,
    facing: Facing,
    hand: Hand,
    block: [Stretch; 3],
) -> PanelId {
    b.panel(NewPanel {
        unit: &plan.name,
        name: format!("{} {what}", plan.name),
        hand,
        board,
        facing,
        block,
        grain: Grain::AlongU,
        span: plan.drawer.span,
    })
}

fn make_bottom(b: &mut Builder<'_>, plan: &Plan<'_>, t: &Dim, bottom_t: &Dim, walls: [PanelId; 4]) -> PanelId {
    let drawer = plan.drawer;
    let [x, y, z] = &plan.block;
    let inside =
        |s: &Stretch, reach: &Dim| Stretch { from: &(&s.from + t) - reach, size: &(&s.size - &(t * 2.0)) + &(reach * 2.0) };
    let bottom = |b: &mut Builder<'_>, bx: Stretch, by: Stretch, bz: Stretch| {
        box_panel(b, plan, "bottom", drawer.bottom_board, Facing::Up, Hand::None, [bx, by, bz])
    };
    let low = Stretch::new(&z.from, bottom_t);
    match drawer.bottom {
        BottomStyle::Under => {
            let id = bottom(b, x.clone(), y.clone(), low.clone());
            // The bottom is the face that is met; the walls stand on it.
            for wall in walls {
                let Some(meeting) = wall_on_bottom(b, id, wall, &low) else { continue };
                joint::screwed(b, &meeting, &drawer.fasteners.wall, "");
            }
            id
        }
        BottomStyle::Between => {
            let none = Dim::zero();
            let (ix, iy) = (inside(x, &none), inside(y, &none));
            let id = bottom(b, ix.clone(), iy.clone(), low.clone());
            for wall in walls {
                let Some(block) = shared_with_wall(b, wall, &ix, &iy, &low) else { continue };
                let run = usize::from(b.at(wall).hand != Hand::None);
                joint::screwed(b, &Meeting { field: wall, edge: id, block, run }, &drawer.fasteners.wall, "");
            }
            id
        }
        BottomStyle::Groove => {
            let depth = (t * GROOVE_SHARE).named(format!("{} bottom groove depth", plan.name));
            let loose = b.design.process.joint_clearance.loose.clone();
            // The bottom stops half of the clearance short of each groove's floor.
            let reach = &depth - &(&loose * 0.5);
            let rise = groove_rise(b, plan, t.nominal(), bottom_t.nominal() + loose.nominal());
            let level = Stretch { from: &z.from + &rise, size: bottom_t.clone() };
            let id = bottom(b, inside(x, &reach), inside(y, &reach), level.clone());
            let (gx, gy) = (inside(x, &depth), inside(y, &depth));
            for wall in walls {
                groove(b, wall, id, [&gx, &gy, &level], &depth, &loose);
            }
            id
        }
    }
}

/// The box in which a wall stands on a bottom below it.
fn wall_on_bottom(b: &Builder<'_>, bottom: PanelId, wall: PanelId, low: &Stretch) -> Option<Meeting> {
    let panel = b.at(wall);
    let frame = panel.frame.as_ref()?;
    let run = frame.u.index();
    let across = 1 - run;
    let from = if frame.u.sign() > 0.0 { frame.origin[run].clone() } else { &frame.origin[run] - &panel.length };
    // Face A looks inward on the sides and forward on front and back; the wall's thickness lies behind it.
    let normal = frame.u.unit().cross(frame.v.unit()).to_array()[across];
    let near = &frame.origin[across];
    let across_from = if normal > 0.0 { near - &panel.thickness } else { near.clone() };
    let mut block = [low.clone(), low.clone(), low.clone()];
    block[run] = Stretch { from, size: panel.length.clone() };
    block[across] = Stretch { from: across_from, size: panel.thickness.clone() };
    Some(Meeting { field: bottom, edge: wall, block, run })
}

/// The box in which a bottom's edge would go through a wall.
fn shared_with_wall(b: &Builder<'_>, wall: PanelId, x: &Stretch, y: &Stretch, z: &Stretch) -> Option<[Stretch; 3]> {
    let own = wall_on_bottom(b, wall, wall, z)?;
    let across = 1 - own.run;
    let mut block = [x.clone(), y.clone(), z.clone()];
    block[across] = own.block[across].clone();
    Some(block)
}

/// Cuts the bottom's groove into a wall's inside.
fn groove(b: &mut Builder<'_>, wall: PanelId, bottom: PanelId, [gx, gy, level]: [&Stretch; 3], depth: &Dim, loose: &Dim) {
    let width = joint::thickest(b, b.at(bottom).board) + loose;
    let z = Stretch { from: &level.middle() - &(&width * 0.5), size: width };
    let Some(block) = shared_with_wall(b, wall, gx, gy, &z) else { return };
    let face = joint::face_towards(b, wall, bottom);
    let Some((at, size)) = b.at(wall).frame.as_ref().map(|f| f.local_rect(&block)) else { return };
    let span = b.at(wall).span;
    let mate = b.at(bottom).id.clone();
    b.cut(
        wall,
        Feature {
            id: format!("groove {mate}"),
            kind: FeatureKind::Groove { at, size },
            depth: Depth::Blind(face, depth.clone()),
            purpose: Purpose::Joint,
            mate: Some(bottom),
            span,
        },
    );
}

/// Height of the groove over the walls' lower edge: the usual one, or less where fingers are so narrow that the groove would run
/// from the lowest finger into the next.
fn groove_rise(b: &Builder<'_>, plan: &Plan<'_>, t: Mm, wide: Mm) -> Dim {
    if plan.drawer.joint == JointKind::Finger {
        let finger = joint::finger_width(b, plan.block[2].size.nominal(), t);
        if GROOVE_RISE + wide > finger - LEAST_BESIDE {
            let rise = ((finger - wide) / 2.0).max(LEAST_BESIDE).min(GROOVE_RISE);
            return Dim::number(rise, "bottom groove in the middle of the lowest finger");
        }
    }
    Dim::number(GROOVE_RISE, "bottom groove above the lower edge")
}

/// Lets the groove of a front or back run out through the notches at its ends, where the sides' lowest fingers go: the bottom's
/// corners sit in the sides' grooves there.
fn open_groove(b: &mut Builder<'_>, plan: &Plan<'_>, wall: PanelId) {
    let panel = b.at(wall);
    let (length, mut ends) = (panel.length.clone(), 0);
    let Some(index) = panel.features.iter().position(|f| matches!(f.kind, FeatureKind::Groove { .. })) else { return };
    let FeatureKind::Groove { at, size } = &panel.features[index].kind else { return };
    let (low, high) = (at[1].nominal(), at[1].nominal() + size[1].nominal());
    let (at, size) = ([Dim::zero(), at[1].clone()], [length, size[1].clone()]);
    for f in &panel.features {
        if let FeatureKind::EdgeNotch { at, size, .. } = &f.kind {
            if at[1].nominal() <= low && at[1].nominal() + size[1].nominal() >= high {
                ends += 1;
            }
        }
    }
    if ends == 2 {
        b.model.panels[wall.0].features[index].kind = FeatureKind::Groove { at, size };
        return;
    }
    let id = b.at(wall).id.clone();
    b.findings.push(
        Finding::stop(
            codes::GROOVE_MEETS_FINGERS,
            format!("the bottom's groove of {} is wider than the lowest finger at its corners", plan.name),
        )
        .part(id)
        .at(plan.drawer.span)
        .remedy("write `bottom = \"under\"` or `bottom = \"between\"`, take a thinner bottom, or make the box higher"),
    );
}

//! The drawer front.

use super::{grip, Plan, Walls, LEAST_REVEAL};
use crate::design::FrontFit;
use crate::parts::builder::{as_cut, Builder, NewPanel};
use crate::parts::frame::{Facing, Stretch};
use crate::parts::{Gap, Grain, Hand, PanelId};

/// Makes the front.
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
        grip::cut(b, plan, [id, walls.box_front], pull);
    }
    declare_reveals(b, plan, id);
    id
}

fn declare_reveals(b: &mut Builder<'_>, plan: &Plan<'_>, front: PanelId) {
    if plan.drawer.fit == FrontFit::Overlay {
        return;
    }
    let panel = b.at(front);
    let (name, id) = (panel.name.clone(), panel.id.clone());
    let (length, width) = (panel.length.clone(), panel.width.clone());
    let sides =
        [("reveals left and right", &plan.opening.x.size, &length), ("reveals above and below", &plan.space.z.size, &width)];
    for (what, opening, size) in sides {
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

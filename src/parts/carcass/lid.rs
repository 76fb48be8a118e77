//! A top that is a lid: it lies on the uprights, and a continuous hinge holds it along one edge.

use crate::design::{Carcass, Edge, Lid as Plan};
use crate::parts::builder::Builder;
use crate::parts::{Hardware, Lid, PanelId};

/// Hangs the top; the hinge's leaves lie on the outside, clear of what is inside (common practice, no source).
pub(super) fn hang(b: &mut Builder<'_>, carcass: &Carcass, plan: Plan, top: PanelId) {
    let panel = b.at(top);
    let along = match plan.hinge {
        Edge::Front | Edge::Back => panel.length.nominal(),
        Edge::Left | Edge::Right => panel.width.nominal(),
    };
    b.hardware(Hardware {
        profile: "continuous-hinge".into(),
        name: format!("continuous hinge cut to {along} mm, with its own screws"),
        quantity: 1,
        unit: carcass.name.clone(),
        place: format!("{} lid, outside", carcass.name),
        mass_kg: None,
    });
    b.hardware(Hardware {
        profile: "lid-stay".into(),
        name: "locking lid stay, with its own screws".into(),
        quantity: 2,
        unit: carcass.name.clone(),
        place: format!("{} lid, one at each end", carcass.name),
        mass_kg: None,
    });
    b.model.lids.push(Lid {
        name: format!("{} lid", carcass.name),
        panels: vec![top],
        hinge: plan.hinge,
        angle: plan.angle,
        span: plan.span.or(carcass.span),
    });
}

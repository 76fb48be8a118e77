//! Bolts through the base into the vehicle's own anchor points.

use super::Built;
use crate::design::{Anchor, Carcass, CarcassPlace};
use crate::diag::Finding;
use crate::dim::Dim;
use crate::parts::bolts::Standing;
use crate::parts::builder::Builder;
use crate::parts::{codes, Depth, Feature, FeatureKind, Hardware, PanelId, Purpose};
use crate::units::Mm;

/// Wood that a large washer must still bear on all round the hole. Common practice, no source.
const WASHER_SEAT: Mm = Mm(2.5);

/// Drills the base for every anchor the carcass names: a hole with play for where the point really is, under a large washer.
pub(super) fn drill(b: &mut Builder<'_>, carcass: &Carcass, built: &Built) {
    let Some(bay) = &b.design.bay else { return };
    let anchors: Vec<Anchor> = carcass.anchors.iter().filter_map(|i| bay.anchors.get(*i)).cloned().collect();
    if anchors.is_empty() {
        return;
    }
    if let CarcassPlace::On { .. } = carcass.at {
        b.findings.push(
            Finding::stop(
                codes::ANCHOR_OFF_FLOOR,
                format!("{} names anchors in the floor but stands on another carcass", carcass.name),
            )
            .part(&carcass.name)
            .at(carcass.span)
            .remedy("name the anchors at the carcass that stands on the floor"),
        );
        return;
    }
    let Some(base) = built.base else {
        b.findings.push(
            Finding::stop(codes::ANCHOR_NEEDS_BASE, format!("{} names anchors but has no base to bolt down", carcass.name))
                .part(&carcass.name)
                .at(carcass.span)
                .remedy("give it a base, or take the anchors out"),
        );
        return;
    };
    for anchor in &anchors {
        bolt_down(b, built, base, anchor, &carcass.name);
    }
}

fn bolt_down(b: &mut Builder<'_>, built: &Built, base: PanelId, anchor: &Anchor, unit: &str) {
    let bolt = &anchor.thread;
    let [inner, outer, thick] = bolt.washer.unwrap_or([bolt.diameter, bolt.diameter * 2.0, Mm::ZERO]);
    // The hole takes the loose clearance and the uncertainty of where the point is, as far as the washer still covers it.
    let reading = anchor.at.iter().map(|d| d.worst_case().max - d.nominal()).fold(Mm::ZERO, Mm::max);
    let wanted = bolt.clearance[2] + reading * 2.0;
    let most = outer - WASHER_SEAT * 2.0;
    let diameter = wanted.min(most).max(inner.max(bolt.clearance[2]));
    let at = [anchor.at[0].clone(), anchor.at[1].clone(), Dim::zero()];
    let Some(local) = b.at(base).frame.as_ref().map(|f| f.local(&at)) else { return };
    let (length, width) = (b.at(base).length.nominal(), b.at(base).width.nominal());
    let radius = outer / 2.0;
    let room = [local[0].nominal(), local[1].nominal(), length - local[0].nominal(), width - local[1].nominal()];
    let least = room.into_iter().fold(Mm(f64::INFINITY), Mm::min);
    if least < radius {
        b.findings.push(
            Finding::stop(
                codes::ANCHOR_OFF_BASE,
                format!("anchor \"{}\" lies {least} mm inside the base's edge; its washer needs {radius} mm", anchor.name),
            )
            .part(b.at(base).id.clone())
            .at(anchor.span)
            .remedy(format!("move or widen {unit} by {} mm, or leave this anchor out", radius - least)),
        );
        return;
    }
    under_an_upright(b, built, anchor, radius, unit);
    let at = [anchor.at[0].nominal(), anchor.at[1].nominal()];
    b.heads.push(Standing { panel: base, above: true, at, radius, height: bolt.head_height + thick });
    let span = anchor.span;
    b.cut(
        base,
        Feature {
            id: format!("anchor {}", anchor.name),
            kind: FeatureKind::Hole {
                at: local,
                diameter: Dim::number(diameter, format!("{} with play for the point's true place", bolt.name)),
            },
            depth: Depth::Through,
            purpose: Purpose::Anchor,
            mate: None,
            span,
        },
    );
    b.hardware(Hardware {
        profile: bolt.id.clone(),
        name: format!("{} with large washer {outer} x {thick}", bolt.name),
        quantity: 1,
        unit: unit.to_owned(),
        place: format!("anchor {}: length by the vehicle's own thread depth plus the base and washer", anchor.name),
        mass_kg: None,
    });
}

/// The washer must lie in an opening, clear of every upright and of the back.
fn under_an_upright(b: &mut Builder<'_>, built: &Built, anchor: &Anchor, radius: Mm, unit: &str) {
    let (x, y) = (anchor.at[0].nominal().0, anchor.at[1].nominal().0);
    let hit = built.uprights.iter().chain(&built.back).find_map(|id| {
        let panel = b.at(*id);
        let solid = panel.solid()?;
        // What stands beside the washer does not matter, so the nearer of the two axes decides.
        let gap = (solid.min.x - x).max(x - solid.max.x).max(solid.min.y - y).max(y - solid.max.y);
        (gap < radius.0).then(|| (panel.id.clone(), panel.name.clone(), Mm(radius.0 - gap)))
    });
    if let Some((id, name, short)) = hit {
        b.findings.push(
            Finding::stop(
                codes::ANCHOR_UNDER_UPRIGHT,
                format!("the washer of anchor \"{}\" runs {short} mm under {name}", anchor.name),
            )
            .part(id)
            .at(anchor.span)
            .remedy(format!("move {unit} or the upright by {short} mm, or leave this anchor out")),
        );
    }
}

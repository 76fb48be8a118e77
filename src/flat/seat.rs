//! Seats: the square mates that must fit into what is cut.

use super::cuts;
use super::Seat;
use crate::design::Design;
use crate::geom::{Contour, Rect};
use crate::parts::{Feature, FeatureKind, Model, Panel};

/// The mate that seats in a feature, in the panel frame, without its clearance; `None` when none does.
///
/// The builder gives the cut's size, clearance included. For an edge notch the clearance lies between its side walls; for
/// openings and grooves across their narrow side.
pub(super) fn of(design: &Design, model: &Model, panel: &Panel, feature: &Feature) -> Option<Seat> {
    let mate = model.panels.get(feature.mate?.0)?;
    let square = match &feature.kind {
        FeatureKind::Rectangle { radius, .. } | FeatureKind::EdgeNotch { radius, .. } => radius.is_none(),
        FeatureKind::Groove { .. } => true,
        _ => false,
    };
    let opening = cuts::opening(panel, feature).filter(|_| square)?;
    let r = opening.rect;
    let clearances = &design.process.joint_clearance;
    let [bottom, right, top, left] = opening.open;
    let notch = matches!(feature.kind, FeatureKind::EdgeNotch { .. });
    // Walls that face each other: across x or across y.
    let across_x = match (left || right, bottom || top) {
        (false, true) => true,
        (true, false) => false,
        // At a corner of the panel the notch is as deep as its mate is thick: the other way is across.
        _ if notch => {
            let t = mate.thickness.nominal().0;
            (r.height() - t).abs() <= (r.width() - t).abs()
        }
        _ => r.width() <= r.height(),
    };
    // What is pressed in is squeezed to the slot.
    let clearance = if notch || clearances.press.is_some() {
        clearances.finger.nominal().0
    } else {
        // The class whose clearance explains the width over the mate's thickness best.
        let over = r.width().min(r.height()) - mate.thickness.nominal().0;
        [&clearances.glued, &clearances.finger, &clearances.loose]
            .map(|c| c.nominal().0)
            .into_iter()
            .min_by(|a, b| (a - over).abs().total_cmp(&(b - over).abs()))?
    };
    let half = |length: f64| (clearance.max(0.0) / 2.0).min(length / 4.0);
    let (dx, dy) = if across_x { (half(r.width()), 0.0) } else { (0.0, half(r.height())) };
    // A wall that is not there has no clearance.
    let keep = |open: bool, d: f64| if open { 0.0 } else { d };
    let shape = Rect::new(r.x0 + keep(left, dx), r.y0 + keep(bottom, dy), r.x1 - keep(right, dx), r.y1 - keep(top, dy));
    Some(Seat { shape: Contour::rect(shape).ok()?, mate: mate.id.clone() })
}

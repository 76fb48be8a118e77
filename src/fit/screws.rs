//! Screws that join two panels, each with the room its driver needs.

use crate::geom::{Box3, Point3};
use crate::parts::{FeatureKind, Model, Panel, PanelId, Purpose};
use crate::units::Mm;

/// Length a driver with its bit needs behind a screw's head. Common practice, no source.
const DRIVER: f64 = 200.0;
/// Half of a bit holder's width. Common practice, no source.
const HOLDER: f64 = 6.0;

/// One screw.
pub(super) struct Screw {
    /// Its feature's id.
    pub(super) id: String,
    /// The panel under its head.
    pub(super) through: PanelId,
    /// The panel its thread bites.
    pub(super) into: PanelId,
    /// The room its driver needs, in bay coordinates.
    pub(super) driver: Box3,
}

/// Every screw between two of these panels.
pub(super) fn screws(model: &Model, members: &[PanelId]) -> Vec<Screw> {
    let mut list = Vec::new();
    for id in members {
        let panel = &model.panels[id.0];
        let (Some(frame), Some(solid)) = (&panel.frame, panel.solid()) else { continue };
        let normal = 3 - frame.u.index() - frame.v.index();
        for feature in panel.features.iter().filter(|f| f.purpose == Purpose::Clearance) {
            let (FeatureKind::Hole { .. } | FeatureKind::Countersunk { .. }, Some(into)) = (&feature.kind, feature.mate)
            else {
                continue;
            };
            let Some(mate) = model.panels.get(into.0).and_then(Panel::solid).filter(|_| members.contains(&into)) else {
                continue;
            };
            let [u, v] = feature.centre();
            let at = frame.to_bay(u, v, Mm::ZERO);
            let middle = |b: &Box3| f64::midpoint(b.min.to_array()[normal], b.max.to_array()[normal]);
            // The head is on the side away from the panel it bites.
            let up = middle(&solid) > middle(&mate);
            let (mut min, mut max) = (at.to_array().map(|c| c - HOLDER), at.to_array().map(|c| c + HOLDER));
            let face = if up { solid.max } else { solid.min }.to_array()[normal];
            (min[normal], max[normal]) = if up { (face, face + DRIVER) } else { (face - DRIVER, face) };
            let corner = |c: [f64; 3]| Point3::new(c[0], c[1], c[2]);
            let driver = Box3::between(corner(min), corner(max));
            list.push(Screw { id: feature.id.clone(), through: *id, into, driver });
        }
    }
    list
}

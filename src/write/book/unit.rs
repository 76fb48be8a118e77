//! The unit in space: every panel's boxes, worked out once.

use super::solid::{Body, Look};
use crate::fit;
use crate::geom::Box3;
use crate::parts::PanelId;
use crate::write::Job;
use std::collections::BTreeMap;

/// Of more panels than this a picture shows each as one plain board: its fingers would be finer than a line.
const FINE: usize = 120;

/// Panels in space, and the part that each is.
pub(super) struct Unit {
    /// Boxes of each panel, in the model's order; none for a panel without a place.
    pub(super) solids: Vec<Vec<Box3>>,
    /// The part that a panel is, by its index in the job's parts.
    pub(super) part_of: BTreeMap<PanelId, usize>,
}

impl Unit {
    pub(super) fn of(job: &Job) -> Self {
        let solids = job.model.panels.iter().map(fit::boxes).collect();
        let parts = job.parts.parts.iter().enumerate();
        let part_of = parts.flat_map(|(i, part)| part.panels.iter().map(move |panel| (*panel, i))).collect();
        Self { solids, part_of }
    }

    /// Panels as bodies of a picture, each moved by what is said of it.
    pub(super) fn bodies(&self, job: &Job, panels: &[PanelId], look: Look, moved: [f64; 3]) -> Vec<Body> {
        let fine = panels.len() <= FINE;
        let body = |id: &PanelId| {
            let panel = job.model.panels.get(id.0)?;
            let solids = if fine { self.solids[id.0].clone() } else { panel.solid().into_iter().collect() };
            let solids: Vec<Box3> = solids.iter().map(|b| shifted(b, moved)).collect();
            let label = self.part_of.get(id).map_or(&panel.id, |part| &job.parts.parts[*part].id).clone();
            (!solids.is_empty()).then_some(Body { label, solids, look })
        };
        panels.iter().filter_map(body).collect()
    }

    /// The same without their ids written on them.
    pub(super) fn nameless(&self, job: &Job, panels: &[PanelId], look: Look, moved: [f64; 3]) -> Vec<Body> {
        let mut bodies = self.bodies(job, panels, look, moved);
        for body in &mut bodies {
            body.label.clear();
        }
        bodies
    }
}

/// A box moved along the bay's axes, in mm.
pub(super) fn shifted(solid: &Box3, by: [f64; 3]) -> Box3 {
    let step = crate::geom::Point3::new(by[0], by[1], by[2]);
    Box3 { min: solid.min.plus(step, 1.0), max: solid.max.plus(step, 1.0) }
}

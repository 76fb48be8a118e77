//! The unit in space: every panel's boxes, worked out once.

use super::solid::{Body, Look};
use crate::dim::Dim;
use crate::fit;
use crate::geom::Box3;
use crate::parts::{FeatureKind, Panel, PanelId};
use crate::write::Job;
use std::collections::BTreeMap;

/// What is cut out of a panel shows in a picture of the whole when it is at least so wide and high, in mm: fingers and slots would
/// be finer than a line.
const SHOWS: f64 = 40.0;

/// Panels in space, and the part that each is.
pub(super) struct Unit {
    /// Boxes of each panel, in the model's order; none for a panel without a place.
    pub(super) solids: Vec<Vec<Box3>>,
    /// The same with only their large openings: at joints they share room with their mates.
    plain: Vec<Vec<Box3>>,
    /// The part that a panel is, by its index in the job's parts.
    pub(super) part_of: BTreeMap<PanelId, usize>,
}

impl Unit {
    pub(super) fn of(job: &Job) -> Self {
        let solids = job.model.panels.iter().map(fit::boxes).collect();
        let plain = job.model.panels.iter().map(|panel| fit::boxes(&with_large_openings(panel))).collect();
        let parts = job.parts.parts.iter().enumerate();
        let part_of = parts.flat_map(|(i, part)| part.panels.iter().map(move |panel| (*panel, i))).collect();
        Self { solids, plain, part_of }
    }

    /// Panels as bodies of a picture of a few, every finger drawn, each moved by what is said of it.
    pub(super) fn bodies(&self, job: &Job, panels: &[PanelId], look: Look, moved: [f64; 3]) -> Vec<Body> {
        self.made(&self.solids, job, panels, look, moved)
    }

    /// Panels as bodies of a picture of the whole: no small cuts, and no ids written on them.
    pub(super) fn nameless(&self, job: &Job, panels: &[PanelId], look: Look, moved: [f64; 3]) -> Vec<Body> {
        let mut bodies = self.made(&self.plain, job, panels, look, moved);
        for body in &mut bodies {
            body.label.clear();
        }
        bodies
    }

    fn made(&self, solids: &[Vec<Box3>], job: &Job, panels: &[PanelId], look: Look, moved: [f64; 3]) -> Vec<Body> {
        let body = |id: &PanelId| {
            let panel = job.model.panels.get(id.0)?;
            let solids: Vec<Box3> = solids[id.0].iter().map(|b| shifted(b, moved)).collect();
            let label = self.part_of.get(id).map_or(&panel.id, |part| &job.parts.parts[*part].id).clone();
            (!solids.is_empty()).then_some(Body { label, solids, look })
        };
        panels.iter().filter_map(body).collect()
    }
}

/// A panel without its small cuts.
fn with_large_openings(panel: &Panel) -> Panel {
    let large = |size: &[Dim; 2]| size.iter().all(|s| s.nominal().0 >= SHOWS);
    let mut plain = panel.clone();
    plain.features.retain(|f| match &f.kind {
        FeatureKind::Rectangle { size, .. } | FeatureKind::EdgeNotch { size, .. } => large(size),
        _ => false,
    });
    plain
}

/// A box moved along the bay's axes, in mm.
pub(super) fn shifted(solid: &Box3, by: [f64; 3]) -> Box3 {
    let step = crate::geom::Point3::new(by[0], by[1], by[2]);
    Box3 { min: solid.min.plus(step, 1.0), max: solid.max.plus(step, 1.0) }
}

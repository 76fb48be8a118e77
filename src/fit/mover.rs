//! What moves together: the panels of a drawer or table, and the latch's body in its front.

use super::solid;
use crate::design::{Design, Drawer};
use crate::diag::Span;
use crate::geom::{Axis, Box3, Point3};
use crate::parts::{Model, Motion, Panel, PanelId, Purpose};
use crate::shop::Latch;

/// Something that slides as one.
pub(super) struct Mover {
    /// Its name.
    pub(super) name: String,
    /// What it is made of.
    pub(super) parts: Vec<MovingPart>,
    /// All the space it passes through.
    pub(super) reach: Option<Box3>,
    /// Direction of opening.
    pub(super) axis: Axis,
    /// How far, in mm.
    pub(super) way: f64,
    /// Where in the project file it comes from.
    pub(super) span: Option<Span>,
}

/// A panel or a latch's body.
pub(super) struct MovingPart {
    pub(super) name: String,
    pub(super) id: String,
    /// The panel, when it is one.
    pub(super) panel: Option<PanelId>,
    /// What it fills, in bay coordinates, when shut.
    pub(super) solids: Vec<Box3>,
}

/// Everything of a model that moves.
pub(super) fn movers(design: &Design, model: &Model, solids: &[Vec<Box3>]) -> Vec<Mover> {
    model.motions.iter().map(|motion| mover(design, model, solids, motion)).collect()
}

fn mover(design: &Design, model: &Model, solids: &[Vec<Box3>], motion: &Motion) -> Mover {
    let mut parts = Vec::new();
    for id in &motion.panels {
        let Some(panel) = model.panels.get(id.0) else { continue };
        parts.push(MovingPart {
            name: panel.name.clone(),
            id: panel.id.clone(),
            panel: Some(*id),
            solids: solids[id.0].clone(),
        });
        if let Some(latch) = drawer(design, &motion.name).and_then(|d| d.latch.as_deref()) {
            parts.extend(body(panel, latch, &motion.name));
        }
    }
    let way = motion.travel.nominal().0.max(0.0);
    let reach = solid::hull(parts.iter().flat_map(|p| &p.solids)).map(|b| solid::swept(&b, motion.axis, way));
    Mover { name: motion.name.clone(), parts, reach, axis: motion.axis, way, span: motion.span }
}

/// The drawer of that name.
fn drawer<'d>(design: &'d Design, name: &str) -> Option<&'d Drawer> {
    design
        .carcasses
        .iter()
        .flat_map(|c| &c.columns)
        .flat_map(|c| &c.cells)
        .filter(|cell| format!("{} drawer", cell.name.replace('.', " ")) == name)
        .find_map(|cell| cell.drawer.as_ref())
}

/// The body of a latch behind the outer face of the front it sits in.
fn body(front: &Panel, latch: &Latch, name: &str) -> Option<MovingPart> {
    let hole = front.features.iter().find(|f| f.purpose == Purpose::Latch && f.id == "latch")?;
    let [u, v] = hole.centre();
    let centre = front.frame.as_ref()?.to_bay(u, v, crate::units::Mm::ZERO);
    // Face A of a front is its outer face, towards the load opening.
    let [wide, high] = [latch.body[0].0 / 2.0, latch.body[1].0 / 2.0];
    let solid = Box3 {
        min: Point3::new(centre.x - wide, centre.y, centre.z - high),
        max: Point3::new(centre.x + wide, centre.y + latch.body_depth.0, centre.z + high),
    };
    (solid.max.y > solid::span(&solid, 1).0).then(|| MovingPart {
        name: format!("{name} latch"),
        id: front.id.clone(),
        panel: None,
        solids: vec![solid],
    })
}

//! The vehicle as solids: walls, roof, keep-outs, and its doors standing open.

use super::motion::{with_doubt, Tight};
use super::mover::Mover;
use super::plane::{apart, rectangle, Quad};
use super::solid::{span, swept, Nearest};
use crate::design::{Bay, OpenDoor};
use crate::geom::{Box3, Point3};
use crate::parts::{Gap, Model};
use crate::units::Mm;

/// Air wanted between what is pulled out and an open door. Common practice, no source.
const TO_OPEN_DOOR: Mm = Mm(10.0);
/// Without end.
const FAR: f64 = f64::INFINITY;

/// Something that stands still.
pub(super) struct Still {
    pub(super) name: String,
    pub(super) id: String,
    pub(super) solids: Vec<Box3>,
}

/// Walls, roof and keep-outs of a bay; walls end at the load opening. A traced keep-out is covered by `boxes` boxes at most: never
/// smaller than it is.
pub(super) fn stills(bay: &Bay, boxes: usize) -> Vec<Still> {
    let still = |name: &str, min: [f64; 3], max: [f64; 3]| Still {
        name: name.to_owned(),
        id: name.to_owned(),
        solids: vec![Box3 { min: Point3::new(min[0], min[1], min[2]), max: Point3::new(max[0], max[1], max[2]) }],
    };
    let mut list = vec![still("the bay's left wall", [-FAR, 0.0, 0.0], [0.0, FAR, FAR])];
    if let Some(width) = &bay.width {
        list.push(still("the bay's right wall", [width.nominal().0, 0.0, 0.0], [FAR, FAR, FAR]));
    }
    if let Some(depth) = &bay.depth {
        list.push(still("the bay's front wall", [-FAR, depth.nominal().0, 0.0], [FAR, FAR, FAR]));
    }
    if let Some(height) = &bay.height {
        list.push(still("the roof", [-FAR, 0.0, height.nominal().0], [FAR, FAR, FAR]));
    }
    for keep_out in &bay.keep_outs {
        if let Some(shape) = &keep_out.shape {
            list.push(Still { name: keep_out.name.clone(), id: keep_out.name.clone(), solids: shape.cover(boxes) });
            continue;
        }
        let from = keep_out.from.each_ref().map(|d| d.nominal().0);
        let to = [0, 1, 2].map(|i| from[i] + keep_out.size[i].nominal().0);
        list.push(still(&keep_out.name, from, to));
    }
    list
}

/// For every open door that something passes, the gap on its way.
pub(super) fn open_doors(bay: &Bay, mover: &Mover, model: &Model, tight: &mut Tight) -> Vec<Gap> {
    let (Some(opening), 1) = (&bay.opening, mover.axis.index()) else { return Vec::new() };
    let mut gaps = Vec::new();
    for door in &bay.open_doors {
        let hinge = if door.hinge_left { opening.left.nominal() } else { opening.left.nominal() + opening.width.nominal() };
        let mut worst: Option<(f64, usize)> = None;
        for (i, part) in mover.parts.iter().enumerate() {
            for solid in &part.solids {
                let leaf = leaf(bay, door, hinge.0, span(solid, 2));
                let air = apart(&plan(&swept(solid, mover.axis, mover.way)), &leaf);
                if worst.is_none_or(|(w, _)| air < w) {
                    worst = Some((air, i));
                }
            }
        }
        let Some((air, part)) = worst.map(|(air, i)| (air, &mover.parts[i])) else { continue };
        let name = format!("the open {} door", if door.hinge_left { "left" } else { "right" });
        tight.take(&name, Nearest { air, travel: mover.way, side: (0, !door.hinge_left) });
        let edge = part.panel.and_then(|id| super::bay::end(model.panels.get(id.0)?, 0, !door.hinge_left));
        gaps.push(Gap {
            name: format!("{} pulled out to {name}", mover.name),
            gap: with_doubt(air, edge.as_ref()),
            required: Gap::at_least(TO_OPEN_DOOR),
            source: "common practice, no source".into(),
            parts: vec![part.id.clone(), name],
            span: door.span.or(mover.span),
        });
    }
    gaps
}

/// A box seen from above.
fn plan(solid: &Box3) -> Quad {
    rectangle(span(solid, 0), span(solid, 1))
}

/// An open door's leaf seen from above: turned about its hinge, which stands in the plane of the opening at its side. Its inner
/// side bulges as far as the closed door reaches in at those heights.
fn leaf(bay: &Bay, door: &OpenDoor, hinge: f64, (low, high): (f64, f64)) -> Quad {
    let inner = super::bay::heights_seen(&bay.door, low, high).iter().map(|(_, r)| r.nominal().0).fold(0.0, f64::max);
    let (sin, cos) = door.angle.sin_cos();
    let way = if door.hinge_left { 1.0 } else { -1.0 };
    // Along the leaf, and out of its outer side: shut, these are across the opening and out of the vehicle.
    let (along, out) = ([cos * way, -sin], [-sin * way, -cos]);
    let at = |s: f64, t: f64| [hinge + along[0] * s + out[0] * t, along[1] * s + out[1] * t];
    let (wide, thick) = (door.width.nominal().0, door.thickness.nominal().0);
    [at(0.0, -inner), at(wide, -inner), at(wide, thick), at(0.0, thick)]
}

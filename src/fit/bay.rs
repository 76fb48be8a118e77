//! The unit in its bay: walls, roof, keep-outs, the closed door, and the load opening.

use super::{codes, opening};
use crate::design::{Bay, Design, KeepOut};
use crate::diag::Finding;
use crate::dim::Dim;
use crate::geom::{Box3, Prism};
use crate::parts::{Gap, Model, Panel};
use crate::units::Mm;

/// Air wanted to the vehicle's trim, which moves and rattles. Common practice, no source.
const TO_TRIM: Mm = Mm(5.0);
/// Air wanted to the closed door. Common practice, no source.
const TO_DOOR: Mm = Mm(10.0);
/// Air wanted to a keep-out. Common practice, no source.
const TO_KEEP_OUT: Mm = Mm(5.0);

/// Gaps between the unit and the bay; what cannot be checked without a measurement is noted.
pub(super) fn gaps(design: &Design, model: &Model, findings: &mut Vec<Finding>) -> Vec<Gap> {
    let standing: Vec<&Panel> = model.panels.iter().filter(|p| p.frame.is_some()).collect();
    if standing.is_empty() {
        return Vec::new();
    }
    let Some(bay) = &design.bay else {
        // The design stage has noted that there is no bay.
        return Vec::new();
    };
    let mut gaps = to_walls(bay, &standing);
    for keep_out in &bay.keep_outs {
        gaps.extend(to_keep_out(keep_out, &standing));
    }
    gaps.extend(to_door(bay, &standing));
    if let Some(opening) = &bay.opening {
        gaps.extend(opening::gaps(bay, opening, model));
        opening::passing(opening, model, findings);
    }
    not_measured(bay, findings);
    gaps
}

/// Upper or lower end of a panel on a bay axis as it will stand: readings that its size was derived from are fixed by then.
pub(super) fn end(panel: &Panel, axis: usize, upper: bool) -> Option<Dim> {
    let frame = panel.frame.as_ref()?;
    let origin = &frame.origin[axis];
    let (size, sign) = if frame.u.index() == axis {
        (&panel.length, frame.u.sign())
    } else if frame.v.index() == axis {
        (&panel.width, frame.v.sign())
    } else {
        // Thickness lies on the -w side of face A.
        (&panel.thickness, -frame.u.unit().cross(frame.v.unit()).to_array()[axis])
    };
    Some(
        match (sign > 0.0, upper) {
            (true, true) => origin + size,
            (false, false) => origin - size,
            (true, false) | (false, true) => origin.clone(),
        }
        .built(),
    )
}

/// The panel that reaches furthest on an axis, with where it ends.
pub(super) fn outermost<'p>(panels: &[&'p Panel], axis: usize, upper: bool) -> Option<(&'p Panel, Dim)> {
    panels.iter().filter_map(|p| Some((*p, end(p, axis, upper)?))).reduce(|best, next| {
        let further = if upper { next.1.nominal() > best.1.nominal() } else { next.1.nominal() < best.1.nominal() };
        if further {
            next
        } else {
            best
        }
    })
}

fn to_walls(bay: &Bay, panels: &[&Panel]) -> Vec<Gap> {
    let mut gaps = Vec::new();
    let mut add = |name: &str, gap: Dim, panel: &Panel, least: Mm| {
        gaps.push(Gap {
            name: format!("unit to {name}"),
            gap,
            required: Gap::at_least(least),
            source: "common practice, no source".into(),
            parts: vec![panel.id.clone()],
            span: panel.span.or(bay.span),
        });
    };
    if let Some((panel, left)) = outermost(panels, 0, false) {
        add("the bay's left wall", left, panel, TO_TRIM);
    }
    if let (Some(width), Some((panel, right))) = (&bay.width, outermost(panels, 0, true)) {
        add("the bay's right wall", width - &right, panel, TO_TRIM);
    }
    if let (Some(depth), Some((panel, rear))) = (&bay.depth, outermost(panels, 1, true)) {
        add("the bay's front wall or seat backs", depth - &rear, panel, TO_TRIM);
    }
    if let (Some(height), Some((panel, top))) = (&bay.height, outermost(panels, 2, true)) {
        add("the roof", height - &top, panel, TO_TRIM);
    }
    gaps
}

/// The gap between a keep-out and the panel nearest to it.
fn to_keep_out(keep_out: &KeepOut, panels: &[&Panel]) -> Option<Gap> {
    if let Some(shape) = &keep_out.shape {
        return to_traced(keep_out, shape, panels);
    }
    let corner = |i: usize| (keep_out.from[i].clone(), &keep_out.from[i] + &keep_out.size[i]);
    let (panel, axis, low_side) = panels
        .iter()
        .filter_map(|p| {
            let solid = p.solid()?;
            let (axis, low_side, gap) = separation(&solid, keep_out);
            Some((*p, axis, low_side, gap))
        })
        .min_by(|a, b| a.3.total_cmp(&b.3))
        .map(|(p, axis, low_side, _)| (p, axis, low_side))?;
    let (from, to) = corner(axis);
    // The panel lies beyond the keep-out's upper end, or before its lower one.
    let gap = if low_side { &end(panel, axis, false)? - &to } else { &from - &end(panel, axis, true)? };
    Some(Gap {
        name: format!("{} to {}", panel.name, keep_out.name),
        gap,
        required: Gap::at_least(TO_KEEP_OUT),
        source: "common practice, no source".into(),
        parts: vec![panel.id.clone(), keep_out.name.clone()],
        span: keep_out.span,
    })
}

/// The gap between a traced keep-out and the panel nearest to it, straight across; negative by the shortest way out.
fn to_traced(keep_out: &KeepOut, shape: &Prism, panels: &[&Panel]) -> Option<Gap> {
    let (panel, air) =
        panels.iter().filter_map(|p| Some((*p, shape.air(&p.solid()?)))).min_by(|a, b| a.1.total_cmp(&b.1))?;
    // The doubt of the panel's edge on the side it faces the keep-out with, and that of the tracing.
    let (axis, low_side, _) = separation(&panel.solid()?, keep_out);
    let gap = super::motion::with_doubt(air, end(panel, axis, !low_side).as_ref());
    let traced = &keep_out.from[axis];
    Some(Gap {
        name: format!("{} to {}", panel.name, keep_out.name),
        gap: &gap + &(traced - &Dim::number(traced.nominal(), "its nominal")),
        required: Gap::at_least(TO_KEEP_OUT),
        source: "common practice, no source".into(),
        parts: vec![panel.id.clone(), keep_out.name.clone()],
        span: keep_out.span,
    })
}

/// On which axis a box is furthest from a keep-out, on which side it lies, and by how much (negative when inside).
fn separation(solid: &Box3, keep_out: &KeepOut) -> (usize, bool, f64) {
    let (low, high) = (solid.min.to_array(), solid.max.to_array());
    (0..3)
        .flat_map(|i| {
            let from = keep_out.from[i].nominal().0;
            let to = from + keep_out.size[i].nominal().0;
            [(i, true, low[i] - to), (i, false, from - high[i])]
        })
        .max_by(|a, b| a.2.total_cmp(&b.2))
        .unwrap_or((0, true, 0.0))
}

/// The gap between the closed door's inner face and whatever stands nearest to it at each height.
fn to_door(bay: &Bay, panels: &[&Panel]) -> Vec<Gap> {
    let mut worst: Option<(Dim, &Panel)> = None;
    for panel in panels {
        let Some(solid) = panel.solid() else { continue };
        let Some(front) = end(panel, 1, false) else { continue };
        for (height, reach) in heights_seen(&bay.door, solid.min.z, solid.max.z) {
            let gap = &front - &reach_at(&bay.door, height).unwrap_or(reach);
            if worst.as_ref().is_none_or(|(w, _)| gap.nominal() < w.nominal()) {
                worst = Some((gap, panel));
            }
        }
    }
    worst
        .map(|(gap, panel)| Gap {
            name: format!("{} to the closed door", panel.name),
            gap,
            required: Gap::at_least(TO_DOOR),
            source: "common practice, no source".into(),
            parts: vec![panel.id.clone()],
            span: panel.span.or(bay.span),
        })
        .into_iter()
        .collect()
}

/// The heights at which the door can be nearest to something between two heights: its corners there, and both ends.
pub(super) fn heights_seen(door: &[(Dim, Dim)], low: f64, high: f64) -> Vec<(f64, Dim)> {
    let mut list: Vec<(f64, Dim)> =
        door.iter().map(|(h, r)| (h.nominal().0, r.clone())).filter(|(h, _)| *h >= low && *h <= high).collect();
    for h in [low, high] {
        if let Some(reach) = reach_at(door, h) {
            list.push((h, reach));
        }
    }
    list
}

/// How far the door reaches in at a height, between the two points around it; `None` outside its measured heights.
fn reach_at(door: &[(Dim, Dim)], height: f64) -> Option<Dim> {
    door.windows(2).find_map(|pair| {
        let (low, high) = (pair[0].0.nominal().0, pair[1].0.nominal().0);
        if height < low || height > high || high <= low {
            return None;
        }
        let share = (height - low) / (high - low);
        Some(&(&pair[0].1 * (1.0 - share)) + &(&pair[1].1 * share))
    })
}

/// Says which checks were left out for want of a measurement.
fn not_measured(bay: &Bay, findings: &mut Vec<Finding>) {
    let missing: Vec<&str> = [
        (bay.width.is_none(), "width"),
        (bay.depth.is_none(), "depth"),
        (bay.height.is_none(), "height"),
        (bay.door.is_empty(), "door profile"),
        (bay.opening.is_none(), "load opening"),
        (bay.keep_outs.is_empty(), "list of keep-outs"),
    ]
    .into_iter()
    .filter_map(|(missing, what)| missing.then_some(what))
    .collect();
    if !missing.is_empty() {
        findings.push(
            Finding::note(
                codes::NOT_MEASURED,
                format!("the bay's {} is not given, so nothing was checked against it", missing.join(", ")),
            )
            .at(bay.span)
            .remedy("measure it and add it to [bay]"),
        );
    }
}

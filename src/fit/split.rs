//! What to do with a unit that has no way in: which size rules, and where to divide it.

use super::codes;
use super::loading::{way_for, Unit, IN_OPENING};
use super::solid::span;
use crate::design::{Bay, Opening};
use crate::diag::Finding;
use crate::geom::Box3;
use crate::units::Mm;

/// Halvings of the search for the smallest change: a unit of 2 m to a few hundredths of a millimetre.
const HALVINGS: usize = 16;

/// What the search leaves over, in mm.
const FOUND: f64 = 0.05;

/// The finding for a unit that cannot be brought in.
pub(super) fn no_way(bay: &Bay, opening: &Opening, unit: &Unit<'_>) -> Finding {
    let size = [0, 1, 2].map(|i| Mm(span(&unit.hull, i).1 - span(&unit.hull, i).0));
    let (wide, high) = (opening.width.nominal(), opening.height.nominal());
    let whole = format!("{}, {} x {} x {} mm", unit.name, size[0], size[1], size[2]);
    let mut sorted = size;
    sorted.sort_by(Mm::total_cmp);
    let over = sorted[0] > wide.min(high) || sorted[1] > wide.max(high);
    let change = smallest_change(bay, opening, unit);
    let pieces = division(bay, opening, unit);
    let rules = change.as_ref().map_or_else(String::new, |(what, by)| format!("; its {what} rules, by {by} mm"));
    let mut ways = Vec::new();
    if let Some((what, by)) = change {
        ways.push(format!("take {by} mm off its {what}"));
    }
    if let Some(pieces) = pieces {
        ways.push(pieces);
    }
    ways.push("put it together inside the vehicle".to_owned());
    let finding = if over {
        Finding::caution(
            codes::ASSEMBLE_INSIDE,
            format!("{whole}, does not pass the opening of {wide} x {high} mm in one piece{rules}"),
        )
    } else {
        Finding::caution(
            codes::WAY_IN_BLOCKED,
            format!("{whole}, passes the opening but has no way from there to its place{rules}"),
        )
    };
    finding.part(unit.name).at(unit.span).remedy(ways.join(", or "))
}

/// The size that has to give least, and by how much; width is taken off both sides, height off the top, depth off the rear.
fn smallest_change(bay: &Bay, opening: &Opening, unit: &Unit<'_>) -> Option<(&'static str, Mm)> {
    let shrunk = |axis: usize, by: f64| -> Vec<Box3> {
        let (from, to) = span(&unit.hull, axis);
        let (low, high) = if axis == 0 { (from + by / 2.0, to - by / 2.0) } else { (from, to - by) };
        unit.boxes.iter().filter_map(|b| clipped(b, axis, low, high)).collect()
    };
    let passes = |axis: usize, by: f64| way_for(bay, opening, &shrunk(axis, by), &[], IN_OPENING).is_some();
    (0..3)
        .filter_map(|axis| {
            let size = span(&unit.hull, axis).1 - span(&unit.hull, axis).0;
            let (mut low, mut high) = (0.0, size * 0.9);
            if !passes(axis, high) {
                return None;
            }
            for _ in 0..HALVINGS {
                let middle = f64::midpoint(low, high);
                if passes(axis, middle) {
                    high = middle;
                } else {
                    low = middle;
                }
            }
            Some((["width", "depth", "height"][axis], Mm((high - FOUND).ceil())))
        })
        .min_by(|a, b| a.1.total_cmp(&b.1))
}

/// A box between two planes across an axis.
fn clipped(solid: &Box3, axis: usize, low: f64, high: f64) -> Option<Box3> {
    let mut cut = *solid;
    let (min, max) = match axis {
        0 => (&mut cut.min.x, &mut cut.max.x),
        1 => (&mut cut.min.y, &mut cut.max.y),
        _ => (&mut cut.min.z, &mut cut.max.z),
    };
    (*min, *max) = (min.max(low), max.min(high));
    (*min < *max).then_some(cut)
}

/// Where to divide the unit in two so that both pieces come in: at an upright or a shelf, the one nearest to its middle.
fn division(bay: &Bay, opening: &Opening, unit: &Unit<'_>) -> Option<String> {
    let mut places: Vec<(usize, f64, &str)> = Vec::new();
    for (_, panel) in &unit.panels {
        let (Some(solid), Some(frame)) = (panel.solid(), &panel.frame) else { continue };
        let axis = 3 - frame.u.index() - frame.v.index();
        let (low, high) = span(&unit.hull, axis);
        let at = f64::midpoint(span(&solid, axis).0, span(&solid, axis).1);
        // Not the unit's own ends, and not its back.
        if axis != 1 && at - low > 50.0 && high - at > 50.0 {
            places.push((axis, at, &panel.name));
        }
    }
    let off = |axis: usize, at: f64| {
        let (low, high) = span(&unit.hull, axis);
        ((at - low) / (high - low) - 0.5).abs()
    };
    places.sort_by(|a, b| off(a.0, a.1).total_cmp(&off(b.0, b.1)).then_with(|| a.2.cmp(b.2)));
    places.into_iter().find_map(|(axis, at, name)| {
        let part =
            |low: f64, high: f64| -> Vec<Box3> { unit.boxes.iter().filter_map(|b| clipped(b, axis, low, high)).collect() };
        let pieces = [part(f64::NEG_INFINITY, at), part(at, f64::INFINITY)];
        let both = [[0, 1], [1, 0]].iter().any(|[first, second]| {
            way_for(bay, opening, &pieces[*first], &[], IN_OPENING).is_some()
                && way_for(bay, opening, &pieces[*second], &pieces[*first], IN_OPENING).is_some()
        });
        both.then(|| {
            let (low, high) = span(&unit.hull, axis);
            format!(
                "divide it at {name} into {} and {} mm: both pieces come in",
                Mm((at - low).round()),
                Mm((high - at).round())
            )
        })
    })
}

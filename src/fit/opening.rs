//! What must pass the load opening: every panel and unit once, every drawer and table each time it is pulled out.

use super::bay::end;
use super::codes;
use crate::design::{Bay, Opening};
use crate::diag::Finding;
use crate::dim::Dim;
use crate::parts::{Gap, Model, Motion, Panel};
use crate::units::Mm;

/// Air wanted between what is pulled out and the opening's edges. Common practice, no source.
const TO_EDGE: Mm = Mm(3.0);

/// For every drawer or table that comes out past the sill, the least of its four gaps to the opening's edges.
pub(super) fn gaps(bay: &Bay, opening: &Opening, model: &Model) -> Vec<Gap> {
    model.motions.iter().filter_map(|motion| pulled_out(bay, opening, model, motion)).collect()
}

fn pulled_out(bay: &Bay, opening: &Opening, model: &Model, motion: &Motion) -> Option<Gap> {
    let moving: Vec<&Panel> = motion.panels.iter().filter_map(|id| model.panels.get(id.0)).collect();
    let comes_out = moving.iter().filter_map(|p| p.solid()).any(|s| s.min.y < motion.travel.nominal().0);
    if !comes_out {
        return None;
    }
    let edges = |panel: &Panel| -> Option<[(&str, Dim); 4]> {
        Some([
            ("left of the opening", end(panel, 0, false)? - &opening.left),
            ("right of the opening", &(&opening.left + &opening.width) - &end(panel, 0, true)?),
            ("sill", end(panel, 2, false)? - &opening.sill),
            ("top of the opening", &(&opening.sill + &opening.height) - &end(panel, 2, true)?),
        ])
    };
    let (panel, what, gap) = moving
        .iter()
        .filter_map(|p| Some((*p, edges(p)?)))
        .flat_map(|(p, list)| list.map(|(what, gap)| (p, what, gap)))
        .min_by(|a, b| a.2.nominal().total_cmp(&b.2.nominal()))?;
    Some(Gap {
        name: format!("{} pulled out to the {what}", motion.name),
        gap,
        required: Gap::at_least(TO_EDGE),
        source: "common practice, no source".into(),
        parts: vec![panel.id.clone()],
        span: motion.span.or(bay.span),
    })
}

/// Panels that cannot pass the opening at all.
pub(super) fn passing(opening: &Opening, model: &Model, findings: &mut Vec<Finding>) {
    let (wide, high) = (opening.width.nominal(), opening.height.nominal());
    let diagonal = Mm(wide.0.hypot(high.0));
    for panel in model.panels.iter().filter(|p| p.frame.is_some()) {
        // Carried in end first and tilted: the shorter side must pass the diagonal with the thickness beside it.
        let (short, t) = (panel.length.nominal().min(panel.width.nominal()), panel.thickness.nominal());
        let over = short + t - diagonal;
        if over > Mm::ZERO {
            findings.push(
                Finding::stop(
                    codes::PANEL_TOO_LARGE,
                    format!("{} is {short} mm across; the opening's diagonal is {diagonal} mm", panel.name),
                )
                .part(panel.id.clone())
                .at(panel.span)
                .remedy(format!("divide the unit so that this panel is {over} mm smaller")),
            );
        }
    }
}

//! A carcass standing on another: bolts through its base and the top below.

use super::Built;
use crate::dim::Dim;
use crate::parts::builder::Builder;
use crate::parts::{Depth, Feature, FeatureKind, Hardware, PanelId, Purpose};
use crate::shop::Fastener;
use crate::units::Mm;

/// How far the corner bolts stand in from the upper carcass's inner walls. Common practice, no source.
const INSET: Mm = Mm(45.0);

/// Bolts the upper carcass to the top of the lower one near the corners of what they share.
///
/// `between` are panels in the layer between them (runner strips): where a bolt passes through one, it is drilled too.
pub(in crate::parts) fn fasten_to_below(
    b: &mut Builder<'_>,
    upper: &Built,
    lower: &Built,
    bolt: &Fastener,
    between: &[PanelId],
    unit: &str,
) {
    let (Some(base), Some(top)) = (upper.base, lower.top) else { return };
    let ends = |axis: usize| -> Option<[Dim; 2]> {
        let (a, c) = (&upper.block[axis], &lower.block[axis]);
        let from = Dim::most(vec![a.from.clone(), c.from.clone()])?;
        let to = Dim::least(vec![a.to(), c.to()])?;
        let wall = b.thickness(b.at(base).board);
        let inset = &wall + &Dim::number(INSET, "bolts stand in from the walls");
        Some([&from + &inset, &to - &inset])
    };
    let (Some(mut xs), Some(ys)) = (ends(0), ends(1)) else { return };
    // Over a layer of strips the bolts go down the middle of the outermost strips.
    let mut lines: Vec<Dim> = between.iter().filter_map(|id| middle_x(b, *id)).collect();
    lines.sort_by(|a, c| a.nominal().total_cmp(&c.nominal()));
    if let (Some(first), Some(last)) = (lines.first(), lines.last()) {
        xs = [first.clone(), last.clone()];
    }
    let mut count = 0;
    for (i, x) in xs.iter().enumerate() {
        for (k, y) in ys.iter().enumerate() {
            let number = i * 2 + k + 1;
            let at = [x.clone(), y.clone(), Dim::zero()];
            for panel in [base, top].into_iter().chain(between.iter().copied()) {
                drill_if_hit(b, panel, &at, bolt, number, unit);
            }
            count += 1;
        }
    }
    b.hardware(Hardware {
        profile: bolt.id.clone(),
        name: format!("{} with two washers and a nut", bolt.name),
        quantity: count,
        unit: unit.to_owned(),
        place: format!("{} to {}", b.at(base).name, b.at(top).name),
        mass_kg: None,
    });
}

fn middle_x(b: &Builder<'_>, id: PanelId) -> Option<Dim> {
    let panel = b.at(id);
    let frame = panel.frame.as_ref()?;
    // Strips lie face up with u along x.
    Some(&frame.origin[0] + &(&panel.length * 0.5))
}

fn drill_if_hit(b: &mut Builder<'_>, panel: PanelId, at: &[Dim; 3], bolt: &Fastener, number: usize, unit: &str) {
    let Some(local) = b.at(panel).frame.as_ref().map(|f| f.local(at)) else { return };
    let (length, width) = (b.at(panel).length.nominal(), b.at(panel).width.nominal());
    let inside = |p: Mm, size: Mm| p > bolt.clearance[1] && p < size - bolt.clearance[1];
    if !inside(local[0].nominal(), length) || !inside(local[1].nominal(), width) {
        return;
    }
    let span = b.at(panel).span;
    b.cut(
        panel,
        Feature {
            id: format!("{unit} bolt {number}"),
            kind: FeatureKind::Hole {
                at: local,
                diameter: Dim::number(bolt.clearance[1], format!("{} clearance", bolt.name)),
            },
            depth: Depth::Through,
            purpose: Purpose::Clearance,
            mate: None,
            span,
        },
    );
}

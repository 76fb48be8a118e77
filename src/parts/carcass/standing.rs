//! A carcass standing on another: bolts through its base and the top below.

use super::Built;
use crate::diag::Finding;
use crate::dim::Dim;
use crate::parts::bolts::{self, Bolt};
use crate::parts::builder::Builder;
use crate::parts::{codes, Hardware, PanelId};
use crate::shop::Fastener;
use crate::units::Mm;

/// How far the corner bolts stand in from the upper carcass's inner walls. Common practice, no source.
const INSET: Mm = Mm(45.0);
/// Least number of bolts that hold a carcass down.
const LEAST_BOLTS: usize = 2;

/// What lies between a carcass and the one that stands on it.
#[derive(Default)]
pub(in crate::parts) struct Layer {
    /// Runner strips and covers.
    pub(in crate::parts) panels: Vec<PanelId>,
    /// The bolts that hold them: where, and the number each has.
    pub(in crate::parts) bolts: Vec<Bolt>,
}

/// Bolts the upper carcass to the top of the lower one: by the bolts of the runner strips where there are some, else near the
/// corners of what the two share.
pub(in crate::parts) fn fasten_to_below(
    b: &mut Builder<'_>,
    upper: &Built,
    lower: &Built,
    bolt: &Fastener,
    between: &Layer,
    unit: &str,
) {
    let (Some(base), Some(top)) = (upper.base, lower.top) else {
        let lacking = if upper.base.is_none() { "it has no base" } else { "the one below has no top" };
        b.findings.push(
            Finding::stop(codes::NOTHING_HOLDS_IT, format!("{unit} cannot be bolted to the carcass below: {lacking}"))
                .part(unit)
                .remedy("give the upper carcass a base and the lower one a top"),
        );
        return;
    };
    let through: Vec<Bolt> = between.bolts.iter().filter(|s| bolts::fits(b, base, s)).cloned().collect();
    let uprights: Vec<PanelId> = upper.uprights.iter().chain(&lower.uprights).copied().collect();
    if through.len() >= LEAST_BOLTS {
        for strip_bolt in through {
            bolts::keep_off(b, &strip_bolt, &uprights, unit);
            bolts::drill(b, base, &strip_bolt);
            // The head stands in the upper carcass.
            b.heads.push(strip_bolt.head_on(base));
        }
        return;
    }
    let Some(places) = corners(b, upper, lower, base) else { return };
    let count = places.len() as u32;
    for (i, at) in places.into_iter().enumerate() {
        let one = Bolt { id: format!("{unit} bolt {}", i + 1), at, fastener: bolt.clone() };
        bolts::keep_off(b, &one, &uprights, unit);
        for panel in [base, top].into_iter().chain(between.panels.iter().copied()) {
            if bolts::fits(b, panel, &one) {
                bolts::drill(b, panel, &one);
            }
        }
        b.heads.push(one.head_on(base));
        b.heads.push(one.nut_under(top));
    }
    b.hardware(Hardware {
        profile: bolt.id.clone(),
        name: format!("{} with two washers and a nut, thread cut off at the nut", bolt.name),
        quantity: count,
        unit: unit.to_owned(),
        place: format!("{} to {}", b.at(base).name, b.at(top).name),
        mass_kg: None,
    });
}

/// Places near the corners of what the two carcasses share.
fn corners(b: &Builder<'_>, upper: &Built, lower: &Built, base: PanelId) -> Option<Vec<[Dim; 2]>> {
    let walls = upper.uprights.first().map_or(base, |id| *id);
    let inset = b.thickness(b.at(walls).board) + Dim::number(INSET, "bolts stand in from the walls");
    let ends = |axis: usize| -> Option<[Dim; 2]> {
        let (a, c) = (&upper.block[axis], &lower.block[axis]);
        let from = Dim::most(vec![a.from.clone(), c.from.clone()])?;
        let to = Dim::least(vec![a.to(), c.to()])?;
        Some([&from + &inset, &to - &inset])
    };
    let (xs, ys) = (ends(0)?, ends(1)?);
    Some(xs.iter().flat_map(|x| ys.iter().map(move |y| [x.clone(), y.clone()])).collect())
}

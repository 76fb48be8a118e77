//! What of the vehicle a hand must get at: spare wheel, jack, lamps, fuses; and what has to be unbolted first.

use super::codes;
use super::solid::{meet, swept};
use crate::design::{Access, Carcass, CarcassPlace, Design};
use crate::diag::Finding;
use crate::geom::{Box3, Point3};
use crate::parts::{Model, PanelId, Purpose};
use std::collections::BTreeSet;

/// Room a hand needs before what it gets at, in mm. Common practice, no source.
const HAND: f64 = 300.0;

/// Everything that stands before something to be reached, and the bolts that hold it.
pub(super) fn check(design: &Design, model: &Model, findings: &mut Vec<Finding>) {
    let Some(bay) = &design.bay else { return };
    let moving: BTreeSet<PanelId> = model.motions.iter().flat_map(|m| m.panels.iter().copied()).collect();
    for access in &bay.access {
        let room = room(access);
        // What slides out is slid out; that it can be is the ways' business.
        let still = model.panels.iter().enumerate().filter(|(i, _)| !moving.contains(&PanelId(*i)));
        let mut out: BTreeSet<usize> = still
            .filter(|(_, p)| p.solid().is_some_and(|s| meet(&s, &room)))
            .filter_map(|(_, p)| design.carcasses.iter().position(|c| c.name == p.unit || on_top(design, c, &p.unit)))
            .collect();
        if out.is_empty() {
            continue;
        }
        // Whatever stands on what has to come out comes out first.
        let stands = |out: &BTreeSet<usize>, i: usize, c: &Carcass| {
            !out.contains(&i) && matches!(c.at, CarcassPlace::On { below, .. } if out.contains(&below))
        };
        while let Some(next) = design.carcasses.iter().enumerate().position(|(i, c)| stands(&out, i, c)) {
            out.insert(next);
        }
        let bolts: usize = out.iter().map(|i| bolts_of(model, &design.carcasses[*i])).sum();
        let names: Vec<&str> = out.iter().map(|i| design.carcasses[*i].name.as_str()).collect();
        let message = format!("{} is reached only with {} out: {bolts} bolts", access.name, names.join(" and "));
        let mut finding = if bolts > access.most_bolts as usize {
            Finding::caution(codes::OUT_OF_REACH, message).remedy(format!(
                "leave {HAND} mm free before it, or hold what stands there with {} bolts",
                access.most_bolts
            ))
        } else {
            Finding::note(codes::OUT_OF_REACH, message).remedy("keep a spanner for them where it can be reached")
        };
        finding.parts = names.into_iter().map(str::to_owned).collect();
        let limit = format!("{} bolts (checklist FM16, from memory); {HAND} mm for a hand", access.most_bolts);
        findings.push(finding.at(access.span).limit(limit));
    }
}

/// Whether a unit is a pull-out over a carcass.
fn on_top(design: &Design, carcass: &Carcass, unit: &str) -> bool {
    design.pull_outs.iter().any(|p| p.name == unit && design.carcasses.get(p.over).is_some_and(|c| c.name == carcass.name))
}

/// The thing itself, and a hand's room before it.
fn room(access: &Access) -> Box3 {
    let from = access.from.each_ref().map(|d| d.nominal().0);
    let to = [0, 1, 2].map(|i| from[i] + access.size[i].nominal().0);
    let thing = Box3 { min: Point3::new(from[0], from[1], from[2]), max: Point3::new(to[0], to[1], to[2]) };
    swept(&thing, access.from_where, HAND)
}

/// Bolts through a carcass's base: to the vehicle, and to what it stands on.
fn bolts_of(model: &Model, carcass: &Carcass) -> usize {
    let base = format!("{} base", carcass.name);
    let holes = model.panels.iter().filter(|p| p.name == base).flat_map(|p| &p.features);
    holes.filter(|f| f.purpose == Purpose::Anchor || (f.purpose == Purpose::Clearance && f.id.contains("bolt"))).count()
}

//! Panels placed in the bay, with their joints and features, hardware and motions.
//!
//! Takes: [`Design`].
//! Gives: [`Model`].
//! Guarantees: every size is a [`Dim`] with a name; every panel and feature has a stable id; every mate is named on both sides.
//! Never: offsets by a cutter, relieves a corner, or rounds.

mod bolts;
mod builder;
mod carcass;
mod clash;
pub mod codes;
mod drawer;
mod envelope;
mod frame;
mod free_panel;
mod joint;
mod lip;
mod paper;
mod pull_out;
mod room;
mod seat;
mod types;
pub mod why;

pub use envelope::envelope;
pub use types::*;

use crate::design::{CarcassPlace, Design};
use crate::diag::{Checked, Finding};
use crate::dim::Dim;
use builder::Builder;
use carcass::{Built, Layer};

/// Derives every panel, joint, feature, piece of hardware and motion from the design.
#[must_use]
pub fn build(design: &Design) -> Checked<Model> {
    let mut b = Builder::new(design);
    if design.carcasses.is_empty() && design.panels.is_empty() {
        b.findings.push(
            Finding::stop(codes::NOTHING_TO_BUILD, "there is neither a [[carcass]] nor a [[panel]] in the project")
                .remedy("describe one; `baywright new` writes a working start"),
        );
    }
    let mut built: Vec<Option<Built>> = Vec::with_capacity(design.carcasses.len());
    let mut layers: Vec<Layer> = design.carcasses.iter().map(|_| Layer::default()).collect();
    for (i, carcass) in design.carcasses.iter().enumerate() {
        let made = match corner(&mut b, &built, carcass) {
            Some(at) => carcass::build(&mut b, carcass, at),
            None => None,
        };
        built.push(made);
        if let Some(made) = built[i].as_mut() {
            layers[i] = pull_outs_over(&mut b, i, made);
        }
        if let CarcassPlace::On { below, .. } = carcass.at {
            if let (Some(Some(lower)), Some(upper)) = (built.get(below), &built[i]) {
                let on = if layers[below].panels.is_empty() { lower.upper_side() } else { layers[below].panels.clone() };
                b.against(&upper.under_side(), &on, "stands on");
                seat::carcass(&mut b, &carcass.name, &layers[below].panels);
                carcass::fasten_to_below(&mut b, upper, lower, &carcass.standing_bolt, &layers[below], &carcass.name);
            }
        }
    }
    for lip in &design.lips {
        if let Some(Some(on)) = built.get(lip.on) {
            lip::build(&mut b, lip, on, &design.carcasses[lip.on].name);
        }
    }
    for panel in &design.panels {
        free_panel::build(&mut b, panel);
    }
    room::declare(&mut b);
    if b.is_paper() {
        paper::marks(&mut b);
        paper::without_hardware(&mut b.findings);
    } else {
        seat::joints(&mut b);
    }
    let (model, findings) = b.finish();
    Checked::new(model, findings)
}

/// Left, front, bottom corner of a carcass: where it was put, or on top of another and what slides there.
fn corner(b: &mut Builder<'_>, built: &[Option<Built>], carcass: &crate::design::Carcass) -> Option<[Dim; 3]> {
    match &carcass.at {
        CarcassPlace::At(at) => Some(at.clone()),
        CarcassPlace::On { below, shift } => {
            let Some(Some(lower)) = built.get(*below) else {
                b.findings.push(
                    Finding::stop(
                        codes::STANDS_ON_NOTHING,
                        format!("{} stands on a carcass that could not be derived", carcass.name),
                    )
                    .part(&carcass.name)
                    .at(carcass.span)
                    .remedy("mend the lower carcass first"),
                );
                return None;
            };
            let z = lower.block[2].to();
            let z = lower.layer.as_ref().map_or(z.clone(), |layer| &z + layer);
            Some([&lower.block[0].from + &shift[0], &lower.block[1].from + &shift[1], z])
        }
    }
}

/// Builds the pull-outs over a carcass; those side by side must agree on the height of their layer.
fn pull_outs_over(b: &mut Builder<'_>, index: usize, below: &mut Built) -> Layer {
    let design = b.design;
    let mut all = Layer::default();
    for plan in design.pull_outs.iter().filter(|p| p.over == index) {
        let Some(made) = pull_out::build(b, plan, below) else { continue };
        all.panels.extend(made.panels);
        all.bolts.extend(made.bolts);
        let layer = match &below.layer {
            None => made.layer,
            Some(other) if (other.nominal() - made.layer.nominal()).abs() < crate::units::Mm(0.05) => other.clone(),
            Some(other) => {
                b.findings.push(
                    Finding::stop(
                        codes::PULL_OUT_STRIPS_DIFFER,
                        format!(
                            "the layer of {} is {} mm high, that of its neighbour {} mm",
                            plan.name,
                            made.layer.nominal(),
                            other.nominal()
                        ),
                    )
                    .part(&plan.name)
                    .at(plan.span)
                    .remedy("give both the same board, strips and play above"),
                );
                other.clone()
            }
        };
        below.layer = Some(layer);
    }
    all
}

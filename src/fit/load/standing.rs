//! The bolts that hold one carcass on another: the same pushes, the same model, one storey up.

use super::accelerations::Set;
use super::mass::{root_of, together, Body};
use super::restraint::{cases, Case};
use super::say::{kg, newton, place, Section};
use super::space;
use crate::design::{CarcassPlace, Design};
use crate::parts::{Depth, FeatureKind, Model, Panel, Purpose};
use crate::units::{decimal, Mm};

/// Forces in the bolts of every carcass that stands over a root.
pub(super) fn judge(design: &Design, model: &Model, bodies: &[Body], root: usize, set: &Set, section: &mut Section) {
    for (index, carcass) in design.carcasses.iter().enumerate() {
        let CarcassPlace::On { below, .. } = carcass.at else { continue };
        let base = space::panel(model, &format!("{} base", carcass.name));
        let (true, Some((_, base, solid))) = (root_of(design, index) == root, base) else { continue };
        let spots = bolts(base);
        let sum = together(bodies.iter().filter(|b| b.carcass.is_some_and(|c| stands_on(design, c, index))), false);
        let Some(centre) = sum.centre() else { continue };
        let lower = &design.carcasses[below].name;
        section.say(format!(
            "{} on {lower}: {}, centre {}, {} bolts",
            carcass.name,
            kg(sum.mass),
            place(centre),
            spots.len()
        ));
        if spots.len() < 2 {
            section.say("  fewer than two bolts were found, so no forces are worked out");
            continue;
        }
        for case in cases(set, sum, centre, &solid, &spots) {
            let worst = |list: &[super::AnchorForce]| list.iter().map(super::AnchorForce::total).fold(0.0, f64::max);
            let Case { name, acceleration_g, forces, one_lost, .. } = case;
            let most = |f: fn(&super::AnchorForce) -> f64| forces.iter().map(f).fold(0.0, f64::max);
            section.say(format!(
                "  {name} {} g: at most pull {}, shear {}, together {} in one bolt; with another lost {}",
                decimal(acceleration_g, 2),
                newton(most(|f| f.pull_n)),
                newton(most(|f| f.shear_n)),
                newton(worst(&forces)),
                newton(worst(&one_lost))
            ));
        }
    }
}

/// Whether a carcass is another or stands on it.
fn stands_on(design: &Design, carcass: usize, other: usize) -> bool {
    let mut at = carcass;
    while at != other {
        match design.carcasses.get(at).map(|c| &c.at) {
            Some(CarcassPlace::On { below, .. }) => at = *below,
            _ => return false,
        }
    }
    true
}

/// Bay x and y of the bolts through a base.
fn bolts(base: &Panel) -> Vec<[f64; 2]> {
    let Some(frame) = &base.frame else { return Vec::new() };
    base.features
        .iter()
        .filter(|f| f.purpose == Purpose::Clearance && matches!(f.depth, Depth::Through) && f.id.contains("bolt"))
        .filter(|f| matches!(f.kind, FeatureKind::Hole { .. }))
        .map(|f| {
            let [u, v] = f.centre();
            let at = frame.to_bay(u, v, Mm::ZERO);
            [at.x, at.y]
        })
        .collect()
}

//! The forces at anchors against their ratings, and their bearing on the ply.

use super::anchor_group::AnchorForce;
use super::codes;
use super::restraint::Case;
use super::say::{newton, stress, Section};
use crate::design::Anchor;
use crate::diag::Finding;
use crate::parts::{Depth, FeatureKind, Panel, Purpose};
use crate::units::decimal;
use std::f64::consts::PI;

/// An anchor should be rated for this many times the force (checklist FM10; common practice, no source). Makers of lashing points
/// use the same against breaking.
pub const ANCHOR_FACTOR: f64 = 2.0;

/// Pressure under each washer and of each bolt on the ply, at the worst case.
pub(super) fn bearing(cases: &[Case], anchors: &[&Anchor], base: &Panel, section: &mut Section) {
    section.say("  bearing on the base at the highest forces, all anchors holding (reported, not judged):");
    for (i, anchor) in anchors.iter().enumerate() {
        let most = |f: fn(&AnchorForce) -> f64| cases.iter().map(|c| f(&c.forces[i])).fold(0.0, f64::max);
        let (pull, shear) = (most(|f| f.pull_n), most(|f| f.shear_n));
        let hole = base
            .features
            .iter()
            .filter(|f| f.purpose == Purpose::Anchor && matches!(f.depth, Depth::Through))
            .find(|f| f.id == format!("anchor {}", anchor.name))
            .and_then(|f| if let FeatureKind::Hole { diameter, .. } = &f.kind { Some(diameter.nominal().0) } else { None });
        let Some(hole) = hole else { continue };
        let washer = anchor.thread.washer.map_or(anchor.thread.head_diameter.0, |w| w[1].0);
        let (d, t) = (anchor.thread.diameter.0, base.thickness.nominal().0);
        let area = PI / 4.0 * (washer * washer - hole * hole);
        section.say(format!(
            "    {}: washer {} / (pi/4 x ({}² - {}²)) mm² = {}; bolt {} / ({} x {}) mm² = {}",
            anchor.name,
            newton(pull),
            decimal(washer, 1),
            decimal(hole, 1),
            stress(if area > 0.0 { pull / area } else { 0.0 }),
            newton(shear),
            decimal(d, 1),
            decimal(t, 1),
            stress(shear / (d * t))
        ));
    }
}

/// Every anchor against its rating, at the worst case with all anchors holding.
pub(super) fn against_ratings(cases: &[Case], anchors: &[&Anchor], unit: &str) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut unknown = Vec::new();
    let mut highest: f64 = 0.0;
    for (i, anchor) in anchors.iter().enumerate() {
        let all = cases.iter().map(|c| (c.forces[i].total(), &c.name));
        let Some((force, case)) = all.max_by(|a, b| a.0.total_cmp(&b.0)) else { continue };
        let Some(rating) = anchor.rating_n else {
            unknown.push(anchor.name.clone());
            highest = highest.max(force);
            continue;
        };
        let wanted = force * ANCHOR_FACTOR;
        if wanted > rating {
            let more = (wanted / rating * anchors.len() as f64).ceil();
            findings.push(
                Finding::stop(
                    codes::ANCHOR_OVERLOADED,
                    format!(
                        "anchor \"{}\" takes {} when {case}; with factor {} it must be rated {}, it is rated {}",
                        anchor.name,
                        newton(force),
                        decimal(ANCHOR_FACTOR, 0),
                        newton(wanted),
                        newton(rating)
                    ),
                )
                .part(unit)
                .at(anchor.span)
                .limit("factor 2 on the rating (checklist FM10; common practice, no source)")
                .remedy(format!("hold {unit} at about {} points, or carry less in it", decimal(more, 0))),
            );
        }
    }
    if let Some(first) = anchors.iter().find(|a| a.rating_n.is_none()) {
        findings.push(
            Finding::note(
                codes::RATING_NOT_KNOWN,
                format!(
                    "the rating of {} is not known; up to {} act there, {} with factor {}",
                    listed(&unknown),
                    newton(highest),
                    newton(highest * ANCHOR_FACTOR),
                    decimal(ANCHOR_FACTOR, 0)
                ),
            )
            .part(unit)
            .at(first.span)
            .limit("a rating is an input from the vehicle's handbook; it is never worked out from a thread")
            .remedy("look it up in the vehicle's handbook and write `rating = ...` in N"),
        );
    }
    findings
}

fn listed(names: &[String]) -> String {
    let quoted: Vec<String> = names.iter().map(|n| format!("\"{n}\"")).collect();
    format!("anchor{} {}", if names.len() == 1 { "" } else { "s" }, quoted.join(", "))
}

//! Every lid on its way open: against what stands, the vehicle, and what slides, shut and open.

use super::arc::{Leaf, Least, STEP};
use super::codes;
use super::motion::{with_doubt, Way, GUIDED, NEAR, TO_VEHICLE};
use super::mover::Mover;
use super::plane::{apart, rectangle};
use super::solid::{air, span, swept};
use super::vehicle::Still;
use crate::diag::{Finding, Span};
use crate::geom::tolerance::TOUCH;
use crate::geom::Box3;
use crate::parts::{Gap, Lid, Model, PanelId};
use crate::units::Mm;
use std::collections::BTreeSet;

/// What was found of all lids.
#[derive(Default)]
pub(super) struct Lids {
    pub(super) ways: Vec<Way>,
    pub(super) gaps: Vec<Gap>,
    pub(super) findings: Vec<Finding>,
    /// By sliding thing: what it needs of a lid.
    pub(super) needs: Vec<(String, String)>,
}

/// Judges every lid of a model.
pub(super) fn judge(model: &Model, solids: &[Vec<Box3>], movers: &[Mover], fixed: &[Still], car: &[Still]) -> Lids {
    let mut found = Lids::default();
    let leaves: Vec<Leaf<'_>> = model.lids.iter().filter_map(|lid| Leaf::new(lid, solids)).collect();
    for (i, leaf) in leaves.iter().enumerate() {
        let mut tight: Option<(String, Least)> = None;
        let mut take = |name: &str, least: Least| {
            if least.air > GUIDED && least.air < NEAR && tight.as_ref().is_none_or(|(_, t)| least.air < t.air) {
                tight = Some((name.to_owned(), least));
            }
        };
        past_what_stands(leaf, model, fixed, &mut take, &mut found);
        past_the_vehicle(leaf, model, car, &mut take, &mut found);
        let mut needs = Vec::new();
        for mover in movers {
            needs.extend(against(leaf, mover, &mut take, &mut found));
        }
        for other in leaves.iter().skip(i + 1) {
            if let Some(word) = both_open(leaf, other, &mut found.findings) {
                needs.push(word);
            }
        }
        found.findings.push(held_up(leaf.lid, model));
        let least = tight.as_ref().map(|(_, l)| *l);
        found.ways.push(Way {
            name: leaf.lid.name.clone(),
            travel: Mm(leaf.radius * leaf.lid.angle),
            turned: Some([leaf.lid.angle, least.map_or(0.0, |l| l.at)]),
            nearest: tight.as_ref().map(|(name, _)| name.clone()),
            air: Mm(least.map_or(f64::INFINITY, |l| l.air)),
            at: Mm(least.map_or(0.0, |l| l.at * leaf.radius)),
            side: if tight.is_some() { "on its arc" } else { "" },
            needs,
        });
    }
    found
}

fn degrees(angle: f64) -> String {
    crate::units::decimal(angle.to_degrees(), 1)
}

fn blocked(leaf: &Leaf<'_>, part: &str, by: &str, id: &str, least: Least) -> Finding {
    let lid = leaf.lid;
    let message = if least.at * leaf.radius <= STEP {
        format!("{} cannot open at all: {by} stands before it", lid.name)
    } else {
        format!("{} meets {by} after {} of {} degrees", lid.name, degrees(least.at), degrees(lid.angle))
    };
    let remedy = if least.at * leaf.radius <= STEP {
        format!("move {by} off the lid, or hinge it at another edge")
    } else {
        format!("let it open to {} degrees, hinge it at another edge, or move one of them", whole_degrees(least.at))
    };
    Finding::stop(codes::WAY_BLOCKED, message)
        .part(part)
        .part(id)
        .at(lid.span)
        .limit("everything that moves clears what stands, over its whole travel")
        .remedy(remedy)
}

/// The whole degrees below an angle.
fn whole_degrees(angle: f64) -> String {
    crate::units::decimal(angle.to_degrees().floor(), 0)
}

fn id_of(lid: &Lid, model: &Model) -> String {
    lid.panels.first().and_then(|id| model.panels.get(id.0)).map_or_else(|| lid.name.clone(), |p| p.id.clone())
}

fn past_what_stands(leaf: &Leaf<'_>, model: &Model, fixed: &[Still], take: &mut impl FnMut(&str, Least), found: &mut Lids) {
    let Some(space) = leaf.sweep_hull() else { return };
    let own: BTreeSet<&str> = leaf.lid.panels.iter().filter_map(|id| Some(model.panels.get(id.0)?.id.as_str())).collect();
    for still in fixed.iter().filter(|s| !own.contains(s.id.as_str())) {
        let least = still
            .solids
            .iter()
            .filter(|b| air(&space, b) < NEAR)
            .filter_map(|b| leaf.past(b))
            .min_by(|a, b| a.air.total_cmp(&b.air));
        let Some(least) = least else { continue };
        if least.air < -TOUCH {
            found.findings.push(blocked(leaf, &id_of(leaf.lid, model), &still.name, &still.id, least));
        }
        take(&still.name, least);
    }
}

/// The gap to each thing of the vehicle that is less on the way than shut.
fn past_the_vehicle(leaf: &Leaf<'_>, model: &Model, car: &[Still], take: &mut impl FnMut(&str, Least), found: &mut Lids) {
    for still in car {
        let worst = still.solids.iter().filter_map(|b| leaf.past(b)).min_by(|a, b| a.air.total_cmp(&b.air));
        let Some(least) = worst.filter(|l| l.air < NEAR) else { continue };
        take(&still.name, least);
        let id = id_of(leaf.lid, model);
        if least.air < -TOUCH {
            found.findings.push(blocked(leaf, &id, &still.name, &still.id, least));
            continue;
        }
        let shut =
            leaf.solids.iter().flat_map(|s| still.solids.iter().map(move |b| air(s, b))).fold(f64::INFINITY, f64::min);
        if least.air >= shut - TOUCH {
            continue;
        }
        let edge = leaf.lid.panels.first().and_then(|id| super::bay::end(model.panels.get(id.0)?, 2, true));
        found.gaps.push(Gap {
            name: format!("{} on its way to {}", leaf.lid.name, still.name),
            gap: with_doubt(least.air, edge.as_ref()),
            required: Gap::at_least(TO_VEHICLE),
            source: "common practice, no source".into(),
            parts: vec![id, still.id.clone()],
            span: leaf.lid.span,
        });
    }
}

/// A lid and a thing that slides, shut and open: what the lid needs of it; what it needs of the lid is noted beside.
fn against(leaf: &Leaf<'_>, mover: &Mover, take: &mut impl FnMut(&str, Least), found: &mut Lids) -> Option<String> {
    if mover.parts.iter().any(|p| p.panel.is_some_and(|id: PanelId| leaf.lid.panels.contains(&id))) {
        return None;
    }
    let space = leaf.sweep_hull()?;
    if mover.reach.is_none_or(|reach| air(&space, &reach) >= NEAR) {
        return None;
    }
    let solids = || mover.parts.iter().flat_map(|p| &p.solids);
    let past = |by: f64| solids().filter_map(|s| leaf.past(&s.moved(mover.axis, by))).min_by(|a, b| a.air.total_cmp(&b.air));
    let (shut, open) = (past(0.0), past(mover.way));
    for least in [shut, open].into_iter().flatten() {
        take(&mover.name, least);
    }
    let stops = |least: Option<Least>| least.filter(|l| l.air < -TOUCH);
    // The other way round: it slides while the lid stands open.
    let lid_open = leaf.open();
    let meets_open = solids().any(|s| {
        let path = swept(s, mover.axis, mover.way);
        let plan = rectangle(span(&path, 1 - leaf.along), span(&path, 2));
        let ends = span(&path, leaf.along);
        lid_open
            .iter()
            .any(|(quad, (low, high))| ends.0 < high - TOUCH && ends.1 > low + TOUCH && apart(quad, &plan) < -TOUCH)
    });
    if meets_open {
        found.needs.push((mover.name.clone(), format!("{} must be shut", leaf.lid.name)));
    }
    let tell = |state: &str, least: Least| {
        Finding::caution(
            codes::WAYS_EXCLUDE,
            format!(
                "{} stops after {} of {} degrees while {} {state}",
                leaf.lid.name,
                degrees(least.at),
                degrees(leaf.lid.angle),
                mover.name
            ),
        )
        .part(&leaf.lid.name)
        .part(&mover.name)
        .at(leaf.lid.span)
        .remedy("keep to that order of opening, or hinge the lid at another edge")
    };
    match (stops(shut), stops(open)) {
        (Some(least), Some(_)) => {
            found.findings.push(
                Finding::stop(
                    codes::WAY_BLOCKED,
                    format!(
                        "{} meets {} after {} degrees, be that shut or open",
                        leaf.lid.name,
                        mover.name,
                        degrees(least.at)
                    ),
                )
                .part(&leaf.lid.name)
                .part(&mover.name)
                .at(leaf.lid.span)
                .remedy(format!("let it open to {} degrees, or hinge it at another edge", whole_degrees(least.at))),
            );
            Some(format!("blocked by {}", mover.name))
        }
        (Some(least), None) => {
            found.findings.push(tell("is shut", least));
            Some(format!("{} must be open", mover.name))
        }
        (None, Some(least)) => {
            found.findings.push(tell("is open", least));
            Some(format!("{} must be shut", mover.name))
        }
        (None, None) if meets_open => {
            found.findings.push(slid_into(leaf.lid, mover, mover.span));
            None
        }
        (None, None) => None,
    }
}

fn slid_into(lid: &Lid, mover: &Mover, span: Option<Span>) -> Finding {
    Finding::caution(codes::WAYS_EXCLUDE, format!("{} meets {} on its way while that is open", mover.name, lid.name))
        .part(&mover.name)
        .part(&lid.name)
        .at(span)
        .remedy("shut the lid first, or hinge it at another edge")
}

/// Two lids that stand in each other's way when both are open.
fn both_open(leaf: &Leaf<'_>, other: &Leaf<'_>, findings: &mut Vec<Finding>) -> Option<String> {
    let theirs: Vec<Box3> = other
        .open()
        .iter()
        .map(|(quad, ends)| {
            let over = |i: usize| {
                let on = quad.iter().map(|c| c[i]);
                (on.clone().fold(f64::INFINITY, f64::min), on.fold(f64::NEG_INFINITY, f64::max))
            };
            let (across, up) = (over(0), over(1));
            let (x, y) = if other.along == 0 { (*ends, across) } else { (across, *ends) };
            let corner = |x: f64, y: f64, z: f64| crate::geom::Point3::new(x, y, z);
            Box3 { min: corner(x.0, y.0, up.0), max: corner(x.1, y.1, up.1) }
        })
        .collect();
    let least = theirs.iter().filter_map(|b| leaf.past(b)).min_by(|a, b| a.air.total_cmp(&b.air))?;
    if least.air >= -TOUCH {
        return None;
    }
    findings.push(
        Finding::caution(
            codes::WAYS_EXCLUDE,
            format!("{} meets {} after {} degrees while that is open", leaf.lid.name, other.lid.name, degrees(least.at)),
        )
        .part(&leaf.lid.name)
        .part(&other.lid.name)
        .at(leaf.lid.span)
        .remedy("open one at a time, or hinge one of them at another edge"),
    );
    Some(format!("{} must be shut", other.lid.name))
}

/// A lid held by nothing falls on hands.
fn held_up(lid: &Lid, model: &Model) -> Finding {
    Finding::note(
        codes::NOT_HELD_OPEN,
        format!("{} opens to {} degrees: only its stays hold it there", lid.name, degrees(lid.angle)),
    )
    .part(id_of(lid, model))
    .at(lid.span)
    .limit("what is open stays open while the vehicle stands on a slope (checklist FM8, common practice)")
    .remedy("fit the two locking stays of the hardware list, and a catch that holds it shut on the road")
}

//! Every drawer, table and lid on its way: against what stands, the vehicle, and each other, shut, open and between.

use super::codes;
use super::mover::{movers, Mover};
use super::solid::{all, meet, nearest, swept, Nearest};
use super::vehicle::{self, Still};
use crate::design::Design;
use crate::diag::Finding;
use crate::dim::Dim;
use crate::geom::tolerance::TOUCH;
use crate::geom::Box3;
use crate::parts::{Gap, Model, PanelId};
use crate::units::Mm;
use std::collections::BTreeSet;

/// Air wanted between what moves and the vehicle. Common practice, no source.
pub(super) const TO_VEHICLE: Mm = Mm(10.0);
/// Air between two solids that slide on each other; nearer than this they guide each other.
pub(super) const GUIDED: f64 = 0.3;

/// Boxes that stand for a traced keep-out, at most.
const TRACED_BOXES: usize = 200;
/// What stays further than this, in mm, is in nobody's way.
pub(super) const NEAR: f64 = 100.0;

/// How one thing fares on its way, for the list that `check` prints.
#[derive(Clone, Debug)]
pub struct Way {
    /// What moves.
    pub name: String,
    /// How far; of a lid, its far edge along its arc.
    pub travel: Mm,
    /// Of a lid: how far it turns, and at what angle it is tightest, in radians from shut.
    pub turned: Option<[f64; 2]>,
    /// What it passes nearest, beside what it slides on.
    pub nearest: Option<String>,
    /// Air left there; negative by what is missing when the way is blocked.
    pub air: Mm,
    /// At what travel.
    pub at: Mm,
    /// Where the air is: `left`, `right`, `ahead`, `behind`, `below`, `above`.
    pub side: &'static str,
    /// Other things that must be shut, or open, before it can move: `left table must be shut`.
    pub needs: Vec<String>,
}

/// Everything that moves, with its tightest place; the worst first.
#[must_use]
pub fn ways(design: &Design, model: &Model) -> Vec<Way> {
    let (mut ways, _, _) = judge(design, model);
    ways.sort_by(|a, b| a.air.total_cmp(&b.air).then_with(|| a.name.cmp(&b.name)));
    ways
}

/// Gaps to the vehicle that get less on the way, and everything that stops a way.
pub(super) fn check(design: &Design, model: &Model, findings: &mut Vec<Finding>) -> Vec<Gap> {
    let (_, gaps, found) = judge(design, model);
    findings.extend(found);
    gaps
}

fn judge(design: &Design, model: &Model) -> (Vec<Way>, Vec<Gap>, Vec<Finding>) {
    let solids = all(model);
    let movers = movers(design, model, &solids);
    let moving: BTreeSet<PanelId> = movers.iter().flat_map(|m| m.parts.iter().filter_map(|p| p.panel)).collect();
    let fixed: Vec<Still> = model
        .panels
        .iter()
        .enumerate()
        .filter(|(i, _)| !moving.contains(&PanelId(*i)))
        .map(|(i, p)| Still { name: p.name.clone(), id: p.id.clone(), solids: solids[i].clone() })
        .collect();
    let car = design.bay.as_ref().map(|bay| vehicle::stills(bay, TRACED_BOXES)).unwrap_or_default();
    let (mut ways, mut gaps, mut findings) = (Vec::new(), Vec::new(), Vec::new());
    for (i, mover) in movers.iter().enumerate() {
        let mut tight = Tight::default();
        stand_in_way(mover, &fixed, &mut tight, &mut findings);
        gaps.extend(to_vehicle(mover, model, &car, &mut tight, &mut findings));
        if let Some(bay) = &design.bay {
            gaps.extend(vehicle::open_doors(bay, mover, model, &mut tight));
        }
        let mut needs = Vec::new();
        for (k, other) in movers.iter().enumerate().filter(|(k, _)| *k != i) {
            needs.extend(against(mover, other, i < k, &mut tight, &mut findings));
        }
        let Tight { name, near } = tight;
        let side = near.map_or("", |n| word(&n, mover));
        ways.push(Way {
            name: mover.name.clone(),
            travel: Mm(mover.way),
            turned: None,
            nearest: name,
            air: Mm(near.map_or(f64::INFINITY, |n| n.air)),
            at: Mm(near.map_or(0.0, |n| n.travel)),
            side,
            needs,
        });
    }
    let lids = super::lids::judge(model, &solids, &movers, &fixed, &car);
    for (name, need) in lids.needs {
        for way in ways.iter_mut().filter(|w| w.name == name) {
            way.needs.push(need.clone());
        }
    }
    ways.extend(lids.ways);
    gaps.extend(lids.gaps);
    findings.extend(lids.findings);
    (ways, gaps, findings)
}

/// The tightest place of a way so far.
#[derive(Default)]
pub(super) struct Tight {
    name: Option<String>,
    near: Option<Nearest>,
}

impl Tight {
    pub(super) fn take(&mut self, name: &str, near: Nearest) {
        if self.near.is_none_or(|n| near.air < n.air) {
            self.near = Some(near);
            self.name = Some(name.to_owned());
        }
    }
}

fn word(near: &Nearest, mover: &Mover) -> &'static str {
    match near.side {
        (0, false) => "left",
        (0, true) => "right",
        (1, up) if mover.axis.index() == 1 && up == (mover.axis.sign() > 0.0) => "ahead",
        (1, false) => "in front",
        (1, true) => "behind",
        (_, false) => "below",
        (_, true) => "above",
    }
}

/// Every fixed thing that stops the way, each once; the tightest of the rest.
fn stand_in_way(mover: &Mover, fixed: &[Still], tight: &mut Tight, findings: &mut Vec<Finding>) {
    let Some(space) = mover.reach else { return };
    let mut told: BTreeSet<(&str, &str)> = BTreeSet::new();
    let close = fixed.iter().flat_map(|s| s.solids.iter().map(move |b| (s, b)));
    for (still, stands) in close.filter(|(_, b)| super::solid::air(&space, b) < NEAR) {
        for part in &mover.parts {
            for solid in &part.solids {
                let Some(near) = nearest(solid, stands, mover.axis, mover.way) else { continue };
                if near.air >= -TOUCH {
                    if near.air > GUIDED {
                        tight.take(&still.name, near);
                    }
                    continue;
                }
                tight.take(&still.name, near);
                if told.insert((&part.name, &still.name)) {
                    findings.push(blocked(mover, &part.name, &still.name, &near).part(&part.id).part(&still.id));
                }
            }
        }
    }
}

fn blocked(mover: &Mover, part: &str, by: &str, near: &Nearest) -> Finding {
    let message = if near.travel <= TOUCH {
        format!("{part} cannot move at all: {by} stands before it")
    } else {
        format!("{part} meets {by} after {} of {} mm", Mm(near.travel), Mm(mover.way))
    };
    Finding::stop(codes::WAY_BLOCKED, message)
        .at(mover.span)
        .limit("everything that moves clears what stands, over its whole travel")
        .remedy(format!("move one of them clear, or shorten the travel by {} mm", Mm(-near.air)))
}

/// The gap to each thing of the vehicle that is less on the way than at rest.
fn to_vehicle(mover: &Mover, model: &Model, car: &[Still], tight: &mut Tight, findings: &mut Vec<Finding>) -> Vec<Gap> {
    let mut gaps = Vec::new();
    for still in car {
        let worst = mover
            .parts
            .iter()
            .flat_map(|p| p.solids.iter().map(move |s| (p, s)))
            .flat_map(|(p, s)| still.solids.iter().map(move |b| (p, s, b)))
            .filter_map(|(p, s, b)| Some((p, s, nearest(s, b, mover.axis, mover.way)?)))
            .min_by(|a, b| a.2.air.total_cmp(&b.2.air));
        let Some((part, solid, near)) = worst else { continue };
        tight.take(&still.name, near);
        if near.air < -TOUCH {
            findings.push(blocked(mover, &part.name, &still.name, &near).part(&part.id).part(&still.id));
            continue;
        }
        let at_rest = still.solids.iter().map(|b| super::solid::air(solid, b)).fold(f64::INFINITY, f64::min);
        if near.air >= at_rest - TOUCH {
            continue;
        }
        let (axis, up) = near.side;
        let edge = part.panel.and_then(|id| super::bay::end(model.panels.get(id.0)?, axis, up));
        gaps.push(Gap {
            name: format!("{} on its way to {} ({})", mover.name, still.name, word(&near, mover)),
            gap: with_doubt(near.air, edge.as_ref()),
            required: Gap::at_least(TO_VEHICLE),
            source: "common practice, no source".into(),
            parts: vec![part.id.clone(), still.id.clone()],
            span: mover.span,
        });
    }
    gaps
}

/// A gap known by its nominal, with the doubt of the edge it depends on.
pub(super) fn with_doubt(air: f64, edge: Option<&Dim>) -> Dim {
    let number = Dim::number(Mm(air), "air on the way");
    match edge {
        Some(edge) => &number + &(edge - &Dim::number(edge.nominal(), "its nominal")),
        None => number,
    }
}

/// Two things that move, in every state of the other: what one needs of the other, as words; findings once per pair.
fn against(mover: &Mover, other: &Mover, first: bool, tight: &mut Tight, findings: &mut Vec<Finding>) -> Option<String> {
    if !mover.reach.zip(other.reach).is_some_and(|(a, b)| super::solid::air(&a, &b) < NEAR) {
        return None;
    }
    let shut = sweep(mover, other, 0.0);
    let open = sweep(mover, other, other.way);
    for near in [shut, open].into_iter().flatten().filter(|n| n.air > GUIDED) {
        tight.take(&other.name, near);
    }
    let stops = |near: Option<Nearest>| near.filter(|n| n.air < -TOUCH);
    match (stops(shut), stops(open)) {
        (Some(near), Some(_)) => {
            findings.push(
                Finding::stop(
                    codes::WAY_BLOCKED,
                    format!("{} meets {} after {} mm, be that shut or open", mover.name, other.name, Mm(near.travel)),
                )
                .part(&mover.name)
                .part(&other.name)
                .at(mover.span)
                .remedy(format!("shorten its travel by {} mm, or move one of them", Mm(-near.air))),
            );
            Some(format!("blocked by {}", other.name))
        }
        (Some(near), None) => {
            findings.push(exclusive(mover, other, "is shut", &near));
            Some(format!("{} must be open", other.name))
        }
        (None, Some(near)) => {
            findings.push(exclusive(mover, other, "is open", &near));
            Some(format!("{} must be shut", other.name))
        }
        (None, None) => {
            // Neither end is in the way, but something between may be.
            let between = first && crossing(mover, other);
            if between {
                findings.push(
                    Finding::caution(
                        codes::WAYS_EXCLUDE,
                        format!("{} and {} meet when both are half out", mover.name, other.name),
                    )
                    .part(&mover.name)
                    .part(&other.name)
                    .at(mover.span)
                    .remedy("open them one after the other"),
                );
            }
            between.then(|| format!("{} must be shut or fully open", other.name))
        }
    }
}

fn exclusive(mover: &Mover, other: &Mover, state: &str, near: &Nearest) -> Finding {
    Finding::caution(
        codes::WAYS_EXCLUDE,
        format!("{} stops after {} of {} mm while {} {state}", mover.name, Mm(near.travel), Mm(mover.way), other.name),
    )
    .part(&mover.name)
    .part(&other.name)
    .at(mover.span)
    .remedy(format!("shorten its travel by {} mm, or keep to that order of opening", Mm(-near.air)))
}

/// The tightest place of a whole way past another thing that stands at a travel of its own.
fn sweep(mover: &Mover, other: &Mover, at: f64) -> Option<Nearest> {
    let others: Vec<Box3> = other.parts.iter().flat_map(|p| &p.solids).map(|b| b.moved(other.axis, at)).collect();
    let around = mover.reach?;
    let near: Vec<&Box3> = others.iter().filter(|b| super::solid::air(&around, b) < NEAR).collect();
    mover
        .parts
        .iter()
        .flat_map(|p| &p.solids)
        .flat_map(|s| near.iter().filter_map(move |o| nearest(s, o, mover.axis, mover.way)))
        .min_by(|a, b| a.air.total_cmp(&b.air))
}

/// Whether two ways across each other share a place; ways along one axis that clear both ends cannot.
fn crossing(mover: &Mover, other: &Mover) -> bool {
    if mover.axis.index() == other.axis.index() {
        return false;
    }
    let paths =
        |m: &Mover| -> Vec<Box3> { m.parts.iter().flat_map(|p| &p.solids).map(|s| swept(s, m.axis, m.way)).collect() };
    let theirs = paths(other);
    paths(mover).iter().any(|a| theirs.iter().any(|b| meet(a, b)))
}

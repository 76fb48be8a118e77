//! Sliding, tipping and the force at every anchor, under stated accelerations.
//!
//! Model: the unit is rigid and stands on its base; anchors are bolts of equal stiffness. Shear: the push shared equally, and what
//! turns the unit about the bolts' middle shared by distance from it. Tension: the unit hinges about the base's edge that the push
//! leans it on, and each bolt pulls in proportion to its distance from that edge. Friction is not counted on.

use super::accelerations::{label, Push, Set};
use super::anchor_group::{self as group, AnchorForce};
use super::codes;
use super::mass::{together, Body, Sum};
use super::ratings::{against_ratings, bearing};
use super::say::{kg, newton, place, Section, G};
use super::standing;
use crate::design::{Anchor, Carcass, Design};
use crate::diag::Finding;
use crate::geom::Box3;
use crate::parts::Model;
use crate::units::decimal;

/// Friction of planed wood on plywood or laminate: CTU Code 2014, Appendix 2.
const FRICTION: f64 = 0.30;
/// Someone leaning on what is pulled out, N (checklist FM11, from memory).
const LEAN: f64 = 200.0;

/// One unit on the floor with all that stands on it.
#[derive(Clone, Debug)]
pub struct Held {
    /// The carcass on the floor.
    pub name: String,
    /// kg of all of it.
    pub mass_kg: f64,
    /// Centre of mass, closed, mm in the bay.
    pub centre: [f64; 3],
    /// Force at each anchor for each push, no factor; empty without anchors.
    pub cases: Vec<Case>,
}

/// One push.
#[derive(Clone, Debug)]
pub struct Case {
    /// What acts.
    pub(super) load: group::Load,
    /// `braking`, `cornering to the right`, `bump`, `everything pulled out`.
    pub name: String,
    /// Acceleration in units of g.
    pub acceleration_g: f64,
    /// With all anchors.
    pub forces: Vec<AnchorForce>,
    /// The highest force at each anchor when any one of the others is lost.
    pub one_lost: Vec<AnchorForce>,
}

pub(super) fn judge(
    design: &Design,
    model: &Model,
    bodies: &[Body],
    set: &Set,
    findings: &mut Vec<Finding>,
) -> (Vec<Held>, Section) {
    let mut section = Section::new("Restraint");
    section.say(format!("Accelerations: {}.", set.accelerations.source));
    section.say("A comparison under these accelerations, not an approval. NOT CRASH TESTED: a crash is many times as hard.");
    section.say(
        "Model: rigid unit on bolts of equal stiffness. Shear: push / number of bolts, and turning x distance / sum of squared \
         distances from the bolts' middle, square to that distance, the two added as vectors. Pull: the unit hinges about the base's \
         edge it leans on; each bolt pulls by its distance from that edge. A lift: shared by distance from the bolts' middle.",
    );
    let mut list = Vec::new();
    for (index, carcass) in design.carcasses.iter().enumerate() {
        if super::mass::root_of(design, index) != index {
            continue;
        }
        let mine = || bodies.iter().filter(|b| b.root == Some(index));
        let closed = together(mine(), false);
        let Some(centre) = closed.centre() else { continue };
        let name = &carcass.name;
        let base = model.panels.iter().find(|p| p.name == format!("{name} base"));
        let Some((base, solid)) = base.and_then(|b| Some((b, b.solid()?))) else {
            section.say(format!("{name}: has no base, so nothing can be worked out for it."));
            continue;
        };
        let anchors: Vec<&Anchor> = carcass.anchors.iter().filter_map(|i| design.bay.as_ref()?.anchors.get(*i)).collect();
        section.say(format!("{name}, with all that stands on it: {}, centre {}", kg(closed.mass), place(centre)));
        free_standing(set, closed.mass, centre, &solid, &mut section);
        if anchors.len() < 2 {
            if design.bay.is_some() {
                findings.push(unheld(design, carcass, anchors.len(), closed.mass, set));
            }
            section.say(format!("  held by {} anchors: no forces are worked out for fewer than two.", anchors.len()));
        }
        let out = PulledOut { sum: together(mine(), true), front: furthest(model, &mut mine()) };
        let cases = if anchors.len() < 2 {
            Vec::new()
        } else {
            let spots: Vec<[f64; 2]> = anchors.iter().map(|a| [a.at[0].nominal().0, a.at[1].nominal().0]).collect();
            let mut cases = cases(set, closed, centre, &solid, &spots);
            cases.extend(pulled_out(&out, &solid, &spots));
            print(&cases, &anchors, closed.mass, centre, &solid, &spots, &mut section);
            bearing(&cases, &anchors, base, &mut section);
            findings.extend(against_ratings(&cases, &anchors, name));
            cases
        };
        let state = (!cases.is_empty(), design.bay.is_some() || design.vehicle.is_some());
        tips_out(&out, &solid, carcass, state, &mut section, findings);
        standing::judge(design, model, bodies, index, set, &mut section);
        list.push(Held { name: name.clone(), mass_kg: closed.mass, centre, cases });
    }
    if list.is_empty() {
        section.say("There is no carcass with a place on the floor.");
    }
    (list, section)
}

/// What friction and width alone would do.
fn free_standing(set: &Set, mass: f64, centre: [f64; 3], base: &Box3, section: &mut Section) {
    for push in Push::ALONG {
        let a = set.of(push);
        let lever = leaning_lever(push, centre, base);
        let height = centre[2] - base.min.z;
        let slides = (a - FRICTION).max(0.0) * mass * G;
        let tips = if a * height > lever { "would tip" } else { "would not tip" };
        section.say(format!(
            "  {} {} g, unbolted: friction {} (planed wood on ply, CTU Code 2014, App. 2) leaves ({} - {}) x {} x {} m/s² = {}; {}: {} g x {} mm {} {} mm",
            label(set, push),
            decimal(a, 2),
            decimal(FRICTION, 2),
            decimal(a, 2),
            decimal(FRICTION, 2),
            kg(mass),
            decimal(G, 3),
            newton(slides),
            tips,
            decimal(a, 2),
            decimal(height, 0),
            if a * height > lever { ">" } else { "<=" },
            decimal(lever, 0)
        ));
    }
}

/// From the centre to the base's edge that a push leans the unit on.
fn leaning_lever(push: Push, centre: [f64; 3], base: &Box3) -> f64 {
    match push {
        Push::IntoBay => base.max.y - centre[1],
        Push::OutOfBay => centre[1] - base.min.y,
        Push::Right => base.max.x - centre[0],
        Push::Left => centre[0] - base.min.x,
        Push::Up => 0.0,
    }
}

fn unheld(design: &Design, carcass: &Carcass, count: usize, mass: f64, set: &Set) -> Finding {
    let push = (set.accelerations.forward - FRICTION).max(0.0) * mass * G;
    let points = design.bay.as_ref().map_or(0, |b| b.anchors.len());
    let remedy = if points >= 2 {
        "name at least two of the bay's anchor points: `anchors = [...]`".to_owned()
    } else {
        "measure the vehicle's own anchor points, write them as [[bay.anchor]] and name two or more".to_owned()
    };
    let held = if count == 0 { "nothing but friction".to_owned() } else { format!("{count} anchor point") };
    Finding::caution(
        codes::NOT_ANCHORED,
        format!(
            "{} ({} with all on it) is held by {held}: at {} g it pushes forward with {} beyond friction",
            carcass.name,
            kg(mass),
            decimal(set.accelerations.forward, 2),
            newton(push)
        ),
    )
    .part(&carcass.name)
    .at(carcass.span)
    .limit(format!("{}; friction {} of planed wood on ply, CTU Code 2014", set.accelerations.source, decimal(FRICTION, 2)))
    .remedy(remedy)
}

/// The four pushes along the floor and the bump.
pub(super) fn cases(set: &Set, sum: Sum, centre: [f64; 3], base: &Box3, spots: &[[f64; 2]]) -> Vec<Case> {
    let mut list = Vec::new();
    for push in Push::ALONG.into_iter().chain([Push::Up]) {
        let a = set.of(push);
        let load = group::Load {
            push: push.direction().map(|d| d * a * sum.mass * G),
            lift: if push == Push::Up { a * sum.mass * G } else { -sum.mass * G },
            centre,
        };
        list.push(Case {
            name: label(set, push),
            acceleration_g: a,
            forces: group::forces(&load, base, spots),
            one_lost: group::one_lost(&load, base, spots),
            load,
        });
    }
    list
}

/// Everything pulled out while parked.
struct PulledOut {
    sum: Sum,
    /// The furthest end of what is pulled out, bay y.
    front: Option<f64>,
}

/// The furthest end of what some bodies pull out.
fn furthest<'b>(model: &Model, bodies: &mut impl Iterator<Item = &'b Body>) -> Option<f64> {
    let end = |b: &Body| {
        let motion = &model.motions[b.motion?];
        let solids = motion.panels.iter().filter_map(|p| model.panels[p.0].solid());
        Some(solids.map(|s| s.min.y).fold(f64::INFINITY, f64::min) + b.travel[1])
    };
    bodies.filter_map(end).min_by(f64::total_cmp)
}

/// Parked, with everything pulled out and someone leaning on the furthest end.
fn pulled_out(out: &PulledOut, base: &Box3, spots: &[[f64; 2]]) -> Option<Case> {
    let (centre, front) = (out.sum.centre()?, out.front?);
    let weight = out.sum.mass * G;
    let y = (centre[1] * weight + front * LEAN) / (weight + LEAN);
    let load = group::Load { push: [0.0; 2], lift: -weight - LEAN, centre: [centre[0], y, centre[2]] };
    Some(Case {
        name: "everything pulled out, parked, 200 N leaning on the furthest end".to_owned(),
        acceleration_g: 0.0,
        forces: group::forces(&load, base, spots),
        one_lost: group::one_lost(&load, base, spots),
        load,
    })
}

fn tips_out(
    out: &PulledOut,
    base: &Box3,
    carcass: &Carcass,
    (bolted, in_vehicle): (bool, bool),
    section: &mut Section,
    findings: &mut Vec<Finding>,
) {
    let (Some(centre), Some(front)) = (out.sum.centre(), out.front) else { return };
    let inside = centre[1] - base.min.y;
    let (weight, reach) = (out.sum.mass * G, base.min.y - front);
    let (holds, tips) = (weight * inside, LEAN * reach);
    section.say(format!(
        "  everything pulled out, parked: {} x {} mm behind the base's front edge = {} N m; 200 N leaning (checklist FM11) x {} mm = {} N m: {}",
        newton(weight),
        decimal(inside, 0),
        decimal(holds / 1000.0, 1),
        decimal(reach, 0),
        decimal(tips / 1000.0, 1),
        if tips > holds { "it tips over if it is not bolted" } else { "it stands by itself" }
    ));
    if tips <= holds {
        return;
    }
    let message = if inside < 0.0 {
        format!("{} with everything pulled out has its centre {} mm in front of its base", carcass.name, decimal(-inside, 0))
    } else {
        format!(
            "{} with everything pulled out is held by {} N m; 200 N leaning on the furthest end tip it with {} N m",
            carcass.name,
            decimal(holds / 1000.0, 0),
            decimal(tips / 1000.0, 0)
        )
    };
    let finding = if bolted || !in_vehicle {
        Finding::note(codes::TIPS_PULLED_OUT, message).remedy("bolt it down before anything is pulled out")
    } else {
        Finding::caution(codes::TIPS_PULLED_OUT, message)
            .remedy("bolt it down at two anchor points or more, or let one thing at a time come out")
    };
    let finding = finding.part(&carcass.name).at(carcass.span);
    findings.push(finding.limit("200 N at the furthest end (checklist FM11, from memory)"));
}

fn print(
    cases: &[Case],
    anchors: &[&Anchor],
    mass: f64,
    centre: [f64; 3],
    base: &Box3,
    spots: &[[f64; 2]],
    section: &mut Section,
) {
    for (anchor, spot) in anchors.iter().zip(spots) {
        let rating = anchor.rating_n.map_or_else(|| "rating NOT KNOWN".to_owned(), |r| format!("rated {}", newton(r)));
        section.say(format!(
            "  anchor {}: x {}, y {} mm, {}, {rating}",
            anchor.name,
            decimal(spot[0], 0),
            decimal(spot[1], 0),
            anchor.thread.id
        ));
    }
    section.say(format!(
        "  base x {} to {} mm, y {} to {} mm; weight {} x {} m/s² = {}; centre {} mm over the base's underside",
        decimal(base.min.x, 0),
        decimal(base.max.x, 0),
        decimal(base.min.y, 0),
        decimal(base.max.y, 0),
        kg(mass),
        decimal(G, 3),
        newton(mass * G),
        decimal(centre[2] - base.min.z, 0)
    ));
    for case in cases {
        let push = case.acceleration_g * mass * G;
        section.say(format!(
            "  {}: {}{}",
            case.name,
            if case.acceleration_g > 0.0 {
                format!("{} g x {} x {} m/s² = {}", decimal(case.acceleration_g, 2), kg(mass), decimal(G, 3), newton(push))
            } else {
                "weight alone".to_owned()
            },
            group::moment_said(&case.load, base, spots)
        ));
        section.lines.extend(group::shear_said(&case.load, spots));
        for ((anchor, force), lost) in anchors.iter().zip(&case.forces).zip(&case.one_lost) {
            section.say(format!(
                "    {}: pull {}, shear {}, together {}; with one other lost {}",
                anchor.name,
                newton(force.pull_n),
                newton(force.shear_n),
                newton(force.total()),
                newton(lost.total())
            ));
        }
    }
}

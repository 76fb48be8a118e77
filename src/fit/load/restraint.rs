//! Sliding, tipping and the force at every anchor, under stated accelerations.
//!
//! Model: the unit is rigid and stands on its base; anchors are bolts of equal stiffness. Shear: the push shared equally, and what
//! turns the unit about the bolts' middle shared by distance from it. Tension: the unit hinges about the base's edge that the push
//! leans it on, and each bolt pulls in proportion to its distance from that edge. Friction is not counted on.

use super::anchor_group::{self as group, AnchorForce};
use super::codes;
use super::mass::{together, Body, Sum};
use super::say::{kg, newton, place, stress, Section, G};
use crate::design::{AccelerationSet, Anchor, Design};
use crate::diag::Finding;
use crate::geom::Box3;
use crate::parts::{Depth, FeatureKind, Model, Panel, Purpose};
use crate::project::{LoadSide, VehicleClass};
use crate::units::decimal;
use std::f64::consts::PI;

/// An anchor should be rated for this many times the force (checklist FM10; common practice, no source). Makers of lashing points
/// use the same against breaking.
pub const ANCHOR_FACTOR: f64 = 2.0;
/// Friction of planed wood on plywood or laminate: CTU Code 2014, Appendix 2.
const FRICTION: f64 = 0.30;

/// Where the load is pushed, seen from the bay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Push {
    /// Into the vehicle, +y.
    IntoBay,
    /// Out of the opening, -y.
    OutOfBay,
    /// To the right, +x.
    Right,
    /// To the left, -x.
    Left,
    /// Up.
    Up,
}

impl Push {
    /// The pushes along the floor.
    pub const ALONG: [Self; 4] = [Self::IntoBay, Self::OutOfBay, Self::Right, Self::Left];

    pub(super) fn direction(self) -> [f64; 2] {
        match self {
            Self::IntoBay => [0.0, 1.0],
            Self::OutOfBay => [0.0, -1.0],
            Self::Right => [1.0, 0.0],
            Self::Left => [-1.0, 0.0],
            Self::Up => [0.0, 0.0],
        }
    }
}

/// The accelerations in use, and how the bay lies in the vehicle.
#[derive(Clone, Debug)]
pub struct Set {
    /// The accelerations.
    pub accelerations: AccelerationSet,
    /// The side of the vehicle the bay opens to.
    pub load_from: LoadSide,
}

impl Set {
    /// What drives a push: `braking`, `pulling away`, `cornering`, `a bump`.
    #[must_use]
    pub fn cause(&self, push: Push) -> &'static str {
        match (self.load_from, push) {
            (_, Push::Up) => "bump",
            (LoadSide::Rear, Push::IntoBay) | (LoadSide::Left, Push::Left) | (LoadSide::Right, Push::Right) => "braking",
            (LoadSide::Rear, Push::OutOfBay) | (LoadSide::Left, Push::Right) | (LoadSide::Right, Push::Left) => {
                "pulling away"
            }
            _ => "cornering",
        }
    }

    /// The acceleration of a push in units of g.
    #[must_use]
    pub fn of(&self, push: Push) -> f64 {
        match self.cause(push) {
            "braking" => self.accelerations.forward,
            "pulling away" => self.accelerations.back,
            "cornering" => self.accelerations.side,
            _ => self.accelerations.up,
        }
    }
}

/// Chooses the set of accelerations by the vehicle, and says why.
#[must_use]
pub fn choose(design: &Design) -> Set {
    let vehicle = design.vehicle.as_ref();
    let load_from = vehicle.map_or(LoadSide::Rear, |v| v.load_from);
    if let Some(own) = vehicle.and_then(|v| v.accelerations.clone()) {
        return Set { accelerations: own, load_from };
    }
    let gross = vehicle.and_then(|v| v.gross_kg);
    let class = vehicle.and_then(|v| v.class);
    let heavy = gross.map_or(class == Some(VehicleClass::Truck), |g| g > 3500.0);
    let (forward, side, source) = if heavy {
        (0.8, 0.5, "EN 12195-1, over 3.5 t gross: 0.8 g forward, 0.5 g back, 0.5 g to the side")
    } else {
        let source = match (class, gross) {
            (Some(VehicleClass::Car), _) => {
                "a passenger car: no standard of cargo restraint covers it (EN 12195-1 excludes up to 3.5 t); the highest set for \
                 small vans, VDI 2700-16, up to 2.0 t: 0.9 g forward, 0.5 g back, 0.7 g to the side"
            }
            (_, Some(g)) if g <= 2000.0 => {
                "VDI 2700-16, vans up to 2.0 t gross: 0.9 g forward, 0.5 g back, 0.7 g to the side (EN 12195-1 excludes up to 3.5 t)"
            }
            (_, Some(_)) => {
                "VDI 2700-16, vans of 2.0 to 3.5 t gross, as quoted in a conference paper whose figure says 0.8 / 0.5 / 0.6 and whose \
                 text says 0.9 and 0.7: the higher reading, 0.9 g forward, 0.5 g back, 0.7 g to the side (EN 12195-1 excludes up to 3.5 t)"
            }
            _ => {
                "vehicle's gross mass not written: the highest set for small vans, VDI 2700-16: 0.9 g forward, 0.5 g back, 0.7 g to \
                 the side (EN 12195-1 excludes up to 3.5 t)"
            }
        };
        (0.9, 0.7, source)
    };
    let source =
        format!("{source}; a bump lifts by 0.2 g beyond its weight (20 % hold-down, 49 CFR 393.102(b), from memory)");
    Set { accelerations: AccelerationSet { forward, back: 0.5, side, up: 0.2, source }, load_from }
}

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
    section.say("Model: rigid unit on bolts of equal stiffness. Shear: push / number of bolts, and the turning about the bolts' middle by");
    section.say("distance. Tension: the unit hinges about the base's edge it leans on; each bolt pulls by its distance from that edge.");
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
        let cases = if anchors.len() < 2 {
            Vec::new()
        } else {
            let spots: Vec<[f64; 2]> = anchors.iter().map(|a| [a.at[0].nominal().0, a.at[1].nominal().0]).collect();
            let mut cases = cases(set, closed, centre, &solid, &spots);
            let out = together(mine(), true);
            cases.extend(pulled_out(out, &solid, &spots));
            print(&cases, &anchors, closed.mass, centre, &solid, &spots, &mut section);
            bearing(&cases, &anchors, base, &mut section);
            findings.extend(against_ratings(&cases, &anchors, name));
            cases
        };
        tips_out(&together(mine(), true), &solid, carcass, !cases.is_empty(), &mut section, findings);
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
            "  {} {} g, unbolted: friction {} (planed wood on ply, CTU Code 2014, App. 2) leaves ({} - {}) x {} x {} = {}; {}: {} g x {} mm {} {} mm",
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

fn label(set: &Set, push: Push) -> String {
    let cause = set.cause(push);
    match (cause, push) {
        ("cornering", Push::Right) => "cornering (to the right)".to_owned(),
        ("cornering", Push::Left) => "cornering (to the left)".to_owned(),
        ("cornering", Push::IntoBay) => "cornering (into the bay)".to_owned(),
        ("cornering", Push::OutOfBay) => "cornering (out of the bay)".to_owned(),
        _ => cause.to_owned(),
    }
}

fn unheld(design: &Design, carcass: &crate::design::Carcass, count: usize, mass: f64, set: &Set) -> Finding {
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
fn cases(set: &Set, sum: Sum, centre: [f64; 3], base: &Box3, spots: &[[f64; 2]]) -> Vec<Case> {
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

/// Parked, with everything pulled out.
fn pulled_out(out: Sum, base: &Box3, spots: &[[f64; 2]]) -> Option<Case> {
    let centre = out.centre()?;
    let load = group::Load { push: [0.0; 2], lift: -out.mass * G, centre };
    Some(Case {
        name: "everything pulled out".to_owned(),
        acceleration_g: 0.0,
        forces: group::forces(&load, base, spots),
        one_lost: group::one_lost(&load, base, spots),
        load,
    })
}

fn tips_out(
    out: &Sum,
    base: &Box3,
    carcass: &crate::design::Carcass,
    bolted: bool,
    section: &mut Section,
    findings: &mut Vec<Finding>,
) {
    let Some(centre) = out.centre() else { return };
    let inside = centre[1] - base.min.y;
    section.say(format!(
        "  everything pulled out, parked: centre {} mm {} the base's front edge: {}",
        decimal(inside.abs(), 0),
        if inside < 0.0 { "in front of" } else { "behind" },
        if inside < 0.0 { "it tips over if it is not bolted" } else { "it stands by itself" }
    ));
    if inside < 0.0 {
        let message = format!(
            "{} with everything pulled out has its centre {} mm in front of its base",
            carcass.name,
            decimal(-inside, 0)
        );
        let finding = if bolted {
            Finding::note(codes::TIPS_PULLED_OUT, message).remedy("bolt it down before anything is pulled out")
        } else {
            Finding::caution(codes::TIPS_PULLED_OUT, message).remedy("bolt it down at two anchor points or more")
        };
        findings.push(finding.part(&carcass.name).at(carcass.span));
    }
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
        "  base x {} to {}, y {} to {} mm; weight {} x {} m/s² = {}; centre {} mm over the base's underside",
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

/// Pressure under each washer and of each bolt on the ply, at the worst case.
fn bearing(cases: &[Case], anchors: &[&Anchor], base: &Panel, section: &mut Section) {
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

fn against_ratings(cases: &[Case], anchors: &[&Anchor], unit: &str) -> Vec<Finding> {
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

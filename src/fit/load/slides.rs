//! Slides and latches: what moves on them, and what holds it.

use super::accelerations::{Push, Set};
use super::codes;
use super::mass::Body;
use super::say::{kg, newton, Section, G};
use crate::design::{Design, Drawer};
use crate::diag::Finding;
use crate::parts::Model;
use crate::units::{decimal, Mm};

/// Share of a side-mounted slide's rating that counts in a vehicle: one seller's figure, 500 lb named 300 lb for vehicles
/// (checklist FM9).
pub const IN_A_VEHICLE: f64 = 0.6;
/// A drawer this wide wants a heavier class of slide (checklist FM9, 24 in).
const WIDE: Mm = Mm(610.0);
/// A latch should hold this many times what the load pushes with (checklist FM7; factor common practice, no source).
pub const LATCH_FACTOR: f64 = 2.0;

/// One drawer on its slides.
#[derive(Clone, Debug)]
pub struct OnSlides {
    /// The drawer.
    pub name: String,
    /// kg that move: box, front, its half of the slides, latch, goods.
    pub moving_kg: f64,
    /// Rating of the pair, kg.
    pub rating_kg: f64,
    /// What counts of it here, kg.
    pub derated_kg: f64,
    /// What the latch must hold, N, factor included.
    pub latch_n: f64,
}

/// What a latch must hold: mass x acceleration along the drawer's opening x g x factor, N.
#[must_use]
pub fn latch_force(mass_kg: f64, acceleration_g: f64, factor: f64) -> f64 {
    mass_kg * acceleration_g * G * factor
}

pub(super) fn judge(
    design: &Design,
    model: &Model,
    bodies: &[Body],
    set: &Set,
    findings: &mut Vec<Finding>,
) -> (Vec<OnSlides>, Section) {
    let mut section = Section::new("Slides and latches");
    let vehicle = design.bay.is_some() || design.vehicle.is_some();
    let share = if vehicle { IN_A_VEHICLE } else { 1.0 };
    if vehicle {
        section.say("A side-mounted slide counts with 0.6 of its rating in a vehicle (one seller's figure, checklist FM9).");
    } else {
        section.say("No vehicle: slides count with their whole rating.");
    }
    let opening = set.along_opening();
    section.say(format!(
        "Drawers open out of the bay: a latch must hold mass x {} g x factor {} (checklist FM7). A latch's holding force is in no \
         profile: NOT KNOWN, ask its maker. A drawer without a positive lock is reported where it is built.",
        decimal(opening, 2),
        decimal(LATCH_FACTOR, 0)
    ));
    let cells = design.carcasses.iter().flat_map(|c| &c.columns).flat_map(|c| &c.cells);
    let mut list = Vec::new();
    for cell in cells {
        let Some(drawer) = &cell.drawer else { continue };
        let name = format!("{} drawer", cell.name.replace('.', " "));
        let Some(body) = bodies.iter().find(|b| b.name == name) else { continue };
        let moving_kg = body.mass_kg();
        let rating_kg = drawer.slide.load_kg;
        let one = OnSlides {
            derated_kg: rating_kg * share,
            latch_n: latch_force(moving_kg, opening, LATCH_FACTOR),
            name,
            moving_kg,
            rating_kg,
        };
        section.say(format!(
            "{}: {} + {} + {} = {} moving; {} {} x {} = {}",
            one.name,
            kg(body.wood_kg),
            kg(body.hardware_kg),
            kg(body.goods_kg),
            kg(moving_kg),
            drawer.slide.id,
            kg(rating_kg),
            decimal(share, 2),
            kg(one.derated_kg)
        ));
        section.say(format!(
            "  latch: {} x {} x {} m/s² x {} = {} to be held",
            kg(moving_kg),
            decimal(opening, 2),
            decimal(G, 3),
            decimal(LATCH_FACTOR, 0),
            newton(one.latch_n)
        ));
        width(model, &one.name, &mut section);
        findings.extend(overloaded(&one, drawer, share));
        list.push(one);
    }
    if list.is_empty() {
        section.say("There are no drawers on slides.");
    }
    (list, section)
}

fn width(model: &Model, name: &str, section: &mut Section) {
    let front = model.panels.iter().find(|p| p.name == format!("{name} front"));
    if front.is_some_and(|f| f.length.nominal() >= WIDE) {
        section
            .say(format!("  {name} is {WIDE} mm wide or more: such drawers want slides of a heavier class (checklist FM9)"));
    }
}

fn overloaded(one: &OnSlides, drawer: &Drawer, share: f64) -> Option<Finding> {
    if one.moving_kg <= one.derated_kg {
        return None;
    }
    let message = format!(
        "{} moves {}; its slides {} take {} x {} = {}",
        one.name,
        kg(one.moving_kg),
        drawer.slide.id,
        kg(one.rating_kg),
        decimal(share, 2),
        kg(one.derated_kg)
    );
    let finding = if one.moving_kg > one.rating_kg {
        Finding::stop(codes::SLIDE_OVERLOADED, message)
    } else {
        Finding::caution(codes::SLIDE_OVERLOADED, message)
    };
    Some(
        finding
            .part(&one.name)
            .at(drawer.span)
            .limit("side mount in a vehicle 0.6 of the rating, one seller's figure (checklist FM9)")
            .remedy(format!(
                "carry {} less in it, or take slides rated {} or more",
                kg(one.moving_kg - one.derated_kg),
                kg(one.moving_kg / share)
            )),
    )
}

impl Set {
    /// The acceleration that pushes a drawer open, in units of g.
    pub(super) fn along_opening(&self) -> f64 {
        self.of(Push::OutOfBay)
    }
}

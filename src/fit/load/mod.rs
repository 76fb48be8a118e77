//! Mass, strength, restraint and stowing: what the unit weighs, carries, bends, and how it is held.
//!
//! Takes: [`Design`], [`Model`], and a way to stand boxes on a floor.
//! Gives: [`LoadReport`]: figures, and a page of formulas with the numbers put in; findings.
//! Guarantees: every printed number has its unit, every limit its source; what is not known is said to be unknown.
//! Never: changes a size; derives a rating from a thread; calls a comparison an approval.

mod accelerations;
mod anchor_group;
pub mod bending;
mod cautions;
pub mod codes;
mod cost;
mod floor_plan;
mod hardware;
mod heads;
mod mass;
mod payload;
mod ratings;
mod restraint;
mod say;
mod screws;
mod slides;
mod space;
mod standing;
mod stow;
mod walls;

pub use accelerations::{choose, Push, Set};
pub use anchor_group::{forces, one_lost, AnchorForce, Load};
pub use bending::Bent;
pub use cost::{add_up, Cost, SheetsUsed};
pub use hardware::{fastener, Bought};
pub use mass::{panel, panels_centre, Body, PanelMass};
pub use payload::{axle_shares, Payload};
pub use ratings::ANCHOR_FACTOR;
pub use restraint::{Case, Held};
pub use say::Section;
pub use screws::{root_diameter, Screwed};
pub use slides::{latch_force, OnSlides, IN_A_VEHICLE, LATCH_FACTOR};
pub use stow::{Standing, Stowed};

use crate::design::Design;
use crate::diag::Checked;
use crate::parts::{Gap, Model};
use crate::units::Mm;
use hardware::Catalogue;

/// Stands boxes (length, width) on a floor (width, depth) with a gap between; for each its corner and size, or `None`.
pub type LayFloor = fn(room: [Mm; 2], boxes: &[[Mm; 2]], gap: Mm) -> Vec<Option<[Mm; 4]>>;

/// All figures, and the page that shows how they came about.
#[derive(Clone, Debug)]
pub struct LoadReport {
    /// By what moves or is lifted as one.
    pub bodies: Vec<Body>,
    /// kg of all, goods included.
    pub mass_kg: f64,
    /// Centre of mass, closed and with everything pulled out; bay frame, mm.
    pub centres: Option<[[f64; 3]; 2]>,
    /// Against the vehicle.
    pub payload: Payload,
    /// Goods in their places.
    pub stowed: Vec<Stowed>,
    /// What is left round the goods, for the ledger.
    pub gaps: Vec<Gap>,
    /// Bending.
    pub bent: Vec<Bent>,
    /// Drawers on their slides.
    pub slides: Vec<OnSlides>,
    /// The accelerations in use.
    pub set: Set,
    /// Units on the floor.
    pub held: Vec<Held>,
    /// Screws.
    pub screws: Vec<Screwed>,
    /// What to buy.
    pub hardware: Vec<Bought>,
    /// The page.
    pub sections: Vec<Section>,
}

/// Weighs the model with its goods and judges strength, slides, restraint and screws.
#[must_use]
pub fn judge(design: &Design, model: &Model, lay: LayFloor) -> Checked<LoadReport> {
    let mut findings = Vec::new();
    let catalogue = Catalogue::of(design);
    let spaces = space::all(design, model);
    let stowed = stow::arrange(design, &spaces, lay, &mut findings);
    let bodies = mass::bodies(design, model, &catalogue, &spaces, &stowed);
    let placed: f64 = stowed.iter().map(|s| s.mass_kg).sum();
    let loose_kg = design.stows.iter().map(|s| s.mass_kg * f64::from(s.quantity)).sum::<f64>() - placed;
    let set = choose(design);
    let (payload, payload_page) = payload::judge(design, &bodies, loose_kg, &mut findings);
    let (bent, bending_page) = bending::judge(design, model, &spaces, &stowed, &mut findings);
    let (slides, slides_page) = slides::judge(design, model, &bodies, &set, &mut findings);
    let (held, restraint_page) = restraint::judge(design, model, &bodies, &set, &mut findings);
    let (screws, screws_page) = screws::judge(design, model, &catalogue, &mut findings);
    let hardware = hardware::shopping_list(model, &catalogue);
    let sections = vec![
        cautions::section(),
        mass::section(design, model, &bodies, loose_kg),
        payload_page,
        stow::section(&stowed, &spaces),
        bending_page,
        slides_page,
        restraint_page,
        screws_page,
        hardware::section(&hardware, model, &catalogue),
        cost::thinner(design, model, &bent),
    ];
    let centre = |out| mass::together(bodies.iter(), out).centre();
    let report = LoadReport {
        mass_kg: payload.unit_kg,
        centres: centre(false).zip(centre(true)).map(|(a, b)| [a, b]),
        payload,
        gaps: walls::gaps(model, &spaces, &stowed),
        stowed,
        bent,
        slides,
        set,
        held,
        screws,
        hardware,
        sections,
        bodies,
    };
    Checked::new(report, findings)
}

//! What hardware weighs, what to buy of it, and which profiles the design uses.

use super::say::{kg, Section};
use crate::design::{Design, PlayAbove};
use crate::parts::{Hardware, Model};
use crate::shop::{Fastener, FastenerKind, Latch, Slide};
use crate::units::{decimal, Mm};
use std::collections::BTreeMap;
use std::f64::consts::PI;

/// Density of steel, kg/mm³: 7850 kg/m³ (EN 1993-1-1, 3.2.6).
const STEEL: f64 = 7.85e-6;
/// A pair of full-extension slides, kg per mm of length. Common practice, no source: about 3.2 kg per metre of pair.
const SLIDE_PAIR: f64 = 0.0032;
/// A latch with its bolts. Common practice, no source.
const LATCH: f64 = 0.30;
/// A bolt whose length is only found at the bench is weighed at this many diameters. Common practice, no source.
const BOLT_DIAMETERS: f64 = 6.0;
/// A thread takes this share off a shank's weight: the stress area of an M8 over its full circle, 36.6/50.3 (ISO 898-1).
const THREAD: f64 = 0.73;
/// Spares bought of what is small and easily lost: one in ten, rounded up. Common practice, no source.
const SPARES: f64 = 0.10;

/// The profiles a design uses, by id.
#[derive(Debug, Default)]
pub(super) struct Catalogue<'a> {
    pub(super) fasteners: BTreeMap<&'a str, &'a Fastener>,
    pub(super) slides: BTreeMap<&'a str, &'a Slide>,
    pub(super) latches: BTreeMap<&'a str, &'a Latch>,
}

impl<'a> Catalogue<'a> {
    pub(super) fn of(design: &'a Design) -> Self {
        let mut all = Self::default();
        let mut fasteners: Vec<&'a Fastener> = Vec::new();
        for carcass in &design.carcasses {
            fasteners.extend([&*carcass.screw, &*carcass.standing_bolt]);
            for drawer in carcass.columns.iter().flat_map(|c| &c.cells).filter_map(|c| c.drawer.as_ref()) {
                all.slides.insert(&drawer.slide.id, &drawer.slide);
                all.latches.extend(drawer.latch.iter().map(|l| (l.id.as_str(), &**l)));
                let f = &drawer.fasteners;
                fasteners.extend([&*f.slide, &*f.wall, &*f.front]);
                fasteners.extend(f.latch.iter().map(|l| &**l));
            }
        }
        for pull_out in &design.pull_outs {
            fasteners.push(&pull_out.strip_bolt);
            fasteners.extend(pull_out.stop.iter().map(|s| &**s));
            if let PlayAbove::Washers { fastener, .. } = &pull_out.play_above {
                fasteners.push(fastener);
            }
        }
        fasteners.extend(design.lips.iter().map(|l| &*l.screw));
        fasteners.extend(design.bay.iter().flat_map(|b| &b.anchors).map(|a| &*a.thread));
        all.fasteners.extend(fasteners.into_iter().map(|f| (f.id.as_str(), f)));
        all
    }

    /// kg of one piece: as the profile says, or worked out.
    pub(super) fn mass_kg(&self, piece: &Hardware) -> f64 {
        if let Some(given) = piece.mass_kg {
            return given;
        }
        if let Some(slide) = self.slides.get(piece.profile.as_str()) {
            return SLIDE_PAIR * slide.length.0;
        }
        if self.latches.contains_key(piece.profile.as_str()) {
            return LATCH;
        }
        self.fasteners.get(piece.profile.as_str()).map_or(0.0, |f| fastener_kg(f, piece))
    }
}

/// The fastener of a design by its profile's id; `None` for what is no fastener.
#[must_use]
pub fn fastener<'a>(design: &'a Design, id: &str) -> Option<&'a Fastener> {
    Catalogue::of(design).fasteners.get(id).copied()
}

fn fastener_kg(f: &Fastener, piece: &Hardware) -> f64 {
    let disc = |d: f64, hole: f64, t: f64| PI / 4.0 * (d * d - hole * hole) * t * STEEL;
    let washer = f.washer.map_or(0.0, |w| disc(w[1].0, w[0].0, w[2].0));
    if piece.name.starts_with("large washer") {
        return washer;
    }
    let length = length_in(&piece.name).map_or(f.diameter.0 * BOLT_DIAMETERS, |l| l.0);
    let shank = disc(f.diameter.0, 0.0, length) * THREAD;
    match f.kind {
        FastenerKind::HexBolt => {
            let (e, k) = (f.head_diameter.0, f.head_height.0);
            // A hexagon across the corners e has an area of 3√3/8 e².
            let head = 3.0 * 3.0_f64.sqrt() / 8.0 * e * e * k * STEEL;
            let washers =
                if piece.name.contains("two washers") { 2.0 } else { f64::from(u8::from(piece.name.contains("washer"))) };
            let nut = if piece.name.contains("nut") { head * 1.2 } else { 0.0 };
            shank + head + washers * washer + nut
        }
        FastenerKind::CountersunkScrew | FastenerKind::PanScrew => {
            shank + disc(f.head_diameter.0, 0.0, f.head_height.0) / 2.0
        }
    }
}

/// The length at the end of a piece's name: `countersunk wood screw 4.0 mm x 40`.
pub(super) fn length_in(name: &str) -> Option<Mm> {
    name.rsplit_once(" x ").and_then(|(_, length)| length.trim().parse().ok()).map(Mm)
}

/// One kind of piece on the shopping list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bought {
    /// In words.
    pub name: String,
    /// Profile id.
    pub profile: String,
    /// How many the unit takes.
    pub quantity: u32,
    /// How many more to buy.
    pub spare: u32,
}

/// Every kind of piece once, with spares.
pub(super) fn shopping_list(model: &Model, catalogue: &Catalogue<'_>) -> Vec<Bought> {
    let mut counts: BTreeMap<(&str, &str), u32> = BTreeMap::new();
    for piece in &model.hardware {
        *counts.entry((&piece.name, &piece.profile)).or_default() += piece.quantity;
    }
    let one = |((name, profile), quantity): ((&str, &str), u32)| {
        let small = catalogue.fasteners.contains_key(profile);
        let spare = if small { (f64::from(quantity) * SPARES).ceil() as u32 } else { 0 };
        Bought { name: name.to_owned(), profile: profile.to_owned(), quantity, spare }
    };
    counts.into_iter().map(one).collect()
}

/// The page's section.
pub(super) fn section(list: &[Bought], model: &Model, catalogue: &Catalogue<'_>) -> Section {
    let mut section = Section::new("Hardware to buy");
    section.say(
        "Counted from the model; spares are 10 % of screws, bolts and washers, rounded up (common practice, no source).",
    );
    for item in list {
        section.say(format!("  {} + {} spare  {}", item.quantity, item.spare, item.name));
    }
    let total: f64 = model.hardware.iter().map(|h| catalogue.mass_kg(h) * f64::from(h.quantity)).sum();
    section.say(format!(
        "Together {} (steel 7850 kg/m³ by its size; slides {} kg per m of pair and latches {} kg each are common practice, no source).",
        kg(total),
        decimal(SLIDE_PAIR * 1000.0, 1),
        decimal(LATCH, 2)
    ));
    section
}

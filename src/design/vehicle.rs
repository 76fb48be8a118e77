//! The vehicle's figures and the maker's prices.

use super::bench::Bench;
use crate::diag::Span;
use crate::project::{self, LoadSide, VehicleClass};
use crate::units::Mm;
use std::collections::BTreeMap;

/// The vehicle, as far as its papers are given; masses in kg.
#[derive(Clone, Debug)]
pub struct Vehicle {
    /// Its class; `None` when not said.
    pub class: Option<VehicleClass>,
    /// The largest total mass allowed.
    pub gross_kg: Option<f64>,
    /// What may be carried in all.
    pub payload_kg: Option<f64>,
    /// Everyone aboard.
    pub people_kg: Option<f64>,
    /// Everything else aboard.
    pub other_kg: Option<f64>,
    /// Between the axles.
    pub wheelbase: Option<Mm>,
    /// From the sill into the vehicle to the rear axle.
    pub rear_axle: Option<Mm>,
    /// What the rear axle may still take.
    pub rear_axle_rest_kg: Option<f64>,
    /// What the front axle may still take.
    pub front_axle_rest_kg: Option<f64>,
    /// The side the opening is on; the rear when not said.
    pub load_from: LoadSide,
    /// The maker's own accelerations.
    pub accelerations: Option<AccelerationSet>,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// Accelerations of the load relative to the vehicle, in units of g.
#[derive(Clone, Debug, PartialEq)]
pub struct AccelerationSet {
    /// Braking: the load pushes to the vehicle's front.
    pub forward: f64,
    /// Pulling away: it pushes to the rear.
    pub back: f64,
    /// Cornering: it pushes to either side.
    pub side: f64,
    /// A bump: upwards, beyond its own weight.
    pub up: f64,
    /// Name and source of the set.
    pub source: String,
}

/// What things cost the maker.
#[derive(Clone, Debug)]
pub struct Prices {
    /// The currency, as written.
    pub currency: String,
    /// An hour of the machine.
    pub machine_hour: Option<f64>,
    /// One of each hardware profile.
    pub each: BTreeMap<String, f64>,
}

/// A bump lifts by a fifth of the weight: the hold-down force of 20 % of the weight asked of a cargo securement, 49 CFR
/// 393.102(b) (from memory).
pub(super) const UP: f64 = 0.2;

impl Bench<'_> {
    pub(super) fn vehicle(&mut self) -> Option<Vehicle> {
        let written = self.project.vehicle.as_ref()?;
        let wheelbase = self.positive_if(written.wheelbase.as_ref(), "wheelbase");
        let value = |amount: &Option<project::Written<f64>>| amount.as_ref().map(|a| a.value);
        let accelerations = written.accelerations.as_ref().and_then(|set| {
            Some(AccelerationSet {
                forward: set.forward.as_ref()?.value,
                back: set.back.as_ref()?.value,
                side: set.side.as_ref()?.value,
                up: set.up.as_ref().map_or(UP, |up| up.value),
                source: format!("as written in the project: {}", set.source.as_ref()?.value),
            })
        });
        if written.load_from.is_none() {
            self.assume("The vehicle: loaded through its rear doors, since `load_from` is not written.".to_owned());
        }
        Some(Vehicle {
            class: written.class.as_ref().map(|c| c.value),
            gross_kg: value(&written.gross_kg),
            payload_kg: value(&written.payload_kg),
            people_kg: value(&written.people_kg),
            other_kg: value(&written.other_kg),
            wheelbase: wheelbase.map(|w| w.nominal()),
            rear_axle: written.rear_axle.as_ref().map(|x| x.value),
            rear_axle_rest_kg: value(&written.rear_axle_rest_kg),
            front_axle_rest_kg: value(&written.front_axle_rest_kg),
            load_from: written.load_from.as_ref().map_or(LoadSide::Rear, |side| side.value),
            accelerations,
            span: Some(written.span),
        })
    }

    pub(super) fn prices(&self) -> Option<Prices> {
        let written = self.project.prices.as_ref()?;
        Some(Prices {
            currency: written.currency.as_ref().map_or_else(|| "units of money".to_owned(), |c| c.value.clone()),
            machine_hour: written.machine_hour.as_ref().map(|m| m.value),
            each: written.each.iter().map(|(id, price)| (id.value.clone(), price.value)).collect(),
        })
    }
}

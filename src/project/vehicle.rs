//! `[vehicle]` and `[prices]`: the figures of the vehicle's papers, and what things cost the maker.

use super::table::Table;
use super::{Length, Text, Written};
use crate::diag::Span;

/// `[vehicle]`: masses in kg, accelerations in units of g.
#[derive(Clone, Debug)]
pub struct Vehicle {
    /// `class`.
    pub class: Option<Written<VehicleClass>>,
    /// `gross`: the largest total mass allowed.
    pub gross_kg: Option<Written<f64>>,
    /// `payload`: what may be carried in all.
    pub payload_kg: Option<Written<f64>>,
    /// `people`: everyone aboard.
    pub people_kg: Option<Written<f64>>,
    /// `other`: everything else aboard.
    pub other_kg: Option<Written<f64>>,
    /// `wheelbase`.
    pub wheelbase: Option<Length>,
    /// `rear_axle`: from the sill into the vehicle to the rear axle.
    pub rear_axle: Option<Length>,
    /// `rear_axle_rest`: what the rear axle may still take, people aboard.
    pub rear_axle_rest_kg: Option<Written<f64>>,
    /// `front_axle_rest`: what the front axle may still take, people aboard.
    pub front_axle_rest_kg: Option<Written<f64>>,
    /// `load_from`: where the opening is.
    pub load_from: Option<Written<LoadSide>>,
    /// `accelerations`: the maker's own set.
    pub accelerations: Option<Accelerations>,
    /// Where it is written.
    pub span: Span,
}

/// `class = "car" | "van" | "truck"`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum VehicleClass {
    /// `car`: a passenger car or estate.
    Car,
    /// `van`: a delivery van.
    Van,
    /// `truck`: over 3.5 t.
    Truck,
}

/// `load_from = "rear" | "left" | "right"`: the side of the vehicle the bay's opening is on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LoadSide {
    /// `rear`.
    Rear,
    /// `left`.
    Left,
    /// `right`.
    Right,
}

/// `accelerations = { forward, back, side, up, source }`, in units of g.
#[derive(Clone, Debug)]
pub struct Accelerations {
    /// `forward`: braking.
    pub forward: Option<Written<f64>>,
    /// `back`: pulling away.
    pub back: Option<Written<f64>>,
    /// `side`: cornering.
    pub side: Option<Written<f64>>,
    /// `up`: beyond weightless, on a bump.
    pub up: Option<Written<f64>>,
    /// `source`: where the maker has them from.
    pub source: Option<Text>,
    /// Where it is written.
    pub span: Span,
}

/// `[prices]`.
#[derive(Clone, Debug)]
pub struct Prices {
    /// `currency`.
    pub currency: Option<Text>,
    /// `machine_hour`.
    pub machine_hour: Option<Written<f64>>,
    /// `each`: profile id and the price of one.
    pub each: Vec<(Text, Written<f64>)>,
    /// Where it is written.
    pub span: Span,
}

pub(super) fn vehicle(mut table: Table<'_>) -> Vehicle {
    let classes = [("car", VehicleClass::Car), ("van", VehicleClass::Van), ("truck", VehicleClass::Truck)];
    let sides = [("rear", LoadSide::Rear), ("left", LoadSide::Left), ("right", LoadSide::Right)];
    let vehicle = Vehicle {
        class: table.one_of("class", &classes),
        gross_kg: table.amount("gross"),
        payload_kg: table.amount("payload"),
        people_kg: table.amount("people"),
        other_kg: table.amount("other"),
        wheelbase: table.length("wheelbase"),
        rear_axle: table.length("rear_axle"),
        rear_axle_rest_kg: table.amount("rear_axle_rest"),
        front_axle_rest_kg: table.amount("front_axle_rest"),
        load_from: table.one_of("load_from", &sides),
        accelerations: table.table("accelerations").map(accelerations),
        span: table.span,
    };
    table.finish();
    vehicle
}

fn accelerations(mut table: Table<'_>) -> Accelerations {
    let accelerations = Accelerations {
        forward: table.need("forward", "0.9", Table::amount),
        back: table.need("back", "0.5", Table::amount),
        side: table.need("side", "0.7", Table::amount),
        up: table.amount("up"),
        source: table.need("source", "\"...\"", Table::text),
        span: table.span,
    };
    table.finish();
    accelerations
}

pub(super) fn prices(mut table: Table<'_>) -> Prices {
    let each = table.table("each").map(|t| each(&t)).unwrap_or_default();
    let prices =
        Prices { currency: table.text("currency"), machine_hour: table.amount("machine_hour"), each, span: table.span };
    table.finish();
    prices
}

fn each(table: &Table<'_>) -> Vec<(Text, Written<f64>)> {
    let one = |entry: &super::tree::Entry| {
        let called = format!("`{}` of [prices.each]", entry.key);
        let price = table.desk.number(&called, &entry.node)?;
        if price.value < 0.0 {
            table.out_of_range(&entry.key, "zero or more", price.span);
            return None;
        }
        Some((Written { value: entry.key.clone(), span: entry.key_span }, price))
    };
    table.entries().iter().filter_map(one).collect()
}

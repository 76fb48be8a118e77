//! The hardware list: what to buy and where it goes.

use super::{csv, Job};
use crate::parts::Hardware;
use crate::units::decimal;

/// Columns; masses in kg, empty when not known.
const COLUMNS: [&str; 7] = ["name", "profile", "quantity", "unit", "place", "mass_each_kg", "mass_kg"];

/// `hardware.csv`: sorted by name, unit, place; equal lines are added up.
#[must_use]
pub fn write(job: &Job) -> Vec<u8> {
    let rows: Vec<Vec<String>> = merged(&job.model.hardware).iter().map(row).collect();
    csv::table(&COLUMNS, &rows)
}

/// Equal pieces in the same place as one, sorted.
pub(super) fn merged(list: &[Hardware]) -> Vec<Hardware> {
    let mut sorted = list.to_vec();
    sorted.sort_by(|a, b| key(a).cmp(&key(b)));
    let mut out: Vec<Hardware> = Vec::new();
    for piece in sorted {
        match out.last_mut().filter(|last| key(last) == key(&piece) && last.mass_kg == piece.mass_kg) {
            Some(last) => last.quantity += piece.quantity,
            None => out.push(piece),
        }
    }
    out
}

fn key(piece: &Hardware) -> (&str, &str, &str, &str) {
    (&piece.name, &piece.profile, &piece.unit, &piece.place)
}

fn row(piece: &Hardware) -> Vec<String> {
    let mass = |count: f64| piece.mass_kg.map_or(String::new(), |kg| decimal(kg * count, 3));
    vec![
        piece.name.clone(),
        piece.profile.clone(),
        piece.quantity.to_string(),
        piece.unit.clone(),
        piece.place.clone(),
        mass(1.0),
        mass(f64::from(piece.quantity)),
    ]
}

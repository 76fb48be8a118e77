//! Numbers in cut files: the program's one formatter, at the precision each kind of number needs.

use crate::units::{decimal, Mm, Unit};

/// Decimals of a coordinate in millimetres: a thousandth of what any machine resolves, so that areas survive reading back.
const PLACES_MM: usize = 6;
/// Decimals of a coordinate in inches.
const PLACES_INCH: usize = 7;
/// Decimals of a bulge: at a 3 m chord the last one moves the arc by a millionth of a millimetre.
const PLACES_BULGE: usize = 12;
/// Decimals of an SVG arc's radius. Near a half turn the centre moves with the root of the radius's error.
const PLACES_RADIUS: usize = 9;
/// One over the last decimal of a radius.
const RADIUS_SCALE: f64 = 1e9;

/// A coordinate in the file's unit.
pub(super) fn coordinate(unit: Unit, mm: f64) -> String {
    decimal(unit.count(Mm(mm)), places(unit))
}

/// Decimals of a coordinate.
fn places(unit: Unit) -> usize {
    match unit {
        Unit::Mm => PLACES_MM,
        Unit::Inch => PLACES_INCH,
    }
}

/// A coordinate in the file's unit, as the number that will be read back from its text.
pub(super) fn as_read(unit: Unit, mm: f64) -> f64 {
    let scale = match unit {
        Unit::Mm => 1e6,
        Unit::Inch => 1e7,
    };
    (unit.count(Mm(mm)) * scale).round() / scale
}

/// The radius of an arc, rounded to nearest, or downwards for a half turn, which readers then widen to fit exactly.
pub(super) fn radius(value: f64, half_turn: bool) -> String {
    let value = if half_turn { (value * RADIUS_SCALE - 1.0).floor() / RADIUS_SCALE } else { value };
    decimal(value, PLACES_RADIUS)
}

/// A floating value of a DXF file, always with a point.
pub(super) fn real(text: String) -> String {
    if text.contains('.') {
        text
    } else {
        text + ".0"
    }
}

/// A bulge.
pub(super) fn bulge(value: f64) -> String {
    decimal(value, PLACES_BULGE)
}

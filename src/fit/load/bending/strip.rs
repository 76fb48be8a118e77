//! Straight strips: simply supported, and with an overhang. Lengths in mm, forces in N, E in N/mm², I in mm⁴.
//!
//! Standard beam theory; the overhanging beam as in Roark's Formulas for Stress and Strain, Table 8.1.

/// Deflection in the middle of a simply supported strip under `w` N/mm: 5 w L⁴ / (384 E I).
#[must_use]
pub fn spread(w: f64, length: f64, e: f64, i: f64) -> f64 {
    5.0 * w * length.powi(4) / (384.0 * e * i)
}

/// Moment in the middle of it: w L² / 8.
#[must_use]
pub fn spread_moment(w: f64, length: f64) -> f64 {
    w * length * length / 8.0
}

/// Deflection of the end of an overhang `c` beyond a span `b` under `p` N at its end: p c² (c + b) / (3 E I).
#[must_use]
pub fn overhang_end(p: f64, c: f64, b: f64, e: f64, i: f64) -> f64 {
    p * c * c * (c + b) / (3.0 * e * i)
}

/// The same under `w` N/mm all along the overhang: w c³ (4 b + 3 c) / (24 E I).
#[must_use]
pub fn overhang_spread(w: f64, c: f64, b: f64, e: f64, i: f64) -> f64 {
    w * c.powi(3) * (4.0 * b + 3.0 * c) / (24.0 * e * i)
}

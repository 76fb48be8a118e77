//! Numbers with their units, as the page prints them, and the page's sections.

use crate::units::{decimal, Mm};

/// Acceleration of fall, m/s² (ISO 80000-3, standard value).
pub(super) const G: f64 = 9.806_65;

/// A part of the page.
#[derive(Clone, Debug, Default)]
pub struct Section {
    /// Its heading.
    pub title: String,
    /// Its lines.
    pub lines: Vec<String>,
}

impl Section {
    pub(super) fn new(title: &str) -> Self {
        Self { title: title.to_owned(), lines: Vec::new() }
    }

    pub(super) fn say(&mut self, line: impl Into<String>) {
        self.lines.push(line.into());
    }
}

/// `12.34 kg`.
pub(super) fn kg(mass: f64) -> String {
    format!("{} kg", decimal(mass, 2))
}

/// `1234 N`.
pub(super) fn newton(force: f64) -> String {
    format!("{} N", decimal(force, usize::from(force.abs() < 100.0)))
}

/// `12.3 mm`.
pub(super) fn mm(length: Mm) -> String {
    format!("{length} mm")
}

/// `12.3 N/mm²`.
pub(super) fn stress(value: f64) -> String {
    format!("{} N/mm²", decimal(value, 2))
}

/// Four figures that matter, for coefficients.
pub(super) fn coefficient(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return decimal(value, 4);
    }
    let places = (3 - value.abs().log10().floor() as i32).clamp(0, 9) as usize;
    decimal(value, places)
}

/// `x 425, y 510, z 180 mm`.
pub(super) fn place(at: [f64; 3]) -> String {
    format!("x {}, y {}, z {} mm", decimal(at[0], 0), decimal(at[1], 0), decimal(at[2], 0))
}

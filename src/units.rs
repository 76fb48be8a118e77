//! Lengths and angles: the newtypes that cross every stage, and how makers write them down.
//!
//! Inside the program every length is millimetres and every angle radians; inches, fractions and degrees exist only in files
//! and messages.

mod parse;
mod print;

pub use parse::{parse_length, LengthError};
pub use print::{inches, shown, InchFraction, RoundedInches};

use serde::Serialize;
use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// Millimetres in one inch, exact by definition (ISO 31-1; international inch of 1959).
pub const MM_PER_INCH: f64 = 25.4;

/// A length in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize)]
#[serde(transparent)]
pub struct Mm(pub f64);

impl Mm {
    /// No length.
    pub const ZERO: Self = Self(0.0);

    /// A length given in inches.
    #[must_use]
    pub fn from_inches(inches: f64) -> Self {
        Self(inches * MM_PER_INCH)
    }

    /// The same length in inches.
    #[must_use]
    pub fn inches(self) -> f64 {
        self.0 / MM_PER_INCH
    }

    /// Without its sign.
    #[must_use]
    pub fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// The smaller of two lengths.
    #[must_use]
    pub fn min(self, other: Self) -> Self {
        Self(self.0.min(other.0))
    }

    /// The larger of two lengths.
    #[must_use]
    pub fn max(self, other: Self) -> Self {
        Self(self.0.max(other.0))
    }

    /// Total order, for sorting; never panics.
    #[must_use]
    pub fn total_cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }
}

impl Add for Mm {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Mm {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Mm {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl SubAssign for Mm {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Neg for Mm {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<f64> for Mm {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self(self.0 * factor)
    }
}

impl Div<f64> for Mm {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self(self.0 / divisor)
    }
}

impl Div for Mm {
    type Output = f64;
    fn div(self, other: Self) -> f64 {
        self.0 / other.0
    }
}

impl Sum for Mm {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

impl fmt::Display for Mm {
    /// Up to two decimals, trailing zeros dropped, never `-0`: `14.8`, `1000`, `0.25`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&decimal(self.0, 2))
    }
}

/// The project's one number formatter: at most `places` decimals, trailing zeros and a lone dot dropped, never `-0`.
#[must_use]
pub fn decimal(value: f64, places: usize) -> String {
    let mut text = format!("{value:.places$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" {
        text.remove(0);
    }
    text
}

/// The unit a file or a machine counts in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Unit {
    /// Millimetres.
    Mm,
    /// Inches.
    Inch,
}

impl Unit {
    /// How many millimetres one of this unit is.
    #[must_use]
    pub fn in_mm(self) -> Mm {
        match self {
            Self::Mm => Mm(1.0),
            Self::Inch => Mm(MM_PER_INCH),
        }
    }

    /// A length as a count of this unit.
    #[must_use]
    pub fn count(self, length: Mm) -> f64 {
        length / self.in_mm()
    }

    /// The unit's short name: `mm` or `in`.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Mm => "mm",
            Self::Inch => "in",
        }
    }
}

//! Lengths as the book prints them: millimetres with one decimal at most, and inches beside them where the maker thinks in inches.

use crate::units::{decimal, inches, InchFraction, Mm, Unit};

/// How lengths are printed.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lengths {
    both: bool,
}

impl Lengths {
    /// Both units when the maker or the machine counts in inches.
    pub(super) fn new(maker: Unit, machine: Unit) -> Self {
        Self { both: maker == Unit::Inch || machine == Unit::Inch }
    }

    /// A bare figure for tables and drawings: `682.6`, or `682.6 (26 7/8 in)`.
    pub(super) fn bare(self, length: Mm) -> String {
        let mm = decimal(length.0, 1);
        if self.both {
            format!("{mm} ({})", fraction(length))
        } else {
            mm
        }
    }

    /// With its unit: `682.6 mm`, or `682.6 mm (26 7/8 in)`.
    pub(super) fn said(self, length: Mm) -> String {
        let mm = decimal(length.0, 1);
        if self.both {
            format!("{mm} mm ({})", fraction(length))
        } else {
            format!("{mm} mm")
        }
    }

    /// A measured thickness, in hundredths: `14.84 mm`.
    pub(super) fn fine(self, length: Mm) -> String {
        let mm = decimal(length.0, 2);
        if self.both {
            format!("{mm} mm ({} in)", decimal(length.inches(), 4))
        } else {
            format!("{mm} mm")
        }
    }

    /// Two sizes: `1000 x 344.7 mm`.
    pub(super) fn area(self, a: Mm, b: Mm) -> String {
        let mm = format!("{} x {} mm", decimal(a.0, 1), decimal(b.0, 1));
        if self.both {
            format!("{mm} ({} x {})", fraction(a), fraction(b))
        } else {
            mm
        }
    }

    /// Whether inches stand beside the millimetres.
    pub(super) fn both(self) -> bool {
        self.both
    }
}

/// The nearest 1/64 in; what that leaves over stands in the millimetres beside it.
fn fraction(length: Mm) -> String {
    inches(length, InchFraction::SixtyFourth).text
}

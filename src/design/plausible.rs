//! Sizes no vehicle part has: the mark of a file in inches read as millimetres, or the other way round.

use super::bench::Bench;
use super::defaults::{INTO_BAY, LARGEST, OVER_BAY, PRACTICE, SMALLEST_BAY, SMALLEST_CARCASS};
use super::{codes, Bay, Size};
use crate::diag::{Finding, Span};
use crate::project::Length;
use crate::units::{Mm, MM_PER_INCH};

/// A finding about an absurd size, with the slip of units it looks like, if it looks like one.
pub(super) fn absurd(message: String, value: Mm, span: Span, plausible: &dyn Fn(Mm) -> bool) -> Finding {
    let remedy = if plausible(value * MM_PER_INCH) {
        "it would suit as inches: check `units`, or write the unit with the figure (\"36 in\")"
    } else if plausible(value / MM_PER_INCH) {
        "it would suit as millimetres: check `units`, or write the unit with the figure (\"920 mm\")"
    } else {
        "check the figure and its unit"
    };
    Finding::stop(codes::SIZE_ABSURD, message).at(span).remedy(remedy)
}

impl Bench<'_> {
    /// Holds a size against one of the bay's, or against what a unit without a bay can have.
    pub(super) fn check_against(&mut self, value: Mm, room: Option<Mm>, label: &str, span: Span) {
        // Zero or less is another finding's business, and so is what no room could hold.
        if value <= Mm::ZERO || value > LARGEST {
            return;
        }
        let (least, most) = match room {
            Some(room) => (room / INTO_BAY, room * OVER_BAY),
            None => (SMALLEST_CARCASS, LARGEST),
        };
        if value >= least && value <= most {
            return;
        }
        let limit = match room {
            Some(room) => format!(
                "{} to {}: a fiftieth to 1.2 times the bay's {} ({PRACTICE})",
                self.show(least),
                self.show(most),
                self.show(room)
            ),
            None => format!("{} to {} ({PRACTICE})", self.show(least), self.show(most)),
        };
        let message = format!("the {label} is {}", self.show(value));
        self.report(absurd(message, value, span, &|mm| mm >= least && mm <= most).limit(limit));
    }

    /// A bay read in the wrong unit would make every size in it look right, so it has a floor of its own.
    pub(super) fn check_bay(&mut self, reading: &Length, label: &str) {
        if reading.value > Mm::ZERO && reading.value < SMALLEST_BAY {
            let message = format!("a reading of the {label} is {}", self.show(reading.value));
            let limit = format!("{} at least ({PRACTICE})", self.show(SMALLEST_BAY));
            let suits = |mm: Mm| mm >= SMALLEST_BAY && mm <= LARGEST;
            self.report(absurd(message, reading.value, reading.span, &suits).limit(limit));
        }
    }

    /// Holds both forms of a carcass's size against the bay, and one against the other.
    pub(super) fn check_size(&mut self, size: &Size, room: Option<Mm>, label: &str, span: Span) {
        for (dim, form) in [(&size.outside, ""), (&size.clear, " clear")] {
            if let Some(dim) = dim {
                let at = dim.form().first().and_then(|(source, _)| source.span).unwrap_or(span);
                self.check_against(dim.nominal(), room, &format!("{label}{form}"), at);
            }
        }
        if let (Some(outside), Some(clear)) = (&size.outside, &size.clear) {
            if clear.nominal() >= outside.nominal() {
                let message = format!(
                    "the clear {label} is {}, the outside {}",
                    self.show(clear.nominal()),
                    self.show(outside.nominal())
                );
                self.stop(codes::CLEAR_NOT_INSIDE, message, span, "leave one of the two out");
            }
        }
    }
}

impl Bay {
    /// The largest of its sizes.
    pub(super) fn largest(&self) -> Option<Mm> {
        [&self.width, &self.depth, &self.height].into_iter().flatten().map(crate::dim::Dim::nominal).reduce(Mm::max)
    }
}

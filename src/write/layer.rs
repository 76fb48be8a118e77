//! Layers: one per operation, side and depth; the only language between a drawing and a machine.

use super::heading;
use crate::flat::{Operation, Side};
use crate::units::{Mm, Unit};

/// The longest layer name that old readers take (from memory; release 12 symbol names).
pub const LONGEST_NAME: usize = 31;

/// What a line of a drawing stands for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Layer {
    /// A cut.
    Cut {
        /// What is done.
        operation: Operation,
        /// From which side.
        side: Side,
    },
    /// For people; never cut.
    Note,
}

impl Layer {
    /// The layer's name in plain ASCII words of at most 31 characters: `POCKET-6-00-DEEP` is a pocket 6.00 deep in the file's
    /// unit; `UNDER-` in front says that it is cut from the face that lies down.
    #[must_use]
    pub fn name(&self, unit: Unit) -> String {
        let Self::Cut { operation, side } = self else { return "NOTE-DO-NOT-CUT".to_owned() };
        // Rounded to a thousandth of a millimetre first, as job.json says it, so that both round alike from there.
        let size = |mm: Mm| {
            let said = Mm((mm.abs().0 * 1000.0).round() / 1000.0);
            let text = match unit {
                Unit::Mm => format!("{:.2}", said.0),
                Unit::Inch => format!("{:.4}", said.inches()),
            };
            text.replace('.', "-")
        };
        let name = match operation {
            Operation::ThroughOutside => "THROUGH-OUTSIDE".to_owned(),
            Operation::ThroughInside => "THROUGH-INSIDE".to_owned(),
            Operation::Pocket { depth } => format!("POCKET-{}-DEEP", size(*depth)),
            Operation::Drill { diameter, depth: None, .. } => format!("DRILL-{}-THROUGH", size(*diameter)),
            Operation::Drill { diameter, depth: Some(depth), .. } => {
                format!("DRILL-{}-DEEP-{}", size(*diameter), size(*depth))
            }
            Operation::Countersink { diameter, .. } => format!("COUNTERSINK-{}", size(*diameter)),
            Operation::Mark => "MARK".to_owned(),
            Operation::Fold { .. } => "FOLD".to_owned(),
        };
        match side {
            Side::Up => name,
            Side::Down => format!("UNDER-{name}"),
        }
    }

    /// What its lines are, in words.
    #[must_use]
    pub fn words(&self, unit: Unit) -> String {
        let Self::Cut { operation, side } = self else { return "for people, never cut".to_owned() };
        let size = |mm: Mm| heading::length(mm.abs(), unit);
        let what = match operation {
            Operation::ThroughOutside => "outlines, cut through on their outside".to_owned(),
            Operation::ThroughInside => "openings, cut through on their inside".to_owned(),
            Operation::Pocket { depth } => format!("pockets and grooves, cleared {} deep", size(*depth)),
            Operation::Drill { diameter, depth: None, .. } => format!("holes of {}, through", size(*diameter)),
            Operation::Drill { diameter, depth: Some(depth), .. } => {
                format!("holes of {}, {} deep", size(*diameter), size(*depth))
            }
            Operation::Countersink { diameter, .. } => format!("screw seats, countersunk to {}", size(*diameter)),
            Operation::Mark => "marked, not cut".to_owned(),
            Operation::Fold { .. } => "folds, not cut through".to_owned(),
        };
        match side {
            Side::Up => what,
            Side::Down => format!("{what}, from the face that lies down"),
        }
    }

    /// Place in the order of cutting one part: marks first, the outline last.
    #[must_use]
    pub fn rank(&self) -> u32 {
        match self {
            Self::Note => 0,
            Self::Cut { operation, .. } => 1 + operation.rank(),
        }
    }

    /// Colour of its lines in SVG. Hues after Okabe and Ito's set for every kind of colour vision (Color Universal Design, 2008;
    /// from memory), darkened where thin lines ask for it.
    #[must_use]
    pub fn colour(&self) -> &'static str {
        match self {
            Self::Note => "#9a948a",
            Self::Cut { operation, .. } => match operation {
                Operation::ThroughOutside => "#1b1b1b",
                Operation::ThroughInside => "#0072b2",
                Operation::Pocket { .. } | Operation::Fold { .. } => "#d55e00",
                Operation::Drill { .. } => "#00805c",
                Operation::Countersink { .. } => "#a8447e",
                Operation::Mark => "#7a7a7a",
            },
        }
    }

    /// Number of its colour in DXF, the nearest of the format's fixed table to [`Layer::colour`].
    #[must_use]
    pub fn colour_number(&self) -> u8 {
        match self {
            Self::Note => 9,
            Self::Cut { operation, .. } => match operation {
                Operation::ThroughOutside => 7,
                Operation::ThroughInside => 150,
                Operation::Pocket { .. } | Operation::Fold { .. } => 30,
                Operation::Drill { .. } => 114,
                Operation::Countersink { .. } => 224,
                Operation::Mark => 8,
            },
        }
    }
}

//! What can be wrong with a shape.

use std::fmt;

/// Why a contour could not be made.
#[derive(Clone, Debug, PartialEq)]
pub enum GeomError {
    /// Fewer than two distinct vertices, or no area.
    Degenerate,
    /// A coordinate or bulge is not a finite number.
    NotFinite,
    /// An arc of more than a half turn.
    ArcTooLong,
    /// The contour crosses or touches itself near this point.
    SelfCrossing {
        /// Where, in mm.
        x: f64,
        /// Where, in mm.
        y: f64,
    },
    /// The corners of a rectangle take more of one side than it has.
    NoRoom {
        /// What its two corners take, in mm.
        need: f64,
        /// Length of the side, in mm.
        have: f64,
    },
    /// Pocket rings asked for with a first offset below zero or a step too small to advance.
    BadStep {
        /// Offset of the first ring, in mm.
        first: f64,
        /// From one ring to the next, in mm.
        step: f64,
    },
    /// An offset or boolean gave a result that fails its own distance check, even after a nudge.
    Unreliable(&'static str),
}

impl fmt::Display for GeomError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Degenerate => write!(f, "the outline has no area"),
            Self::NotFinite => write!(f, "a coordinate is not a finite number"),
            Self::ArcTooLong => write!(f, "an arc turns more than a half circle"),
            Self::SelfCrossing { x, y } => write!(f, "the outline crosses itself near {x:.2}, {y:.2}"),
            Self::NoRoom { need, have } => {
                write!(f, "the corners need {need:.2} mm of a side that is {have:.2} mm long")
            }
            Self::BadStep { first, step } => {
                write!(f, "pocket rings cannot start at {first:.2} mm and advance by {step:.3} mm")
            }
            Self::Unreliable(what) => write!(f, "the {what} could not be computed reliably"),
        }
    }
}

impl std::error::Error for GeomError {}

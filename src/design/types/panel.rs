//! Panels the builders do not know. Outside sizes and places are in the bay frame: x right, y into the vehicle, z up.

use super::BoardId;
use crate::diag::Span;
use crate::dim::Dim;
use crate::geom::{Contour, Point3};

/// A panel the builders do not know.
#[derive(Clone, Debug)]
pub struct FreePanel {
    /// Its name.
    pub name: String,
    /// Length and width; ignored but for a check when `outline` is given.
    pub size: [Dim; 2],
    /// A free outline instead of the rectangle, counter-clockwise, lower left at 0, 0.
    pub outline: Option<Contour>,
    /// Its board.
    pub board: BoardId,
    /// How many.
    pub quantity: u32,
    /// Grain along the length, along the width, or free.
    pub grain: Option<GrainChoice>,
    /// What is cut into it.
    pub cuts: Vec<FreeCut>,
    /// Where it stands in the bay, when said: left, front, bottom corner.
    pub at: Option<Point3>,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// How a free panel's grain runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GrainChoice {
    /// Along its length (u).
    Length,
    /// Along its width (v).
    Width,
    /// Does not matter.
    Any,
}

/// A cut in a free panel, in its own frame: u along its length, v along its width, from its lower left corner.
#[derive(Clone, Debug)]
pub struct FreeCut {
    /// What.
    pub shape: FreeShape,
    /// How deep from face A; `None` for through.
    pub depth: Option<Dim>,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// Shapes of free cuts.
#[derive(Clone, Debug)]
pub enum FreeShape {
    /// A round hole.
    Hole {
        /// Centre.
        at: [Dim; 2],
        /// Diameter.
        diameter: Dim,
    },
    /// A round-ended slot.
    Slot {
        /// Centre of one end.
        from: [Dim; 2],
        /// Centre of the other end.
        to: [Dim; 2],
        /// Width.
        width: Dim,
    },
    /// A rectangle.
    CutOut {
        /// Lower left corner.
        at: [Dim; 2],
        /// Length and width.
        size: [Dim; 2],
        /// Corner radius; zero for corners relieved so that a square fits.
        radius: Dim,
    },
    /// A rectangle out of an edge, relieved so that a square mate seats.
    Notch {
        /// Lower left corner of the notch's rectangle; it must reach an edge.
        at: [Dim; 2],
        /// Length and width.
        size: [Dim; 2],
    },
}

//! Drawers on slides. Outside sizes and places are in the bay frame: x right, y into the vehicle, z up.

use super::{BoardId, JointKind};
use crate::diag::Span;
use crate::dim::Dim;
use crate::shop::{Fastener, Latch, Slide};
use std::sync::Arc;

/// A drawer on a pair of side-mounted slides.
#[derive(Clone, Debug)]
pub struct Drawer {
    /// The slide.
    pub slide: Arc<Slide>,
    /// The latch; `None` for a drawer without positive lock.
    pub latch: Option<Arc<Latch>>,
    /// A grip cut in the front's upper edge, or a round one through it.
    pub finger_pull: Option<FingerPull>,
    /// Board of the front.
    pub front: BoardId,
    /// Board of the box.
    pub box_board: BoardId,
    /// Board of the bottom.
    pub bottom_board: BoardId,
    /// Between the uprights or over their edges.
    pub fit: FrontFit,
    /// Gap round the front on each side (`back` is the gap above, `front` the gap below).
    pub reveal: Reveal,
    /// How far the front's face stands behind the carcass's front edge (inset only).
    pub setback: Dim,
    /// Box length from front to rear; `None` for the slide's length.
    pub depth: Option<Dim>,
    /// Box height; `None` to follow from the cell.
    pub height: Option<Dim>,
    /// Gap under the box.
    pub gap_under: Dim,
    /// Gap over the box.
    pub gap_over: Dim,
    /// How the bottom is held.
    pub bottom: BottomStyle,
    /// How the box's corners meet.
    pub joint: JointKind,
    /// What holds it together and in place.
    pub fasteners: DrawerFasteners,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// Screws and bolts of a drawer.
#[derive(Clone, Debug)]
pub struct DrawerFasteners {
    /// Screws of the slides.
    pub slide: Arc<Fastener>,
    /// Bolts of the latch; `None` without a latch.
    pub latch: Option<Arc<Fastener>>,
    /// Screws of butt corners and of the bottom.
    pub wall: Arc<Fastener>,
    /// Screws that hold the front to the box, from inside.
    pub front: Arc<Fastener>,
}

/// Gap round a drawer front.
#[derive(Clone, Debug)]
pub struct Reveal {
    /// Left, looking in.
    pub left: Dim,
    /// Right, looking in.
    pub right: Dim,
    /// Above.
    pub top: Dim,
    /// Below.
    pub bottom: Dim,
}

/// Where a drawer front sits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FrontFit {
    /// Between the uprights.
    Inset,
    /// Over their front edges.
    Overlay,
}

/// How a drawer's bottom is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BottomStyle {
    /// Screwed and glued under the four walls.
    Under,
    /// Between the four walls, flush with their lower edges.
    Between,
    /// In a groove of the four walls.
    Groove,
}

/// A place for fingers in a drawer front.
#[derive(Clone, Debug)]
pub enum FingerPull {
    /// A shallow round-ended notch in the upper edge.
    Notch {
        /// Along the edge.
        width: Dim,
        /// Into the front.
        depth: Dim,
    },
    /// A round hole.
    Hole {
        /// Diameter.
        diameter: Dim,
    },
}

//! The measured bay. Outside sizes and places are in the bay frame: x right, y into the vehicle, z up.

use crate::diag::Span;
use crate::dim::Dim;
use crate::geom::{Axis, Prism};
use crate::shop::Fastener;
use std::sync::Arc;

/// The measured bay.
#[derive(Clone, Debug)]
pub struct Bay {
    /// Clear width: the least reading rules.
    pub width: Option<Dim>,
    /// Clear depth: the least reading rules.
    pub depth: Option<Dim>,
    /// Clear height: the least reading rules.
    pub height: Option<Dim>,
    /// The load opening.
    pub opening: Option<Opening>,
    /// How far the closed door reaches in: (height, reach) pairs, height rising.
    pub door: Vec<(Dim, Dim)>,
    /// Doors as they stand while loading and while drawers are pulled out.
    pub open_doors: Vec<OpenDoor>,
    /// Solids that must stay free.
    pub keep_outs: Vec<KeepOut>,
    /// What must stay within reach.
    pub access: Vec<Access>,
    /// Factory anchor points.
    pub anchors: Vec<Anchor>,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// The opening that everything must pass.
#[derive(Clone, Debug)]
pub struct Opening {
    /// Clear width.
    pub width: Dim,
    /// Clear height.
    pub height: Dim,
    /// Height of the sill over the floor.
    pub sill: Dim,
    /// From the bay's left to the opening's left.
    pub left: Dim,
}

/// A hinged door, opened.
#[derive(Clone, Debug)]
pub struct OpenDoor {
    /// Hinged at the opening's left, looking in; else at its right.
    pub hinge_left: bool,
    /// Width of the leaf, from its hinge.
    pub width: Dim,
    /// How far it is turned from shut, in radians.
    pub angle: f64,
    /// Thickness of the leaf.
    pub thickness: Dim,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// A solid that must stay free.
#[derive(Clone, Debug)]
pub struct KeepOut {
    /// Its name.
    pub name: String,
    /// Left, front, bottom corner.
    pub from: [Dim; 3],
    /// Width, depth, height.
    pub size: [Dim; 3],
    /// Its traced shape; `None` when it fills the whole of `from` and `size`.
    pub shape: Option<Prism>,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// Something of the vehicle that a hand must get at: spare wheel, jack, lamps, fuses.
#[derive(Clone, Debug)]
pub struct Access {
    /// Its name.
    pub name: String,
    /// Left, front, bottom corner.
    pub from: [Dim; 3],
    /// Width, depth, height.
    pub size: [Dim; 3],
    /// The direction a hand comes from, seen from the thing.
    pub from_where: Axis,
    /// The most bolts that may have to come out first.
    pub most_bolts: u32,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// A factory bolt or tie-down point in the floor.
#[derive(Clone, Debug)]
pub struct Anchor {
    /// Its name.
    pub name: String,
    /// x and y of its centre.
    pub at: [Dim; 2],
    /// The bolt that fits it.
    pub thread: Arc<Fastener>,
    /// Rated force in N, from the vehicle's handbook; `None` when not known.
    pub rating_n: Option<f64>,
    /// Where it is declared.
    pub span: Option<Span>,
}

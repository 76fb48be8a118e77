//! The model's types.
//!
//! Panel frame: u and v in the panel's plane from its lower left corner, w = u × v out of face A; thickness lies on the −w
//! side. Face A is the *inside* face of a handed part.

use crate::design::{BoardId, Edge};
use crate::diag::Span;
use crate::dim::{Dim, Range};
use crate::geom::{Axis, Contour};
use crate::units::Mm;

/// Everything that is to be built, in place.
#[derive(Clone, Debug, Default)]
pub struct Model {
    /// All panels; [`PanelId`] indexes this.
    pub panels: Vec<Panel>,
    /// Screws, bolts, slides, latches, washers.
    pub hardware: Vec<Hardware>,
    /// Things that slide.
    pub motions: Vec<Motion>,
    /// Things that turn.
    pub lids: Vec<Lid>,
    /// Panels that lie against each other without a joint, declared where they are put there.
    pub contacts: Vec<Contact>,
    /// Gaps that must hold, declared where they are made.
    pub gaps: Vec<Gap>,
    /// Named sizes that belong to no single panel (`lower.left opening width`), in order of derivation.
    pub sizes: Vec<Dim>,
}

/// Index into [`Model::panels`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PanelId(pub usize);

/// One panel.
#[derive(Clone, Debug)]
pub struct Panel {
    /// Short id for the bench, unique per panel: `LO-1-003-L`.
    pub id: String,
    /// Full name: `lower left drawer front`.
    pub name: String,
    /// The unit it belongs to: a carcass's, pull-out's or free panel's name.
    pub unit: String,
    /// Left or right of a pair, or neither.
    pub hand: Hand,
    /// Its board.
    pub board: BoardId,
    /// Size along u, named.
    pub length: Dim,
    /// Size along v, named.
    pub width: Dim,
    /// Thickness.
    pub thickness: Dim,
    /// Where it stands; `None` for a free panel without a place.
    pub frame: Option<Frame>,
    /// How its grain must run.
    pub grain: Grain,
    /// A free outline instead of the rectangle (counter-clockwise, lower left at 0, 0).
    pub outline: Option<Contour>,
    /// What is cut into it.
    pub features: Vec<Feature>,
    /// Its edges: what meets them.
    pub edges: Vec<EdgeNote>,
    /// Where in the project file it comes from.
    pub span: Option<Span>,
}

/// Left or right of a mirrored pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hand {
    /// Not one of a pair.
    None,
    /// The left one, looking in.
    Left,
    /// The right one, looking in.
    Right,
}

/// A panel's place: the corner of face A at u = v = 0, and where u and v point.
#[derive(Clone, Debug)]
pub struct Frame {
    /// Corner of face A at u = v = 0, bay frame.
    pub origin: [Dim; 3],
    /// Direction of u.
    pub u: Axis,
    /// Direction of v.
    pub v: Axis,
}

/// Direction of the face grain.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grain {
    /// Along u.
    AlongU,
    /// Along v.
    AlongV,
    /// Does not matter.
    Any,
}

/// Which face a cut starts from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Face {
    /// The face w points out of.
    A,
    /// The other.
    B,
}

/// One of a panel's four edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PanelEdge {
    /// v = 0.
    Bottom,
    /// u = length.
    Right,
    /// v = width.
    Top,
    /// u = 0.
    Left,
}

/// What meets an edge.
#[derive(Clone, Debug)]
pub struct EdgeNote {
    /// Which edge.
    pub edge: PanelEdge,
    /// The joint's kind, in words: `finger`, `butt, screwed`.
    pub joint: String,
    /// The panel it meets.
    pub mate: PanelId,
    /// Screws into this edge, measured along it from its u = 0 or v = 0 end; each wants a pilot in the middle of the thickness.
    pub screws: Vec<Dim>,
}

/// A cut in a panel.
#[derive(Clone, Debug)]
pub struct Feature {
    /// Unique within the panel: `finger bottom 3`, `slide left hole 2`.
    pub id: String,
    /// Shape and place.
    pub kind: FeatureKind,
    /// How deep.
    pub depth: Depth,
    /// What for.
    pub purpose: Purpose,
    /// The panel that seats here, when one does.
    pub mate: Option<PanelId>,
    /// Where in the project file it comes from.
    pub span: Option<Span>,
}

/// How deep a cut goes.
#[derive(Clone, Debug)]
pub enum Depth {
    /// Through the panel.
    Through,
    /// Blind, from a face.
    Blind(Face, Dim),
}

/// Shapes of cuts, in the panel frame. Rectangles are lower left corner and size.
#[derive(Clone, Debug)]
pub enum FeatureKind {
    /// A round hole.
    Hole {
        /// Centre.
        at: [Dim; 2],
        /// Diameter.
        diameter: Dim,
    },
    /// A round hole with a conical seat for a countersunk head, on the face the depth names (face A when through).
    Countersunk {
        /// Centre.
        at: [Dim; 2],
        /// Diameter of the hole through.
        diameter: Dim,
        /// Diameter of the cone at the face; 90 degrees included.
        head: Dim,
        /// The face the head sits in.
        face: Face,
    },
    /// A round-ended slot.
    Slot {
        /// Centre of one end.
        from: [Dim; 2],
        /// Centre of the other.
        to: [Dim; 2],
        /// Width.
        width: Dim,
    },
    /// A rectangle inside the panel: an opening, or with a blind depth a pocket.
    Rectangle {
        /// Lower left corner.
        at: [Dim; 2],
        /// Size along u and v.
        size: [Dim; 2],
        /// Corner radius; `None` for square corners that a mate must seat in (they get relief).
        radius: Option<Dim>,
    },
    /// A rectangle reaching an edge; its inner corners get relief when a mate seats.
    EdgeNotch {
        /// Lower left corner.
        at: [Dim; 2],
        /// Size along u and v.
        size: [Dim; 2],
        /// Radius of the inner corners; `None` for square corners that a mate must seat in.
        radius: Option<Dim>,
    },
    /// A channel for a mate's edge, running straight along u or v; open where it meets an edge.
    Groove {
        /// Lower left corner.
        at: [Dim; 2],
        /// Size along u and v.
        size: [Dim; 2],
    },
    /// A free closed contour.
    Free(Contour),
}

/// What a cut is for; tells what may be put near it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Purpose {
    /// A mate seats here.
    Joint,
    /// Screw pilot: into a face or (as a mark) an edge.
    Pilot,
    /// Clearance for a screw or bolt.
    Clearance,
    /// A slide's screw.
    Slide,
    /// A latch's body or bolts.
    Latch,
    /// Where a latch's bolt strikes.
    Strike,
    /// Bolt to the vehicle.
    Anchor,
    /// Fingers.
    Grip,
    /// A stop's slot.
    Stop,
    /// The maker's own.
    Own,
    /// Only to be seen on the face, whatever its depth.
    Mark,
    /// To be scored to its depth and folded, along a narrow shape.
    Fold,
}

/// A piece of hardware and where it goes.
#[derive(Clone, Debug)]
pub struct Hardware {
    /// Profile id.
    pub profile: String,
    /// In words, with the length where it has one: `countersunk screw 4.0 x 40`.
    pub name: String,
    /// How many.
    pub quantity: u32,
    /// Unit it belongs to.
    pub unit: String,
    /// What it does, and where: `base to left upright`.
    pub place: String,
    /// kg of one; `None` when not known.
    pub mass_kg: Option<f64>,
}

/// Something that slides straight.
#[derive(Clone, Debug)]
pub struct Motion {
    /// Name: `lower.left drawer`.
    pub name: String,
    /// Panels that move together.
    pub panels: Vec<PanelId>,
    /// Direction of opening.
    pub axis: Axis,
    /// How far.
    pub travel: Dim,
    /// Where in the project file it comes from.
    pub span: Option<Span>,
}

/// Two panels that lie against each other, and how.
#[derive(Clone, Debug)]
pub struct Contact {
    /// The two.
    pub panels: [PanelId; 2],
    /// `slides on`, `stands on`, `lies on`, `bolted to`, `back to back with`: the first does, to the second.
    pub how: &'static str,
}

/// A top that opens about the lower arris of one of its edges.
#[derive(Clone, Debug)]
pub struct Lid {
    /// Name: `lower lid`.
    pub name: String,
    /// The top, and what stands on it.
    pub panels: Vec<PanelId>,
    /// The edge it turns about.
    pub hinge: Edge,
    /// How far from shut, in radians.
    pub angle: f64,
    /// Where in the project file it comes from.
    pub span: Option<Span>,
}

/// A gap that must hold.
#[derive(Clone, Debug)]
pub struct Gap {
    /// Name: `lower.left drawer: side space left`.
    pub name: String,
    /// The gap itself, real edges included.
    pub gap: Dim,
    /// The window it must lie in; an end may be infinite.
    pub required: Range,
    /// The window's source.
    pub source: String,
    /// Parts on both sides.
    pub parts: Vec<String>,
    /// Where in the project file it comes from.
    pub span: Option<Span>,
}

impl Gap {
    /// A window with only a lower end.
    #[must_use]
    pub fn at_least(min: Mm) -> Range {
        Range { min, max: Mm(f64::INFINITY) }
    }
}

//! The flat parts' types.
//!
//! Part frame: as it lies on the machine, working face up: x along the part's u, y along its v (mirrored when face B is up),
//! lower left corner of its bounds at 0, 0, in mm.

use crate::design::BoardId;
use crate::diag::Span;
use crate::geom::{Contour, Point, Rect};
use crate::parts::{Face, Hand, PanelId, Purpose};
use crate::units::Mm;

/// All flat parts of a job.
#[derive(Clone, Debug, Default)]
pub struct FlatParts {
    /// Each different part once, sorted by id.
    pub parts: Vec<FlatPart>,
}

/// One different part: the finished edge and everything cut into it.
#[derive(Clone, Debug)]
pub struct FlatPart {
    /// Id, used for file names, labels and maps.
    pub id: String,
    /// Full name.
    pub name: String,
    /// Unit it belongs to.
    pub unit: String,
    /// Left or right.
    pub hand: Hand,
    /// Its board.
    pub board: BoardId,
    /// Thickest the board may be here (highest reading, or the class's upper limit).
    pub thickness_max: Mm,
    /// Thickness to work with.
    pub thickness: Mm,
    /// The panels that are this part; its length is the quantity.
    pub panels: Vec<PanelId>,
    /// Which face lies up.
    pub face_up: Face,
    /// How it may be turned on the sheet.
    pub grain: PartGrain,
    /// Finished size: x of the bounds.
    pub length: Mm,
    /// Finished size: y of the bounds.
    pub width: Mm,
    /// The outline, counter-clockwise.
    pub outline: FlatCut,
    /// Everything else, in a stable order.
    pub cuts: Vec<FlatCut>,
    /// Stretches of the outline where no tab, lead or witness mark may come: mating edges, slide faces, reliefs.
    pub keep_clean: Vec<Rect>,
    /// kg of one.
    pub mass_kg: f64,
    /// Where in the project file it comes from.
    pub span: Option<Span>,
}

/// Grain of a part in its own frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PartGrain {
    /// Along x: lies along the sheet's length, turned by 0 or 180 degrees.
    AlongX,
    /// Along y: turned by 90 or 270 degrees.
    AlongY,
    /// Any quarter turn.
    Any,
}

/// One cut of a part.
#[derive(Clone, Debug)]
pub struct FlatCut {
    /// What is done.
    pub operation: Operation,
    /// From which side.
    pub side: Side,
    /// The finished edge: counter-clockwise for the outline, clockwise for openings and pockets. A pocket or groove that
    /// meets the part's edge reaches over the outline there, by the radius of the cutter it was shaped for and 1 mm, so that
    /// its channel is full width at the edge; only what lies within the outline is part of the finished part.
    pub contour: Contour,
    /// Islands left standing in a pocket, counter-clockwise.
    pub islands: Vec<Contour>,
    /// What the cut is for.
    pub purpose: Purpose,
    /// Feature id in the panel; `outline` for the outline.
    pub feature: String,
    /// The mate that seats here: the square shape that must fit into what is cut, and its name.
    pub seats: Option<Seat>,
    /// Where in the project file it comes from.
    pub span: Option<Span>,
}

/// A square-cornered shape that must fit into a cut.
#[derive(Clone, Debug)]
pub struct Seat {
    /// The mate's outline here, in the part frame, without clearance.
    pub shape: Contour,
    /// The mate's panel id.
    pub mate: String,
}

/// Which side a cut is made from, as the part lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// From above, in the first set-up.
    Up,
    /// From the face that lies down; the sheet must be turned over.
    Down,
}

impl FlatCut {
    /// A narrow closed line drawn on the face that lies up.
    pub(super) fn mark(contour: Contour, feature: String) -> Self {
        Self {
            operation: Operation::Mark,
            side: Side::Up,
            contour: contour.cw(),
            islands: Vec::new(),
            purpose: Purpose::Mark,
            feature,
            seats: None,
            span: None,
        }
    }
}

/// What a cut does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Operation {
    /// The part's outline; the part is inside.
    ThroughOutside,
    /// An opening; the part is outside.
    ThroughInside,
    /// A pocket or groove.
    Pocket {
        /// Below the face it starts from.
        depth: Mm,
    },
    /// A round hole to be drilled or bored; the contour is its circle.
    Drill {
        /// Its centre.
        at: Point,
        /// Its diameter.
        diameter: Mm,
        /// Below the face it starts from; `None` for through.
        depth: Option<Mm>,
    },
    /// A conical seat round a hole; the contour is its largest circle.
    Countersink {
        /// Its centre.
        at: Point,
        /// Diameter at the face; 90 degrees included.
        diameter: Mm,
    },
    /// A mark on the face; not a cut.
    Mark,
    /// A fold: scored along the contour, a narrow closed line, from the face that lies up.
    Fold {
        /// Below the face; never through.
        depth: Mm,
    },
}

impl Operation {
    /// Place in the order of cutting one part: marks first, the outline last.
    #[must_use]
    pub fn rank(self) -> u32 {
        match self {
            Self::Mark => 0,
            Self::Fold { .. } => 1,
            Self::Drill { .. } => 2,
            Self::Countersink { .. } => 3,
            Self::Pocket { .. } => 4,
            Self::ThroughInside => 5,
            Self::ThroughOutside => 6,
        }
    }
}

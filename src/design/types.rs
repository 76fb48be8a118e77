//! The design's types. Outside sizes and places are in the bay frame: x right, y into the vehicle, z up.

use super::{MockUp, Prices, Vehicle};
use crate::diag::Span;
use crate::dim::Dim;
use crate::geom::{Axis, Contour, Point3, Prism};
use crate::shop::{Board, Cutter, Fastener, Latch, Machine, SheetSize, Slide};
use crate::units::{Mm, Unit};
use std::sync::Arc;

/// Everything that is to be built, settled.
#[derive(Clone, Debug)]
pub struct Design {
    /// Title.
    pub title: String,
    /// The unit the maker thinks in.
    pub units: Unit,
    /// The measured bay, when there is one.
    pub bay: Option<Bay>,
    /// The vehicle's figures, as far as given.
    pub vehicle: Option<Vehicle>,
    /// What things cost the maker, as far as given.
    pub prices: Option<Prices>,
    /// Boards in use; [`BoardId`] indexes this.
    pub boards: Vec<BoardUse>,
    /// Machine, cutters and joint habits.
    pub process: ProcessChoice,
    /// Carcasses, each after the one it stands on.
    pub carcasses: Vec<Carcass>,
    /// Pull-outs.
    pub pull_outs: Vec<PullOut>,
    /// Lips.
    pub lips: Vec<Lip>,
    /// Panels the builders do not know.
    pub panels: Vec<FreePanel>,
    /// What is to be carried.
    pub stows: Vec<Stow>,
    /// Parts to be cut beside each other.
    pub together: Vec<Together>,
    /// Sizes the maker fixed.
    pub pins: Vec<Pin>,
    /// Stoppers the maker overrode.
    pub overrides: Vec<Override>,
    /// Where a mock-up rubbed.
    pub rubs: Vec<Rub>,
    /// Defaults and guesses in use, one sentence each, for the pack's first page.
    pub assumptions: Vec<String>,
    /// What it is a mock-up with; `None` for the real thing.
    pub mock_up: Option<MockUp>,
}

/// Index into [`Design::boards`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BoardId(pub usize);

/// A board as used in this project.
#[derive(Clone, Debug)]
pub struct BoardUse {
    /// The name the project gives it: `carcass`.
    pub name: String,
    /// Its profile.
    pub profile: Arc<Board>,
    /// Thickness of the batch: one source, from readings or from the class.
    pub thickness: Dim,
    /// Readings in mm, as taken; empty when the class stands in.
    pub readings: Vec<Mm>,
    /// Sheets and offcuts to cut from, in order of preference.
    pub stock: Vec<StockSheet>,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// Parts that are cut beside each other from one sheet, so that the grain runs on.
#[derive(Clone, Debug)]
pub struct Together {
    /// Ids or names of parts, in order.
    pub parts: Vec<String>,
    /// Where it is written.
    pub span: Option<Span>,
}

/// A size of sheet or an offcut at hand.
#[derive(Clone, Debug, PartialEq)]
pub struct StockSheet {
    /// Its size; length along the grain.
    pub size: SheetSize,
    /// How many; `None` for as many as needed.
    pub count: Option<u32>,
    /// Price of one in the maker's currency, when given.
    pub price: Option<f64>,
    /// Rectangles that no part may touch: x, y of the corner nearest the sheet's, length, width.
    pub defects: Vec<[Mm; 4]>,
}

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

/// How the parts will be cut and joined.
#[derive(Clone, Debug)]
pub struct ProcessChoice {
    /// The machine.
    pub machine: Arc<Machine>,
    /// Cutters and drills at hand, in the machine's order.
    pub cutters: Vec<Arc<Cutter>>,
    /// Index into `cutters` of the one for outlines and reliefs; `None` on a laser.
    pub outline_cutter: Option<usize>,
    /// Clearance added to a joint's slot beyond the mate's thickness: glued joints, dry joints.
    pub joint_clearance: JointClearance,
    /// How inner corners are relieved.
    pub relief: ReliefStyle,
    /// Relief radius beyond the cutter's.
    pub relief_extra: Mm,
    /// Least wood between two cuts, or a cut and an edge.
    pub min_web: Mm,
    /// Gap kept between parts on the sheet.
    pub part_gap: Mm,
    /// Margin along the sheet's edges.
    pub sheet_margin: Mm,
    /// DXF release 12 instead of 2000.
    pub dxf_release_12: bool,
    /// Parts larger than every sheet are cut in pieces that hang on to each other.
    pub split: bool,
    /// The saw, for those who cut panels on one.
    pub saw: Saw,
}

/// A panel or table saw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Saw {
    /// Width of a cut.
    pub kerf: Mm,
    /// Cut off each edge of a sheet before it counts, the kerf included.
    pub trim: Mm,
    /// How often the work may be turned between rips and crosscuts.
    pub turns: u32,
}

impl Default for Saw {
    /// Blades of 250 to 315 mm cut 3.2 mm wide; edges lose 10 mm; four stages of cuts at most (common practice, no source).
    fn default() -> Self {
        Self { kerf: Mm(3.2), trim: Mm(10.0), turns: 3 }
    }
}

/// Clearances by joint class, total over the mate's thickness.
#[derive(Clone, Debug)]
pub struct JointClearance {
    /// Dado and rabbet to be glued.
    pub glued: Dim,
    /// Fingers and tabs.
    pub finger: Dim,
    /// Grooves for a loose bottom.
    pub loose: Dim,
    /// Width of a slot as a share of the thickness pressed into it; `None` for board that does not give.
    pub press: Option<f64>,
}

/// How an inner corner lets a square mate seat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReliefStyle {
    /// A circle through the corner on its diagonal.
    Diagonal,
    /// A half round beside the corner, along the longer edge.
    AlongEdge,
    /// No relief.
    None,
}

/// A size given by its outside, its clear inside, or both.
#[derive(Clone, Debug, Default)]
pub struct Size {
    /// Outside.
    pub outside: Option<Dim>,
    /// Clear inside.
    pub clear: Option<Dim>,
}

/// A carcass: base, uprights, top, back, and columns of cells between.
#[derive(Clone, Debug)]
pub struct Carcass {
    /// Its name.
    pub name: String,
    /// Where its left, front, bottom corner is.
    pub at: CarcassPlace,
    /// Width, x.
    pub width: Size,
    /// Depth, y.
    pub depth: Size,
    /// Height, z; `outside` includes base and top.
    pub height: Size,
    /// Board of uprights (and of what names no other).
    pub board: BoardId,
    /// How uprights meet base and top.
    pub joint: JointKind,
    /// Board of the base; `None` for no base.
    pub base: Option<BoardId>,
    /// The top; `None` for none.
    pub top: Option<Top>,
    /// The back; `None` for none.
    pub back: Option<Back>,
    /// Single or doubled inner uprights.
    pub uprights: UprightStyle,
    /// Columns, left to right.
    pub columns: Vec<Column>,
    /// Indices into [`Bay::anchors`] of the points that hold it down.
    pub anchors: Vec<usize>,
    /// Screw of butt joints.
    pub screw: Arc<Fastener>,
    /// Bolt that holds it to the carcass below, when it stands on one.
    pub standing_bolt: Arc<Fastener>,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// Where a carcass stands.
#[derive(Clone, Debug)]
pub enum CarcassPlace {
    /// At a point of the bay.
    At([Dim; 3]),
    /// On another carcass (index into [`Design::carcasses`]), shifted in x and y; its height follows from what lies between.
    On {
        /// The carcass below.
        below: usize,
        /// Shift to the right and into the vehicle from the lower one's left front corner.
        shift: [Dim; 2],
    },
}

/// Ways two panels meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum JointKind {
    /// Edge against face, screwed.
    Butt,
    /// Equal fingers.
    Finger,
    /// A channel across a face that takes the mate's edge.
    Dado,
    /// A step along an edge that takes the mate's edge.
    Rabbet,
}

/// A carcass's top.
#[derive(Clone, Debug)]
pub struct Top {
    /// Its board.
    pub board: BoardId,
    /// How far it reaches beyond the carcass.
    pub overhang: Sides,
    /// Screwed without glue, to come off again.
    pub removable: bool,
    /// Hinged instead of joined.
    pub lid: Option<Lid>,
    /// What it is to carry, spread over it, in kg; `None` when not said.
    pub load_kg: Option<f64>,
}

/// How a top that is a lid opens.
#[derive(Clone, Copy, Debug)]
pub struct Lid {
    /// The edge it turns about, on that edge's lower arris.
    pub hinge: Edge,
    /// How far it opens from shut, in radians.
    pub angle: f64,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// One length for each side.
#[derive(Clone, Debug)]
pub struct Sides {
    /// At the load opening.
    pub front: Dim,
    /// At the rear of the unit.
    pub back: Dim,
    /// Left, looking in.
    pub left: Dim,
    /// Right, looking in.
    pub right: Dim,
}

/// A carcass's back.
#[derive(Clone, Debug)]
pub struct Back {
    /// Its board.
    pub board: BoardId,
    /// Where it sits.
    pub place: BackPlace,
}

/// Where a back sits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BackPlace {
    /// Between the outer uprights; inner uprights end in front of it.
    Between,
    /// Behind all uprights, on the base.
    Behind,
}

/// How an inner upright is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum UprightStyle {
    /// One panel serves both columns.
    Single,
    /// Each column has its own; two panels back to back.
    Doubled,
}

/// A column of cells.
#[derive(Clone, Debug)]
pub struct Column {
    /// Its name.
    pub name: String,
    /// Clear width; columns without one share what is left.
    pub width: Option<Dim>,
    /// Cells, bottom to top.
    pub cells: Vec<Cell>,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// One cell of a column.
#[derive(Clone, Debug)]
pub struct Cell {
    /// Its name; `lower.left` when the column has one cell, else `lower.left.1` from the bottom.
    pub name: String,
    /// Clear height; cells without one share what is left.
    pub height: Option<Dim>,
    /// A shelf under this cell (never under the lowest).
    pub shelf: Option<BoardId>,
    /// What the shelf under it is to carry, spread over it, in kg; `None` when not said.
    pub load_kg: Option<f64>,
    /// The drawer in it; `None` for an open cell.
    pub drawer: Option<Drawer>,
    /// Where it is declared.
    pub span: Option<Span>,
}

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

/// A table that slides between runner strips on a carcass's top.
#[derive(Clone, Debug)]
pub struct PullOut {
    /// Its name.
    pub name: String,
    /// The carcass whose top it slides on.
    pub over: usize,
    /// The column it lies over; `None` for the whole width.
    pub column: Option<usize>,
    /// Board of the table.
    pub board: BoardId,
    /// Board of the runner strips.
    pub strip_board: BoardId,
    /// Width of a strip, across the sliding direction.
    pub strip_width: Dim,
    /// Length of a strip; `None` for the table's.
    pub strip_length: Option<Dim>,
    /// Length of the table; `None` for the carcass's depth.
    pub length: Option<Dim>,
    /// Play at each side.
    pub play_side: Dim,
    /// Play above the table.
    pub play_above: PlayAbove,
    /// Felt or foam under what is above, which takes its thickness off the play.
    pub pad: Option<Dim>,
    /// Whether something holds it when it is out.
    pub catch: bool,
    /// Share of its length that stays under cover when pulled out, 0 to 1.
    pub keep_under_cover: f64,
    /// Board of a cover of its own; `None` when the carcass above covers it.
    pub cover: Option<BoardId>,
    /// Bolt that stops it at both ends, in a slot of the table.
    pub stop: Option<Arc<Fastener>>,
    /// Bolts through cover, strips and the top below.
    pub strip_bolt: Arc<Fastener>,
    /// What the table is to carry, spread over it, in kg; `None` when not said.
    pub load_kg: Option<f64>,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// How the play above a table is made.
#[derive(Clone, Debug)]
pub enum PlayAbove {
    /// Strips of the table's board, packed up with washers as shims: this many of this fastener's washer.
    Washers {
        /// How many washers lie on each other.
        count: u32,
        /// Whose washer.
        fastener: Arc<Fastener>,
    },
    /// A plain figure; the strips are packed to give it.
    Play(Dim),
}

/// A ledge along an edge of a carcass's top.
#[derive(Clone, Debug)]
pub struct Lip {
    /// The carcass.
    pub on: usize,
    /// Which edges of its top.
    pub edges: Vec<Edge>,
    /// How far it stands above the top.
    pub height: Dim,
    /// Its board.
    pub board: BoardId,
    /// The screw that holds it, from below through the top.
    pub screw: Arc<Fastener>,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// Edges of a top, looking in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Edge {
    /// At the load opening.
    Front,
    /// At the rear.
    Back,
    /// Left.
    Left,
    /// Right.
    Right,
}

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

/// Something to be carried.
#[derive(Clone, Debug)]
pub struct Stow {
    /// Its name.
    pub name: String,
    /// Length, width, height.
    pub size: [Dim; 3],
    /// kg.
    pub mass_kg: f64,
    /// The cell, drawer or top it goes in, as written.
    pub place: Option<String>,
    /// How many.
    pub quantity: u32,
    /// Whether its height must stay its height.
    pub this_way_up: bool,
    /// Whether others of its kind may stand on it.
    pub stackable: bool,
    /// Air it needs all round and above, for what breathes or gets warm.
    pub air: Option<Dim>,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// A derived size the maker fixed.
#[derive(Clone, Debug)]
pub struct Pin {
    /// The size's name, as `why` prints it.
    pub name: String,
    /// The maker's figure.
    pub value: Dim,
    /// Where it is written.
    pub span: Option<Span>,
}

/// A place where a mock-up rubbed when it was tried.
#[derive(Clone, Debug, PartialEq)]
pub struct Rub {
    /// Words of the name of the gap there.
    pub place: String,
    /// How much it was too much.
    pub by: Mm,
    /// The air that the tried design had there; `None` when not written.
    pub had: Option<Mm>,
    /// Where it is written.
    pub span: Option<Span>,
}

/// A stopper the maker overrode.
#[derive(Clone, Debug)]
pub struct Override {
    /// The finding's code.
    pub code: String,
    /// The part it concerns; `None` for all.
    pub part: Option<String>,
    /// Why, in the maker's words; printed in the pack.
    pub reason: String,
    /// Where it is written.
    pub span: Option<Span>,
}

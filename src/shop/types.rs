//! What the shop owns and buys. Lengths in mm unless the name says otherwise; loads in kg, stresses in N/mm².

use super::Machine;
use crate::units::Mm;
use std::collections::BTreeMap;

/// Every profile, by id.
#[derive(Clone, Debug, Default)]
pub struct Shop {
    /// Sheet materials.
    pub boards: BTreeMap<String, Board>,
    /// Cutters and drills.
    pub cutters: BTreeMap<String, Cutter>,
    /// Routers and lasers.
    pub machines: BTreeMap<String, Machine>,
    /// Drawer slides.
    pub slides: BTreeMap<String, Slide>,
    /// Latches.
    pub latches: BTreeMap<String, Latch>,
    /// Screws, bolts and their washers.
    pub fasteners: BTreeMap<String, Fastener>,
    /// Plain washers; a bolt's large washer stands with the bolt.
    pub washers: BTreeMap<String, Washer>,
}

/// What each value of a profile rests on: key of the value, then its source in words.
pub type Basis = BTreeMap<String, String>;

/// A kind of sheet material.
#[derive(Clone, Debug)]
pub struct Board {
    /// Id.
    pub id: String,
    /// In words.
    pub name: String,
    /// What it is made of.
    pub material: Material,
    /// What it is sold as.
    pub nominal: Mm,
    /// Least thickness of its tolerance class.
    pub thickness_min: Mm,
    /// Largest thickness of its tolerance class.
    pub thickness_max: Mm,
    /// Largest spread within one sheet.
    pub within_sheet: Mm,
    /// kg/m³.
    pub density_kg_m3: f64,
    /// Bending stiffness along the face grain (or flutes), N/mm².
    pub e_along: f64,
    /// Bending stiffness across, N/mm².
    pub e_across: f64,
    /// Whether turning a part by a quarter changes it.
    pub has_grain: bool,
    /// Sheets it is sold in, the usual one first.
    pub sheets: Vec<SheetSize>,
    /// Sources.
    pub basis: Basis,
}

/// Families of sheet material.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Material {
    /// Hardwood plywood.
    HardwoodPly,
    /// Softwood or light plywood.
    SoftwoodPly,
    /// Corrugated fibreboard.
    Card,
}

/// One size a board is sold in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SheetSize {
    /// Along the face grain (or flutes).
    pub length: Mm,
    /// Across it.
    pub width: Mm,
}

/// A cutter or drill.
#[derive(Clone, Debug)]
pub struct Cutter {
    /// Id.
    pub id: String,
    /// In words.
    pub name: String,
    /// Its geometry.
    pub kind: CutterKind,
    /// Measured cutting diameter.
    pub diameter: Mm,
    /// Number of cutting edges.
    pub flutes: u32,
    /// Length that cuts.
    pub flute_length: Mm,
    /// Whether it may plunge straight down.
    pub centre_cutting: bool,
    /// Deepest single pass.
    pub pass_depth: Mm,
    /// Highest spindle speed, 1/min.
    pub rpm_max: f64,
    /// Spindle speed to use, 1/min.
    pub rpm: f64,
    /// Chip per tooth by material: usual window in mm.
    pub chip_load: BTreeMap<Material, ChipLoad>,
    /// Sources.
    pub basis: Basis,
}

/// Geometry of a cutter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CutterKind {
    /// Lifts chips: clean lower face.
    UpCut,
    /// Pushes chips down: clean upper face.
    DownCut,
    /// Up-cut at the tip for the given length, down-cut above.
    Compression {
        /// Length of the up-cut part.
        up_cut: Mm,
    },
    /// A drill: plunges only.
    Drill,
}

/// A window of chip thickness per tooth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChipLoad {
    /// Below this it rubs.
    pub min: Mm,
    /// Above this it overloads.
    pub max: Mm,
}

/// A side-mounted drawer slide.
#[derive(Clone, Debug)]
pub struct Slide {
    /// Id.
    pub id: String,
    /// In words.
    pub name: String,
    /// Closed length of both members.
    pub length: Mm,
    /// Height of the body.
    pub height: Mm,
    /// Thickness of the body.
    pub thickness: Mm,
    /// Side space to plan for, each side.
    pub side_space: Mm,
    /// Least side space it works with.
    pub side_space_min: Mm,
    /// Largest side space it works with.
    pub side_space_max: Mm,
    /// How far it extends.
    pub travel: Mm,
    /// Room over the heads of its screws between the members, when it was measured.
    pub head_room: Option<Mm>,
    /// Rated load of a pair, kg.
    pub load_kg: f64,
    /// Holes of the member on the upright.
    pub case_holes: Vec<SlideHole>,
    /// Holes of the member on the drawer side.
    pub drawer_holes: Vec<SlideHole>,
    /// Fastener id of its screws.
    pub screw: String,
    /// Sources.
    pub basis: Basis,
}

/// One screw hole of a slide member, on its centre line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlideHole {
    /// From the member's front end.
    pub from_front: Mm,
    /// 0 and 1: two sets, so that members back to back on one upright need not share a hole.
    pub set: u8,
}

/// A latch in a drawer front.
#[derive(Clone, Debug)]
pub struct Latch {
    /// Id.
    pub id: String,
    /// In words.
    pub name: String,
    /// Visible face, width and height.
    pub face: [Mm; 2],
    /// Opening through the front.
    pub cut_out: CutOutShape,
    /// Bolt holes from the centre of the cut-out, x right and y up as seen from outside.
    pub bolts: Vec<[Mm; 2]>,
    /// Fastener id of the bolts.
    pub bolt: String,
    /// How deep the body reaches behind the front's outer face.
    pub body_depth: Mm,
    /// Room the body needs behind the front, width and height.
    pub body: [Mm; 2],
    /// How it locks.
    pub strike: Strike,
    /// Front thicknesses it fits.
    pub front_thickness: (Mm, Mm),
    /// Whether it holds by itself (a positive lock).
    pub positive_lock: bool,
    /// Sources.
    pub basis: Basis,
}

/// The opening a latch needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CutOutShape {
    /// Width, height and corner radius.
    Rectangle {
        /// Across.
        width: Mm,
        /// Up.
        height: Mm,
        /// Corner radius.
        radius: Mm,
    },
    /// A round hole.
    Round {
        /// Diameter.
        diameter: Mm,
    },
}

/// Where a latch's bolt meets the carcass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strike {
    /// Height of the bolt's centre above the centre of the cut-out (negative below).
    pub rise: Mm,
    /// How far the bolt's engaging face lies behind the front's inner face.
    pub behind_front: Mm,
    /// Width of the pocket or slot in the carcass member.
    pub width: Mm,
    /// Height of the bolt.
    pub height: Mm,
    /// How far the bolt reaches into the strike.
    pub reach: Mm,
}

/// A screw or bolt, with what it needs.
#[derive(Clone, Debug)]
pub struct Fastener {
    /// Id: `M6`, `1/4`, `screw-4.0`.
    pub id: String,
    /// In words.
    pub name: String,
    /// What it is.
    pub kind: FastenerKind,
    /// Nominal (thread or shank) diameter.
    pub diameter: Mm,
    /// Clearance holes: close, normal, loose.
    pub clearance: [Mm; 3],
    /// Pilot in a hardwood or plywood edge; `None` for machine bolts.
    pub pilot: Option<Mm>,
    /// Head diameter (across corners for a hexagon).
    pub head_diameter: Mm,
    /// Head height.
    pub head_height: Mm,
    /// Large washer: inner, outer, thickness.
    pub washer: Option<[Mm; 3]>,
    /// Lengths sold.
    pub lengths: Vec<Mm>,
    /// Sources.
    pub basis: Basis,
}

/// Kinds of fastener.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FastenerKind {
    /// Hexagon-head bolt (ISO 4017, ASME B18.2.1).
    HexBolt,
    /// Countersunk wood screw.
    CountersunkScrew,
    /// Pan-head wood screw.
    PanScrew,
}

/// A plain washer.
#[derive(Clone, Debug)]
pub struct Washer {
    /// Id.
    pub id: String,
    /// In words.
    pub name: String,
    /// Fastener id of the bolt it is for.
    pub bolt: String,
    /// Inner diameter, outer diameter, thickness.
    pub size: [Mm; 3],
    /// Sources.
    pub basis: Basis,
}

//! How parts are cut and joined. Outside sizes and places are in the bay frame: x right, y into the vehicle, z up.

use crate::dim::Dim;
use crate::shop::{Cutter, Machine};
use crate::units::Mm;
use std::sync::Arc;

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
    /// Small parts may be laid into openings of others, to be cut out before the opening is.
    pub parts_in_openings: bool,
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

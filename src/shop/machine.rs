//! Machines: what a router or laser can do and how its files are written. Lengths in mm unless the name says otherwise.

use super::Basis;
use crate::units::{Mm, Unit};

/// A machine that cuts.
#[derive(Clone, Debug)]
pub struct Machine {
    /// Id.
    pub id: String,
    /// In words.
    pub name: String,
    /// The unit its files are in.
    pub units: Unit,
    /// Reach in x, y, z.
    pub travel: [Mm; 3],
    /// Router or laser.
    pub process: Process,
    /// Rapid rate, mm/min.
    pub rapid_mm_min: f64,
    /// Highest cutting feed, mm/min.
    pub feed_max_mm_min: f64,
    /// Acceleration, mm/s².
    pub accel_mm_s2: f64,
    /// Sources.
    pub basis: Basis,
}

/// How a machine cuts, with the abilities of that kind.
#[derive(Clone, Debug)]
pub enum Process {
    /// A turning cutter.
    Router(Box<Router>),
    /// A laser beam.
    Laser(super::Laser),
}

/// What a router can do and how its files are written.
#[derive(Clone, Debug)]
pub struct Router {
    /// Ids of the cutters and drills at hand; the first that is not a drill cuts outlines unless the project says otherwise.
    pub cutters: Vec<String>,
    /// Spindle speeds it can hold, 1/min.
    pub rpm: (f64, f64),
    /// Where z is zero.
    pub z_zero: ZZero,
    /// Height of rapid moves above the sheet's top.
    pub clearance: Mm,
    /// How far a through cut goes below the sheet's underside.
    pub overcut: Mm,
    /// Hardest floor: never deeper than this below the sheet's underside.
    pub floor: Mm,
    /// Gap kept between parts, beside the cutter's own need.
    pub part_gap: Mm,
    /// Margin along the sheet's edges.
    pub sheet_margin: Mm,
    /// Ramp angle, radians.
    pub ramp_angle: f64,
    /// Seconds from spindle start to first touch.
    pub spindle_wait_s: f64,
    /// Climb on the finishing side.
    pub climb: bool,
    /// How parts are held.
    pub hold_down: HoldDown,
    /// How the file is written.
    pub dialect: Dialect,
    /// Where it parks, in the sheet frame, at clearance height.
    pub park: [Mm; 2],
    /// Habits that a shop may do without.
    pub habits: Habits,
}

/// What a shop does beyond the plain cut; the default does none of it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Habits {
    /// Wood left at outlines and openings by the passes, and taken off in a last thin pass over the whole depth.
    pub edge_pass: Option<Mm>,
    /// Whether passes that leave wood for a last one run against [`Router::climb`].
    pub rough_other_way: bool,
    /// Run once round the used rectangle in the air before the first cut of a set-up.
    pub air_trace: bool,
    /// Screws through the waste that hold the sheet down.
    pub screws: Option<HoldDownScrews>,
}

/// Screws that hold a sheet down, driven from above into the spoilboard through drilled holes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoldDownScrews {
    /// Diameter of the hole drilled for each.
    pub hole: Mm,
    /// Diameter of the head or its washer.
    pub head: Mm,
    /// How far the head stands over the sheet.
    pub head_height: Mm,
    /// Largest distance wanted from any waste to the nearest screw.
    pub spacing: Mm,
}

/// Where z is zero.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ZZero {
    /// The top of the spoilboard (the sheet's underside).
    Spoilboard,
    /// The sheet's top.
    SheetTop,
}

/// How parts stay put until the end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum HoldDown {
    /// Bridges left in the outline.
    Tabs {
        /// Along the contour.
        length: Mm,
        /// Above the sheet's underside.
        height: Mm,
        /// Largest distance between neighbours.
        spacing: Mm,
    },
    /// A thin floor left under the whole outline.
    Skin {
        /// Its thickness.
        thickness: Mm,
    },
}

/// How a control wants its program written; abilities, not names.
#[expect(clippy::struct_excessive_bools, reason = "each is one independent ability of a control")]
#[derive(Clone, Debug)]
pub struct Dialect {
    /// Decimals of a coordinate.
    pub decimals: usize,
    /// Whether arcs may be written as such; else chords.
    pub arcs: bool,
    /// Whether drilling cycles may be used.
    pub drill_cycles: bool,
    /// Number lines by this step; `None` for no numbers.
    pub line_numbers: Option<u32>,
    /// Line ends as carriage return and line feed.
    pub crlf: bool,
    /// Open and close with a percent line.
    pub percent: bool,
    /// Whether cutters are changed inside one file (lift, stop, name, re-zero); otherwise each cutter has a file of its own.
    pub tool_change_in_file: bool,
    /// Work offset word, `G54` to `G59`.
    pub work_offset: String,
    /// Ending of the file name, without the dot.
    pub file_ending: String,
    /// Stop for the operator to check the zero before the first move down.
    pub first_move_pause: bool,
}

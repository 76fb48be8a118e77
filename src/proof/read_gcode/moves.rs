//! What a program makes the machine do, in plain moves.

use crate::units::Mm;

/// A place of the tool's tip in the program's own frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Along the sheet's length.
    pub x: Mm,
    /// Across.
    pub y: Mm,
    /// Up.
    pub z: Mm,
}

impl Place {
    /// From three lengths in mm.
    #[must_use]
    pub fn new(x: Mm, y: Mm, z: Mm) -> Self {
        Self { x, y, z }
    }
}

/// How a move goes from its start to its end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Path {
    /// As fast as the machine goes, not cutting.
    Rapid,
    /// Straight at feed.
    Line,
    /// An arc in the XY plane at feed, z changing evenly (a helix).
    Arc {
        /// Centre, x.
        centre_x: Mm,
        /// Centre, y.
        centre_y: Mm,
        /// Signed sweep in radians, positive counter-clockwise, at most a full turn in size.
        sweep_rad: f64,
    },
}

/// The spindle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spindle {
    /// Not turning.
    Off,
    /// Clockwise (M3), as right-hand cutters want.
    Clockwise,
    /// Counter-clockwise (M4).
    CounterClockwise,
}

/// One move.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Move {
    /// Line of the file, from 1.
    pub line: usize,
    /// Where it starts.
    pub from: Place,
    /// Where it ends.
    pub to: Place,
    /// How it goes.
    pub path: Path,
    /// Feed, mm/min.
    pub feed_mm_min: f64,
    /// Whether the spindle turns.
    pub spindle: Spindle,
    /// Spindle speed, 1/min.
    pub speed_rpm: f64,
}

/// What one cutter does, read and executed.
#[derive(Clone, Debug, Default)]
pub struct Reading {
    /// Every move, in order.
    pub moves: Vec<Move>,
    /// Comments with their lines.
    pub comments: Vec<(usize, String)>,
    /// Whether the file counts in inches (G20) at its first move.
    pub inches: bool,
    /// Modes not stated before the first move, in words.
    pub unstated: Vec<&'static str>,
    /// Whether the first move only lifts the tool.
    pub lifts_first: bool,
    /// Line and height of the first way across, when the program had not yet said where the tool stands.
    pub entered: Option<(usize, Mm)>,
    /// Largest difference of an arc's radii at its ends, mm.
    pub worst_radii: Mm,
    /// Number of arcs.
    pub arcs: usize,
    /// Seconds of dwell, all together.
    pub dwell_s: f64,
    /// Seconds of dwell between the last spindle start and the first feed move.
    pub run_up_s: f64,
    /// Lines of tool changes (M6).
    pub tool_changes: Vec<usize>,
    /// Lines read.
    pub lines: usize,
}

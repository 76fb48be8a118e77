//! Every tolerance and bound of the proof, each saying what it compares. Lengths in mm unless the name says otherwise.
//!
//! The proof keeps its own numbers: a tolerance shared with the makers of the files would hide their mistakes.

/// How far a vertex in a drawing may lie from the design. Files carry three decimals or more; agreed for this project.
pub(super) const SAME_VERTEX: f64 = 0.005;
/// How much may be cut out of a part, or left where it should be open. Agreed for this project; a tenth of a usual joint gap.
pub(super) const CUT: f64 = 0.05;
/// How far a piece off the saw may be from its blank: a few settings printed with two decimals; far below what a saw keeps.
pub(super) const SAWN: f64 = 0.05;
/// How far a pocket's floor may lie from its depth.
pub(super) const FLOOR: f64 = 0.05;
/// How far a rapid may lie below the clearance height it should keep: rounding of a file with three decimals.
pub(super) const CLEARANCE: f64 = 0.002;
/// Arc radii at start and end under G21, in mm: NISTIR 6556, 3.5.3.2.
pub(super) const ARC_RADII_MM: f64 = 0.002;
/// Arc radii at start and end under G20, in inches: NISTIR 6556, 3.5.3.2.
pub(super) const ARC_RADII_INCH: f64 = 0.0002;
/// How far a spindle's speed may lie from the job's, 1/min: files say whole turns.
pub(super) const SPEED: f64 = 1.0;
/// By how much a chip may be thicker than its window, in mm: rounding of feeds in files.
pub(super) const CHIP: f64 = 0.001;
/// By how much a pass may be deeper than allowed, in mm: rounding of heights in files.
pub(super) const PASS: f64 = 0.01;
/// Slack on a limit that a file may meet exactly: binary rounding of decimal numbers.
pub(super) const ROUNDING: f64 = 0.000_000_1;
/// Two points closer than this are one point.
pub(super) const SAME_POINT: f64 = 0.000_1;
/// A bulge smaller than this is a straight line.
pub(super) const STRAIGHT_BULGE: f64 = 0.000_001;
/// Chord error when arcs become straight lines for sweeping.
pub(super) const CHORD: f64 = 0.01;
/// Half the width of a sliver that is an artefact of two edges which should coincide.
pub(super) const SLIVER: f64 = 0.01;
/// Chord error when arcs become straight lines for sweeping a beam, a hundred times narrower than a cutter.
pub(super) const BEAM_CHORD: f64 = 0.001;
/// Half the width of a sliver beside a beam's line that is rounding: the tolerance of the line itself and of two chords.
pub(super) const BEAM_SLIVER: f64 = 0.004;
/// How far a beam's line may lie from its place and still be taken for that edge's; further off it belongs to none.
pub(super) const BEAM_SEARCH: f64 = 1.0;
/// Area that may remain after edges were already drawn in by [`CUT`], in mm²: rounding of straight-line copies.
pub(super) const SPECK_MM2: f64 = 0.02;
/// Largest stretch of outline not cut to full depth that counts as one tab, its ramps included, in mm; more is an outline that was
/// not cut. Tabs of 5 to 15 mm with ramps of 5 degrees and up are common practice, no source.
pub(super) const TAB_LENGTH_MAX: f64 = 130.0;
/// Largest share of an outline that all its tabs and their ramps may take. Common practice, no source.
pub(super) const TAB_SHARE_MAX: f64 = 0.8;
/// Fewest tabs that hold a part still: with one it turns. Common practice, no source.
pub(super) const TABS_LEAST: usize = 2;
/// By how much a tab may be longer or shorter than planned, in mm: what a disc's round front and the flanks leave open. This
/// project's own.
pub(super) const TAB: f64 = 1.0;
/// Largest skin left under a whole outline. Common practice, no source.
pub(super) const SKIN_MAX: f64 = 1.0;
/// How far past the sheet's edge a cutting move's centre may run, in cutter diameters. Common practice, no source.
pub(super) const OVERRUN_DIAMETERS: f64 = 1.5;

/// Widest kerf believed, in mm: ten times a laser's.
pub(super) const KERF: f64 = 5.0;
/// Largest file that is read at all, in bytes. A sheet of a thousand parts stays under a tenth of it.
pub(super) const FILE_BYTES: usize = 64 << 20;
/// Largest pack that is read at all, in bytes.
pub(super) const PACK_BYTES: usize = 512 << 20;
/// Largest coordinate believed, in mm: beyond any machine.
pub(super) const COORDINATE: f64 = 100_000.0;
/// Most faults kept per rule; the count goes on.
pub(super) const FAULTS_KEPT: usize = 12;
/// Most moves that one program may expand to (repeats and pecks multiply).
pub(super) const MOVES: usize = 4_000_000;
/// Most pecks of one hole.
pub(super) const PECKS: usize = 1_000;
/// Deepest nesting of elements in an SVG.
pub(super) const XML_DEPTH: usize = 32;
/// Most copies of parts in one job.
pub(super) const COPIES: usize = 100_000;
/// Most sheets of one job.
pub(super) const SHEETS: usize = 5_000;
/// Most programs of one job.
pub(super) const PROGRAMS: usize = 10_000;
/// Most places of registration holes and hold-down screws of one set-up, x and y each counted.
pub(super) const PINS: usize = 4_000;
/// Most contours of one part, and of all copies on one sheet.
pub(super) const CONTOURS: (usize, usize) = (5_000, 1_000_000);
/// Most different depths on one face of one part.
pub(super) const DEPTHS: usize = 64;
/// Most points that all parts' contours may come to as straight lines.
pub(super) const POINTS: usize = 2_000_000;
/// Longest that all contours of one part may be together, in mm: two kilometres.
pub(super) const LENGTH: f64 = 2_000_000.0;
/// Most straight strokes of one sheet.
pub(super) const STROKES: usize = 3_000_000;
/// Most looks at a stroke for one sheet: strokes times copies.
pub(super) const LOOKS: usize = 1_000_000_000;
/// Most looks at the strokes near one copy: strokes times cuts.
pub(super) const LOOKS_NEAR: usize = 300_000_000;
/// Most strokes of one sheet kept by the places they pass, each counted at every one of them.
pub(super) const ENTRIES: usize = 10_000_000;
/// How often the cutter may pass over the wood of one copy, on average over its bounds, all passes together.
pub(super) const PASSES: f64 = 25.0;
/// Most contours looked at to find pairs in one drawing.
pub(super) const PAIRINGS: usize = 200_000_000;

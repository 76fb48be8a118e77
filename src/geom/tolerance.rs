//! Every tolerance of the program, each saying what it compares. All in millimetres unless the name says otherwise.

/// Two points closer than this are one point: well under any cutter's repeatability, well over rounding noise at 3 m.
pub const SAME_POINT: f64 = 1e-5;
/// A bulge smaller than this is a straight line: at a 3 m chord it bows 0.0015 mm at most.
pub const STRAIGHT_BULGE: f64 = 1e-6;
/// How far a vertex of an offset contour may lie from the asked distance before the offset is tried again.
pub const OFFSET_DISTANCE: f64 = 2e-3;
/// How much an offset distance is nudged to step off a tie (a slot exactly as wide as the cutter).
pub const OFFSET_NUDGE: f64 = 5e-4;
/// A stretch of a tool path shorter than this is joined to its neighbour: a thousandth, below any control's resolution.
pub const PATH_STEP: f64 = 1e-3;
/// How much nearer than its radius a tool centre may come to a finished edge, so that a slot exactly as wide as the cutter keeps
/// a corridor to run in.
pub const RADIUS_SLACK: f64 = 4e-4;
/// How far a finished edge may stay from the cutter's edge and still count as cut.
pub const EDGE_REACHED: f64 = 0.05;
/// How near a point of a groove's edge must lie to the outline for the groove to be open there.
pub const ON_OUTLINE: f64 = 0.01;
/// Least length along a path or height that counts as a move at all.
pub const NO_MOVE: f64 = 1e-9;

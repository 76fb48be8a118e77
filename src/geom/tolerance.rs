//! Every tolerance of the program, each saying what it compares. All in millimetres unless the name says otherwise.

/// Two points closer than this are one point: well under any cutter's repeatability, well over rounding noise at 3 m.
pub const SAME_POINT: f64 = 1e-5;
/// A bulge smaller than this is a straight line: at a 3 m chord it bows 0.0015 mm at most.
pub const STRAIGHT_BULGE: f64 = 1e-6;
/// How far a vertex of an offset contour may lie from the asked distance before the offset is tried again.
pub const OFFSET_DISTANCE: f64 = 2e-3;
/// How much an offset distance is nudged to step off a tie (a slot exactly as wide as the cutter).
pub const OFFSET_NUDGE: f64 = 5e-4;
/// How far a part may come nearer than its gap or margin on the sheet: the nesting counts in 0.01 mm, rounded the safe way.
pub const NEST_CLEARANCE: f64 = 1e-3;
/// How far a straight copy of an outline may leave its arcs when distances between laid parts are checked.
pub const NEST_FLATTENING: f64 = 1e-3;
/// How far a chord may leave its arc where a part's shape is covered by rectangles for nesting.
pub const NEST_STAIRCASE: f64 = 0.1;
/// How far a blank on the saw may differ from its part: the step the nesting counts in, and some rounding.
pub const NEST_STEP: f64 = 0.011;

//! Every tolerance of the program, each saying what it compares. All in millimetres unless the name says otherwise.

/// Two points closer than this are one point: well under any cutter's repeatability, well over rounding noise at 3 m.
pub const SAME_POINT: f64 = 1e-5;
/// A bulge smaller than this is a straight line: at a 3 m chord it bows 0.0015 mm at most.
pub const STRAIGHT_BULGE: f64 = 1e-6;
/// How far a vertex of an offset contour may lie from the asked distance before the offset is tried again.
pub const OFFSET_DISTANCE: f64 = 2e-3;
/// How much an offset distance is nudged to step off a tie (a slot exactly as wide as the cutter).
pub const OFFSET_NUDGE: f64 = 5e-4;
/// A change of an offset contour's length larger than this, caused by [`OFFSET_NUDGE`] alone, shows that a passage exactly as
/// wide as twice the distance opens or shuts there.
pub const OFFSET_LENGTH_JUMP: f64 = 0.1;
/// A contour with less area than this (in mm²) is no contour: a disc of 0.25 µm radius.
pub const NO_AREA: f64 = 2e-7;
/// A piece left by a boolean with less area than this (in mm²) is rounding, not material.
pub const SLIVER_AREA: f64 = 1e-5;
/// How far, relative to the areas that went in, the areas of a boolean may miss their sum rule (in mm² per mm²).
pub const BOOLEAN_AREA: f64 = 1e-6;
/// Material that a cutter leaves standing no further than this from where it reaches is not reported as left.
pub const UNREACHED: f64 = 5e-3;
/// The smallest distance between two pocket rings that makes sense: far below any cutter's stepover.
pub const SMALLEST_STEP: f64 = 1e-2;
/// A drill makes a hole when their diameters differ by no more than this: under the 0.1 mm steps drills are sold in.
pub const DRILL_MATCH: f64 = 0.05;
/// A notch or groove that ends this close to a panel's edge reaches it: a thinner wall would not survive the cut.
pub const EDGE_REACH: f64 = 0.01;
/// Two panels whose flat shapes differ by no more than this are the same part.
pub const SAME_PART: f64 = 1e-6;
/// A free shape's leftover area, in mm², that is not worth a finding: a 1 mm cutter leaves 0.05 mm² in a square corner.
pub const LEFTOVER_AREA: f64 = 0.2;
/// How far a part may come nearer than its gap or margin on the sheet: the nesting counts in 0.01 mm, rounded the safe way.
pub const NEST_CLEARANCE: f64 = 1e-3;
/// How far a straight copy of an outline may leave its arcs when distances between laid parts are checked.
pub const NEST_FLATTENING: f64 = 1e-3;
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
/// A bulge this near to 1 is written as a half turn: its arc differs from one by the square of this, of its radius.
pub const HALF_TURN_BULGE: f64 = 1e-6;
/// How near a factor must be to a half, a third and the like to be called so.
pub const SAME_FACTOR: f64 = 1e-12;
/// How far a chord may leave its arc where a part's shape is covered by rectangles for nesting.
pub const NEST_STAIRCASE: f64 = 0.1;
/// How far a blank on the saw may differ from its part: the step the nesting counts in, and some rounding.
pub const NEST_STEP: f64 = 0.011;
/// Bolts lie in one line when the determinant of their second moments is below this share of the largest of them squared.
pub const IN_LINE: f64 = 1e-6;
/// Two solids overlapping by less than this touch: below what any saw can show.
pub const TOUCH: f64 = 0.01;
/// Two cuts of parts that differ by no more than this serve each other: a fifth of a cutting error.
pub const SAME_CUT: f64 = 0.03;
/// How far a straight copy of a traced outline may leave its arcs: far below what a tracing on card is good for.
pub const TRACE_CHORD: f64 = 0.02;
/// Width of the steps in which a traced outline is covered by boxes.
pub const TRACE_STEP: f64 = 5.0;
/// Ends of a drawing's lines and arcs nearer than this are one corner of its outline.
pub const DRAWING_JOINT: f64 = 0.05;

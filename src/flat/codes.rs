//! What this stage can find.

use crate::diag::Code;

/// A fold on a router.
pub const FOLD_NEEDS_LASER: Code =
    Code::new("fold-needs-laser", "A fold is scored by a laser; a router would cut the board in two or leave it stiff.");
/// A mark or fold over the panel's edge.
pub const LINE_OFF_PART: Code = Code::new(
    "line-off-part",
    "A mark or fold lies over the part's edge, where it would be burnt into what lies beside it.",
);

/// A part in pieces.
pub const SPLIT: Code =
    Code::new("cut-in-pieces", "A part larger than every sheet is cut in pieces that hang on to each other by round knobs.");
/// No place for a joint.
pub const SPLIT_HAS_NO_PLACE: Code =
    Code::new("no-place-to-divide", "A part is larger than every sheet and has no place for a joint, so it cannot be cut.");
/// A bed smaller than the smallest part.
pub const BED_TOO_SMALL: Code =
    Code::new("bed-too-small", "Not even the smallest part fits the machine's bed, so nothing sensible can be cut on it.");

/// Parts without a mark for their flutes.
pub const FLUTES_NOT_MARKED: Code =
    Code::new("flutes-not-marked", "A part of card is too small for the mark that shows which way its flutes run.");

/// Every code of this stage.
pub const ALL: &[Code] = &[
    BLIND_ON_LASER,
    BLIND_TOO_DEEP,
    CORNER_NOT_REACHED,
    CORNER_NOT_RELIEVED,
    CORNER_RADIUS_RAISED,
    COUNTERSINK_TOO_SMALL,
    CUTS_CROSS,
    CUT_OUTSIDE_PART,
    CUT_SHAPE_BAD,
    DRILL_BY_HAND,
    FACES_MEET,
    FLOOR_THIN,
    FOLD_NEEDS_LASER,
    LINE_OFF_PART,
    NOTCH_OFF_EDGE,
    NO_CUTTER,
    OUTLINE_BAD,
    OUTLINE_IN_PIECES,
    PART_HARD_TO_HOLD,
    RELIEF_DOES_NOT_FIT,
    TIGHT_FOR_CUTTER,
    TOO_NARROW_FOR_CUTTER,
    UNKNOWN_BOARD,
    WEB_TOO_THIN,
    SEATS_BY_HAND,
    SPLIT,
    SPLIT_HAS_NO_PLACE,
    BED_TOO_SMALL,
    FLUTES_NOT_MARKED,
];

/// A blind cut on a machine that only cuts through.
pub const BLIND_ON_LASER: Code = Code::new(
    "blind-cut-on-laser",
    "A laser cuts through; a groove, pocket or countersink is only marked and must be made otherwise.",
);
/// A blind cut that comes out on the other side.
pub const BLIND_TOO_DEEP: Code = Code::new("blind-cut-too-deep", "A blind cut is as deep as the board is thick, or may be.");
/// A free shape with corners or necks the cutter cannot reach.
pub const CORNER_NOT_REACHED: Code =
    Code::new("corner-not-reached", "The cutter leaves wood in inner corners or necks of a free shape.");
/// A square mate is to seat in a corner left round.
pub const CORNER_NOT_RELIEVED: Code = Code::new(
    "corner-not-relieved",
    "A square mate is to seat in a corner that the cutter leaves round; it must be squared by hand.",
);
/// A corner radius smaller than the cutter's.
pub const CORNER_RADIUS_RAISED: Code =
    Code::new("corner-radius-raised", "A corner radius smaller than the cutter's was raised to what the cutter leaves.");
/// A countersink no larger than its hole.
pub const COUNTERSINK_TOO_SMALL: Code = Code::new(
    "countersink-too-small",
    "A countersink's head diameter is not larger than its hole, so there is no seat for the head.",
);
/// Two cuts of one part cross or overlap.
pub const CUTS_CROSS: Code =
    Code::new("cuts-cross", "Two cuts of one part overlap, so that neither has the shape asked for.");
/// A cut that is not wholly inside the part.
pub const CUT_OUTSIDE_PART: Code = Code::new("cut-outside-part", "A cut crosses the part's outline or lies outside it.");
/// A cut without area, or with a contour that crosses itself.
pub const CUT_SHAPE_BAD: Code = Code::new("cut-shape-bad", "A cut has no area, or its contour crosses itself.");
/// A hole smaller than any tool.
pub const DRILL_BY_HAND: Code =
    Code::new("drill-by-hand", "No drill or cutter at hand makes this hole; its centre is marked, to be drilled by hand.");
/// Cuts from opposite faces that leave too little between them.
pub const FACES_MEET: Code =
    Code::new("faces-meet", "Blind cuts from opposite faces lie over each other and leave too little between them.");
/// A blind cut that leaves little.
pub const FLOOR_THIN: Code = Code::new("floor-thin", "A blind cut leaves little of the board's thickness under it.");
/// An edge notch that reaches no edge.
pub const NOTCH_OFF_EDGE: Code = Code::new("notch-off-edge", "An edge notch does not reach any edge of its panel.");
/// No router cutter at hand.
pub const NO_CUTTER: Code = Code::new("no-cutter", "The router has no cutter other than drills, so nothing can be cut out.");
/// An outline without area or crossing itself.
pub const OUTLINE_BAD: Code =
    Code::new("outline-bad", "A part's outline has no area, crosses itself or could not be worked out.");
/// Notches that cut a part in two, or leave a hole.
pub const OUTLINE_IN_PIECES: Code =
    Code::new("outline-in-pieces", "The notches of a panel cut it into pieces, or nothing is left.");
/// A part too small to stay put.
pub const PART_HARD_TO_HOLD: Code =
    Code::new("part-hard-to-hold", "A part is so small that it may move or fly when its outline is cut.");
/// A corner without room for its relief.
pub const RELIEF_DOES_NOT_FIT: Code =
    Code::new("relief-does-not-fit", "A corner that takes a square mate has no room for the relief this cutter needs.");
/// A slot hardly wider than the cutter.
pub const TIGHT_FOR_CUTTER: Code = Code::new(
    "tight-for-cutter",
    "A slot or notch is hardly wider than the cutter: it is cut full width in one go, hot and without a finishing pass.",
);
/// A slot, notch, pocket or opening no cutter enters.
pub const TOO_NARROW_FOR_CUTTER: Code =
    Code::new("too-narrow-for-cutter", "A slot, notch, pocket or opening is narrower than the cutter that would cut it.");
/// A panel of a board the design does not list.
pub const UNKNOWN_BOARD: Code = Code::new("panel-board-unknown", "A panel names a board that the design does not list.");
/// Screw seats on the lower face only.
pub const SEATS_BY_HAND: Code = Code::new(
    "seats-by-hand",
    "Screw seats on the lower face are left to a hand countersink, which saves turning the sheet over.",
);
/// Too little wood between two cuts or a cut and an edge.
pub const WEB_TOO_THIN: Code =
    Code::judgement("web-too-thin", "Too little wood is left between two cuts, or between a cut and an edge: it breaks.");

//! What this stage can find.

use crate::diag::Code;

/// No cutter at hand fits a cut.
pub const NO_CUTTER: Code =
    Code::new("no-cutter-fits", "No cutter or drill at hand can make this cut, so the sheet cannot be finished.");
/// Cutting edges too short.
pub const FLUTE_SHORT: Code =
    Code::new("flute-too-short", "The cutting edges are shorter than the cut is deep plus 2 mm, so the shank would rub.");
/// Only a compression cutter, and the pocket is too shallow for it.
pub const COMPRESSION_SHALLOW: Code = Code::new(
    "pocket-shallower-than-up-cut",
    "A compression cutter tears the face of a pocket shallower than its up-cut part, and no other cutter at hand fits.",
);
/// Compression first pass deeper than the cutter's pass depth.
pub const FIRST_PASS_DEEP: Code = Code::new(
    "first-pass-deep",
    "A compression cutter's first pass must go deeper than its up-cut part, which is deeper than the cutter's usual pass.",
);
/// Chip thinner than the window.
pub const RUBBING: Code =
    Code::new("chip-too-thin", "The chip per tooth is below its window: the cutter rubs, burns and dulls.");
/// No chip window for this material.
pub const CHIP_UNKNOWN: Code =
    Code::new("chip-load-not-known", "The cutter's profile has no chip load for this material, so it is not used for it.");
/// Spindle cannot turn slowly enough.
pub const SPINDLE_FAST: Code = Code::new(
    "spindle-too-fast",
    "The machine's slowest spindle speed is above the cutter's highest, so the cutter may burst.",
);
/// Fewer tabs than wanted.
pub const TABS_FEW: Code =
    Code::new("too-few-tabs", "A part is held by fewer tabs than it needs and may move before its outline is cut through.");
/// Tabs that hang on nothing in the end.
pub const TAB_WITHOUT_WASTE: Code = Code::new(
    "tabs-without-waste",
    "A part's tabs end where a neighbour's outline or the sheet's edge is cut as well, so that they hold it only until then.",
);
/// A part in an opening that would come loose.
pub const INNER_LOOSE: Code = Code::new(
    "inner-part-not-held",
    "A part laid into the opening of another finds too little waste round it to hang on, so it must lie elsewhere.",
);
/// Tabs near corners.
pub const TAB_NEAR_CORNER: Code = Code::new(
    "tab-near-corner",
    "A tab stands within 25 mm of a corner because nothing else is left, and may tear the corner when broken off.",
);
/// Tabs on edges that should stay clean.
pub const TAB_ON_EDGE: Code = Code::new(
    "tab-on-clean-edge",
    "Tabs stand on a stretch that should stay free of them, because the part would otherwise be loose.",
);
/// Entry or exit mark on an edge that should stay clean.
pub const MARK_ON_EDGE: Code = Code::new(
    "entry-on-clean-edge",
    "The cutter enters or leaves on a stretch that should stay free of marks, because nothing else is left.",
);
/// No place for registration holes.
pub const NO_REGISTRATION: Code = Code::new(
    "no-registration-place",
    "A sheet to be turned over has no room for two registration holes on its turning axis.",
);
/// Marks are not cut.
pub const MARK_NOT_CUT: Code =
    Code::new("marks-not-cut", "Marks are on the drawings only; a router program does not cut them.");
/// Pocket depth follows the sheet's thickness.
pub const DEPTH_SPREAD: Code = Code::new(
    "pocket-depth-spread",
    "Pocket floors are measured from the spoilboard, so their depth differs with the sheet's thickness from place to place.",
);
/// An offset that cannot be trusted.
pub const UNRELIABLE: Code =
    Code::new("tool-path-unreliable", "The tool path round a shape could not be computed reliably.");
/// Machine too small.
pub const OUT_OF_REACH: Code = Code::new("beyond-machine-travel", "A program moves further than the machine can reach.");
/// Conical seat made in steps.
pub const STEPPED_SEAT: Code = Code::new(
    "stepped-countersink",
    "A conical screw seat is cut in fine steps inside the cone and wants a turn of a hand countersink.",
);
/// Conical seat left to the hand.
pub const SEAT_BY_HAND: Code = Code::new(
    "countersink-by-hand",
    "No cutter at hand is small enough for a conical screw seat, so it is left to a hand countersink.",
);
/// A sheet is turned over.
pub const TURNED_OVER: Code = Code::new(
    "sheet-turned-over",
    "A sheet is cut from both faces: it is turned over once, about its long axis, onto two registration pins.",
);
/// Moves beside the sheet.
pub const BEYOND_SHEET: Code = Code::new(
    "cutter-beyond-sheet",
    "The cutter's centre runs outside the sheet, where clamps or the machine's end stops may be.",
);
/// The layout names a part that does not exist.
pub const BAD_PLACEMENT: Code = Code::new(
    "placement-without-part",
    "The layout places a part that does not exist, or a board that is not in the design.",
);
/// No outline cutter.
pub const NO_OUTLINE_CUTTER: Code =
    Code::new("no-outline-cutter", "A router needs a cutter for outlines, and none is chosen.");
/// Through cuts stop at the floor.
pub const FLOOR_REACHED: Code = Code::new(
    "through-cut-at-floor",
    "Through cuts are held at the machine's floor and may not come through the thickest sheet.",
);

/// No waste for hold-down screws.
pub const NO_SCREWS: Code = Code::new(
    "no-room-for-screws",
    "The machine's profile asks for hold-down screws, and the sheet's waste has no room for two that every pass keeps clear of.",
);

/// An edge without its last thin pass.
pub const NO_EDGE_PASS: Code = Code::new(
    "no-last-thin-pass",
    "An edge is cut without the last thin pass the machine's profile asks for, because the cutter only just fits somewhere.",
);

/// A cut that is not wider than the beam.
pub const KERF_WIDE: Code = Code::new(
    "kerf-wider-than-cut",
    "An opening or notch is not wider than the beam's kerf, so that it comes out wider than drawn or not at all.",
);

/// Parts closer than the kerf.
pub const COMMON_LINE: Code = Code::new(
    "common-cut-line",
    "Parts lie nearer to each other than the beam's kerf, so that each loses material to its neighbour's cut.",
);

/// Every code of this stage.
pub const ALL: &[Code] = &[
    NO_CUTTER,
    FLUTE_SHORT,
    COMPRESSION_SHALLOW,
    FIRST_PASS_DEEP,
    RUBBING,
    CHIP_UNKNOWN,
    SPINDLE_FAST,
    TABS_FEW,
    TAB_WITHOUT_WASTE,
    INNER_LOOSE,
    TAB_NEAR_CORNER,
    TAB_ON_EDGE,
    MARK_ON_EDGE,
    NO_REGISTRATION,
    MARK_NOT_CUT,
    DEPTH_SPREAD,
    UNRELIABLE,
    OUT_OF_REACH,
    STEPPED_SEAT,
    SEAT_BY_HAND,
    TURNED_OVER,
    BEYOND_SHEET,
    BAD_PLACEMENT,
    NO_OUTLINE_CUTTER,
    FLOOR_REACHED,
    NO_SCREWS,
    NO_EDGE_PASS,
    KERF_WIDE,
    COMMON_LINE,
];

//! What this stage can find.

use crate::diag::Code;

/// A profile's id that the shop does not hold.
pub const PROFILE_UNKNOWN: Code = Code::new("profile-unknown", "The shop has no profile under an id the project uses.");
/// A cutter that cannot do what it is chosen for.
pub const CUTTER_UNSUITABLE: Code = Code::new("cutter-unsuitable", "The cutter chosen for outlines cannot cut them.");
/// A name that nothing carries.
pub const NAME_UNKNOWN: Code = Code::new("name-unknown", "A name refers to something the project does not have.");
/// Two things of different kinds with the same name.
pub const NAME_CLASH: Code =
    Code::new("name-clash", "Two units carry the same name, so parts and labels could not be told apart.");
/// A name with a dot or a control character.
pub const NAME_UNFIT: Code = Code::new("name-unfit", "A name holds a character that would break the names built from it.");
/// A size of zero or less.
pub const SIZE_NOT_POSITIVE: Code = Code::new("size-not-positive", "A size that must be positive is not.");
/// A size no vehicle part has.
pub const SIZE_ABSURD: Code =
    Code::judgement("size-absurd", "A size does not suit the bay, as when a file in inches is read in millimetres.");
/// A clear size that is not smaller than the outside.
pub const CLEAR_NOT_INSIDE: Code =
    Code::new("clear-not-inside", "A clear inside size is not smaller than the outside size.");
/// Carcasses that stand on each other in a ring.
pub const STANDING_CYCLE: Code =
    Code::new("standing-cycle", "Carcasses stand on each other in a ring, so none stands on the floor.");
/// Slots would be cut for a nominal thickness.
pub const BOARD_NOMINAL: Code =
    Code::new("board-nominal", "A board has no thickness readings, so slots are sized from its nominal thickness.");
/// Too few readings to know the spread.
pub const BOARD_FEW_READINGS: Code =
    Code::new("board-few-readings", "A board has too few thickness readings to show how much its thickness spreads.");
/// Readings that do not suit the profile.
pub const BOARD_READINGS_ODD: Code = Code::judgement(
    "board-readings-odd",
    "A board's thickness readings do not suit its profile, so one of the two is wrong.",
);
/// A shelf under the lowest cell.
pub const SHELF_UNDER_LOWEST: Code =
    Code::new("shelf-under-lowest", "A shelf is asked for under the lowest cell, where the base already is.");
/// An overlay front with a setback.
pub const SETBACK_OVERLAY: Code =
    Code::new("setback-overlay", "A front over the uprights' edges cannot stand behind them as well.");
/// Door points out of order.
pub const DOOR_ORDER: Code = Code::new("door-order", "The door's points do not rise from one to the next.");
/// An outline that is none.
pub const OUTLINE_UNFIT: Code = Code::new("outline-unfit", "A panel's outline cannot be cut as written.");
/// A cut that lies off its panel.
pub const CUT_OFF_PANEL: Code = Code::new("cut-off-panel", "A cut lies outside the panel it belongs to.");
/// An override for a finding that does not exist.
pub const OVERRIDE_UNKNOWN: Code = Code::new("override-unknown", "An override names a finding this program does not have.");
/// An override that lifts nothing.
pub const OVERRIDE_IN_VAIN: Code = Code::new(
    "override-in-vain",
    "An override names a finding that none can lift: it stops nothing, or what it stops cannot be made.",
);
/// Checks that need a vehicle were left out.
pub const NO_BAY: Code = Code::new("no-bay", "The project has no bay, so every check that needs the vehicle is left out.");

/// Readings of one level that contradict each other.
pub const READINGS_DISAGREE: Code =
    Code::judgement("readings-disagree", "Four sides and two diagonals of the bay do not belong to one shape.");
/// An open door or lid turned too far.
pub const DOOR_ANGLE: Code = Code::new("door-angle", "An open door or lid is turned further than it can turn.");
/// A board without a coupon.
pub const COUPON_NOT_MADE: Code =
    Code::new("coupon-not-made", "A board's coupon could not be made, so the pack shows less of how the machine cuts.");

/// A sheet larger than a laser's bed.
pub const SHEET_TO_BED: Code = Code::new(
    "sheet-cut-to-bed",
    "A board's sheets are larger than the laser's bed and are cut down to it before they go in.",
);

/// A scale that makes nothing.
pub const SCALE_UNFIT: Code = Code::new("scale-unfit", "A mock-up's scale is zero, not a number, or larger than full size.");
/// A mock-up on a router.
pub const MOCK_UP_NEEDS_LASER: Code =
    Code::new("mock-up-needs-laser", "Card is cut by a laser; a router's cutter would tear it.");
/// Slots that do not hold.
pub const SLOT_SHARE_UNFIT: Code =
    Code::new("slot-share-unfit", "A slot in card is so narrow or wide, in thicknesses, that nothing is held in it.");
/// Card as thick as a cell.
pub const CARD_THICKER_THAN_CELL: Code = Code::new(
    "card-thicker-than-cell",
    "A small mock-up of thick card has no room left inside a cell, so nothing can be derived for it.",
);
/// Joints out of proportion.
pub const JOINTS_NOT_TO_SCALE: Code = Code::new(
    "joints-not-to-scale",
    "A mock-up's joints are as deep as its card is thick, which is not the plywood's thickness at this scale.",
);
/// A tracing that does not agree with a tape.
pub const OUTLINE_CHECK: Code =
    Code::judgement("outline-check", "A traced outline and a length measured on the same thing do not agree.");
/// A tracing that nothing was measured on.
pub const OUTLINE_NOT_CHECKED: Code =
    Code::new("outline-not-checked", "A traced outline has no measured length beside it, so its scale is taken on trust.");

/// Slots of loose panels in a mock-up.
pub const LOOSE_AS_WRITTEN: Code = Code::new(
    "loose-panel-as-written",
    "A loose panel's slots and notches are as written for plywood, so that a mock-up's card does not fit them.",
);

/// Every code of this stage.
pub const ALL: &[Code] = &[
    PROFILE_UNKNOWN,
    CUTTER_UNSUITABLE,
    NAME_UNKNOWN,
    NAME_CLASH,
    NAME_UNFIT,
    SIZE_NOT_POSITIVE,
    SIZE_ABSURD,
    CLEAR_NOT_INSIDE,
    STANDING_CYCLE,
    BOARD_NOMINAL,
    BOARD_FEW_READINGS,
    BOARD_READINGS_ODD,
    SHELF_UNDER_LOWEST,
    SETBACK_OVERLAY,
    DOOR_ORDER,
    OUTLINE_UNFIT,
    CUT_OFF_PANEL,
    OVERRIDE_UNKNOWN,
    OVERRIDE_IN_VAIN,
    NO_BAY,
    READINGS_DISAGREE,
    DOOR_ANGLE,
    COUPON_NOT_MADE,
    SHEET_TO_BED,
    SCALE_UNFIT,
    MOCK_UP_NEEDS_LASER,
    SLOT_SHARE_UNFIT,
    CARD_THICKER_THAN_CELL,
    JOINTS_NOT_TO_SCALE,
    OUTLINE_CHECK,
    OUTLINE_NOT_CHECKED,
    LOOSE_AS_WRITTEN,
];

//! What the builders can find.

use crate::diag::Code;

/// A slide thinner than the card that stands in for it.
pub const SLIDE_THINNER_THAN_CARD: Code = Code::new(
    "slide-thinner-than-card",
    "In a small mock-up a slide is thinner than the card, so that it is only marked where it lies.",
);
/// Findings about hardware in a mock-up.
pub const HARDWARE_IS_PAPER: Code = Code::new(
    "hardware-is-paper",
    "A mock-up has no screws and latches, so what was found about them is left to the plywood.",
);

/// Nothing to cut a gauge for.
pub const NO_ENVELOPE: Code = Code::new("no-envelope", "Only the doubtful shapes were asked for, and the project has none.");
/// A gauge that could not be drawn.
pub const GAUGE_LEFT_OUT: Code = Code::new("gauge-left-out", "A gauge for a doubtful shape could not be drawn.");

/// Blind cuts in card.
pub const BLIND_IS_MARK: Code =
    Code::new("blind-cut-is-mark", "Grooves and pockets do not go through, so in card they are only marked.");

/// Every code of this stage.
pub const ALL: &[Code] = &[
    PIN_NOT_FOUND,
    PINNED,
    NO_ROOM,
    SIZES_DISAGREE,
    SIZE_NOT_DERIVABLE,
    SHARES_DO_NOT_FIT,
    ANCHOR_NEEDS_BASE,
    ANCHOR_OFF_BASE,
    ANCHOR_OFF_FLOOR,
    ANCHOR_UNDER_UPRIGHT,
    SLIDE_LONGER_THAN_BOX,
    SLIDE_LONGER_THAN_CELL,
    SLIDE_TALLER_THAN_BOX,
    BOX_DEEPER_THAN_CELL,
    LATCH_LARGER_THAN_FRONT,
    LATCH_FRONT_THICKNESS,
    LATCH_HAS_NO_STRIKE,
    NO_POSITIVE_LOCK,
    PULL_OUT_NEEDS_TOP,
    PULL_OUT_STRIPS_DIFFER,
    STANDS_ON_NOTHING,
    LIP_NEEDS_TOP,
    CUT_OUTSIDE_PANEL,
    SCREW_BITES_LITTLE,
    SCREW_HAS_NO_PLACE,
    SLIDE_HOLES_MEET,
    LATCH_SPLITS_BOX,
    GRIP_MEETS_LATCH,
    GROOVE_MEETS_FINGERS,
    BOLT_UNDER_UPRIGHT,
    NOTHING_HOLDS_IT,
    NOTHING_TO_BUILD,
    SLIDE_THINNER_THAN_CARD,
    HARDWARE_IS_PAPER,
    NO_ENVELOPE,
    GAUGE_LEFT_OUT,
    BLIND_IS_MARK,
];

/// See its text.
pub const PIN_NOT_FOUND: Code =
    Code::new("pin-not-found", "A pinned size has a name that no derived size has, so the pin would do nothing.");
/// See its text.
pub const PINNED: Code =
    Code::new("pinned-size", "A derived size was replaced by the maker's own; what follows from it was derived again.");
/// See its text.
pub const NO_ROOM: Code = Code::new("no-room", "A derived size is zero or negative: its surroundings leave no room for it.");
/// See its text.
pub const SIZES_DISAGREE: Code =
    Code::new("sizes-disagree", "An outside size and a clear size are both given and do not agree.");
/// See its text.
pub const SIZE_NOT_DERIVABLE: Code = Code::new("size-not-derivable", "A size is not given and nothing else determines it.");
/// See its text.
pub const SHARES_DO_NOT_FIT: Code =
    Code::new("shares-do-not-fit", "The sizes of columns or cells do not add up to the space they share.");
/// See its text.
pub const ANCHOR_NEEDS_BASE: Code =
    Code::new("anchor-needs-base", "A carcass without a base cannot be bolted to floor anchors.");
/// See its text.
pub const ANCHOR_OFF_BASE: Code =
    Code::new("anchor-off-base", "An anchor point lies outside the base or too near its edge for a washer.");
/// See its text.
pub const ANCHOR_UNDER_UPRIGHT: Code =
    Code::judgement("anchor-under-upright", "The washer of an anchor bolt would lie under an upright.");
/// See its text.
pub const SLIDE_LONGER_THAN_BOX: Code =
    Code::new("slide-longer-than-box", "A slide is longer than the drawer box that carries it.");
/// See its text.
pub const SLIDE_LONGER_THAN_CELL: Code =
    Code::new("slide-longer-than-cell", "A slide is longer than the cell is deep behind the front.");
/// See its text.
pub const SLIDE_TALLER_THAN_BOX: Code =
    Code::new("slide-taller-than-box", "A slide's body is higher than the drawer box it is screwed to.");
/// See its text.
pub const BOX_DEEPER_THAN_CELL: Code =
    Code::new("box-deeper-than-cell", "A drawer box is longer than the cell is deep behind the front.");
/// See its text.
pub const LATCH_LARGER_THAN_FRONT: Code =
    Code::new("latch-larger-than-front", "A latch's face or body does not fit on its drawer front.");
/// See its text.
pub const LATCH_FRONT_THICKNESS: Code =
    Code::new("latch-front-thickness", "A latch is not made for a front of this thickness.");
/// See its text.
pub const LATCH_HAS_NO_STRIKE: Code =
    Code::new("latch-has-no-strike", "There is no panel above a drawer front for its latch to strike into.");
/// See its text.
pub const NO_POSITIVE_LOCK: Code =
    Code::new("no-positive-lock", "A drawer has no latch that holds by itself; loaded drawers open on the road.");
/// See its text.
pub const PULL_OUT_NEEDS_TOP: Code =
    Code::new("pull-out-needs-top", "A pull-out slides on a carcass's top, and this carcass has none.");
/// See its text.
pub const PULL_OUT_STRIPS_DIFFER: Code =
    Code::new("pull-out-strips-differ", "Pull-outs side by side under one cover need layers of one height.");
/// See its text.
pub const STANDS_ON_NOTHING: Code =
    Code::new("stands-on-nothing", "A carcass stands on one that has no top, or whose parts could not be derived.");
/// See its text.
pub const LIP_NEEDS_TOP: Code = Code::new("lip-needs-top", "A lip stands on a carcass's top, and this carcass has none.");
/// See its text.
pub const CUT_OUTSIDE_PANEL: Code =
    Code::new("cut-outside-panel", "A hole, slot or cut-out of a free panel lies outside it.");
/// See its text.
pub const NOTHING_TO_BUILD: Code = Code::new("nothing-to-build", "The project describes neither a carcass nor a panel.");
/// See its text.
pub const SCREW_BITES_LITTLE: Code = Code::new(
    "screw-bites-little",
    "A screw has less than the usual thread in the panel it holds, because that panel is too shallow for a longer one.",
);
/// See its text.
pub const SCREW_HAS_NO_PLACE: Code = Code::new(
    "screw-has-no-place",
    "A screw meets another in the wood, or its head cannot be reached, wherever it is moved along its joint.",
);
/// See its text.
pub const SLIDE_HOLES_MEET: Code =
    Code::new("slide-holes-meet", "Too few of a slide's screws have a place clear of other screws in the same upright.");
/// See its text.
pub const LATCH_SPLITS_BOX: Code =
    Code::judgement("latch-splits-box", "Room for a latch's body leaves too little of the box front below it.");
/// See its text.
pub const GRIP_MEETS_LATCH: Code =
    Code::new("grip-meets-latch", "A finger pull and a latch are in the same place on a drawer front.");
/// See its text.
pub const BOLT_UNDER_UPRIGHT: Code = Code::judgement(
    "bolt-under-upright",
    "The washer of a bolt between a carcass and what stands on it would lie under an upright.",
);
/// See its text.
pub const NOTHING_HOLDS_IT: Code =
    Code::new("nothing-holds-it", "A carcass stands on another and there are no panels to bolt the two together.");
/// See its text.
pub const GROOVE_MEETS_FINGERS: Code = Code::new(
    "groove-meets-fingers",
    "A bottom's groove is wider than the lowest finger of a box's corner, and would open it.",
);
/// See its text.
pub const ANCHOR_OFF_FLOOR: Code = Code::new(
    "anchor-off-floor",
    "A carcass that stands on another names anchors in the floor, which its base does not reach.",
);

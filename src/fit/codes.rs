//! What the checks can find.

use crate::diag::Code;

/// Every code of this stage.
pub const ALL: &[Code] = &[
    GAP_FAILS,
    GAP_DOUBTFUL,
    GAP_TIGHT,
    SOLIDS_OVERLAP,
    CONTACT_NOT_DECLARED,
    NOT_MEASURED,
    PANEL_TOO_LARGE,
    ASSEMBLE_INSIDE,
    WAY_BLOCKED,
    WAYS_EXCLUDE,
    WAY_IN_BLOCKED,
    BOLT_OUT_OF_REACH,
    NO_WAY_TO_ASSEMBLE,
    NO_DRIVER_WAY,
    TABLE_NOT_STOPPED,
    NOT_HELD_OPEN,
    HARD_CONTACT,
    OUT_OF_REACH,
    NOT_JUDGED_IN_CARD,
    RUB_NOWHERE,
    RUB_WITHOUT_AIR,
];

/// See its text.
pub const GAP_FAILS: Code = Code::judgement("gap-fails", "A gap lies outside its window even when every size is nominal.");
/// See its text.
pub const GAP_DOUBTFUL: Code =
    Code::new("gap-doubtful", "A gap leaves its window within the likely range of boards, readings and cuts.");
/// See its text.
pub const GAP_TIGHT: Code = Code::new("gap-tight", "A gap leaves its window only when everything goes wrong at once.");
/// See its text.
pub const SOLIDS_OVERLAP: Code =
    Code::judgement("solids-overlap", "Two panels are in the same place and no joint was cut for it.");
/// See its text.
pub const CONTACT_NOT_DECLARED: Code =
    Code::new("contact-not-declared", "Two panels touch, and neither a joint nor the design says that they may.");
/// See its text.
pub const NOT_MEASURED: Code =
    Code::new("not-measured", "A measurement of the bay is missing, so what depends on it was not checked.");
/// See its text.
pub const PANEL_TOO_LARGE: Code =
    Code::judgement("panel-too-large", "A panel does not pass the load opening, however it is tilted.");
/// See its text.
pub const ASSEMBLE_INSIDE: Code =
    Code::new("assemble-inside", "A unit does not pass the load opening in one piece and must be put together inside.");
/// See its text.
pub const WAY_BLOCKED: Code = Code::judgement("way-blocked", "A drawer or table meets something on its way.");
/// See its text.
pub const WAYS_EXCLUDE: Code =
    Code::new("ways-exclude", "Two things that move cannot be open, or moved, in every combination.");
/// See its text.
pub const WAY_IN_BLOCKED: Code =
    Code::new("way-in-blocked", "A unit passes the load opening but cannot be moved from there to its place.");
/// See its text.
pub const BOLT_OUT_OF_REACH: Code =
    Code::new("bolt-out-of-reach", "No tool reaches the bolt of an anchor from above once the unit stands.");
/// See its text.
pub const NO_WAY_TO_ASSEMBLE: Code = Code::judgement(
    "no-way-to-assemble",
    "A part has no straight way to its place, in whatever order the parts go together.",
);
/// See its text.
pub const NO_DRIVER_WAY: Code =
    Code::new("no-driver-way", "A screw cannot be driven, because a part stands behind its head when it goes in.");
/// See its text.
pub const TABLE_NOT_STOPPED: Code =
    Code::new("table-not-stopped", "Nothing ends a table's travel, so that it can be pulled off its strips.");
/// See its text.
pub const NOT_HELD_OPEN: Code =
    Code::new("not-held-open", "Nothing holds a table out once it is pulled out, so that it slides back on a slope.");
/// See its text.
pub const OUT_OF_REACH: Code = Code::new(
    "out-of-reach",
    "Something of the vehicle that a hand must get at is covered by what has to be unbolted first.",
);
/// See its text.
pub const HARD_CONTACT: Code =
    Code::new("hard-contact", "A table lies wood on wood with play over it, so that it rattles unless it is padded.");
/// See its text.
pub const NOT_JUDGED_IN_CARD: Code = Code::new(
    "not-judged-in-card",
    "A mock-up's own gaps are not judged: their windows hold for plywood and real hardware.",
);
/// See its text.
pub const RUB_NOWHERE: Code = Code::new(
    "rub-nowhere",
    "A place where the mock-up rubbed is not the name of any gap, so the next design cannot be held against it.",
);
/// See its text.
pub const RUB_WITHOUT_AIR: Code = Code::new(
    "rub-without-air",
    "It is not written how much air the tried design had where the mock-up rubbed, so the constraint cannot show as met.",
);

//! What mass, strength, restraint and stowing can find.

use crate::diag::Code;

/// Every code of this room.
pub const ALL: &[Code] = &[
    PAYLOAD_EXCEEDED,
    PAYLOAD_NEARLY_USED,
    PAYLOAD_NOT_KNOWN,
    AXLE_OVERLOADED,
    HEAVY_LIFT,
    SAGS,
    OVERSTRESSED,
    TABLE_TIP_SOFT,
    SLIDE_OVERLOADED,
    NOT_ANCHORED,
    ANCHOR_OVERLOADED,
    RATING_NOT_KNOWN,
    TIPS_PULLED_OUT,
    SCREW_TOO_LONG,
    SLIDE_SCREW_HEAD,
    SCREW_TOO_SHORT,
    PILOT_SIZE,
    GOODS_DO_NOT_FIT,
    GOODS_STUCK_AT_REAR,
    GOODS_WITHOUT_PLACE,
];

/// See its text.
pub const PAYLOAD_EXCEEDED: Code =
    Code::judgement("payload-exceeded", "Unit, goods, people and other cargo weigh more than the vehicle may carry.");
/// See its text.
pub const PAYLOAD_NEARLY_USED: Code =
    Code::new("payload-nearly-used", "Less than a tenth of the vehicle's payload is left; a scale is never that exact.");
/// See its text.
pub const PAYLOAD_NOT_KNOWN: Code =
    Code::new("payload-not-known", "The vehicle's payload is not written, so the mass was held against nothing.");
/// See its text.
pub const AXLE_OVERLOADED: Code =
    Code::judgement("axle-overloaded", "An axle takes more of the unit and its goods than it may still take.");
/// See its text.
pub const HEAVY_LIFT: Code =
    Code::new("heavy-lift", "Something that is carried in by hand is heavier than one person should lift.");
/// See its text.
pub const SAGS: Code = Code::new("sags", "A top, shelf or bottom sags more than its limit under what it carries.");
/// See its text.
pub const OVERSTRESSED: Code =
    Code::judgement("overstressed", "The bending stress in a panel is above what the board is counted on to take.");
/// See its text.
pub const TABLE_TIP_SOFT: Code = Code::new(
    "table-tip-soft",
    "A table at full reach gives way at its tip more than its limit, or reaches too far for no leg.",
);
/// See its text.
pub const SLIDE_OVERLOADED: Code =
    Code::judgement("slide-overloaded", "What moves on a pair of slides is heavier than their rating allows in a vehicle.");
/// See its text.
pub const NOT_ANCHORED: Code = Code::new(
    "not-anchored",
    "A unit in a vehicle is held by fewer than two anchor points, so it moves when the vehicle brakes hard.",
);
/// See its text.
pub const ANCHOR_OVERLOADED: Code =
    Code::judgement("anchor-overloaded", "The force at an anchor point, with its factor, is above the rating it was given.");
/// See its text.
pub const RATING_NOT_KNOWN: Code = Code::new(
    "rating-not-known",
    "An anchor point has no rating, so the force at it was held against nothing; a rating is never worked out from a thread.",
);
/// See its text.
pub const TIPS_PULLED_OUT: Code =
    Code::new("tips-pulled-out", "With everything pulled out a unit would tip over if it were not bolted down.");
/// See its text.
pub const SCREW_TOO_LONG: Code =
    Code::new("screw-too-long", "A screw is as long as the wood it goes into, or longer: its point comes out.");
/// See its text.
pub const SLIDE_SCREW_HEAD: Code =
    Code::new("slide-screw-head", "The head of a slide's screw is higher than the room over it, or that room is not known.");
/// See its text.
pub const SCREW_TOO_SHORT: Code = Code::new("screw-too-short", "A screw's thread bites less wood than it needs to hold.");
/// See its text.
pub const PILOT_SIZE: Code =
    Code::new("pilot-size", "A screw's pilot hole does not go with the root of its thread: it splits the ply or strips.");
/// See its text.
pub const GOODS_DO_NOT_FIT: Code =
    Code::new("goods-do-not-fit", "What is to be carried does not go into its place together.");
/// See its text.
pub const GOODS_STUCK_AT_REAR: Code = Code::new(
    "goods-stuck-at-rear",
    "Something in a drawer stays under the top when the drawer is open, so it cannot be lifted straight out.",
);
/// See its text.
pub const GOODS_WITHOUT_PLACE: Code = Code::new(
    "goods-without-place",
    "Something to be carried has no place, so it counts in the mass but in no other check.",
);

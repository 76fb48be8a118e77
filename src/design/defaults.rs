//! Every default the program fills in, with what it rests on.
//!
//! Where nothing else is said: common practice, no source.

use super::JointKind;
use crate::units::{Mm, Unit};

/// What the figures without a source rest on.
pub(super) const PRACTICE: &str = "common practice, no source";

/// How far a tape reading in a trimmed bay may be off, either way.
pub(super) const TAPE_UNCERTAINTY: Mm = Mm(2.0);
/// Free space between a unit that fills the bay and each of the bay's sides.
pub(super) const BAY_CLEARANCE: Mm = Mm(10.0);
/// Thickness readings of a board below which its spread is not known.
pub(crate) const READINGS_WANTED: usize = 4;

/// Clearance of a dado or rabbet to be glued, over the mate's thickness.
pub(super) const GLUED_CLEARANCE: Mm = Mm(0.15);
/// Clearance of fingers and tabs, over the mate's thickness.
pub(super) const FINGER_CLEARANCE: Mm = Mm(0.15);
/// Clearance of a groove for a loose bottom, over its thickness; the usual figure for a dry joint (routing services' file
/// rules, seen as an excerpt: 0.25 mm).
pub(super) const LOOSE_CLEARANCE: Mm = Mm(0.25);
/// Relief radius beyond the cutter's, so that an offset by the cutter's radius still enters the corner (routing services' file
/// rules, seen as an excerpt).
pub(super) const RELIEF_EXTRA: Mm = Mm(0.25);
/// Least wood between two cuts on a router.
pub(super) const ROUTER_WEB: Mm = Mm(6.0);
/// Hard floor of the least material between two cuts on a laser, where one thickness is usual (laser services' file rules,
/// seen as an excerpt).
pub(super) const LASER_WEB_FLOOR: Mm = Mm(2.0);
/// Gap between parts on a laser's sheet.
pub(super) const LASER_PART_GAP: Mm = Mm(2.0);
/// Margin along a laser's sheet.
pub(super) const LASER_SHEET_MARGIN: Mm = Mm(5.0);

/// Width of a slot in card, in thicknesses of what is pressed into it: between the 0.76 and the 1.0 that held in two boards
/// (trade pages, seen as excerpts); cut the coupon.
pub(super) const SLOT_SHARE: f64 = 0.85;
/// Shares worth trying (the coupon's ladder, common practice, no source).
pub(super) const SLOT_SHARES: (f64, f64) = (0.5, 1.1);

/// Joint of a carcass.
pub(super) const CARCASS_JOINT: JointKind = JointKind::Finger;
/// Screw of butt joints and lips.
pub(super) const SCREW: &str = "screw-4.0";
/// Screw that holds a drawer front to its box: a pan head bears on the box front's inner face.
pub(super) const FRONT_SCREW: &str = "pan-screw-4.0";

/// Gap round a drawer front.
pub(super) const REVEAL: Mm = Mm(2.0);
/// Gap under a drawer box: clears the head of an M10 bolt in the base on its washer, 6.4 + 2.5 mm (ISO 4017 and ISO 7093-1,
/// both from memory), and a millimetre over.
pub(super) const GAP_UNDER: Mm = Mm(10.0);
/// Gap over a drawer box: room to lift it off its slides.
pub(super) const GAP_OVER: Mm = Mm(10.0);

/// Width of a pull-out's runner strip.
pub(super) const STRIP_WIDTH: Mm = Mm(40.0);
/// Play at each side of a pull-out.
pub(super) const PLAY_SIDE: Mm = Mm(3.0);
/// Washers that shim a pull-out's strips.
pub(super) const PLAY_WASHERS: u32 = 1;
/// Share of a pull-out that stays under cover.
pub(super) const KEEP_UNDER_COVER: f64 = 1.0 / 3.0;
/// How far a lip stands above its top.
pub(super) const LIP_HEIGHT: Mm = Mm(20.0);

/// The largest size any part of a vehicle fit-out has.
pub(super) const LARGEST: Mm = Mm(10_000.0);
/// The smallest size of a bay worth building into.
pub(super) const SMALLEST_BAY: Mm = Mm(150.0);
/// How far a panel's written size and its written outline may disagree: what a tape can tell apart.
pub(super) const OUTLINE_AND_SIZE: Mm = Mm(0.5);
/// The smallest outside size a carcass without a bay can have.
pub(super) const SMALLEST_CARCASS: Mm = Mm(20.0);
/// How much larger than the bay a size may be before it is taken for a slip of units.
pub(super) const OVER_BAY: f64 = 1.2;
/// How many times a size may go into the bay before it is taken for a slip of units.
pub(super) const INTO_BAY: f64 = 50.0;
/// How far a thickness reading may be from the nominal thickness, as a share of it, before one of the two is wrong.
pub(super) const READING_OFF: f64 = 0.25;

/// The machine of a shop that names none.
pub(super) fn machine(units: Unit) -> &'static str {
    match units {
        Unit::Mm => "router-metric",
        Unit::Inch => "router-inch",
    }
}

/// The bolt that stops a pull-out, whose washer also shims its strips.
pub(super) fn bolt(units: Unit) -> &'static str {
    match units {
        Unit::Mm => "M6",
        Unit::Inch => "1/4",
    }
}

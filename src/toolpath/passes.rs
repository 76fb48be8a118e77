//! How deep each pass goes, how fast it is fed, and the heights it runs at.

use super::codes;
use super::moves::Feeds;
use crate::diag::Finding;
use crate::geom::tolerance;
use crate::shop::{ChipLoad, Cutter, CutterKind, Machine, Material, Router};
use crate::units::Mm;

/// Beyond the up-cut part, for a compression cutter's first pass. Common practice, no source.
const PAST_UP_CUT: f64 = 1.0;
/// Straight down into wood at this share of the feed. Common practice, from memory: a third at most.
const PLUNGE_SHARE: f64 = 1.0 / 3.0;
/// Down a ramp at this share of the feed. Common practice, no source.
const RAMP_SHARE: f64 = 0.5;
/// Chip per tooth to go on with when the profile knows none, which stops the pack, in mm: below 0.1 mm plywood is rubbed, not
/// cut (common practice, no source).
const CAUTIOUS_CHIP: f64 = 0.1;
/// Cutting edges must be this much longer than the cut is deep. Common practice, no source.
pub(super) const FLUTE_SPARE: f64 = 2.0;

/// Heights of the passes, falling, the last at `floor`: equal steps of at most the cutter's pass depth; a compression
/// cutter's first pass goes past its up-cut part, so that the upper face is cut downwards.
pub(super) fn heights(top: f64, floor: f64, cutter: &Cutter) -> Vec<f64> {
    let depth = top - floor;
    let most = cutter.pass_depth.0.max(tolerance::EDGE_REACHED);
    let mut first = 0.0;
    if let CutterKind::Compression { up_cut } = cutter.kind {
        if depth / (depth / most).ceil() < up_cut.0 + PAST_UP_CUT {
            first = (up_cut.0 + PAST_UP_CUT).min(depth);
        }
    }
    let count = ((depth - first) / most - tolerance::NO_MOVE).ceil().max(0.0);
    let mut list = Vec::new();
    if first > 0.0 {
        list.push(top - first);
    }
    let step = (depth - first) / count.max(1.0);
    list.extend((1..=count as u32).map(|i| top - first - step * f64::from(i)));
    if let Some(last) = list.last_mut() {
        *last = floor;
    }
    list
}

/// The deepest first pass and the deepest later one that `heights` takes with a cutter.
#[must_use]
pub fn deepest_allowed(cutter: &Cutter) -> [Mm; 2] {
    let first = match cutter.kind {
        CutterKind::Compression { up_cut } => cutter.pass_depth.max(Mm(up_cut.0 + PAST_UP_CUT)),
        CutterKind::UpCut | CutterKind::DownCut | CutterKind::Drill => cutter.pass_depth,
    };
    [first, cutter.pass_depth]
}

/// Deepest single pass of a list of heights.
pub(super) fn deepest(top: f64, heights: &[f64]) -> f64 {
    heights.iter().fold((top, 0.0_f64), |(above, most), z| (*z, most.max(above - z))).1
}

/// Share of the chip load allowed when a pass is deeper than the cutter's diameter: whole up to 1 D, three quarters at 2 D, half
/// from 3 D on, straight between (cutter makers' tables: 25 % less at 2 D, 50 % less at 3 D).
pub(super) fn derating(pass_over_diameter: f64) -> f64 {
    (1.25 - 0.25 * pass_over_diameter).clamp(0.5, 1.0)
}

/// Spindle speed for a cutter on a machine, 1/min.
pub(super) fn spindle_rpm(cutter: &Cutter, router: &Router) -> f64 {
    cutter.rpm.min(cutter.rpm_max).min(router.rpm.1).max(router.rpm.0)
}

/// Feeds for passes of a given depth: the middle of the cutter's chip window for the material, derated for depth, capped by the
/// machine; a chip outside its window is found.
pub(super) fn feeds(
    cutter: &Cutter,
    material: Material,
    machine: &Machine,
    router: &Router,
    pass: f64,
    found: &mut Vec<Finding>,
) -> Feeds {
    let rpm = spindle_rpm(cutter, router);
    if rpm > cutter.rpm_max {
        found.push(
            Finding::stop(
                codes::SPINDLE_FAST,
                format!(
                    "{} may turn at {:.0} per minute at most, the spindle's slowest is {rpm:.0}",
                    cutter.name, cutter.rpm_max
                ),
            )
            .limit("the cutter's profile")
            .remedy("use another cutter, or correct the machine's spindle speeds"),
        );
    }
    let teeth = rpm * f64::from(cutter.flutes.max(1));
    let share = if cutter.kind == CutterKind::Drill { 1.0 } else { derating(pass / cutter.diameter.0) };
    let window = cutter.chip_load.get(&material).copied().unwrap_or_else(|| {
        found.push(
            Finding::stop(
                codes::CHIP_UNKNOWN,
                format!("{} has no chip load for {}, so it is not used for it", cutter.name, words(material)),
            )
            .remedy("give the chip load in the cutter's profile, or add another cutter"),
        );
        ChipLoad { min: Mm(CAUTIOUS_CHIP), max: Mm(CAUTIOUS_CHIP) }
    });
    let (least, most) = (window.min.0 * share, window.max.0 * share);
    let cut = (teeth * f64::midpoint(least, most)).min(machine.feed_max_mm_min);
    let chip = cut / teeth;
    let limit = format!("{} to {} mm per tooth for passes of {} mm, the cutter's profile", Mm(least), Mm(most), Mm(pass));
    if chip < least - tolerance::NO_MOVE {
        let rpm = cut / f64::from(cutter.flutes.max(1)) / f64::midpoint(least, most);
        found.push(
            Finding::caution(codes::RUBBING, format!("{} cuts {chip:.3} mm per tooth at {cut:.0} mm/min", cutter.name))
                .limit(limit)
                .remedy(format!(
                    "turn the spindle at about {:.0} per minute, or use a cutter with fewer edges",
                    (rpm / 100.0).round() * 100.0
                )),
        );
    }
    Feeds { cut, ramp: cut * RAMP_SHARE, plunge: cut * PLUNGE_SHARE, air: machine.feed_max_mm_min }
}

/// A material in words.
pub(super) fn words(material: Material) -> &'static str {
    match material {
        Material::HardwoodPly => "hardwood plywood",
        Material::SoftwoodPly => "softwood plywood",
        Material::Card => "card",
    }
}

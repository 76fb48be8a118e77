//! Free shapes: what of them a round cutter reaches.

use super::codes;
use super::context::{mm, Context, WHICH};
use crate::diag::Finding;
use crate::geom::{tolerance, Contour, Region};
use crate::parts::Feature;

/// Whether a cutter at hand enters a free opening; what it leaves in corners and necks is a caution.
pub(super) fn opening_reached(cx: &mut Context, feature: &Feature, contour: &Contour) -> bool {
    if cx.tools.laser {
        return true;
    }
    let whole = Region::new(contour.clone(), Vec::new());
    let mut least = f64::INFINITY;
    for cutter in cx.tools.entering(f64::INFINITY).filter(|d| fits(&whole, *d)) {
        let left = whole.unreachable(cutter / 2.0).map_or(0.0, |regions| regions.iter().map(Region::area).sum());
        least = f64::min(least, left);
    }
    if least.is_infinite() {
        let smallest = cx.tools.smallest();
        cx.too_narrow(feature, widest(&whole), &[smallest]);
        return false;
    }
    if least > tolerance::LEFTOVER_AREA {
        let text = format!("the cutter leaves {least:.1} mm² in corners or necks of {WHICH}");
        cx.say(feature, not_reached(text));
    }
    true
}

/// A caution for inner corners or necks of a free outline that the outline cutter does not reach.
pub(super) fn outline_reached(cx: &mut Context, outline: &Contour) {
    let cutter = cx.tools.outline;
    let Ok(regions) = outline.unreachable_outside(cutter / 2.0) else { return };
    let left: f64 = regions.iter().map(Region::area).sum();
    if left > tolerance::LEFTOVER_AREA {
        let text = format!("the {} mm cutter leaves {left:.1} mm² in inner corners or necks of the outline", mm(cutter));
        cx.findings.push(not_reached(text).part(&cx.panel.id).at(cx.panel.span));
    }
}

fn not_reached(text: String) -> Finding {
    Finding::caution(codes::CORNER_NOT_REACHED, text)
        .limit(format!("{} mm², what is not worth a look", mm(tolerance::LEFTOVER_AREA)))
        .remedy("round the inner corners to the cutter's radius, or use a thinner cutter")
}

fn fits(whole: &Region, cutter: f64) -> bool {
    whole.shrunk(cutter / 2.0).is_ok_and(|paths| !paths.is_empty())
}

/// Diameter of the widest cutter that fits anywhere, by halving.
fn widest(whole: &Region) -> f64 {
    let b = whole.outer.bounds();
    let (mut good, mut bad) = (0.0, b.width().min(b.height()));
    for _ in 0..HALVINGS {
        let tried = f64::midpoint(good, bad);
        if fits(whole, tried) {
            good = tried;
        } else {
            bad = tried;
        }
    }
    good
}

/// Enough to find a diameter within a hundredth of a millimetre in an opening that is narrower than a cutter.
const HALVINGS: u32 = 12;

//! What is drawn on a panel's face instead of being cut out of it: marks, and folds to be scored.

use super::context::{bounds, Context, WHICH};
use super::cuts::{self, Cut};
use super::{codes, Operation};
use crate::diag::Finding;
use crate::geom::{tolerance, Contour, GeomError, Point};
use crate::parts::{Depth, Feature, FeatureKind, Purpose};
use crate::units::Mm;

/// The lines of a feature that is a mark or a fold; `None` for one that is cut.
pub(super) fn drawn(cx: &mut Context, feature: &Feature) -> Option<Vec<Cut>> {
    let operation = match feature.purpose {
        Purpose::Mark => Operation::Mark,
        Purpose::Fold => match fold(cx, feature) {
            Some(depth) => Operation::Fold { depth },
            None => return Some(Vec::new()),
        },
        Purpose::Joint
        | Purpose::Pilot
        | Purpose::Clearance
        | Purpose::Slide
        | Purpose::Latch
        | Purpose::Strike
        | Purpose::Anchor
        | Purpose::Grip
        | Purpose::Stop
        | Purpose::Own => return None,
    };
    let contour = match shape(feature) {
        Ok(contour) => contour,
        Err(error) => {
            cx.stop(feature, codes::CUT_SHAPE_BAD, format!("{WHICH} cannot be drawn: {error}"), "correct its size");
            return Some(Vec::new());
        }
    };
    let (on, line) = (bounds(cx.panel).inflate(tolerance::SAME_POINT, tolerance::SAME_POINT), contour.bounds());
    if !on.contains_rect(line) {
        let text = format!("{WHICH} lies over the panel's edge and is left out");
        cx.say(feature, Finding::caution(codes::LINE_OFF_PART, text).remedy("mark it by hand from the plywood's drawing"));
        return Some(Vec::new());
    }
    // It is seen on whichever face lies up.
    Some(vec![cuts::cut(feature, operation, contour, None)])
}

/// How deep a fold is scored; a finding, and `None`, where that cannot be.
fn fold(cx: &mut Context, feature: &Feature) -> Option<Mm> {
    if !cx.tools.laser {
        let text = format!("{WHICH} is a fold, which a router does not score");
        cx.stop(feature, codes::FOLD_NEEDS_LASER, text, "name a laser as the machine");
        return None;
    }
    let depth = match &feature.depth {
        Depth::Blind(_, depth) => depth.nominal(),
        Depth::Through => cx.thickness(),
    };
    if depth <= Mm::ZERO || depth >= cx.thickness() {
        let text = format!("{WHICH} is scored {depth} mm deep in a board of {} mm and would fall apart", cx.thickness());
        cx.stop(feature, codes::BLIND_TOO_DEEP, text, "score it half through");
        return None;
    }
    Some(depth)
}

fn shape(feature: &Feature) -> Result<Contour, GeomError> {
    let point = |at: &[crate::dim::Dim; 2]| Point::new(at[0].nominal().0, at[1].nominal().0);
    match &feature.kind {
        FeatureKind::Hole { at, diameter } | FeatureKind::Countersunk { at, diameter, .. } => {
            Contour::circle(point(at), diameter.nominal().0 / 2.0)
        }
        FeatureKind::Slot { from, to, width } => Contour::obround(point(from), point(to), width.nominal().0),
        FeatureKind::Rectangle { at, size, .. }
        | FeatureKind::EdgeNotch { at, size, .. }
        | FeatureKind::Groove { at, size } => Contour::rect(cuts::rect(at, size)),
        FeatureKind::Free(contour) => contour.check_simple().map(|()| contour.clone()),
    }
}

//! Features as cuts, in the panel frame: everything but the notches, which belong to the outline.

use super::context::{bounds, mm, Context, WHICH};
use super::relief::{Corners, Opening};
use super::{codes, free, lines, seat, FlatCut, Operation, Side};
use crate::diag::Finding;
use crate::dim::Dim;
use crate::geom::{tolerance, Contour, GeomError, Point, Rect};
use crate::parts::{Depth, Face, Feature, FeatureKind, Panel};
use crate::units::Mm;

/// A cut in the panel frame, and the face it starts from; `None` when it goes through.
#[derive(Clone, Debug)]
pub(super) struct Cut {
    pub(super) flat: FlatCut,
    pub(super) face: Option<Face>,
    /// Which sides (bottom, right, top, left) run out over the panel's edges.
    pub(super) open: [bool; 4],
}

/// A corner and a size as a rectangle.
pub(super) fn rect(at: &[Dim; 2], size: &[Dim; 2]) -> Rect {
    let (x, y) = (at[0].nominal().0, at[1].nominal().0);
    Rect::new(x, y, x + size[0].nominal().0, y + size[1].nominal().0)
}

fn point(at: &[Dim; 2]) -> Point {
    Point::new(at[0].nominal().0, at[1].nominal().0)
}

/// The width a cutter must fit in for a rectangular feature; infinite for others.
pub(super) fn clear_width(panel: &Panel, feature: &Feature) -> f64 {
    match &feature.kind {
        FeatureKind::EdgeNotch { .. } | FeatureKind::Groove { .. } | FeatureKind::Rectangle { .. } => {
            opening(panel, feature).map_or(f64::INFINITY, |o| o.clear())
        }
        FeatureKind::Slot { width, .. } => width.nominal().0,
        FeatureKind::Hole { .. } | FeatureKind::Countersunk { .. } | FeatureKind::Free(_) => f64::INFINITY,
    }
}

/// A rectangular feature with its open sides and real corners; `None` for other kinds.
pub(super) fn opening(panel: &Panel, feature: &Feature) -> Option<Opening> {
    let (at, size, corners) = match &feature.kind {
        FeatureKind::Rectangle { at, size, radius } => {
            let corners = radius.as_ref().map_or(Corners::Seat, |r| Corners::Round(r.nominal().0));
            return Some(Opening { rect: rect(at, size), open: [false; 4], real: [true; 4], corners });
        }
        FeatureKind::EdgeNotch { at, size, radius } => {
            (at, size, radius.as_ref().map_or(Corners::Seat, |r| Corners::Round(r.nominal().0)))
        }
        FeatureKind::Groove { at, size } => (at, size, Corners::Seat),
        _ => return None,
    };
    let rect = within(panel, rect(at, size));
    let open = open_sides(panel, rect);
    let [bottom, right, top, left] = open;
    let real = [!(bottom || left), !(bottom || right), !(top || right), !(top || left)];
    Some(Opening { rect, open, real, corners })
}

/// What of a rectangle lies over the panel's bounds; as it is when it does not lie over them, or is no rectangle.
fn within(panel: &Panel, r: Rect) -> Rect {
    let inside = r.intersect(bounds(panel));
    if r.is_finite() && inside.width() > 0.0 && inside.height() > 0.0 {
        inside
    } else {
        r
    }
}

/// Which sides (bottom, right, top, left) of a rectangle reach the panel's edge: its bounds, or for a free outline wherever
/// there is no wood just outside the side's middle.
fn open_sides(panel: &Panel, r: Rect) -> [bool; 4] {
    let b = bounds(panel);
    let reach = tolerance::EDGE_REACH;
    let touched = [r.y0 <= b.y0 + reach, r.x1 >= b.x1 - reach, r.y1 >= b.y1 - reach, r.x0 <= b.x0 + reach];
    let Some(outline) = &panel.outline else { return touched };
    let middle = r.center();
    let outside = [(middle.x, r.y0 - reach), (r.x1 + reach, middle.y), (middle.x, r.y1 + reach), (r.x0 - reach, middle.y)];
    let mut open = touched;
    for (open, (x, y)) in open.iter_mut().zip(outside) {
        *open = *open || !outline.contains(Point::new(x, y));
    }
    open
}

/// All cuts of a feature that is not a notch through the panel, in the panel frame.
pub(super) fn of_feature(cx: &mut Context, feature: &Feature) -> Vec<Cut> {
    if let Some(drawn) = lines::drawn(cx, feature) {
        return drawn;
    }
    let face = match &feature.depth {
        Depth::Through => None,
        Depth::Blind(face, depth) => {
            if !deep_enough_left(cx, feature, depth) {
                return Vec::new();
            }
            Some((*face, depth.nominal()))
        }
    };
    match &feature.kind {
        FeatureKind::Hole { at, diameter } => hole(cx, feature, point(at), diameter.nominal(), face).into_iter().collect(),
        FeatureKind::Countersunk { at, diameter, head, face: head_face } => {
            let seat = countersink(cx, feature, point(at), [diameter.nominal(), head.nominal()], *head_face);
            hole(cx, feature, point(at), diameter.nominal(), face).into_iter().chain(seat).collect()
        }
        FeatureKind::Slot { from, to, width } => {
            let width = width.nominal().0;
            let made = Contour::obround(point(from), point(to), width);
            if !cx.tools.laser && cx.tools.entering(width).next().is_none() && made.is_ok() {
                let smallest = cx.tools.smallest();
                cx.too_narrow(feature, width, &[smallest]);
                return Vec::new();
            }
            shaped(cx, feature, made, face, [false; 4]).into_iter().collect()
        }
        FeatureKind::Rectangle { .. } | FeatureKind::EdgeNotch { .. } | FeatureKind::Groove { .. } => {
            rectangular(cx, feature, face).into_iter().collect()
        }
        FeatureKind::Free(contour) => {
            let made = contour.check_simple().map(|()| contour.clone());
            if !free::opening_reached(cx, feature, contour) {
                return Vec::new();
            }
            shaped(cx, feature, made, face, [false; 4]).into_iter().collect()
        }
    }
}

/// Checks a blind depth against the board; `false` when the cut cannot be made.
fn deep_enough_left(cx: &mut Context, feature: &Feature, depth: &Dim) -> bool {
    let t = cx.thickness();
    let real = depth.nominal().0.is_finite() && depth.nominal() > Mm::ZERO;
    if !real {
        let text = format!("{WHICH} is {} mm deep", depth.nominal());
        cx.stop(feature, codes::CUT_SHAPE_BAD, text, "give it a depth greater than zero");
        return false;
    }
    let left = &cx.panel.thickness - depth;
    let remedy = "make it shallower, or use a thicker board";
    if left.nominal().0 <= tolerance::SAME_POINT {
        let text = format!("{WHICH} is {} mm deep in a board of {t} mm", depth.nominal());
        cx.stop(feature, codes::BLIND_TOO_DEEP, text, remedy);
        return false;
    }
    let least = left.worst_case().min;
    if least <= Mm::ZERO {
        let text = format!(
            "{WHICH} leaves {} mm at nominal, but comes through where the board is thinnest ({least} mm)",
            left.nominal()
        );
        cx.say(feature, Finding::caution(codes::BLIND_TOO_DEEP, text).remedy(remedy));
    }
    // A seat for a mate must leave half the panel (cutting services' pages and common practice); any other floor HARD_FLOOR.
    let (need, why) = match feature.purpose {
        crate::parts::Purpose::Joint => (Mm(t.0 / 2.0), "half the board under a joint, common practice"),
        _ => (super::web::HARD_FLOOR, "least wood anywhere, cutting services' file rules"),
    };
    if left.nominal().0 < need.0 - tolerance::SAME_POINT {
        let text = format!("{WHICH} leaves {} mm of {t} mm", left.nominal());
        cx.say(feature, Finding::caution(codes::FLOOR_THIN, text).limit(format!("{need} mm: {why}")).remedy(remedy));
    }
    true
}

/// A cut with its bookkeeping, clockwise.
pub(super) fn cut(feature: &Feature, operation: Operation, contour: Contour, face: Option<Face>) -> Cut {
    let flat = FlatCut {
        operation,
        side: Side::Up,
        contour: contour.cw(),
        islands: Vec::new(),
        purpose: feature.purpose,
        feature: feature.id.clone(),
        seats: None,
        span: feature.span,
    };
    Cut { flat, face, open: [false; 4] }
}

/// A contour as an opening or a pocket; on a laser a pocket becomes a mark.
fn shaped(
    cx: &mut Context,
    feature: &Feature,
    contour: Result<Contour, GeomError>,
    blind: Option<(Face, Mm)>,
    open: [bool; 4],
) -> Option<Cut> {
    let contour = match contour {
        Ok(contour) => contour,
        Err(error) => {
            let text = format!("{WHICH} cannot be drawn: {error}");
            cx.stop(feature, codes::CUT_SHAPE_BAD, text, "correct its shape");
            return None;
        }
    };
    let operation = match blind {
        None => Operation::ThroughInside,
        Some((_, depth)) if cx.tools.laser => only_marked(cx, feature, depth),
        Some((_, depth)) => Operation::Pocket { depth },
    };
    Some(Cut { open, ..cut(feature, operation, contour, blind.map(|(face, _)| face)) })
}

fn only_marked(cx: &mut Context, feature: &Feature, depth: Mm) -> Operation {
    let text = format!("{WHICH} is {depth} mm deep, which a laser cannot cut; it is marked only");
    cx.say(
        feature,
        Finding::caution(codes::BLIND_ON_LASER, text)
            .remedy("make it by hand at the mark, or choose a joint that is cut through"),
    );
    Operation::Mark
}

fn rectangular(cx: &mut Context, feature: &Feature, blind: Option<(Face, Mm)>) -> Option<Cut> {
    let opening = opening(cx.panel, feature)?;
    if opening.beside(bounds(cx.panel)) {
        let text = format!("{WHICH} at {}, {} lies beside the panel", mm(opening.rect.x0), mm(opening.rect.y0));
        cx.stop(feature, codes::CUT_OUTSIDE_PART, text, "move it onto the panel");
        return None;
    }
    let cutters = cx.tools.routers.clone();
    let made = opening.made(cx.tools, &cutters);
    let made = cx.made(feature, made, &cutters)?;
    corner_notes(cx, feature, &opening, made.cutter);
    let mut cut = shaped(cx, feature, Ok(made.contour), blind, opening.open)?;
    cut.flat.seats = seat::of(cx.design, cx.model, cx.panel, feature);
    Some(cut)
}

/// What the cutter does to the corners, where that differs from what was asked.
pub(super) fn corner_notes(cx: &mut Context, feature: &Feature, opening: &Opening, cutter: f64) {
    if cx.tools.laser || !opening.real.contains(&true) {
        return;
    }
    match opening.corners {
        Corners::Seat if cx.tools.style == crate::design::ReliefStyle::None => {
            let text = format!("{WHICH} keeps corners of radius {} mm, where a square mate does not seat", mm(cutter / 2.0));
            cx.say(
                feature,
                Finding::caution(codes::CORNER_NOT_RELIEVED, text)
                    .remedy("square them with a chisel, or choose a corner relief"),
            );
        }
        Corners::Round(radius) if radius < cutter / 2.0 - tolerance::SAME_POINT => {
            let text =
                format!("{WHICH} asks for a corner radius of {} mm; the cutter leaves {} mm", mm(radius), mm(cutter / 2.0));
            cx.say(feature, Finding::note(codes::CORNER_RADIUS_RAISED, text).remedy("use a thinner cutter if it matters"));
        }
        Corners::Seat | Corners::Round(_) => {}
    }
}

/// A hole to be drilled; a mark where no tool makes it.
fn hole(cx: &mut Context, feature: &Feature, at: Point, diameter: Mm, blind: Option<(Face, Mm)>) -> Option<Cut> {
    let circle = match Contour::circle(at, diameter.0 / 2.0) {
        Ok(circle) if diameter > Mm::ZERO => circle,
        _ => {
            let text = format!("{WHICH} has a diameter of {diameter} mm");
            cx.stop(feature, codes::CUT_SHAPE_BAD, text, "give it a diameter greater than zero");
            return None;
        }
    };
    let depth = blind.map(|(_, depth)| depth);
    let operation = match depth {
        Some(depth) if cx.tools.laser => only_marked(cx, feature, depth),
        _ if cx.tools.makes_hole(diameter.0, cx.thickness()) => Operation::Drill { at, diameter, depth },
        _ => {
            let text = format!(
                "{WHICH} of {} mm is a hole that no drill or cutter at hand makes; its centre is marked",
                mm(diameter.0)
            );
            let how = depth.map_or_else(|| "through".to_owned(), |d| format!("{d} mm deep"));
            cx.say(
                feature,
                Finding::note(codes::DRILL_BY_HAND, text).remedy(format!("drill it by hand, {diameter} mm, {how}")),
            );
            Operation::Mark
        }
    };
    Some(cut(feature, operation, circle, blind.map(|(face, _)| face)))
}

/// The conical seat of a countersunk head; `sizes` are the hole's and the head's diameters.
fn countersink(cx: &mut Context, feature: &Feature, at: Point, sizes: [Mm; 2], face: Face) -> Option<Cut> {
    let [hole, head] = sizes;
    let larger = head.0 > hole.0 + tolerance::SAME_POINT;
    if !larger {
        let text = format!("{WHICH} has a head of {head} mm over a hole of {hole} mm");
        cx.stop(feature, codes::COUNTERSINK_TOO_SMALL, text, "give the head its real diameter, or make it a plain hole");
        return None;
    }
    // A 90 degree cone sinks by half of what it widens.
    let depth = Mm((head.0 - hole.0) / 2.0);
    if depth >= cx.thickness() {
        let text = format!("{WHICH} sinks {depth} mm into a board of {} mm", cx.thickness());
        cx.stop(feature, codes::BLIND_TOO_DEEP, text, "use a smaller head or a thicker board");
        return None;
    }
    let circle = Contour::circle(at, head.0 / 2.0).ok()?;
    let operation =
        if cx.tools.laser { only_marked(cx, feature, depth) } else { Operation::Countersink { at, diameter: head } };
    Some(cut(feature, operation, circle, Some(face)))
}

//! How much wood is left between cuts, and between cuts and the edge.

use super::context::mm;
use super::piece::Piece;
use super::thin::{Between, Web, Webs, EDGE};
use super::{codes, FlatCut, Operation};
use crate::diag::Finding;
use crate::geom::{tolerance, Contour, Rect};
use crate::parts::Purpose;
use crate::units::Mm;

/// Least wood anywhere: below this a web breaks while it is cut (cutting services' file rules).
pub(super) const HARD_FLOOR: Mm = Mm(2.0);

/// Checks every through cut and hole against the outline, and all pairs of cuts; notches against each other and the ends.
pub(super) fn check(piece: &Piece, min_web: Mm, findings: &mut Vec<Finding>) {
    let part = &piece.part;
    let outline = &part.outline.contour;
    let mut webs = Webs::default();
    for (cut, runs_out) in part.cuts.iter().zip(&piece.runs_out) {
        if is_line(cut) {
            continue;
        }
        let between = Between { a: &cut.feature, b: EDGE, span: cut.span.or(part.span) };
        if runs_out.contains(&true) {
            let wall = to_edges(outline.bounds(), cut.contour.bounds(), *runs_out);
            if wall > tolerance::SAME_POINT {
                webs.judge(between, wall, min_web, Web::Blind);
            }
            continue;
        }
        if is_channel(cut) && within(cut.contour.bounds(), outline.bounds()) && outline.crosses(&cut.contour) {
            // A groove that ends in a notch of the same panel.
            continue;
        }
        let inside = outline.holds(&cut.contour);
        let apart = if inside { outline.distance_between(&cut.contour) } else { 0.0 };
        if apart <= tolerance::SAME_POINT {
            let middle = cut.contour.bounds().center();
            let (x, y) = (mm(middle.x), mm(middle.y));
            let text = format!("`{}` at {x}, {y} is not wholly inside the part's outline", cut.feature);
            let remedy = "move it inwards or make it smaller; a cut that opens an edge is an edge notch";
            findings.push(Finding::stop(codes::CUT_OUTSIDE_PART, text).part(&part.id).at(between.span).remedy(remedy));
        } else if !is_cone(cut) {
            webs.judge(between, apart, min_web, beside(cut));
        }
    }
    pairs(piece, min_web, &mut webs, findings);
    notches(piece, min_web, &mut webs);
    webs.tell(part, findings);
}

/// All pairs of cuts whose bounds come near each other, found by sweeping over x.
fn pairs(piece: &Piece, min_web: Mm, webs: &mut Webs, findings: &mut Vec<Finding>) {
    let cuts = &piece.part.cuts;
    let bounds: Vec<Rect> = cuts.iter().map(|c| c.contour.bounds()).collect();
    for (i, j) in neighbours(&bounds, min_web.0.max(HARD_FLOOR.0)) {
        let (a, b) = (&cuts[i], &cuts[j]);
        if is_line(a) || is_line(b) {
            continue;
        }
        let between = Between { a: &a.feature, b: &b.feature, span: b.span.or(a.span).or(piece.part.span) };
        let (through_a, through_b) = (goes_through(a), goes_through(b));
        if a.feature == b.feature || is_cone(a) || is_cone(b) {
            // A head's seat belongs to its own hole; over another cut it only loses wood that is not there.
            if a.feature != b.feature && a.contour.meets(&b.contour) && a.side == b.side {
                cross(piece, between, findings);
            }
            continue;
        }
        let apart = a.contour.distance_between(&b.contour);
        let held = apart > tolerance::SAME_POINT && (a.contour.holds(&b.contour) || b.contour.holds(&a.contour));
        let touch = apart <= tolerance::SAME_POINT;
        // Cuts from opposite faces that do not go through meet only in depth, which `faces` checks.
        if !through_a && !through_b && a.side != b.side {
            continue;
        }
        if held {
            let (outer, inner) = if a.contour.holds(&b.contour) { (a, b) } else { (b, a) };
            // A hole or opening through the floor of a pocket is as it should be; the same inside a through cut is not.
            if goes_through(outer) || !deeper(inner, outer) {
                cross(piece, between, findings);
            }
        } else if touch {
            if !channels_meet(a, b) {
                cross(piece, between, findings);
            }
        } else {
            let web = if through_a && through_b { Web::Through } else { Web::Blind };
            webs.judge(between, apart, min_web, web);
        }
    }
}

/// Marks and folds take no wood away.
pub(super) fn is_line(cut: &FlatCut) -> bool {
    matches!(cut.operation, Operation::Mark | Operation::Fold { .. })
}

/// Whether the inner cut goes deeper than the pocket around it.
fn deeper(inner: &FlatCut, outer: &FlatCut) -> bool {
    goes_through(inner) || depth(inner) > depth(outer)
}

/// A dado that runs into a rabbet, or two grooves that meet: pockets for joints may run into each other.
fn channels_meet(a: &FlatCut, b: &FlatCut) -> bool {
    is_channel(a) && is_channel(b)
}

fn is_channel(cut: &FlatCut) -> bool {
    matches!(cut.operation, Operation::Pocket { .. }) && cut.purpose == Purpose::Joint
}

/// What the wood between a cut and an edge has to stand.
fn beside(cut: &FlatCut) -> Web {
    match cut.purpose {
        _ if !goes_through(cut) => Web::Blind,
        Purpose::Pilot | Purpose::Clearance if matches!(cut.operation, Operation::Drill { .. }) => Web::Screw,
        _ => Web::Through,
    }
}

fn within(inner: Rect, outer: Rect) -> bool {
    let reach = tolerance::EDGE_REACH;
    inner.x0 >= outer.x0 - reach
        && inner.y0 >= outer.y0 - reach
        && inner.x1 <= outer.x1 + reach
        && inner.y1 <= outer.y1 + reach
}

/// Depth of a blind cut.
pub(super) fn depth(cut: &FlatCut) -> Mm {
    match cut.operation {
        Operation::Pocket { depth } | Operation::Drill { depth: Some(depth), .. } => depth,
        _ => Mm::ZERO,
    }
}

/// Wood between two notches, and between a notch and an edge it does not open.
fn notches(piece: &Piece, min_web: Mm, webs: &mut Webs) {
    let size = piece.part.outline.contour.bounds();
    let bounds: Vec<Rect> = piece.notches.iter().map(|(_, c)| c.bounds()).collect();
    let wide = min_web.0.max(HARD_FLOOR.0);
    for (i, j) in neighbours(&bounds, wide) {
        let ((a, one), (b, other)) = (&piece.notches[i], &piece.notches[j]);
        let apart = one.distance_between(other);
        // Notches that touch were united.
        if apart > tolerance::SAME_POINT && !one.holds(other) && !other.holds(one) {
            webs.judge(Between { a, b, span: piece.part.span }, apart, min_web, Web::Through);
        }
    }
    for (((id, _), open), b) in piece.notches.iter().zip(&piece.opened).zip(&bounds) {
        let least = to_edges(size, *b, *open);
        if least > tolerance::SAME_POINT {
            webs.judge(Between { a: id, b: EDGE, span: piece.part.span }, least, min_web, Web::Through);
        }
    }
}

/// The least distance from a cut's bounds to an edge of the part that it does not open.
fn to_edges(part: Rect, cut: Rect, open: [bool; 4]) -> f64 {
    let gaps = [cut.y0 - part.y0, part.x1 - cut.x1, part.y1 - cut.y1, cut.x0 - part.x0];
    gaps.iter().zip(open).filter(|(_, open)| !open).map(|(gap, _)| *gap).fold(f64::INFINITY, f64::min)
}

fn cross(piece: &Piece, between: Between, findings: &mut Vec<Finding>) {
    let text = format!("`{}` and `{}` overlap (0 mm apart)", between.a, between.b);
    findings.push(
        Finding::stop(codes::CUTS_CROSS, text)
            .part(&piece.part.id)
            .at(between.span)
            .remedy("move them apart, or make them one cut"),
    );
}

pub(super) fn goes_through(cut: &FlatCut) -> bool {
    matches!(cut.operation, Operation::ThroughInside | Operation::Drill { depth: None, .. })
}

fn is_cone(cut: &FlatCut) -> bool {
    matches!(cut.operation, Operation::Countersink { .. })
}

/// Pairs of rectangles that come nearer to each other than `gap`, each pair once, in order.
pub(super) fn neighbours(bounds: &[Rect], gap: f64) -> Vec<(usize, usize)> {
    let mut order: Vec<usize> = (0..bounds.len()).collect();
    order.sort_by(|a, b| bounds[*a].x0.total_cmp(&bounds[*b].x0).then(a.cmp(b)));
    let mut pairs = Vec::new();
    let mut active: Vec<usize> = Vec::new();
    for i in order {
        let b = bounds[i];
        active.retain(|j| bounds[*j].x1 + gap >= b.x0);
        for &j in &active {
            if bounds[j].y0 <= b.y1 + gap && b.y0 <= bounds[j].y1 + gap {
                pairs.push((i.min(j), i.max(j)));
            }
        }
        active.push(i);
    }
    pairs.sort_unstable();
    pairs
}

/// Whether two contours share area or touch.
pub(super) fn overlap(a: &Contour, b: &Contour) -> bool {
    a.meets(b)
}

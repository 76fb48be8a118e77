//! Tabs held against what was planned: no longer, no higher, and as strong.
//!
//! Lengths are measured along the cutter's way, so that a bend of the edge counts as the cutter turned round it.

use super::band::{left, Band, Line};
use super::probe::Opening;
use super::strokes::Stroke;
use crate::proof::job::Held;
use crate::proof::limits;
use crate::proof::shape::Bounds;

/// Shorter stretches of an outline are the cusps between straight strokes, in mm.
pub(super) const CUSP: f64 = 0.3;

/// Lines in order as pieces that stand apart when only the way along the outline counts: two tabs may face each other over a narrow
/// place, nearer than a cutter's width, but along the way a cutter goes down to the floor between any two.
pub(super) fn pieces(lines: &[Line], apart: f64, around: f64) -> Vec<Vec<Line>> {
    let mut pieces: Vec<Vec<Line>> = Vec::new();
    for line in lines {
        let goes_on = |piece: &&mut Vec<Line>| {
            let end = piece.last().map_or(f64::NEG_INFINITY, |last| last.place + last.length());
            (line.place - end + CUSP).rem_euclid(around) < apart + CUSP
        };
        match pieces.last_mut().filter(goes_on) {
            Some(piece) => piece.push(*line),
            None => pieces.push(vec![*line]),
        }
    }
    pieces.retain(|piece| piece.iter().map(Line::length).sum::<f64>() > CUSP);
    pieces
}

/// How far a cutter's centre runs beside lines in order.
fn way(lines: &[Line], radius: f64) -> f64 {
    let straight: f64 = lines.iter().map(Line::length).sum();
    let meet = |pair: &&[Line]| (pair[1].place - pair[0].place - pair[0].length()).abs() < CUSP;
    let bends = lines.windows(2).filter(meet).map(|pair| radius * pair[0].bend(&pair[1])).sum::<f64>();
    straight + bends
}

/// How far a cutter that stops beside the edge reaches along it, the tolerance out from the part.
fn reach(radius: f64) -> f64 {
    (radius * radius - (radius - limits::CUT).max(0.0).powi(2)).max(0.0).sqrt()
}

/// What is wrong with a piece left beside the outline, against the tab planned there: in words, with the limit.
pub(super) fn fault(
    piece: &[Line],
    planned: &Held,
    band: &Band,
    strokes: &[Stroke],
    sheet: Bounds,
) -> Option<(String, String)> {
    let radius = band.radius;
    let open = 2.0 * (radius - reach(radius));
    let (foot, most) = (way(piece, radius), planned.way_mm - 2.0 * reach(radius) + limits::TAB);
    if foot > most {
        return Some((
            format!("{foot:.2} mm of its outline are not cut through at a tab"),
            format!("{most:.2} mm, as the tab is planned"),
        ));
    }
    let near = bounds(piece).grown(2.0 * radius);
    let near: Vec<&Stroke> = strokes.iter().filter(|s| s.bounds().grown(s.radius).meets(near)).collect();
    let stays = |height: f64| left(piece, &Opening::of(near.iter().map(|s| (*s, height))), sheet);
    let over = way(&stays(planned.height_mm + limits::FLOOR), radius);
    if over > CUSP {
        return Some((
            format!("{over:.2} mm of a tab are too high"),
            format!("{} mm, as the tab is planned", planned.height_mm),
        ));
    }
    let whole = stays(planned.height_mm - limits::FLOOR);
    let (whole, least) = (way(&whole, radius) + corners(&whole, band), planned.length_mm + open - limits::TAB);
    (whole < least).then(|| {
        (
            format!("a tab is {:.2} mm long at its height of {} mm", (whole - open).max(0.0), planned.height_mm),
            format!("{} mm, as it is planned", planned.length_mm),
        )
    })
}

/// How far the cutter's way goes round corners of the part at the two ends of a stretch, where no more of the edge belongs to it.
fn corners(lines: &[Line], band: &Band) -> f64 {
    let (Some(first), Some(last)) = (lines.first(), lines.last()) else { return 0.0 };
    let meets = |a: f64, b: f64| (b - a + CUSP).rem_euclid(band.around) < 2.0 * CUSP;
    let before = band.lines.iter().filter(|l| meets(l.place + l.length(), first.place)).map(|l| l.bend(first));
    let after = band.lines.iter().filter(|l| meets(last.place + last.length(), l.place)).map(|l| last.bend(l));
    band.radius * (before.fold(0.0, f64::max) + after.fold(0.0, f64::max))
}

pub(super) fn bounds(lines: &[Line]) -> Bounds {
    let mut bounds = Bounds::empty();
    for line in lines {
        bounds.add(line.a);
        bounds.add(line.b);
    }
    bounds
}

/// How long a piece of a slug's rim may be when it is measured by its area: the ends are as round as the cutter.
pub(super) fn along_rim(planned: &Held, radius: f64) -> f64 {
    planned.way_mm - std::f64::consts::FRAC_PI_2 * radius + limits::TAB
}

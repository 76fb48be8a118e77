//! Which way the flutes run, marked on every part of card: loose on the bench, nobody sees it any more.

use super::web::is_line;
use super::{codes, FlatCut, FlatPart, PartGrain};
use crate::design::Design;
use crate::diag::Finding;
use crate::geom::{Contour, Point, Rect};
use crate::shop::Material;

/// Length and width of the mark, in mm. Common practice, no source.
const MARK: (f64, f64) = (12.0, 1.0);
/// Distance kept from everything else, in mm.
const CLEAR: f64 = 2.0;
/// Places tried each way.
const STEPS: u32 = 9;

/// Marks the parts of a mock-up; what has no room for the mark is said.
pub(super) fn mark(design: &Design, parts: &mut [FlatPart], found: &mut Vec<Finding>) {
    if design.mock_up.is_none() {
        return;
    }
    let mut bare = Vec::new();
    for part in parts {
        let card = design.boards.get(part.board.0).is_some_and(|b| b.profile.material == Material::Card);
        if !card || part.grain == PartGrain::Any {
            continue;
        }
        match place(part) {
            Some(contour) => part.cuts.insert(0, FlatCut::mark(contour, "flutes".to_owned())),
            None => bare.push(part.id.clone()),
        }
    }
    if !bare.is_empty() {
        let text = format!("{} parts have no room for the mark of their flutes", bare.len());
        let mut finding = Finding::note(codes::FLUTES_NOT_MARKED, text).remedy("draw it by hand before they leave the bed");
        for id in bare {
            finding = finding.part(id);
        }
        found.push(finding);
    }
}

/// A narrow mark along the flutes, as near the part's middle as it lies clear.
fn place(part: &FlatPart) -> Option<Contour> {
    let b = part.outline.contour.bounds();
    let along_x = part.grain == PartGrain::AlongX;
    let (half_x, half_y) = if along_x { (MARK.0 / 2.0, MARK.1 / 2.0) } else { (MARK.1 / 2.0, MARK.0 / 2.0) };
    let step = |i: u32| f64::from(2 * i + 1) / f64::from(2 * STEPS);
    let mut places: Vec<Point> = (0..STEPS * STEPS)
        .map(|k| Point::new(b.x0 + b.width() * step(k % STEPS), b.y0 + b.height() * step(k / STEPS)))
        .collect();
    places.sort_by(|p, q| p.distance(b.center()).total_cmp(&q.distance(b.center())));
    let clear = |p: &Point| {
        let around = Rect::new(p.x - half_x, p.y - half_y, p.x + half_x, p.y + half_y).inflate(CLEAR, CLEAR);
        let box_line = Contour::rect(around).ok()?;
        let free = part.outline.contour.holds(&box_line) && !part.outline.contour.crosses(&box_line);
        let met = |c: &FlatCut| {
            let other = c.contour.bounds();
            // A mark may lie in another mark's shape, not on its line.
            let apart = other.x1 < around.x0 || other.x0 > around.x1 || other.y1 < around.y0 || other.y0 > around.y1;
            !(apart || is_line(c) && c.contour.holds(&box_line) && !c.contour.crosses(&box_line))
        };
        (free && !part.cuts.iter().any(met)).then_some(*p)
    };
    let at = places.iter().find_map(clear)?;
    let (from, to) = if along_x {
        (Point::new(at.x - half_x + half_y, at.y), Point::new(at.x + half_x - half_y, at.y))
    } else {
        (Point::new(at.x, at.y - half_y + half_x), Point::new(at.x, at.y + half_y - half_x))
    };
    Contour::obround(from, to, MARK.1).ok()
}

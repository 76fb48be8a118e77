//! A part's true shape as rectangles that cover it, for the engine.
//!
//! The outline (and, when parts may lie in openings, the openings) is cut into level slabs, each covered from its leftmost to
//! its rightmost point. Of what stays free the largest rectangles that could take another part are kept, and the cover is the
//! rest: never smaller than the part, and a plain rectangle for most.

use super::engine::{self, Shape};
use crate::geom::tolerance;
use crate::geom::Contour;
use crate::geom::Point;
use crate::geom::Rect;

/// Most free rectangles kept for one part.
const MOST: usize = 20;
/// A free rectangle under this share of the part's rectangle is not worth its trouble.
const LEAST_SHARE: f64 = 0.01;
/// A step of the stairs under this share is not worth it.
const FINE_SHARE: f64 = 0.003;
/// Stairs on a slope as long as the part.
const STAIRS: f64 = 48.0;

/// The rectangles that cover a part, in steps from its lower left corner; `None` when it is as good as a rectangle.
///
/// `least` is the smallest opening, in steps, that could take another part.
pub(super) fn cover(
    outline: &Contour,
    openings: &[&Contour],
    size: [i64; 2],
    steps_per_mm: f64,
    least: i64,
) -> Option<Shape> {
    let bounds = outline.bounds();
    let lines: Vec<Vec<Point>> =
        std::iter::once(outline).chain(openings.iter().copied()).map(|c| c.flattened(tolerance::NEST_STAIRCASE)).collect();
    // A chord may run inside a bulging arc by the flattening; the free rectangles are drawn in by as much on every side.
    let round =
        std::iter::once(outline).chain(openings.iter().copied()).any(|c| c.vertices().iter().any(|v| v.bulge != 0.0));
    let guard = if round { (tolerance::NEST_STAIRCASE * steps_per_mm).ceil() as i64 + 1 } else { 0 };
    let steps = |lines: &[Vec<Point>]| -> Vec<[i64; 4]> {
        let down = |v: f64| ((v + tolerance::SAME_POINT) * steps_per_mm).floor() as i64;
        let up = |v: f64| ((v - tolerance::SAME_POINT) * steps_per_mm).ceil() as i64;
        slabs(lines, bounds)
            .into_iter()
            .map(|r| [down(r.x0 - bounds.x0), down(r.y0 - bounds.y0), up(r.x1 - bounds.x0), up(r.y1 - bounds.y0)])
            .collect()
    };
    let mut taken = steps(&lines);
    let whole = size[0] as f64 * size[1] as f64;
    let mut free = Vec::new();
    // First what could take a part on its own; then, outside the outline, also narrower steps: two stairs go into each other.
    for (share, least) in [(LEAST_SHARE, least), (FINE_SHARE, 1)] {
        if share < LEAST_SHARE {
            taken.extend(steps(&lines[..1]));
        }
        while free.len() < MOST {
            let area = |r: &[i64; 4]| (r[2] - r[0]) * (r[3] - r[1]);
            let Some(largest) =
                engine::free_rectangles(size, &taken, least + 2 * guard).into_iter().max_by_key(|r| (area(r), *r))
            else {
                break;
            };
            if (area(&largest) as f64) < share * whole {
                break;
            }
            taken.push(largest);
            // At the rectangle's own border nothing bulges.
            let drawn = |v: i64, end: i64, by: i64| if v == 0 || v == end { v } else { v + by };
            free.push([
                drawn(largest[0], size[0], guard),
                drawn(largest[1], size[1], guard),
                drawn(largest[2], size[0], -guard),
                drawn(largest[3], size[1], -guard),
            ]);
        }
        if free.is_empty() {
            break;
        }
    }
    if free.is_empty() {
        return None;
    }
    Some(Shape { cover: engine::free_rectangles(size, &free, 1) })
}

/// What closed lines enclose (inside one but not the next), as rectangles that cover it slab by slab.
fn slabs(lines: &[Vec<Point>], bounds: Rect) -> Vec<Rect> {
    let mut ys: Vec<f64> = lines.iter().flatten().map(|p| p.y).chain([bounds.y0, bounds.y1]).collect();
    // A sloping edge is followed in stairs.
    let step = bounds.width().max(bounds.height()) / STAIRS;
    for (a, b) in lines.iter().flat_map(|l| l.iter().zip(l.iter().cycle().skip(1)).take(l.len())) {
        let stairs = ((a.x - b.x).abs().min((a.y - b.y).abs()) / step).floor();
        ys.extend((1..stairs as usize).map(|k| a.y + (b.y - a.y) * k as f64 / stairs));
    }
    ys.sort_by(f64::total_cmp);
    ys.dedup_by(|a, b| (*a - *b).abs() < tolerance::SAME_POINT);
    let edges: Vec<(Point, Point)> =
        lines.iter().flat_map(|l| l.iter().copied().zip(l.iter().copied().cycle().skip(1)).take(l.len())).collect();
    let mut rects = Vec::new();
    for y in ys.windows(2) {
        let (low, high) = (y[0], y[1]);
        let middle = f64::midpoint(low, high);
        // Where each edge crosses the middle of the slab, and how far it reaches to both sides within it.
        let mut crossings: Vec<(f64, f64, f64)> = edges
            .iter()
            .filter(|(a, b)| (a.y <= middle) != (b.y <= middle))
            .map(|(a, b)| {
                let at = |y: f64| a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y)).clamp(0.0, 1.0);
                (at(middle), at(low).min(at(high)), at(low).max(at(high)))
            })
            .collect();
        crossings.sort_by(|a, b| a.0.total_cmp(&b.0));
        for pair in crossings.chunks_exact(2) {
            rects.push(Rect::new(pair[0].1, low, pair[1].2, high));
        }
    }
    rects
}

//! What a cutter reaches of an opening, made once for openings of one shape.

use super::area;
use super::target::Cut;
use crate::proof::limits;
use crate::proof::shape::{segment_distance, Pt, Ring};
use clipper2_rust::Paths64;
use std::collections::BTreeMap;

/// What the corner of an opening may keep beyond the cutter's own round: offsets of straight-line copies need room.
const CORNER: f64 = 0.02;
/// Grid steps within which two outlines are one shape: a micrometre.
const SAME: i64 = 10;

/// A shape seen from its first point, the cutter's radius in micrometres, and whether it is cut through.
type Key = (Vec<[i64; 2]>, i64, bool);

/// Shapes seen so far: the area to be opened and the slug, from the shape's first point.
#[derive(Debug, Default)]
pub(super) struct Shapes(BTreeMap<Key, (Paths64, Paths64)>);

impl Shapes {
    /// What a cutter must open of a cut, drawn in by the tolerance, and the slug it leaves in the middle of a through cut.
    pub(super) fn reached(&mut self, cut: &Cut<'_>, radius: Option<f64>) -> (Paths64, Paths64) {
        let through = cut.depth.is_none();
        let round = cut.contour.ring.as_circle().filter(|_| cut.area.len() == 1);
        if let (Some(radius), Some(round)) = (radius, round) {
            return circle(round, radius, through);
        }
        let Some(first) = cut.area.first().and_then(|path| path.first()).copied() else {
            return (Paths64::new(), Paths64::new());
        };
        let coarse = |v: i64| (v + SAME / 2).div_euclid(SAME);
        let outline = cut.area.iter().flatten().map(|p| [coarse(p.x - first.x), coarse(p.y - first.y)]).collect();
        let key = (outline, radius.map_or(-1, |r| (r * 1000.0).round() as i64), through);
        let (area, slug) = self.0.entry(key).or_insert_with(|| {
            let (area, slug) = reached(&cut.area, radius, through);
            (area::moved(&area, -first.x, -first.y), area::moved(&slug, -first.x, -first.y))
        });
        (area::moved(area, first.x, first.y), area::moved(slug, first.x, first.y))
    }
}

fn circle((centre, size): (crate::proof::shape::Pt, f64), radius: f64, through: bool) -> (Paths64, Paths64) {
    let round = |r: f64| if r > 0.0 { area::of(&Ring::circle(centre, r)) } else { Paths64::new() };
    let slug = if through { size - (2.0 * radius - 2.0 * limits::CUT) } else { 0.0 };
    let mut area = round(size - limits::CUT);
    if slug <= 0.0 {
        return (area, Paths64::new());
    }
    for mut path in round(slug + limits::CUT) {
        path.reverse();
        area.push(path);
    }
    (area, round(slug))
}

fn reached(whole: &Paths64, radius: Option<f64>, through: bool) -> (Paths64, Paths64) {
    let Some(radius) = radius else { return (area::squared(whole, -limits::CUT), Paths64::new()) };
    let entered = area::grown(whole, CORNER - radius);
    let reach = if entered.is_empty() {
        whole.clone()
    } else {
        let reach = area::both(&area::grown(&entered, radius - CORNER), whole);
        let passages = passages(whole, &entered, &reach, radius);
        if passages.is_empty() {
            reach
        } else {
            area::union(&[reach, passages].concat())
        }
    };
    let slug = if through { area::grown(whole, -(2.0 * radius - 2.0 * limits::CUT)) } else { Paths64::new() };
    (area::squared(&area::minus(&reach, &slug), -limits::CUT), slug)
}

/// What the cutter does not reach of an opening and is not the round of a corner: passages too narrow for it, which are to be
/// opened all the same, by whatever cutter.
fn passages(whole: &Paths64, entered: &Paths64, reach: &Paths64, radius: f64) -> Paths64 {
    let corners = corners(whole);
    let narrow = |piece: &Paths64| {
        let bounds = area::bounds(piece);
        let longest = (bounds.max.x - bounds.min.x).max(bounds.max.y - bounds.min.y);
        let size = area::size(piece);
        if size <= limits::CUT * longest {
            return false;
        }
        let near = bounds.grown(limits::CUT);
        let kept = |c: &&(Pt, f64)| {
            near.holds(c.0) && area::edges(piece).any(|(a, b)| segment_distance(c.0, a, b, 0.0) < limits::CUT)
        };
        let kept: f64 = corners.iter().filter(kept).map(|c| c.1).sum::<f64>() * radius * radius;
        if size > BOW_SPARE * kept {
            return true;
        }
        // In a corner the cutter stops in one place, at a passage on either side of it.
        let stops = area::both(entered, &area::grown(piece, radius));
        area::pieces(&area::grown(&stops, APART)).len() > 1
    };
    area::pieces(&area::minus(whole, reach)).into_iter().filter(narrow).flatten().collect()
}

/// How much more than the corner between two straight sides one between bows may keep.
const BOW_SPARE: f64 = 2.0;
/// Places where a cutter stops lie farther apart than twice this, in mm, on the two sides of a passage it does not get through.
const APART: f64 = 0.2;
/// A turn of an outline sharper than this is a corner, and not one of an arc's chords, radians.
const SHARP: f64 = 0.44;

/// The corners that an opening runs into, each with what a round cutter leaves in it over the square of its radius: for a turn by
/// `t` it is tan(t/2) - t/2.
fn corners(whole: &Paths64) -> Vec<(Pt, f64)> {
    let mut corners = Vec::new();
    // Outer paths run counter-clockwise and holes clockwise, the opening on the left of both.
    for path in whole {
        let edges: Vec<(Pt, Pt)> = area::edges(&vec![path.clone()]).collect();
        for (k, (at, to)) in edges.iter().enumerate() {
            let (from, _) = edges[(k + edges.len() - 1) % edges.len()];
            let (u, v) = ((at.x - from.x, at.y - from.y), (to.x - at.x, to.y - at.y));
            let turn = (u.0 * v.1 - u.1 * v.0).atan2(u.0 * v.0 + u.1 * v.1);
            if turn > SHARP {
                corners.push((*at, (turn / 2.0).tan() - turn / 2.0));
            }
        }
    }
    corners
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::proof::shape::Corner;

    fn rect(w: f64, h: f64) -> Paths64 {
        let corner = |(x, y)| Corner { at: Pt::new(x, y), bulge: 0.0 };
        area::of(&Ring([(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)].map(corner).to_vec()))
    }

    /// What a cutter of 6.35 mm must open of a pocket of 75 x 60 mm with a round island, and all that is not the island.
    fn beside(middle: Pt, island: f64) -> (f64, f64) {
        let whole = area::minus(&rect(75.0, 60.0), &area::of(&Ring::circle(middle, island)));
        (area::size(&reached(&whole, Some(3.175), false).0), area::size(&area::squared(&whole, -limits::CUT)))
    }

    #[test]
    fn only_corners_may_stay() {
        // Four square corners keep 0.215 r² each.
        for middle in [Pt::new(37.0, 30.0), Pt::new(10.0, 30.0)] {
            let (open, all) = beside(middle, 3.5);
            assert!((all - open - 4.0 * 0.215 * 3.175 * 3.175).abs() < 0.5, "{open} of {all}");
        }
    }

    #[test]
    fn a_passage_too_narrow_for_the_cutter_is_to_be_opened() {
        // 5.875 and 6.2 mm between island and wall: nothing may stay there.
        for x in [9.375, 9.7] {
            let (open, all) = beside(Pt::new(x, 30.0), 3.5);
            assert!((all - open - 4.0 * 0.215 * 3.175 * 3.175).abs() < 0.5, "{open} of {all}");
        }
    }
}

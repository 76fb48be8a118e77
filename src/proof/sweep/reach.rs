//! What a cutter reaches of an opening, made once for openings of one shape.

use super::area;
use super::target::Cut;
use crate::proof::limits;
use crate::proof::shape::Ring;
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
    let reach = if entered.is_empty() { whole.clone() } else { area::both(&area::grown(&entered, radius - CORNER), whole) };
    let slug = if through { area::grown(whole, -(2.0 * radius - 2.0 * limits::CUT)) } else { Paths64::new() };
    (area::squared(&area::minus(&reach, &slug), -limits::CUT), slug)
}

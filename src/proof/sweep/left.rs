//! Nothing is left in openings, holes and pockets but what a round cutter must leave, slugs and their tabs.

use super::area;
use super::laid::{Laid, Spot};
use super::probe::{self, Opening, Probes};
use super::strokes::{through, Run, Stroke};
use super::tabs;
use super::target::{Cut, Target};
use crate::diag::{Code, Finding};
use crate::proof::codes;
use crate::proof::fault::quoted;
use crate::proof::job::Side;
use crate::proof::limits;
use crate::proof::shape::{segment_distance, Pt};
use crate::proof::verdict::Rule;
use clipper2_rust::Paths64;
use std::collections::BTreeMap;

/// Bridges wider than this over a slug are no tabs; shares of the sheet's thickness.
pub(super) const TAB_SHARE: f64 = 0.8;

/// The rules of this file.
#[derive(Debug)]
pub(super) struct Left {
    pub(super) opening: Rule,
    pub(super) floor: Rule,
}

/// What is needed of a cut, by cut and cutter radius in micrometres; the same for all copies of a part.
pub(super) type Needs = BTreeMap<(usize, i64), Need>;

/// What a cutter of one radius must open of one cut.
#[derive(Clone, Debug)]
pub(super) struct Need {
    /// To be open, drawn in by the tolerance.
    area: Paths64,
    /// Whether a slug is left in the middle.
    pub(super) slug: Paths64,
    probes: Probes,
}

/// Distances of the lines along and across which an opening or a floor is looked at, in mm.
pub(super) const FINE: [f64; 2] = [0.5, 2.0];
/// The same where one run of the cutter makes the whole width.
const BAND: [f64; 2] = [2.0, 2.0];

/// What was opened around one part: through, and at each depth of each side.
#[derive(Debug)]
pub(super) struct Opened {
    pub(super) through: Opening,
    depths: Vec<(Side, f64, Opening)>,
}

impl Opened {
    /// All that opens a cut.
    pub(super) fn of(&self, cut: &Cut<'_>) -> Vec<&Opening> {
        let depth = self.depths.iter().find(|(side, depth, _)| *side == cut.contour.side && Some(*depth) == cut.depth);
        depth.map(|(_, _, opening)| opening).into_iter().chain([&self.through]).collect()
    }
}

impl Left {
    pub(super) fn new() -> Self {
        Self {
            opening: Rule::measuring(codes::LEFTOVER, "openings and holes", limits::SPECK_MM2, "mm2 left"),
            floor: Rule::measuring(codes::FLOOR, "pockets and blind holes", limits::FLOOR, "mm off the depth"),
        }
    }

    /// Checks one copy; `skin` says that the part is held by a skin, so that slugs may be as well.
    pub(super) fn check(&mut self, laid: &Laid<'_>, needs: &mut Needs, skin: bool, hold: &mut Rule) {
        let Laid { target, strokes, runs, opened, spot, .. } = *laid;
        let smallest = strokes.iter().map(|s| s.radius).fold(f64::INFINITY, f64::min);
        for (index, cut) in target.cuts.iter().enumerate() {
            if cut.depth.is_some() {
                self.blind(laid, index, cut, needs);
                continue;
            }
            self.opening.count(1);
            self.opening.figure(0.0, || "nowhere".to_owned());
            let reached = |s: &&Stroke| s.low() <= through(&runs[s.program]);
            let radius = inside(cut, strokes).filter(reached).map(|s| s.radius).fold(f64::INFINITY, f64::min);
            let radius = if radius.is_finite() { radius } else { smallest };
            let need = need(needs, index, cut, radius, target);
            let openings = [&opened.through];
            let left = probe::left(&need.area, &need.probes.gaps(&openings), &openings, room(radius));
            let pieces: Vec<(Paths64, f64)> =
                area::pieces(&left).into_iter().map(|p| (area::size(&p), p)).map(swap).collect();
            let sum: f64 = pieces.iter().map(|(_, size)| size).sum();
            let planned = alone(target, cut).then(|| laid.held(&cut.contour.feature)).flatten();
            let longest = planned.map_or(f64::INFINITY, |p| tabs::along_rim(p, radius)).min(limits::TAB_LENGTH_MAX);
            // A slug may hang on tabs; what is longer is an opening that was not cut through. Where the middle is gone there is no
            // slug, and what stays is a rim.
            let slug = (sum > limits::SPECK_MM2 || planned.is_some()) && stands(&need.slug, &opened.through);
            let mut tabs = 0;
            let hangs = slug && sum <= limits::TAB_SHARE_MAX * area::size(&need.area);
            for (piece, size) in pieces {
                let feature = || format!("{}, feature {}", spot.words(), quoted(&cut.contour.feature));
                if size <= limits::SPECK_MM2 {
                    self.opening.figure(size, feature);
                    continue;
                }
                let length = size / (2.0 * radius - 4.0 * limits::CUT);
                if hangs && length <= longest && is_tab(&piece, strokes, runs) {
                    tabs += 1;
                    continue;
                }
                if slug && skin && is_skin(&piece, strokes) {
                    continue;
                }
                self.opening.figure(size, feature);
                self.opening.fault(|code| stays(code, cut, &piece, size, spot));
            }
            if let Some(planned) = planned.filter(|planned| hangs && tabs != planned.tabs) {
                hold.fault(|code| {
                    let (spot_words, feature) = (spot.words(), quoted(&cut.contour.feature));
                    let planned = planned.tabs;
                    let message =
                        format!("{spot_words}, feature {feature}: {tabs} tabs are left where {planned} are planned");
                    Finding::stop(code, message).part(spot.part)
                });
            }
        }
    }

    fn blind(&mut self, laid: &Laid<'_>, index: usize, cut: &Cut<'_>, needs: &mut Needs) {
        let Laid { target, strokes, runs, opened, spot, .. } = *laid;
        self.floor.count(1);
        let depth = cut.depth.unwrap_or(0.0);
        let mine: Vec<&Stroke> = inside(cut, strokes).filter(|s| s.side == cut.contour.side).collect();
        let off = |s: &Stroke| runs[s.program].program.thickness_mm - depth - s.low();
        let radius = mine.iter().filter(|s| off(s) >= -limits::FLOOR).map(|s| s.radius).fold(f64::INFINITY, f64::min);
        let deepest = mine.iter().map(|s| off(s)).fold(f64::NEG_INFINITY, f64::max);
        let feature = || format!("{}, feature {}", spot.words(), quoted(&cut.contour.feature));
        if deepest.is_finite() && deepest < limits::CUT + depth {
            self.floor.figure(deepest.abs(), feature);
        }
        let radius =
            if radius.is_finite() { radius } else { strokes.iter().map(|s| s.radius).fold(f64::INFINITY, f64::min) };
        let need = need(needs, index, cut, radius, target);
        let openings = opened.of(cut);
        let left = probe::left(&need.area, &need.probes.gaps(&openings), &openings, room(radius));
        let size = area::pieces(&left).iter().map(area::size).filter(|s| *s > limits::SPECK_MM2).sum::<f64>();
        if size > 0.0 {
            self.floor.fault(|code| {
                let at = area::bounds(&left);
                let place = format!("near ({:.2}, {:.2})", at.min.x, at.min.y);
                Finding::stop(code, format!("{}: {size:.2} mm2 of its floor are not cut to {depth} mm {place}", feature()))
                    .limit(format!("{} mm, this project's own", limits::FLOOR))
                    .part(spot.part)
            });
        }
    }
}

/// Whether no other opening of the part goes by the same name.
fn alone(target: &Target<'_>, cut: &Cut<'_>) -> bool {
    target.cuts.iter().filter(|c| c.depth.is_none() && c.contour.feature == cut.contour.feature).count() == 1
}

/// Whether something of a slug is left to hang on tabs.
fn stands(slug: &Paths64, through: &Opening) -> bool {
    !slug.is_empty() && area::size(&area::minus(slug, &through.area(&[area::bounds(slug)]))) > limits::SPECK_MM2
}

fn swap((size, piece): (f64, Paths64)) -> (Paths64, f64) {
    (piece, size)
}

/// How far about a gap the wood that is left is looked at.
pub(super) fn room(radius: f64) -> f64 {
    if radius.is_finite() {
        2.0 * radius
    } else {
        1.0
    }
}

/// Wood that stays in an opening.
fn stays(code: Code, cut: &Cut<'_>, piece: &Paths64, size: f64, spot: Spot<'_>) -> Finding {
    let at = area::bounds(piece);
    let middle = Pt::new(f64::midpoint(at.min.x, at.max.x), f64::midpoint(at.min.y, at.max.y));
    let (spot_words, feature) = (spot.words(), quoted(&cut.contour.feature));
    let place = format!("near ({:.2}, {:.2})", middle.x, middle.y);
    Finding::stop(code, format!("{spot_words}: {size:.2} mm2 of wood stay in feature {feature} {place}"))
        .limit(format!("{} mm2 after {} mm are allowed at every wall, this project's own", limits::SPECK_MM2, limits::CUT))
        .part(spot.part)
}

/// Strokes whose middle lies in a cut.
fn inside<'s>(cut: &'s Cut<'_>, strokes: &'s [Stroke]) -> impl Iterator<Item = &'s Stroke> + 's {
    strokes.iter().filter(|s| {
        let middle = s.at(0.5);
        cut.bounds.holds(middle) && area::holds(&cut.area, middle)
    })
}

/// What must be opened of a cut: all but round corners, the slug that a cutter leaves in the middle, and what lies off the part.
pub(super) fn need<'n>(needs: &'n mut Needs, index: usize, cut: &Cut<'_>, radius: f64, target: &Target<'_>) -> &'n Need {
    let key = if radius.is_finite() { (radius * 1000.0).round() as i64 } else { -1 };
    needs.entry((index, key)).or_insert_with(|| {
        let radius = if key < 0 { None } else { Some(radius) };
        let (mut area, slug) = target.shapes.borrow_mut().reached(cut, radius);
        let on_part =
            area::edges(&cut.area).all(|(a, b)| target.edge.holds(a) && target.edge.distance(a, b, limits::CUT).is_none());
        if !on_part && radius.is_some() {
            area = area::both(&area, &target.outline);
        }
        let probes = Probes::of(&area, if slug.is_empty() { FINE } else { BAND });
        Need { area, slug, probes }
    })
}

/// Whether a piece is thinner than the sheet everywhere: something was cut over every point of it, as far as a fine grid can say.
///
/// The passes over a tab lie on top of one another, which a polygon library is slow to unite; looking at points is not.
fn is_tab(piece: &Paths64, strokes: &[Stroke], runs: &[Run<'_>]) -> bool {
    let reach = area::bounds(piece);
    let cut_over = |s: &Stroke| {
        let near = s.bounds().grown(s.radius).meets(reach);
        let (from, to) = s.between(f64::NEG_INFINITY, TAB_SHARE * runs[s.program].program.thickness_mm).filter(|_| near)?;
        Some((s.at(from), s.at(to), s.radius + limits::SLIVER))
    };
    let over: Vec<(Pt, Pt, f64)> = strokes.iter().filter_map(cut_over).collect();
    let covered = |p: Pt| over.iter().any(|(a, b, radius)| segment_distance(p, *a, *b, 0.0) <= *radius);
    area::samples(piece, PITCH).into_iter().all(covered)
}

/// How fine a piece is looked at, in mm: less than the width of any cutter.
const PITCH: f64 = 1.0;

/// What was opened around one part.
pub(super) fn open(target: &Target<'_>, strokes: &[Stroke], runs: &[Run<'_>]) -> Opened {
    let through = Opening::of(strokes.iter().map(|s| (s, through(&runs[s.program]))));
    let mut depths: Vec<(Side, f64, Opening)> = Vec::new();
    for cut in &target.cuts {
        let (Some(depth), side) = (cut.depth, cut.contour.side) else { continue };
        if depths.iter().any(|(s, d, _)| *s == side && *d == depth) {
            continue;
        }
        let reach: Vec<_> =
            target.cuts.iter().filter(|c| c.depth == Some(depth) && c.contour.side == side).map(|c| c.bounds).collect();
        let near = strokes.iter().filter(|s| s.side == side && reach.iter().any(|b| s.bounds().grown(s.radius).meets(*b)));
        let floor = |s: &Stroke| runs[s.program].program.thickness_mm - depth + limits::FLOOR;
        depths.push((side, depth, Opening::of(near.map(|s| (s, floor(s))))));
    }
    Opened { through, depths }
}

/// Whether all that is left is a thin floor.
fn is_skin(left: &Paths64, strokes: &[Stroke]) -> bool {
    let reach = area::bounds(left);
    let near = strokes.iter().filter(|s| s.bounds().grown(s.radius).meets(reach));
    let thin = Opening::of(near.map(|s| (s, limits::SKIN_MAX)));
    let thick = area::minus(left, &thin.area(&[reach]));
    area::pieces(&thick).iter().map(area::size).all(|s| s <= limits::SPECK_MM2)
}

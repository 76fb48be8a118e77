//! Nothing is left in openings, holes and pockets but what a round cutter must leave, slugs and their tabs.

use super::area;
use super::cover::opened;
use super::laid::Laid;
use super::outline::is_skin;
use super::strokes::{through, Run, Stroke};
use super::target::{Cut, Target};
use crate::diag::Finding;
use crate::proof::codes;
use crate::proof::fault::quoted;
use crate::proof::limits;
use crate::proof::shape::{segment_distance, Pt};
use crate::proof::verdict::Rule;
use clipper2_rust::Paths64;
use std::collections::BTreeMap;

/// Bridges wider than this over a slug are no tabs; shares of the sheet's thickness.
pub(super) const TAB_SHARE: f64 = 0.8;
/// What the corner of an opening may keep beyond the cutter's own round: offsets of straight-line copies need room.
const CORNER: f64 = 0.02;

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
}

/// What was opened around one part: through, and at each depth of each side.
#[derive(Debug)]
pub(super) struct Opened {
    pub(super) through: Paths64,
    pub(super) blind: Vec<(usize, Paths64)>,
}

impl Left {
    pub(super) fn new() -> Self {
        Self {
            opening: Rule::measuring(codes::LEFTOVER, "openings and holes", limits::SPECK_MM2, "mm2 left"),
            floor: Rule::measuring(codes::FLOOR, "pockets and blind holes", limits::FLOOR, "mm off the depth"),
        }
    }

    /// Checks one copy; `skin` says that the part is held by a skin, so that slugs may be as well.
    pub(super) fn check(&mut self, laid: &Laid<'_>, needs: &mut Needs, skin: bool) {
        let Laid { target, strokes, runs, opened, spot, .. } = *laid;
        let smallest = strokes.iter().map(|s| s.radius).fold(f64::INFINITY, f64::min);
        let mut wanted = Paths64::new();
        let mut radii = vec![smallest; target.cuts.len()];
        for (index, cut) in target.cuts.iter().enumerate() {
            if cut.depth.is_some() {
                self.blind(laid, index, cut, needs);
                continue;
            }
            self.opening.count(1);
            let reached = |s: &&Stroke| s.low() <= through(&runs[s.program]);
            let radius = inside(cut, strokes).filter(reached).map(|s| s.radius).fold(f64::INFINITY, f64::min);
            let radius = if radius.is_finite() { radius } else { smallest };
            radii[index] = radius;
            wanted.extend(need(needs, index, cut, radius, &target.outline).area.clone());
        }
        let left = area::minus(&wanted, &opened.through);
        self.opening.figure(0.0, || "nowhere".to_owned());
        let pieces = area::pieces(&left);
        let mut sums = vec![0.0; target.cuts.len()];
        for piece in &pieces {
            if let Some(index) = cut_of(target, piece) {
                sums[index] += area::size(piece);
            }
        }
        for piece in pieces {
            let size = area::size(&piece);
            if size <= limits::SPECK_MM2 {
                self.opening.figure(size, || spot.words());
                continue;
            }
            let at = area::bounds(&piece);
            let middle = Pt::new(f64::midpoint(at.min.x, at.max.x), f64::midpoint(at.min.y, at.max.y));
            let Some(index) = cut_of(target, &piece) else {
                self.opening.fault(|code| {
                    Finding::stop(code, format!("{}: {size:.2} mm2 of wood stay in an opening", spot.words()))
                        .part(spot.part)
                });
                continue;
            };
            let cut = &target.cuts[index];
            let need = need(needs, index, cut, radii[index], &target.outline);
            let (slug, whole) = (!need.slug.is_empty(), area::size(&need.area));
            // A slug may hang on tabs; what is longer is an opening that was not cut through.
            let length = size / (2.0 * radii[index] - 4.0 * limits::CUT);
            if slug
                && length <= limits::TAB_LENGTH_MAX
                && sums[index] <= limits::TAB_SHARE_MAX * whole
                && is_tab(&piece, strokes, runs)
            {
                continue;
            }
            if slug && skin && is_skin(&piece, strokes) {
                continue;
            }
            self.opening.figure(size, || format!("{}, feature {}", spot.words(), quoted(&cut.contour.feature)));
            self.opening.fault(|code| {
                let feature = quoted(&cut.contour.feature);
                Finding::stop(
                    code,
                    format!(
                        "{}: {size:.2} mm2 of wood stay in feature {feature} near ({:.2}, {:.2})",
                        spot.words(),
                        middle.x,
                        middle.y
                    ),
                )
                .limit(format!(
                    "{} mm2 after {} mm are allowed at every wall, this project's own",
                    limits::SPECK_MM2,
                    limits::CUT
                ))
                .part(spot.part)
            });
        }
    }

    fn blind(&mut self, laid: &Laid<'_>, index: usize, cut: &Cut<'_>, needs: &mut Needs) {
        let Laid { target, strokes, runs, opened, spot, .. } = *laid;
        let open = opened.blind.iter().find(|(i, _)| *i == index).map(|(_, open)| open);
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
        let need = need(needs, index, cut, radius, &target.outline).area.clone();
        let left = open.map_or_else(|| need.clone(), |open| area::minus(&need, open));
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

/// The through cut that a piece of wood stands in; the smallest where several hold it.
fn cut_of(target: &Target<'_>, piece: &Paths64) -> Option<usize> {
    let at = area::bounds(piece);
    let middle = Pt::new(f64::midpoint(at.min.x, at.max.x), f64::midpoint(at.min.y, at.max.y));
    let around =
        target.cuts.iter().enumerate().filter(|(_, c)| c.depth.is_none() && c.bounds.grown(limits::CUT).holds(middle));
    around.min_by(|a, b| area::size(&a.1.area).total_cmp(&area::size(&b.1.area))).map(|(index, _)| index)
}

/// Strokes whose middle lies in a cut.
fn inside<'s>(cut: &'s Cut<'_>, strokes: &'s [Stroke]) -> impl Iterator<Item = &'s Stroke> + 's {
    strokes.iter().filter(|s| {
        let middle = s.at(0.5);
        cut.bounds.holds(middle) && area::holds(&cut.area, middle)
    })
}

/// What must be opened of a cut: all but round corners, the slug that a cutter leaves in the middle, and what lies off the part.
pub(super) fn need<'n>(needs: &'n mut Needs, index: usize, cut: &Cut<'_>, radius: f64, outline: &Paths64) -> &'n Need {
    let key = if radius.is_finite() { (radius * 1000.0).round() as i64 } else { -1 };
    needs.entry((index, key)).or_insert_with(|| {
        if key < 0 {
            return Need { area: area::squared(&cut.area, -limits::CUT), slug: Paths64::new() };
        }
        let entered = area::grown(&cut.area, CORNER - radius);
        let reach = if entered.is_empty() {
            cut.area.clone()
        } else {
            area::both(&area::grown(&entered, radius - CORNER), &cut.area)
        };
        let slug =
            if cut.depth.is_none() { area::grown(&cut.area, -(2.0 * radius - 2.0 * limits::CUT)) } else { Paths64::new() };
        let band = area::minus(&reach, &slug);
        let area = area::both(&area::squared(&band, -limits::CUT), outline);
        Need { area, slug }
    })
}

/// Whether a piece is thinner than the sheet everywhere: something was cut over every point of it, as far as a fine grid can say.
///
/// The passes over a tab lie on top of one another, which a polygon library is slow to unite; looking at points is not.
pub(super) fn is_tab(piece: &Paths64, strokes: &[Stroke], runs: &[Run<'_>]) -> bool {
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
    let through_at = |s: &Stroke| through(&runs[s.program]);
    let through = opened(strokes.iter().map(|s| (s, through_at(s))));
    let mut depths: Vec<(crate::proof::job::Side, f64, Paths64)> = Vec::new();
    let mut blind = Vec::new();
    for (index, cut) in target.cuts.iter().enumerate() {
        let (Some(depth), side) = (cut.depth, cut.contour.side) else { continue };
        if !depths.iter().any(|(s, d, _)| *s == side && *d == depth) {
            let reach = target.cuts.iter().filter(|c| c.depth == Some(depth) && c.contour.side == side).map(|c| c.bounds);
            let reach: Vec<_> = reach.collect();
            let near =
                strokes.iter().filter(|s| s.side == side && reach.iter().any(|b| s.bounds().grown(s.radius).meets(*b)));
            let swept = opened(near.map(|s| (s, runs[s.program].program.thickness_mm - depth + limits::FLOOR)));
            depths.push((side, depth, swept));
        }
        let found = depths.iter().find(|(s, d, _)| *s == side && *d == depth);
        if let Some((_, _, swept)) = found {
            blind.push((index, [swept.as_slice(), through.as_slice()].concat()));
        }
    }
    Opened { through, blind }
}

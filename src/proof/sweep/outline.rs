//! Outlines are cut through but for tabs or a skin, and what is left holds the part.

use super::area;
use super::laid::Laid;
use super::left::{is_tab, room, BAND};
use super::probe::{self, Opening, Probes};
use super::strokes::Stroke;
use super::target::Target;
use crate::diag::Finding;
use crate::proof::codes;
use crate::proof::limits;
use crate::proof::shape::{Bounds, Pt};
use crate::proof::verdict::Rule;
use clipper2_rust::Paths64;

/// Offsets of straight-line copies need this much room at ties.
const ROOM: f64 = 0.02;

/// How far from the exact path an outline's last pass may run and still be its own.
pub(super) const BESIDE: f64 = 0.3;

/// The rules of this file.
#[derive(Debug)]
pub(super) struct Outline {
    pub(super) cut: Rule,
    pub(super) hold: Rule,
}

/// What a cutter of one radius must open around a part; the same for all copies.
#[derive(Clone, Debug, Default)]
pub(super) struct Band {
    radius: f64,
    /// A cutter's width round the part, as far as the cutter can go, drawn in by the tolerance.
    need: Paths64,
    probes: Probes,
}

/// What holds a part until it is taken out.
#[derive(Clone, Debug, Default)]
pub(super) struct Held {
    /// Tabs or skin beside the outline.
    pub(super) bridges: Paths64,
    /// Whether it is a skin all round.
    pub(super) skin: bool,
}

impl Outline {
    pub(super) fn new() -> Self {
        Self {
            cut: Rule::measuring(codes::OUTLINE, "outlines", limits::TAB_LENGTH_MAX, "mm longest tab"),
            hold: Rule::counting(codes::HOLD, "tabs and skins"),
        }
    }

    /// Checks one copy of a part; gives back what holds it.
    pub(super) fn check(&mut self, laid: &Laid<'_>, bands: &mut Vec<Band>) -> Held {
        let Laid { target, strokes, runs, opened: open, sheet, spot } = *laid;
        self.cut.count(1);
        let beside = strokes.iter().filter(|s| {
            let low = s.low() < limits::SKIN_MAX && !target.edge.holds(s.at(0.5));
            low && target.edge.distance(s.a, s.b, s.radius + BESIDE).is_some()
        });
        let radius = beside.map(|s| s.radius).fold(f64::INFINITY, f64::min);
        if !radius.is_finite() {
            self.cut.fault(|code| {
                Finding::stop(code, format!("{}: its outline is not cut at all", spot.words())).part(spot.part)
            });
            return Held::default();
        }
        let band = band(bands, target, radius);
        // Past the sheet's edge there is nothing to cut.
        let on_sheet = sheet.min.x <= target.bounds.min.x - 2.0 * radius
            && sheet.min.y <= target.bounds.min.y - 2.0 * radius
            && sheet.max.x >= target.bounds.max.x + 2.0 * radius
            && sheet.max.y >= target.bounds.max.y + 2.0 * radius;
        let openings = [&open.through];
        let mut gaps = band.probes.gaps(&openings);
        if !on_sheet {
            gaps.retain(|(a, b)| on(sheet, *a, *b));
        }
        let wide = 2.0 * radius - 4.0 * limits::CUT;
        // A skin all round is not worth an area: half the lines say so.
        if band.probes.share(&gaps) > 0.5 {
            let thin = Opening::of(strokes.iter().map(|s| (s, limits::SKIN_MAX)));
            let mut thick = band.probes.gaps(&[&thin]);
            if !on_sheet {
                thick.retain(|(a, b)| on(sheet, *a, *b));
            }
            if thick.is_empty() {
                self.hold.count(1);
                return Held { bridges: band.need.clone(), skin: true };
            }
        }
        let need = if on_sheet { band.need.clone() } else { area::both(&band.need, &area::rect(sheet)) };
        let left = probe::left(&need, &gaps, &openings, room(radius));
        let pieces: Vec<(Paths64, f64)> = area::pieces(&left)
            .into_iter()
            .map(|p| (area::size(&p), p))
            .filter(|(s, _)| *s > limits::SPECK_MM2)
            .map(|(s, p)| (p, s))
            .collect();
        let total: f64 = pieces.iter().map(|(_, s)| s / wide).sum();
        if total > target.around / 2.0 && is_skin(&left, strokes) {
            self.hold.count(1);
            return Held { bridges: left, skin: true };
        }
        if total > limits::TAB_SHARE_MAX * target.around {
            let share = 100.0 * total / target.around;
            self.cut.fault(|code| {
                Finding::stop(code, format!("{}: {share:.0} % of its outline are not cut through", spot.words()))
                    .part(spot.part)
            });
        }
        let (mut tabs, mut kept) = (0, Paths64::new());
        for (piece, size) in pieces {
            let length = size / wide;
            let at = area::bounds(&piece);
            let place = || {
                format!(
                    "{} near ({:.2}, {:.2})",
                    spot.words(),
                    f64::midpoint(at.min.x, at.max.x),
                    f64::midpoint(at.min.y, at.max.y)
                )
            };
            if length <= limits::TAB_LENGTH_MAX && is_tab(&piece, strokes, runs) {
                self.cut.figure(length, place);
                tabs += 1;
                kept.extend(piece);
            } else {
                self.cut.fault(|code| {
                    Finding::stop(code, format!("{}: {size:.2} mm2 of wood stay at its outline and are no tab", place()))
                        .limit(format!(
                            "a tab is at most {} mm long and lower than the sheet, common practice",
                            limits::TAB_LENGTH_MAX
                        ))
                        .part(spot.part)
                });
            }
        }
        self.hold.count(tabs);
        if tabs < limits::TABS_LEAST {
            self.hold.fault(|code| {
                Finding::stop(code, format!("{}: held by {tabs} tabs and no skin", spot.words()))
                    .limit(format!("{} tabs, common practice", limits::TABS_LEAST))
                    .part(spot.part)
            });
        }
        Held { bridges: kept, skin: false }
    }
}

fn band<'b>(bands: &'b mut Vec<Band>, target: &Target<'_>, radius: f64) -> &'b Band {
    let index = bands.iter().position(|b| b.radius == radius).unwrap_or_else(|| {
        let outside = area::minus(&area::rect(target.bounds.grown(6.0 * radius)), &target.outline);
        let reach = area::grown(&area::grown(&outside, ROOM - radius), radius - ROOM);
        let whole = area::both(
            &area::minus(&reach, &target.outline),
            &area::grown(&target.outline, 2.0 * radius - 2.0 * limits::CUT),
        );
        let need = area::squared(&whole, -limits::CUT);
        bands.push(Band { radius, probes: Probes::of(&need, BAND), need });
        bands.len() - 1
    });
    &bands[index]
}

/// Whether a straight gap has some stretch on the sheet.
fn on(sheet: Bounds, a: Pt, b: Pt) -> bool {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (p, q, low, high) in [(a.x, b.x, sheet.min.x, sheet.max.x), (a.y, b.y, sheet.min.y, sheet.max.y)] {
        if (q - p).abs() < limits::SAME_POINT {
            if p < low || p > high {
                return false;
            }
            continue;
        }
        let (s, t) = ((low - p) / (q - p), (high - p) / (q - p));
        from = from.max(s.min(t));
        to = to.min(s.max(t));
    }
    from < to
}

/// Whether all that is left is a thin floor.
pub(super) fn is_skin(left: &Paths64, strokes: &[Stroke]) -> bool {
    let reach = area::bounds(left);
    let near = strokes.iter().filter(|s| s.bounds().grown(s.radius).meets(reach));
    let thin = Opening::of(near.map(|s| (s, limits::SKIN_MAX)));
    let thick = area::minus(left, &thin.area(&[reach]));
    area::pieces(&thick).iter().map(area::size).all(|s| s <= limits::SPECK_MM2)
}

//! Outlines are cut through but for tabs or a skin, and what is left holds the part.

use super::band::{Band, Line};
use super::laid::Laid;
use super::left::TAB_SHARE;
use super::probe::Opening;
use super::strokes::{Run, Stroke};
use super::tabs::{self, bounds, CUSP};
use crate::diag::Finding;
use crate::proof::codes;
use crate::proof::limits;
use crate::proof::verdict::Rule;

/// How far from the exact path an outline's last pass may run and still be its own.
pub(super) const BESIDE: f64 = 0.3;

/// The rules of this file.
#[derive(Debug)]
pub(super) struct Outline {
    pub(super) cut: Rule,
    pub(super) hold: Rule,
}

/// What holds a part until it is taken out.
#[derive(Clone, Debug, Default)]
pub(super) struct Held {
    /// Where tabs or a skin stand beside the outline.
    pub(super) bridges: Vec<Line>,
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
        let Laid { target, strokes, runs, opened: open, sheet, spot, placement } = *laid;
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
        let index = bands.iter().position(|b| b.radius == radius).unwrap_or_else(|| {
            bands.push(Band::of(target.part, radius));
            bands.len() - 1
        });
        let band = &bands[index];
        let left = band.left(&open.through, sheet);
        let stretches = stretches(&left, 2.0 * radius);
        let total: f64 = stretches.iter().map(|lines| length(lines)).sum();
        if total > target.around / 2.0 {
            let thin = Opening::of(strokes.iter().map(|s| (s, limits::SKIN_MAX)));
            if band.left(&thin, sheet).iter().all(|l| l.a.distance(l.b) < CUSP) {
                self.hold.count(1);
                return Held { bridges: left, skin: true };
            }
        }
        if total > limits::TAB_SHARE_MAX * target.around {
            let share = (100.0 * total / target.around).min(100.0);
            self.cut.fault(|code| {
                Finding::stop(code, format!("{}: {share:.0} % of its outline are not cut through", spot.words()))
                    .part(spot.part)
            });
        }
        let planned = target.part.outline().and_then(|feature| laid.held(feature));
        let (mut held, mut pieces, mut kept) = (0, 0, Vec::new());
        for lines in stretches {
            let length = length(&lines);
            let reach = bounds(&lines);
            let (x, y) = (f64::midpoint(reach.min.x, reach.max.x), f64::midpoint(reach.min.y, reach.max.y));
            let place = || format!("{} near ({x:.2}, {y:.2})", spot.words());
            if length <= limits::TAB_LENGTH_MAX && is_low(&lines, radius, strokes, runs) {
                self.cut.figure(length, place);
                held += 1;
                let apart = tabs::pieces(&lines, radius, band.around);
                pieces += apart.len();
                let faults = planned.map(|p| apart.iter().filter_map(|piece| tabs::fault(piece, p, band, strokes, sheet)));
                for (fault, limit) in faults.into_iter().flatten() {
                    self.hold.fault(|code| {
                        Finding::stop(code, format!("{}: {fault}", place()))
                            .limit(limit)
                            .part(spot.part)
                            .remedy("make the pack again; do not mend a cut file by hand")
                    });
                }
                kept.extend(lines);
            } else {
                self.cut.fault(|code| {
                    Finding::stop(code, format!("{}: {length:.2} mm of its outline are not cut and no tab", place()))
                        .limit(format!(
                            "a tab is at most {} mm long and lower than the sheet, common practice",
                            limits::TAB_LENGTH_MAX
                        ))
                        .part(spot.part)
                });
            }
        }
        self.hold.count(held);
        if held < limits::TABS_LEAST {
            self.hold.fault(|code| {
                Finding::stop(code, format!("{}: held by {held} tabs and no skin", spot.words()))
                    .limit(format!("{} tabs, common practice", limits::TABS_LEAST))
                    .part(spot.part)
            });
        }
        if let Some(planned) = placement.tabs.filter(|planned| pieces != *planned) {
            self.hold.fault(|code| {
                Finding::stop(code, format!("{}: {pieces} tabs are left where {planned} are planned", spot.words()))
                    .part(spot.part)
                    .remedy("make the pack again; do not mend a cut file by hand")
            });
        }
        Held { bridges: kept, skin: false }
    }
}

fn length(lines: &[Line]) -> f64 {
    lines.iter().map(Line::length).sum()
}

/// What is left in stretches that stand apart, round the part; lines are in order.
fn stretches(left: &[Line], apart: f64) -> Vec<Vec<Line>> {
    let mut all: Vec<Vec<Line>> = Vec::new();
    for line in left {
        let goes_on = |lines: &&mut Vec<Line>| lines.last().is_some_and(|last| last.b.distance(line.a) < apart);
        match all.last_mut().filter(goes_on) {
            Some(lines) => lines.push(*line),
            None => all.push(vec![*line]),
        }
    }
    // The last may go on over the outline's first vertex.
    let meets = match (all.first().and_then(|f| f.first()), all.last().and_then(|l| l.last())) {
        (Some(first), Some(last)) => all.len() > 1 && last.b.distance(first.a) < apart,
        _ => false,
    };
    if meets {
        let last = all.pop().unwrap_or_default();
        if let Some(first) = all.first_mut() {
            first.splice(0..0, last);
        }
    }
    all.retain(|lines| length(lines) > CUSP);
    all
}

/// Whether what is left over a cutter's width is lower than the sheet everywhere: something was cut over it.
fn is_low(lines: &[Line], radius: f64, strokes: &[Stroke], runs: &[Run<'_>]) -> bool {
    let reach = bounds(lines).grown(2.0 * radius);
    let near = strokes.iter().filter(|s| s.bounds().grown(s.radius).meets(reach));
    let cut = Opening::of(near.map(|s| (s, TAB_SHARE * runs[s.program].program.thickness_mm)));
    let (mut spare, mut gaps) = (Vec::new(), Vec::new());
    for line in lines {
        for by in [0.0, radius - limits::CUT] {
            let (a, b) = line.moved(by);
            cut.gaps(a, b, &mut spare, &mut gaps);
        }
    }
    gaps.iter().all(|(a, b)| a.distance(*b) < CUSP)
}

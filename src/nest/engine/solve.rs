//! From a problem to a packing: bound, constructive start, search.

use super::bounds;
use super::construct::{fill, queue, Opening, ORDERS, RULES};
use super::free_rects::FreeSheet;
use super::guillotine::SawnSheet;
use super::lanes;
use super::model::{CutRule, PackedSheet, Packing, Problem, Settings, Spot};
use super::pieces::Grown;
use super::state::State;
use super::surface::Surface;

/// Lays all pieces on as cheap a set of sheets as the work allows.
#[must_use]
pub fn pack(problem: &Problem, settings: &Settings<'_>) -> Packing {
    let g = Grown::new(problem);
    let bound = bounds::least_cost(&g);
    match g.cut {
        CutRule::Free => solve::<FreeSheet>(&g, settings, bound),
        CutRule::Guillotine => solve::<SawnSheet>(&g, settings, bound),
    }
}

/// No packing uses fewer sheets than this, whatever they cost.
#[must_use]
pub fn fewest_sheets(problem: &Problem) -> u32 {
    let mut g = Grown::new(problem);
    for b in &mut g.blanks {
        b.cost = 1;
    }
    u32::try_from(bounds::least_cost(&g)).unwrap_or(u32::MAX)
}

fn solve<S: Surface>(g: &Grown, settings: &Settings<'_>, bound: u64) -> Packing {
    let start = starts::<S>(g, settings.work, bound);
    let mut loose = start.loose.clone();
    let complete = loose.is_empty();
    // Short of stock the first time round: any complete layout is better.
    let mut best = (if complete { start.cost } else { u64::MAX }, finished(g, &start));
    if best.0 > bound && settings.work > 0 && could_hold(g) {
        lanes::improve(g, settings, bound, &mut best);
    }
    if best.0 == u64::MAX {
        best.0 = start.cost;
    } else {
        loose.clear();
    }
    let (_, misfit) = queue(g, ORDERS[0]);
    loose.extend(misfit);
    let (cost, sheets) = best;
    let mut counts = vec![0u32; g.pieces.len()];
    for &p in &loose {
        counts[p as usize] += 1;
    }
    let unplaced: Vec<(usize, u32)> = counts.into_iter().enumerate().filter(|(_, n)| *n > 0).collect();
    let optimal = unplaced.is_empty() && cost == bound;
    Packing { sheets, unplaced, cost, bound, optimal }
}

/// Whether the stock has enough area for all pieces that fit some sheet.
fn could_hold(g: &Grown) -> bool {
    let (fit, _) = queue(g, ORDERS[0]);
    let needed: i128 = fit.iter().map(|&p| i128::from(g.pieces[p as usize].area)).sum();
    needed <= g.blanks.iter().map(|b| i128::from(b.area) * i128::from(b.count)).sum()
}

/// The best of the constructive layouts that the work allows; one at least.
pub(super) fn starts<S: Surface>(g: &Grown, allowed: u64, bound: u64) -> State<S> {
    let openings: &[Opening] =
        if g.blanks.len() > 1 { &[Opening::Thrifty, Opening::Cheapest, Opening::Largest] } else { &[Opening::Thrifty] };
    let mut best: Option<(i64, State<S>)> = None;
    let mut work = 0;
    for order in ORDERS {
        let (pieces, _) = queue(g, order);
        for rule in RULES {
            for &opening in openings {
                let state = fill::<S>(g, &pieces, rule, opening, &mut work);
                let loose = state.loose_area(g);
                if best.as_ref().is_none_or(|(area, b)| (loose, state.cost) < (*area, b.cost)) {
                    best = Some((loose, state));
                }
                let done = best.as_ref().is_some_and(|(area, b)| *area == 0 && b.cost <= bound);
                if done || work > allowed {
                    return best.map_or_else(|| State::empty(g), |(_, state)| state);
                }
            }
        }
    }
    best.map_or_else(|| State::empty(g), |(_, state)| state)
}

/// The sheets of a state, in a stable order, without the gap.
pub(super) fn finished<S: Surface>(g: &Grown, state: &State<S>) -> Vec<PackedSheet> {
    let mut sheets: Vec<PackedSheet> = state
        .slots
        .iter()
        .filter(|s| s.surface.len() > 0)
        .map(|s| {
            let mut spots: Vec<Spot> = s
                .surface
                .placed()
                .iter()
                .map(|p| Spot {
                    item: p.piece as usize,
                    at: [i64::from(p.x), i64::from(p.y)],
                    size: [i64::from(p.w - g.gap), i64::from(p.h - g.gap)],
                    quarters: p.quarters,
                })
                .collect();
            spots.sort_unstable_by_key(|s| (s.at[1], s.at[0], s.item));
            PackedSheet { kind: s.kind, spots }
        })
        .collect();
    sheets.sort_by_key(|s| s.kind);
    sheets
}

//! From a problem to a packing: bound, constructive start, search.

use super::bounds;
use super::construct::{fill, queue, Opening, ORDERS, RULES};
use super::free_rects::FreeSheet;
use super::model::{Glance, PackedSheet, Packing, Problem, Settings, Spot};
use super::pieces::Grown;
use super::ruin::Search;
use super::state::State;
use super::surface::Surface;

/// Lays all pieces on as cheap a set of sheets as the work allows.
#[must_use]
pub fn pack(problem: &Problem, settings: &Settings<'_>) -> Packing {
    let g = Grown::new(problem);
    let bound = bounds::least_cost(&g);
    let mut work = 0;
    let state = solve::<FreeSheet>(&g, settings, bound, &mut work);
    finish(&g, &state, bound)
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

fn better<S: Surface>(g: &Grown, a: &State<S>, b: &State<S>) -> bool {
    (a.loose_area(g), a.cost) < (b.loose_area(g), b.cost)
}

fn solve<S: Surface>(g: &Grown, settings: &Settings<'_>, bound: u64, work: &mut u64) -> State<S> {
    let mut best: Option<State<S>> = None;
    let (_, misfit) = queue(g, ORDERS[0]);
    let done = |s: &State<S>| s.loose.is_empty() && s.cost <= bound;
    'starts: for order in ORDERS {
        let (pieces, _) = queue(g, order);
        for rule in RULES {
            for opening in [Opening::Thrifty, Opening::Cheapest, Opening::Largest] {
                if g.blanks.len() < 2 && !matches!(opening, Opening::Thrifty) {
                    continue;
                }
                let state = fill::<S>(g, &pieces, rule, false, opening, work);
                if best.as_ref().is_none_or(|b| better(g, &state, b)) {
                    best = Some(state);
                }
                if best.as_ref().is_some_and(done) || *work > settings.work {
                    break 'starts;
                }
            }
        }
    }
    let mut best = best.unwrap_or_else(|| State::empty(g));
    if best.loose.is_empty() && best.cost > bound && settings.work > *work {
        let mut search = Search::new(g, &best, settings.seed, 0);
        let round = (settings.work / 64).max(1);
        loop {
            let until = (*work + round).min(settings.work);
            if search.run(until, work) {
                best = search.state.clone();
                if best.cost <= bound {
                    break;
                }
                search.lower();
            }
            let glance =
                Glance { done: (*work as f64 / settings.work as f64).min(1.0), sheets: best.slots.len(), optimal: false };
            if *work >= settings.work || settings.ask.is_some_and(|ask| !ask(glance)) {
                break;
            }
        }
    }
    best.loose.extend(misfit);
    best
}

fn finish<S: Surface>(g: &Grown, state: &State<S>, bound: u64) -> Packing {
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
                    turned: p.turned,
                })
                .collect();
            spots.sort_unstable_by_key(|s| (s.at[1], s.at[0], s.item));
            PackedSheet { kind: s.kind, spots }
        })
        .collect();
    sheets.sort_by_key(|s| s.kind);
    let cost = sheets.iter().map(|s| g.blanks[s.kind].cost).sum();
    let mut loose = vec![0u32; g.pieces.len()];
    for &p in &state.loose {
        loose[p as usize] += 1;
    }
    let unplaced: Vec<(usize, u32)> = loose.into_iter().enumerate().filter(|(_, n)| *n > 0).collect();
    let optimal = unplaced.is_empty() && cost == bound;
    Packing { sheets, unplaced, cost, bound, optimal }
}

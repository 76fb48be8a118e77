//! From a problem to a packing: bound, constructive start, search.

use super::assembly;
use super::bounds;
use super::construct::{fill, queue, Opening, ORDERS, RULES};
use super::free_rects::FreeSheet;
use super::glue;
use super::guillotine::SawnSheet;
use super::jigsaw;
use super::lanes;
use super::model::{CutRule, PackedSheet, Packing, Problem, Settings, Spot};
use super::mosaic;
use super::pieces::Grown;
use super::state::State;
use super::surface::{Placed, Surface};

/// Lays all pieces on as cheap a set of sheets as the work allows.
#[must_use]
pub fn pack(problem: &Problem, settings: &Settings<'_>) -> Packing {
    let g = Grown::new(problem);
    let bound = bounds::least_cost(&g);
    match g.cut {
        CutRule::Free => solve::<FreeSheet>(&g, settings, bound),
        CutRule::Guillotine | CutRule::Staged(_) => solve::<SawnSheet>(&g, settings, bound),
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
    let (start, spent) = starts::<S>(g, settings.work / 8, bound);
    let mut loose = start.loose.clone();
    let complete = loose.is_empty();
    // Short of stock the first time round: any complete layout is better.
    let mut best = (if complete { start.cost } else { u64::MAX }, finished(g, &start));
    // A job so large that its first answers use up the work is not searched: each lane starts from such an answer too.
    if best.0 > bound && settings.work / 4 > spent && could_hold(g) {
        if let Some(sheets) = exact(g, settings, bound) {
            best = (sheets.iter().map(|s| g.blanks[s.kind].cost).sum(), sheets);
        }
        if best.0 > bound {
            let work = glue::improve(g, settings, bound, &mut best);
            if best.0 > bound {
                lanes::improve(g, &Settings { work, ..*settings }, bound, &mut best);
            }
        }
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

/// The layout without waste, when the bound (or the whole stock) leaves none.
fn exact(g: &Grown, settings: &Settings<'_>, bound: u64) -> Option<Vec<PackedSheet>> {
    let counts: Vec<u32> = match g.blanks.as_slice() {
        [only] => vec![u32::try_from(bound / only.cost.max(1)).ok()?.min(only.count)],
        several => several.iter().map(|b| b.count).collect(),
    };
    let work = settings.work / 4;
    if g.has_defects() {
        return None;
    }
    let assembled = assembly::solve(g, &counts, work, settings.seed);
    match g.cut {
        _ if assembled.is_some() => assembled,
        CutRule::Free if g.has_shapes() => mosaic::solve(g, &counts, work, settings.seed),
        CutRule::Free => jigsaw::solve(g, &counts, work, settings.seed),
        CutRule::Guillotine | CutRule::Staged(_) => None,
    }
}

/// Whether the stock has enough area for all pieces that fit some sheet.
fn could_hold(g: &Grown) -> bool {
    let (fit, _) = queue(g, ORDERS[0]);
    let needed: i128 = fit.iter().map(|&p| i128::from(g.pieces[p as usize].area)).sum();
    needed <= g.blanks.iter().map(|b| i128::from(b.area) * i128::from(b.count)).sum()
}

/// The best of the constructive layouts that the work allows, one at least; and the work spent.
pub(super) fn starts<S: Surface>(g: &Grown, allowed: u64, bound: u64) -> (State<S>, u64) {
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
                    return (best.map_or_else(|| State::empty(g), |(_, state)| state), work);
                }
            }
        }
    }
    (best.map_or_else(|| State::empty(g), |(_, state)| state), work)
}

/// The sheets of a state, in a stable order, without the gap.
pub(super) fn finished<S: Surface>(g: &Grown, state: &State<S>) -> Vec<PackedSheet> {
    let placed: Vec<(usize, Vec<Placed>)> = state.slots.iter().map(|s| (s.kind, s.surface.placed())).collect();
    finished_from(g, placed.iter().map(|(kind, placed)| (*kind, placed.as_slice())))
}

/// Sheets (kind and pieces) in a stable order, without the gap; bare ones are left out.
pub(super) fn finished_from<'a>(g: &Grown, sheets: impl Iterator<Item = (usize, &'a [Placed])>) -> Vec<PackedSheet> {
    let mut sheets: Vec<PackedSheet> = sheets
        .filter(|(_, placed)| !placed.is_empty())
        .map(|(kind, placed)| {
            let mut spots: Vec<Spot> = placed
                .iter()
                .map(|p| Spot {
                    item: p.piece as usize,
                    at: [i64::from(p.x), i64::from(p.y)],
                    size: [i64::from(p.w - g.gap), i64::from(p.h - g.gap)],
                    quarters: p.quarters,
                })
                .collect();
            spots.sort_unstable_by_key(|s| (s.at[1], s.at[0], s.item));
            PackedSheet { kind, spots }
        })
        .collect();
    sheets.sort_by_key(|s| s.kind);
    sheets
}

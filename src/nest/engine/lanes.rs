//! Several searches side by side, which share only the best cost so far.
//!
//! Each works a fixed amount per round and they are compared in order after it, so that the outcome does not depend on
//! how many threads they run on.

use super::free_rects::FreeSheet;
use super::guillotine::SawnSheet;
use super::model::{CutRule, Glance, PackedSheet, Settings};
use super::pieces::Grown;
use super::ruin::{history, Search};
use super::solve::{finished, starts};
use super::surface::Surface;

/// Work of one lane in one round.
const ROUND: u64 = 400_000;
/// What the first search may spend: all of a quick one, so that a longer one starts with it and is never worse.
const FIRST: u64 = 60_000_000;
/// Lanes of the first search.
const FIRST_LANES: u64 = 2;
/// Lanes of what comes after it, by what is left to spend: a few searches from different seeds find more than one that lasts
/// as long as all.
const MORE_LANES: [(u64, u64); 2] = [(2_000_000_000, 8), (0, 4)];

/// A search of either kind of sheet. Sawn layouts are free layouts too, and often easier to find.
enum Lane<'a> {
    Free(Search<'a, FreeSheet>),
    Sawn(Search<'a, SawnSheet>),
}

impl Lane<'_> {
    /// Works one round; gives the cheapest complete layout found in it.
    fn round(&mut self, limit: u64, bound: u64, until: u64) -> Found {
        match self {
            Self::Free(s) => round(s, limit, bound, until),
            Self::Sawn(s) => round(s, limit, bound, until),
        }
    }
}

fn round<S: Surface>(s: &mut Search<'_, S>, limit: u64, bound: u64, until: u64) -> Found {
    s.limit_to(limit);
    let mut work = 0;
    let mut found = None;
    while s.run(until, &mut work) {
        found = Some((s.state.cost, finished(s.grown(), &s.state)));
        if s.state.cost <= bound {
            break;
        }
        s.limit_to(s.state.cost - 1);
    }
    found
}

/// Searches for layouts cheaper than `best` until the bound is met, the work is done or nobody wants to go on.
pub(super) fn improve(g: &Grown, settings: &Settings<'_>, bound: u64, best: &mut (u64, Vec<PackedSheet>)) {
    let first = settings.work.min(FIRST);
    let rest = settings.work - first;
    let go_on = search(g, settings, (0..FIRST_LANES, first, 0), bound, best);
    if go_on && rest > 0 {
        let count = MORE_LANES.iter().find(|(from, _)| rest >= *from).map_or(1, |(_, lanes)| *lanes);
        search(g, settings, (FIRST_LANES..FIRST_LANES + count, rest, first), bound, best);
    }
}

/// One search on some lanes, with some work to spend and some spent before it; whether there is more to win.
fn search(
    g: &Grown,
    settings: &Settings<'_>,
    (numbers, work, before): (std::ops::Range<u64>, u64, u64),
    bound: u64,
    best: &mut (u64, Vec<PackedSheet>),
) -> bool {
    // A saw sees only the rectangles round shapes, and no defects.
    let all_free = g.has_shapes() || g.has_defects();
    let count = numbers.end - numbers.start;
    let mut lanes: Vec<Lane<'_>> = numbers
        .map(|lane| {
            // Every other pair of lanes of a long search cools as fast as a quick one.
            let history = history(if lane % 4 < 2 { work.min(FIRST) } else { work / count * FIRST_LANES });
            if g.cut != CutRule::Free || (lane % 2 == 1 && !all_free) {
                Lane::Sawn(Search::new(g, starts::<SawnSheet>(g, 0, bound).0, settings.seed, lane, history))
            } else {
                Lane::Free(Search::new(g, starts::<FreeSheet>(g, 0, bound).0, settings.seed, lane, history))
            }
        })
        .collect();
    let until = ROUND.min(work.div_ceil(count));
    let rounds = work / count / until.max(1);
    let share = |spent: u64| (before + spent) as f64 / settings.work.max(1) as f64;
    for done in 0..rounds {
        let limit = best.0.saturating_sub(1);
        let each = |lane: &mut Lane<'_>| lane.round(limit, bound, until);
        let found = if settings.threads > 1 {
            threaded(&mut lanes, settings.threads, &each)
        } else {
            one_by_one(&mut lanes, bound, &each)
        };
        // The first of the cheapest: the same whichever lane was ready first.
        if let Some(better) = found.into_iter().flatten().min_by_key(|(cost, _)| *cost) {
            *best = better;
        }
        let optimal = best.0 <= bound;
        let glance = Glance { done: share((done + 1) * until * count), sheets: best.1.len(), optimal };
        if settings.ask.is_some_and(|ask| !ask(glance)) || optimal {
            return false;
        }
    }
    true
}

type Found = Option<(u64, Vec<PackedSheet>)>;

fn one_by_one<'a>(lanes: &mut [Lane<'a>], bound: u64, each: &dyn Fn(&mut Lane<'a>) -> Found) -> Vec<Found> {
    let mut found = Vec::with_capacity(lanes.len());
    for lane in lanes {
        let one = each(lane);
        let met = one.as_ref().is_some_and(|(cost, _)| *cost <= bound);
        found.push(one);
        // Later lanes could only tie, and the first of equals is taken anyway.
        if met {
            break;
        }
    }
    found
}

fn threaded<'a>(lanes: &mut [Lane<'a>], threads: usize, each: &(dyn Fn(&mut Lane<'a>) -> Found + Sync)) -> Vec<Found> {
    let share = lanes.len().div_ceil(threads.min(lanes.len()).max(1));
    std::thread::scope(|scope| {
        let running: Vec<_> =
            lanes.chunks_mut(share).map(|some| scope.spawn(move || some.iter_mut().map(each).collect::<Vec<_>>())).collect();
        running.into_iter().flat_map(|r| r.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))).collect()
    })
}

#[cfg(test)]
mod tests {
    use super::super::model::{Item, Problem, SheetKind, Turns};
    use super::super::rng::Rng;
    use super::{finished, search, starts, CutRule, FreeSheet, Grown, Settings, FIRST_LANES};
    use std::collections::BTreeMap;

    #[test]
    fn a_long_search_finds_the_same_on_any_number_of_threads() {
        let mut rng = Rng::new(7, 0);
        let mut side = |low: usize, high: usize| i64::try_from(low + rng.below(high - low)).unwrap();
        let items =
            (0..40).map(|_| Item { size: [side(1, 50), side(50, 100)], turns: Turns::Any, count: 1 }).collect::<Vec<_>>();
        let sheets = vec![SheetKind { size: [100, 100], count: None, cost: 1 }];
        let problem =
            Problem { items, shapes: BTreeMap::new(), defects: BTreeMap::new(), sheets, gap: 0, cut: CutRule::Free };
        let g = Grown::new(&problem);
        let start = starts::<FreeSheet>(&g, 0, 0).0;
        let on = |threads: usize| {
            let mut best = (start.cost, finished(&g, &start));
            let settings = Settings { work: 0, seed: 1, threads, ask: None };
            // A bound of nothing is never met, so that every lane works to its end.
            search(&g, &settings, (FIRST_LANES..FIRST_LANES + 4, 4_000_000, 0), 0, &mut best);
            best
        };
        let alone = on(1);
        assert!(alone.0 < start.cost, "{} {}", alone.0, start.cost);
        assert_eq!(alone, on(2));
    }
}

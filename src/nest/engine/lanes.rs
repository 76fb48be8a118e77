//! Several searches side by side, which share only the best cost so far.
//!
//! Each works a fixed amount per round and they are compared in order after it, so that the outcome does not depend on
//! how many threads they run on.

use super::free_rects::FreeSheet;
use super::guillotine::SawnSheet;
use super::model::{CutRule, Glance, PackedSheet, Settings};
use super::pieces::Grown;
use super::ruin::Search;
use super::solve::{finished, starts};
use super::surface::Surface;

/// Work of one lane in one round.
const ROUND: u64 = 400_000;
/// Lanes of a usual search, and of a very long one.
const LANES: (u64, u64) = (2, 8);
/// Work from which a search is very long.
const LONG: u64 = 2_000_000_000;

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
    let count = if settings.work >= LONG { LANES.1 } else { LANES.0 };
    // A saw sees only the rectangles round shapes, and no defects.
    let all_free = g.has_shapes() || g.has_defects();
    let mut lanes: Vec<Lane<'_>> = (0..count)
        .map(|lane| {
            if g.cut != CutRule::Free || (lane % 2 == 1 && !all_free) {
                Lane::Sawn(Search::new(g, starts::<SawnSheet>(g, 0, bound).0, settings, lane))
            } else {
                Lane::Free(Search::new(g, starts::<FreeSheet>(g, 0, bound).0, settings, lane))
            }
        })
        .collect();
    let until = ROUND.min(settings.work.div_ceil(count));
    let rounds = settings.work / count / until.max(1);
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
        let glance = Glance { done: (done + 1) as f64 / rounds as f64, sheets: best.1.len(), optimal: best.0 <= bound };
        if settings.ask.is_some_and(|ask| !ask(glance)) || best.0 <= bound {
            break;
        }
    }
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

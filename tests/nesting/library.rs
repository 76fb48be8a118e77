//! The same instances laid by a general-purpose packing library, to be held against: pieces one by one in several orders and
//! turns, by each of the library's rules, each to the first sheet that takes it; the cheapest of all these layouts counts.
//!
//! The library packs one sheet at a time, without shapes, defects or limits to how a piece may turn: which sheet is opened next
//! and, where pieces may lie anywhere, how they are turned is chosen here. Its sawn layouts turn pieces at will, so that it has
//! none for oriented pieces.

use baywright::nest::engine::{self, CutRule, PackedSheet, Packing, Problem, Settings, Spot, Turns};
use binpack2d::guillotine::{GuillotineBin, RectHeuristic, SplitHeuristic};
use binpack2d::maxrects::{Heuristic, MaxRectsBin};
use binpack2d::{BinPacker, Dimension, Rectangle};
use std::cmp::Reverse;

/// One copy of a piece, grown by the gap.
#[derive(Clone, Copy)]
struct Copy {
    item: usize,
    size: [i64; 2],
    turns: Turns,
}

/// How pieces that may turn are given to a library that does not turn them.
const MANNERS: [fn(&Copy) -> bool; 3] = [|_| false, |c| c.size[0] < c.size[1], |c| c.size[0] > c.size[1]];

/// The library's best layout; `None` where it cannot keep the instance's rules.
pub(crate) fn pack(problem: &Problem) -> Option<Packing> {
    let sawn = problem.cut != CutRule::Free;
    let turned = problem.items.iter().all(|i| i.turns == Turns::Any);
    if matches!(problem.cut, CutRule::Staged(_))
        || sawn && !turned
        || !problem.shapes.is_empty()
        || !problem.defects.is_empty()
    {
        return None;
    }
    let mut copies: Vec<Copy> = Vec::new();
    for (item, i) in problem.items.iter().enumerate() {
        let size = i.size.map(|s| s + problem.gap);
        copies.extend(std::iter::repeat_n(Copy { item, size, turns: i.turns }, i.count as usize));
    }
    let orders: [fn(&Copy) -> i64; 4] =
        [|c| c.size[0] * c.size[1], |c| c.size[0].max(c.size[1]), |c| c.size[0].min(c.size[1]), |c| c.size[0] + c.size[1]];
    let mut best: Option<Packing> = None;
    let mut offer = |packing: Packing| {
        let short = |p: &Packing| p.unplaced.iter().map(|u| u.1).sum::<u32>();
        if best.as_ref().is_none_or(|b| (short(&packing), packing.cost) < (short(b), b.cost)) {
            best = Some(packing);
        }
    };
    for order in orders {
        copies.sort_by_key(|c| (Reverse(order(c)), c.item));
        if sawn {
            use RectHeuristic::{BestAreaFit, BestLongSideFit, BestShortSideFit};
            use SplitHeuristic::{LongerLeftoverAxis, MaximizeArea, MinimizeArea, ShorterLeftoverAxis};
            for choice in [BestAreaFit, BestLongSideFit, BestShortSideFit] {
                for split in [ShorterLeftoverAxis, LongerLeftoverAxis, MinimizeArea, MaximizeArea] {
                    let sheet = |w, h| {
                        let mut bin = GuillotineBin::new(w, h);
                        bin.set_default_choice(choice);
                        bin.set_default_method(split);
                        // Joined leftovers are no longer what a saw leaves.
                        bin.set_default_merge(false);
                        bin
                    };
                    offer(first_fit(problem, &copies, |_| false, sheet));
                }
            }
        } else {
            use Heuristic::{BestAreaFit, BestLongSideFit, BestShortSideFit, BottomLeftRule, ContactPointRule};
            for rule in [BestAreaFit, BestLongSideFit, BestShortSideFit, BottomLeftRule, ContactPointRule] {
                for manner in MANNERS {
                    let sheet = |w, h| {
                        let mut bin = MaxRectsBin::new(w, h);
                        bin.set_default_rule(rule);
                        bin
                    };
                    offer(first_fit(problem, &copies, manner, sheet));
                }
            }
        }
    }
    // The bound is ours: the library has none.
    let bound = engine::pack(problem, &Settings { work: 0, seed: 1, threads: 1, ask: None }).bound;
    best.map(|p| Packing { bound, optimal: p.unplaced.is_empty() && p.cost == bound, ..p })
}

/// Each piece to the first sheet that takes it, turned as the manner wants or the other way; a new sheet is the cheapest by area.
fn first_fit<B: BinPacker>(
    problem: &Problem,
    copies: &[Copy],
    turn: fn(&Copy) -> bool,
    new: impl Fn(i32, i32) -> B,
) -> Packing {
    let mut kinds: Vec<usize> = (0..problem.sheets.len()).collect();
    kinds.sort_by_key(|&k| {
        let s = &problem.sheets[k];
        (s.cost * 1_000_000 / (s.size[0] * s.size[1]) as u64, k)
    });
    let mut sheets: Vec<(PackedSheet, B)> = Vec::new();
    let mut unplaced = vec![0u32; problem.items.len()];
    for copy in copies {
        let first = copy.turns == Turns::Quarter || copy.turns == Turns::Any && turn(copy);
        let ways: &[bool] = if copy.turns == Turns::Any { &[first, !first] } else { &[first] };
        let lay = |bin: &mut B| {
            ways.iter().find_map(|&turned| {
                let [w, h] = if turned { [copy.size[1], copy.size[0]] } else { copy.size };
                bin.insert(&Dimension::with_id(1, w as i32, h as i32, 0))
            })
        };
        let spot = |r: Rectangle| {
            let size = [r.width(), r.height()].map(|s| i64::from(s) - problem.gap);
            let quarters = u8::from(copy.turns == Turns::Quarter || size != problem.items[copy.item].size);
            Spot { item: copy.item, at: [r.x(), r.y()].map(i64::from), size, quarters }
        };
        if sheets.iter_mut().any(|(sheet, bin)| lay(bin).map(|r| sheet.spots.push(spot(r))).is_some()) {
            continue;
        }
        let opened = kinds.iter().find_map(|&kind| {
            let s = &problem.sheets[kind];
            let open = sheets.iter().filter(|(o, _)| o.kind == kind).count();
            if s.count.is_some_and(|c| open >= c as usize) {
                return None;
            }
            let mut bin = new((s.size[0] + problem.gap) as i32, (s.size[1] + problem.gap) as i32);
            lay(&mut bin).map(|r| (PackedSheet { kind, spots: vec![spot(r)] }, bin))
        });
        match opened {
            Some(sheet) => sheets.push(sheet),
            None => unplaced[copy.item] += 1,
        }
    }
    let sheets: Vec<PackedSheet> = sheets.into_iter().map(|s| s.0).collect();
    let cost = sheets.iter().map(|s| problem.sheets[s.kind].cost).sum();
    let unplaced = unplaced.into_iter().enumerate().filter(|u| u.1 > 0).collect();
    Packing { sheets, unplaced, cost, bound: 0, optimal: false }
}

//! The instant answer: pieces one by one, large first, each to its best place on the sheets open so far.

use super::pieces::Grown;
use super::state::State;
use super::surface::{Rule, Surface};
use std::cmp::Reverse;

/// In which order pieces are taken.
#[derive(Clone, Copy, Debug)]
pub(super) enum Order {
    Area,
    Long,
    Short,
    Perimeter,
}

/// Which sheet is opened next.
#[derive(Clone, Copy, Debug)]
pub(super) enum Opening {
    /// The cheapest per area.
    Thrifty,
    /// The cheapest.
    Cheapest,
    /// The largest.
    Largest,
}

pub(super) const ORDERS: [Order; 4] = [Order::Area, Order::Long, Order::Short, Order::Perimeter];
pub(super) const RULES: [Rule; 4] = [Rule::ShortSide, Rule::Area, Rule::LongSide, Rule::Contact];

/// Every copy of every piece that fits some sheet, in an order; the others apart.
pub(super) fn queue(g: &Grown, order: Order) -> (Vec<u32>, Vec<u32>) {
    let mut ids: Vec<usize> = (0..g.pieces.len()).collect();
    ids.sort_by_key(|&i| {
        let p = &g.pieces[i];
        let key = match order {
            Order::Area => (p.area, i64::from(p.long)),
            Order::Long => (i64::from(p.long), i64::from(p.short)),
            Order::Short => (i64::from(p.short), i64::from(p.long)),
            Order::Perimeter => (i64::from(p.long) + i64::from(p.short), i64::from(p.long)),
        };
        (Reverse(key), i)
    });
    let (mut fit, mut misfit) = (Vec::new(), Vec::new());
    for i in ids {
        let somewhere = (0..g.blanks.len()).any(|b| g.blanks[b].count > 0 && g.fits(i, b));
        let list = if somewhere { &mut fit } else { &mut misfit };
        list.extend(std::iter::repeat_n(i as u32, g.pieces[i].count as usize));
    }
    (fit, misfit)
}

/// Sheet kinds in the order an opening rule prefers them.
pub(super) fn preference(g: &Grown, opening: Opening) -> Vec<usize> {
    let mut kinds: Vec<usize> = (0..g.blanks.len()).collect();
    kinds.sort_by(|&a, &b| {
        let (x, y) = (&g.blanks[a], &g.blanks[b]);
        let by = match opening {
            Opening::Thrifty => (u128::from(x.cost) * y.area as u128).cmp(&(u128::from(y.cost) * x.area as u128)),
            Opening::Cheapest => x.cost.cmp(&y.cost),
            Opening::Largest => y.area.cmp(&x.area),
        };
        by.then(a.cmp(&b))
    });
    kinds
}

/// Lays the pieces in turn. Those that find no place stay loose.
pub(super) fn fill<S: Surface>(g: &Grown, pieces: &[u32], rule: Rule, opening: Opening, work: &mut u64) -> State<S> {
    let mut state = State::<S>::empty(g);
    let kinds = preference(g, opening);
    // Free space only shrinks here: the sheets before this one are full for every piece at least as small as the smallest.
    let smallest = pieces.iter().map(|&p| g.pieces[p as usize].area).min().unwrap_or(0);
    let mut first_open = 0;
    for &id in pieces {
        while first_open < state.slots.len() {
            let slot = &state.slots[first_open];
            if g.blanks[slot.kind].area - slot.surface.used() >= smallest {
                break;
            }
            first_open += 1;
        }
        let mut best = None;
        for s in first_open..state.slots.len() {
            *work += 1;
            if let Some((rate, nook)) = state.slots[s].best(g, id, rule, work) {
                if best.as_ref().is_none_or(|(b, _, _)| rate < *b) {
                    best = Some((rate, s, nook));
                }
            }
        }
        if best.is_none() {
            let kind = kinds.iter().copied().find(|&k| state.open[k] < g.blanks[k].count && g.fits(id as usize, k));
            if let Some(kind) = kind {
                let s = state.open(g, kind);
                best = state.slots[s].best(g, id, rule, work).map(|(rate, nook)| (rate, s, nook));
            }
        }
        match best {
            Some((_, s, nook)) => state.slots[s].surface.put(g, id, nook),
            None => state.loose.push(id),
        }
    }
    state
}

//! How few sheets can ever do: proven lower bounds by area and by dual feasible functions.
//!
//! A dual feasible function maps sizes so that whatever fits side by side in the sheet still fits after the mapping; weighing
//! each piece by the product of a mapped width and a mapped height then gives a valid area bound (Fekete & Schepers 2004;
//! Carlier, Clautiaux & Moukrim 2007).

use super::pieces::{Blank, Grown};

/// Sums of sheets' costs that are looked through at most.
const MOST_SUMS: usize = 1_000_000;

/// The least cost of sheets that could hold all pieces which fit anywhere at all.
pub(super) fn least_cost(g: &Grown) -> u64 {
    let wanted: Vec<usize> =
        (0..g.pieces.len()).filter(|&p| g.pieces[p].count > 0 && (0..g.blanks.len()).any(|b| usable(g, p, b))).collect();
    if wanted.is_empty() {
        return 0;
    }
    let mut bound = by_area(g, &wanted);
    for (b, blank) in g.blanks.iter().enumerate() {
        // Shapes may reach into each other's rectangles, so that only their area counts.
        if blank.count == 0 || g.has_shapes() {
            continue;
        }
        let only = if wanted.iter().all(|&p| g.fits(p, b)) {
            let n = fewest_of(g, b, &wanted);
            if n > u64::from(blank.count) {
                u64::MAX
            } else {
                n.saturating_mul(blank.cost)
            }
        } else {
            u64::MAX
        };
        let other = (0..g.blanks.len())
            .filter(|&o| o != b && g.blanks[o].count > 0 && wanted.iter().any(|&p| g.fits(p, o)))
            .map(|o| g.blanks[o].cost)
            .min()
            .unwrap_or(u64::MAX);
        let either = only.min(other);
        if either != u64::MAX {
            bound = bound.max(either);
        }
    }
    bound
}

fn usable(g: &Grown, piece: usize, blank: usize) -> bool {
    g.blanks[blank].count > 0 && g.fits(piece, blank)
}

/// Area bound over every set of sheet kinds that some piece is confined to.
fn by_area(g: &Grown, wanted: &[usize]) -> u64 {
    let kinds = g.blanks.len();
    let home = |p: usize| -> Vec<bool> { (0..kinds).map(|b| usable(g, p, b)).collect() };
    let homes: Vec<Vec<bool>> = wanted.iter().map(|&p| home(p)).collect();
    let mut sets: Vec<Vec<bool>> = homes.clone();
    sets.push(vec![true; kinds]);
    sets.sort();
    sets.dedup();
    let mut best = 0;
    for set in &sets {
        let within = |h: &[bool]| h.iter().zip(set).all(|(a, b)| !a || *b);
        let needed: i128 = wanted
            .iter()
            .zip(&homes)
            .filter(|(_, h)| within(h))
            .map(|(&p, _)| i128::from(g.pieces[p].area) * i128::from(g.pieces[p].count))
            .sum();
        let mut area = needed;
        let mut order: Vec<usize> = (0..kinds).filter(|&b| set[b] && g.blanks[b].count > 0).collect();
        // Cheapest area first: the linear relaxation.
        order.sort_by(|&a, &b| {
            let (x, y) = (&g.blanks[a], &g.blanks[b]);
            (u128::from(x.cost) * y.area as u128).cmp(&(u128::from(y.cost) * x.area as u128)).then(a.cmp(&b))
        });
        let mut cost: u128 = 0;
        for b in order {
            let blank = &g.blanks[b];
            if area <= 0 {
                break;
            }
            let all = i128::from(blank.area) * i128::from(blank.count);
            if area >= all {
                cost += u128::from(blank.cost) * u128::from(blank.count);
            } else {
                cost += (area as u128 * u128::from(blank.cost)).div_ceil(blank.area as u128);
            }
            area -= all;
        }
        // More area than the stock holds: then no packing exists, and the whole stock's cost is still a bound for what fits.
        let relaxed = u64::try_from(cost).unwrap_or(u64::MAX);
        best = best.max(if area > 0 { relaxed } else { whole_sheets(g, set, needed, relaxed) });
    }
    best
}

/// The least cost of whole sheets with enough area, from the relaxed cost on: sheets are not bought by the piece.
fn whole_sheets(g: &Grown, set: &[bool], needed: i128, relaxed: u64) -> u64 {
    let kinds: Vec<&Blank> =
        g.blanks.iter().zip(set).filter(|(b, s)| **s && b.count > 0 && b.cost > 0).map(|(b, _)| b).collect();
    let step = kinds.iter().fold(0, |a, b| common(a, b.cost));
    let free = g.blanks.iter().zip(set).any(|(b, s)| *s && b.count > 0 && b.cost == 0);
    let Some(dearest) = kinds.iter().map(|b| b.cost).max().filter(|_| !free) else { return relaxed };
    // The relaxed solution, its last sheet whole, costs less than this.
    let Ok(most) = usize::try_from(relaxed.saturating_add(dearest) / step) else { return relaxed };
    // Copies of a kind in lots of 1, 2, 4...: any number up to all of them is a sum of such lots.
    let mut lots: Vec<(usize, i128)> = Vec::new();
    for b in &kinds {
        let mut left = u64::from(b.count);
        let mut lot = 1;
        while left > 0 && lot <= most as u64 {
            let n = lot.min(left);
            lots.push(((b.cost / step).saturating_mul(n) as usize, i128::from(b.area) * i128::from(n)));
            (left, lot) = (left - n, lot * 2);
        }
    }
    if most.saturating_mul(lots.len()) > MOST_SUMS {
        return relaxed;
    }
    // The largest area for each cost.
    let mut largest = vec![0i128; most + 1];
    for (cost, area) in lots {
        for c in (cost..=most).rev() {
            largest[c] = largest[c].max(largest[c - cost] + area);
        }
    }
    let first = largest.iter().position(|a| *a >= needed).map_or(relaxed, |c| c as u64 * step);
    first.max(relaxed)
}

/// The greatest common divisor.
fn common(a: u64, b: u64) -> u64 {
    if b == 0 {
        a
    } else {
        common(b, a % b)
    }
}

/// The fewest sheets of one kind that could hold the pieces, by dual feasible functions.
pub(super) fn fewest_of(g: &Grown, blank: usize, wanted: &[usize]) -> u64 {
    let sheet = &g.blanks[blank];
    let (across, up) = (Axis::new(g, wanted, sheet.w, 0), Axis::new(g, wanted, sheet.h, 1));
    let mut best = 1;
    let n = wanted.len();
    // Work is bounded: with very many different pieces only a spread of the functions is tried.
    let budget = 6_000_000usize;
    let pairs = (budget / n.max(1)).max(16);
    let each = (pairs as f64).sqrt() as usize;
    let (fs, gs) = (across.functions(each), up.functions(each));
    let tables = |fs: &[Dual], cap: i32, side: usize| -> Vec<(i128, Vec<i64>)> {
        fs.iter()
            .map(|f| {
                (
                    i128::from(f.of(cap, cap)),
                    wanted.iter().flat_map(|&p| ways(g, p, sheet.w, sheet.h, side).map(|x| f.of(x, cap))).collect(),
                )
            })
            .collect()
    };
    let (ft, gt) = (tables(&fs, sheet.w, 0), tables(&gs, sheet.h, 1));
    for (fc, fv) in &ft {
        for (gc, gv) in &gt {
            let mut sum: i128 = 0;
            for (i, &p) in wanted.iter().enumerate() {
                let a = i128::from(fv[2 * i]) * i128::from(gv[2 * i]);
                let b = i128::from(fv[2 * i + 1]) * i128::from(gv[2 * i + 1]);
                sum += a.min(b) * i128::from(g.pieces[p].count);
            }
            let cap = fc * gc;
            if cap > 0 {
                best = best.max(u64::try_from((sum + cap - 1) / cap).unwrap_or(0));
            }
        }
    }
    best
}

/// A piece's side in the two ways it may lie in this sheet (the same way twice when there is only one).
fn ways(g: &Grown, piece: usize, w: i32, h: i32, side: usize) -> impl Iterator<Item = i32> {
    let mut fit = g.pieces[piece].ways.iter().filter(|v| v.0 <= w && v.1 <= h);
    let pick = |v: &(i32, i32, u8)| if side == 0 { v.0 } else { v.1 };
    let first = fit.next().map_or(0, pick);
    let second = fit.next().map_or(first, pick);
    [first, second].into_iter()
}

/// One dual feasible function; the sheet's size maps to its capacity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Dual {
    /// Unchanged.
    Same,
    /// Sizes over `cap - e` count as the whole, sizes under `e` as nothing.
    Threshold(i32),
    /// Whole multiples of `e`, rounded in favour of large sizes.
    Step(i32),
    /// Fekete and Schepers' rounding to k-ths.
    Parts(i32),
}

impl Dual {
    fn of(self, x: i32, cap: i32) -> i64 {
        let (x, c) = (i64::from(x), i64::from(cap));
        match self {
            Self::Same => x,
            Self::Threshold(e) => {
                let e = i64::from(e);
                if x > c - e {
                    c
                } else if x >= e {
                    x
                } else {
                    0
                }
            }
            Self::Step(e) => {
                let e = i64::from(e);
                match (2 * x).cmp(&c) {
                    std::cmp::Ordering::Greater => 2 * (c / e - (c - x) / e),
                    std::cmp::Ordering::Equal => c / e,
                    std::cmp::Ordering::Less => 2 * (x / e),
                }
            }
            Self::Parts(k) => {
                let k = i64::from(k);
                if (x * (k + 1)) % c == 0 {
                    x * k
                } else {
                    (x * (k + 1) / c) * c
                }
            }
        }
    }
}

/// The sizes that occur along one axis.
struct Axis {
    cap: i32,
    sizes: Vec<i32>,
}

impl Axis {
    fn new(g: &Grown, wanted: &[usize], cap: i32, side: usize) -> Self {
        let mut sizes: Vec<i32> = wanted
            .iter()
            .flat_map(|&p| g.pieces[p].ways.iter().map(move |v| if side == 0 { v.0 } else { v.1 }))
            .filter(|&x| x <= cap)
            .collect();
        sizes.sort_unstable();
        sizes.dedup();
        Self { cap, sizes }
    }

    /// At most `most` functions: all that can matter when few sizes occur, else an even spread of them.
    fn functions(&self, most: usize) -> Vec<Dual> {
        let half = self.cap / 2;
        let mut steps: Vec<i32> = self
            .sizes
            .iter()
            .flat_map(|&x| [x, self.cap - x, self.cap - x + 1, x + 1])
            .filter(|&e| e >= 1 && e <= half)
            .collect();
        steps.sort_unstable();
        steps.dedup();
        let mut list: Vec<Dual> = vec![Dual::Same];
        list.extend((1..=12).map(Dual::Parts));
        let rest = most.saturating_sub(list.len()).max(4);
        let all: Vec<Dual> = steps.iter().map(|&e| Dual::Threshold(e)).chain(steps.iter().map(|&e| Dual::Step(e))).collect();
        let stride = all.len().div_ceil(rest).max(1);
        list.extend(all.into_iter().step_by(stride));
        list
    }
}

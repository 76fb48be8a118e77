//! Jobs that leave no waste at all, or one strip across a sheet, put together from below: what fits exactly is joined to blocks,
//! blocks to larger ones, until they are sheets. Where that goes no further some blocks are taken apart and others tried.

use super::blocks::Block;
use super::model::{CutRule, PackedSheet};
use super::pieces::{Blank, Grown};
use super::rng::Rng;
use super::solve::finished_from;
use super::surface::Placed;
use super::wheels;
use std::rc::Rc;

/// Largest count of pieces.
const MOST: u32 = 400;
/// Turns without progress after which all is taken apart.
const STALE: u32 = 800;

/// Work units of a look at one block for a joint.
const LOOK: u64 = 12;
/// How much likelier a joint is right when what it gives has a use: a sheet's side, another block's, or a pocket filled.
const SURE: f64 = 8.0;

struct Assembly<'a> {
    g: &'a Grown,
    /// Sheets still to be filled, by kind.
    counts: Vec<u32>,
    roots: Vec<Rc<Block>>,
    /// Kind of sheet, quarters, and what fills it.
    done: Vec<(usize, u8, Rc<Block>)>,
    rng: Rng,
    work: u64,
}

/// A side of a block; upright for the left and right ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Side {
    length: i32,
    root: usize,
    upright: bool,
}

/// Two blocks that could be one.
#[derive(Clone, Copy, Debug)]
struct Fit {
    first: usize,
    second: usize,
    quarters: u8,
    how: How,
}

#[derive(Clone, Copy, Debug)]
enum How {
    Beside,
    Above,
    Within(usize),
}

/// Fills the given number of sheets of each kind with all pieces, if they fill them exactly or but for one strip and the work
/// allows.
pub(super) fn solve(g: &Grown, counts: &[u32], work: u64, seed: u64) -> Option<Vec<PackedSheet>> {
    let total: i64 = g.pieces.iter().map(|p| p.area * i64::from(p.count)).sum();
    let area: i64 = g.blanks.iter().zip(counts).map(|(b, &n)| b.area * i64::from(n)).sum();
    let pieces: u32 = g.pieces.iter().map(|p| p.count).sum();
    if matches!(g.cut, CutRule::Staged(_)) || total > area || pieces > MOST {
        return None;
    }
    if total == area {
        return put_together(g, counts, None, work, seed);
    }
    let spares = strips(g, counts, area - total);
    let share = work / spares.len().max(1) as u64;
    spares.into_iter().find_map(|spare| put_together(g, counts, Some(spare), share, seed))
}

/// The strips across one of the sheets that are as large as what is left over.
fn strips(g: &Grown, counts: &[u32], waste: i64) -> Vec<Block> {
    let used = g.blanks.iter().zip(counts).filter(|(_, n)| **n > 0).map(|(b, _)| b);
    let both = used.flat_map(|b| {
        let length = |across: i32, along: i32| {
            let length = i32::try_from(waste / i64::from(across)).ok()?;
            (i64::from(length) * i64::from(across) == waste && length < along).then_some(length)
        };
        [length(b.h, b.w).map(|w| Block::spare(w, b.h)), length(b.w, b.h).map(|h| Block::spare(b.w, h))]
    });
    both.flatten().collect()
}

fn put_together(g: &Grown, counts: &[u32], spare: Option<Block>, work: u64, seed: u64) -> Option<Vec<PackedSheet>> {
    let mut start: Vec<Rc<Block>> = spare.into_iter().map(Rc::new).collect();
    for (id, p) in g.pieces.iter().enumerate().filter(|(_, p)| p.count > 0) {
        let block = Rc::new(Block::of(g, id as u32)?);
        start.extend(std::iter::repeat_n(block, p.count as usize));
    }
    let mut assembly =
        Assembly { g, counts: counts.to_vec(), roots: Vec::new(), done: Vec::new(), rng: Rng::new(seed, 0), work: 0 };
    let mut stale = STALE;
    while stale == STALE || !assembly.roots.is_empty() {
        if assembly.work > work {
            return None;
        }
        if stale == STALE {
            stale = 0;
            assembly.roots.clone_from(&start);
            assembly.done.clear();
            assembly.counts = counts.to_vec();
            assembly.recreate();
            continue;
        }
        let before = assembly.roots.clone();
        let done = assembly.done.len();
        assembly.ruin();
        assembly.recreate();
        let (now, was) = (assembly.roots.len(), before.len());
        if assembly.done.len() > done || now < was {
            stale = 0;
            continue;
        }
        stale += 1;
        if now > was + usize::from(assembly.rng.chance(3)) {
            assembly.roots = before;
        }
    }
    let sheets: Vec<(usize, Vec<Placed>)> = assembly
        .done
        .iter()
        .map(|(kind, quarters, block)| {
            let mut placed = Vec::new();
            block.lay((0, 0), *quarters, &mut placed);
            (*kind, placed)
        })
        .collect();
    Some(finished_from(g, sheets.iter().map(|(kind, placed)| (*kind, placed.as_slice()))))
}

impl Assembly<'_> {
    /// Takes some blocks apart, wholly or by a few joints.
    fn ruin(&mut self) {
        let blocks: Vec<usize> = (0..self.roots.len()).filter(|&i| !self.roots[i].parts().is_empty()).collect();
        if blocks.is_empty() {
            return;
        }
        let count = 1 + self.rng.below(4.min(blocks.len()));
        let mut chosen: Vec<usize> = (0..count).map(|_| blocks[self.rng.below(blocks.len())]).collect();
        chosen.sort_unstable();
        chosen.dedup();
        let wholly = self.rng.chance(40);
        for &i in chosen.iter().rev() {
            let block = self.roots.swap_remove(i);
            let mut joints = if wholly { usize::MAX } else { 1 + self.rng.below(3) };
            let mut open = vec![block];
            while let Some(b) = if open.is_empty() { None } else { Some(open.swap_remove(self.rng.below(open.len()))) } {
                if b.parts().is_empty() || joints == 0 {
                    self.roots.push(b);
                } else {
                    joints -= 1;
                    open.extend(b.parts().iter().map(|p| Rc::clone(&p.block)));
                }
            }
        }
    }

    /// Joins what fits, one of the likelier joints at a time, until nothing does.
    fn recreate(&mut self) {
        self.finish_sheets();
        let mut bench = Bench::default();
        for block in self.roots.drain(..) {
            bench.add(block);
        }
        for slot in 0..bench.blocks.len() {
            bench.offer_all(slot, &self.g.blanks, &mut self.rng, |other| other < slot);
        }
        loop {
            let Some(fit) = bench.next() else {
                // Where no two fit, five may.
                let wheel = if self.g.cut == CutRule::Free {
                    wheels::find(&bench.blocks, &self.g.blanks, &mut self.rng, &mut bench.work)
                } else {
                    None
                };
                let Some((slots, block)) = wheel else { break };
                for slot in slots {
                    bench.blocks[slot] = None;
                }
                let slot = bench.add(Rc::new(block));
                bench.offer_all(slot, &self.g.blanks, &mut self.rng, |_| true);
                continue;
            };
            let (Some(a), Some(b)) = (&bench.blocks[fit.first], &bench.blocks[fit.second]) else { continue };
            let block = match fit.how {
                How::Beside => Block::joined(a, b, fit.quarters, false),
                How::Above => Block::joined(a, b, fit.quarters, true),
                How::Within(pocket) => Block::filled(a, pocket, b, fit.quarters),
            };
            let Some(block) = block else { continue };
            bench.blocks[fit.first] = None;
            bench.blocks[fit.second] = None;
            let slot = bench.add(Rc::new(block));
            bench.offer_all(slot, &self.g.blanks, &mut self.rng, |_| true);
        }
        self.work += bench.work;
        self.roots.extend(bench.blocks.into_iter().flatten());
        self.finish_sheets();
    }

    /// Lays blocks that are whole sheets aside: what fills a sheet without waste is hardly ever wrong.
    fn finish_sheets(&mut self) {
        let mut i = 0;
        while i < self.roots.len() {
            let b = &self.roots[i];
            let whole = |k: usize| {
                let s = &self.g.blanks[k];
                let q = (0..2u8).find(|&q| b.turns[usize::from(q)] && b.size(q) == (s.w, s.h));
                q.filter(|_| self.counts[k] > 0 && b.pockets.is_empty()).map(|q| (k, q))
            };
            let Some((kind, quarters)) = (0..self.counts.len()).find_map(whole) else {
                i += 1;
                continue;
            };
            self.counts[kind] -= 1;
            self.done.push((kind, quarters, self.roots.swap_remove(i)));
        }
    }
}

/// Blocks on their way to be joined. A block joined leaves its slot empty.
#[derive(Default)]
struct Bench {
    blocks: Vec<Option<Rc<Block>>>,
    /// Sorted; of blocks joined too.
    sides: Vec<Side>,
    /// Each with the time when its turn comes.
    fits: Vec<(f64, Fit)>,
    work: u64,
}

impl Bench {
    fn add(&mut self, block: Rc<Block>) -> usize {
        let root = self.blocks.len();
        if block.pockets.is_empty() {
            for (length, upright) in [(block.w, false), (block.h, true)] {
                let side = Side { length, root, upright };
                let at = self.sides.partition_point(|s| *s < side);
                self.sides.insert(at, side);
            }
        }
        self.blocks.push(Some(block));
        root
    }

    /// The joint whose turn it is, of blocks that are still there.
    fn next(&mut self) -> Option<Fit> {
        let blocks = &self.blocks;
        self.work += self.fits.len() as u64;
        self.fits.retain(|(_, f)| blocks[f.first].is_some() && blocks[f.second].is_some());
        let first = (0..self.fits.len()).min_by(|&a, &b| self.fits[a].0.total_cmp(&self.fits[b].0))?;
        Some(self.fits.swap_remove(first).1)
    }

    /// The stretch of the sorted sides that are as long.
    fn run(&self, length: i32) -> &[Side] {
        let from = self.sides.partition_point(|s| s.length < length);
        let to = from + self.sides[from..].iter().take_while(|s| s.length == length).count();
        &self.sides[from..to]
    }

    /// Lists the joints of a block with those others that are to be looked at.
    fn offer_all(&mut self, slot: usize, blanks: &[Blank], rng: &mut Rng, other: impl Fn(usize) -> bool) {
        let Some(block) = self.blocks[slot].clone() else { return };
        let mut found: Vec<(f64, Fit)> = Vec::new();
        self.work += LOOK;
        if block.pockets.is_empty() {
            for (length, upright) in [(block.w, false), (block.h, true)] {
                let run = self.run(length);
                let there = run.iter().filter(|s| self.blocks[s.root].is_some()).count();
                for s in run.iter().filter(|s| s.root != slot && other(s.root)) {
                    let Some(with) = &self.blocks[s.root] else { continue };
                    let quarters = u8::from(s.upright != upright);
                    let Some(turns) = block.turns_with(with, quarters) else { continue };
                    let across = |b: &Block, upright: bool| if upright { b.w } else { b.h };
                    let sum = across(&block, upright) + across(with, s.upright);
                    let size = if upright { (sum, length) } else { (length, sum) };
                    if !blanks.iter().any(|b| on(b, turns, size)) {
                        continue;
                    }
                    let sure = blanks.iter().any(|b| b.w == sum || b.h == sum)
                        || self.run(sum).iter().any(|s| self.blocks[s.root].is_some());
                    let weight = if sure { SURE } else { 1.0 } / there as f64;
                    let how = if upright { How::Beside } else { How::Above };
                    found.push((weight, Fit { first: slot, second: s.root, quarters, how }));
                }
            }
        }
        for (root, with) in self.blocks.iter().enumerate() {
            let Some(with) = with.as_ref().filter(|_| root != slot && other(root)) else { continue };
            let pairs = [(slot, &block, root, with), (root, with, slot, &block)];
            for (first, a, second, b) in pairs.into_iter().filter(|p| p.3.pockets.is_empty()) {
                for (pocket, p) in a.pockets.iter().enumerate() {
                    let fits = |q: &u8| b.size(*q) == (p.x1 - p.x0, p.y1 - p.y0) && a.turns_with(b, *q).is_some();
                    if let Some(quarters) = [0, 1].into_iter().find(fits) {
                        found.push((SURE, Fit { first, second, quarters, how: How::Within(pocket) }));
                    }
                }
            }
        }
        // Clocks that run at the weights' speed: the first to ring is drawn by weight.
        self.fits.extend(found.into_iter().map(|(weight, fit)| (-(1.0 - rng.unit()).ln() / weight, fit)));
    }
}

/// Whether a block of a size lies on a sheet.
pub(super) fn on(blank: &Blank, turns: [bool; 2], (w, h): (i32, i32)) -> bool {
    (turns[0] && w <= blank.w && h <= blank.h) || (turns[1] && h <= blank.w && w <= blank.h)
}

//! Jobs with shapes, once more with what just fills a notch or an opening in its place: then they are jobs of rectangles.

use super::blocks::Block;
use super::lanes;
use super::model::{PackedSheet, Settings};
use super::pieces::{Grown, Piece};
use super::solve::finished_from;
use super::surface::Placed;
use std::rc::Rc;

/// Looks for a cheaper layout with half the work; gives the work that is left for others.
pub(super) fn improve(g: &Grown, settings: &Settings<'_>, bound: u64, best: &mut (u64, Vec<PackedSheet>)) -> u64 {
    let Some((glued, blocks)) = glued(g) else { return settings.work };
    let half = Settings { work: settings.work / 2, ..*settings };
    let mut found = best.clone();
    lanes::improve(&glued, &half, bound, &mut found);
    if found.0 < best.0 {
        let sheets: Vec<(usize, Vec<Placed>)> = found.1.iter().map(|s| (s.kind, taken_apart(g, s, &blocks))).collect();
        *best = (found.0, finished_from(g, sheets.iter().map(|(kind, placed)| (*kind, placed.as_slice()))));
    }
    settings.work - half.work
}

/// The job with each shape glued to what fills it exactly, and the blocks that stand behind the pieces of the job itself;
/// `None` when no shape can be filled.
fn glued(g: &Grown) -> Option<(Grown, Vec<Rc<Block>>)> {
    let mut left: Vec<u32> = g.pieces.iter().map(|p| p.count).collect();
    let mut blocks: Vec<Rc<Block>> = Vec::new();
    for shape in 0..g.pieces.len() {
        let Some(bare) = Block::of(g, shape as u32).filter(|b| !b.pockets.is_empty()).map(Rc::new) else { continue };
        while left[shape] > 0 {
            let mut taken: Vec<usize> = Vec::new();
            let mut block = Rc::clone(&bare);
            while let Some(fuller) = filled(g, &block, |p| left[p] > taken.iter().filter(|t| **t == p).count() as u32) {
                taken.push(fuller.0);
                block = Rc::new(fuller.1);
            }
            if !block.pockets.is_empty() {
                break;
            }
            left[shape] -= 1;
            for p in taken {
                left[p] -= 1;
            }
            blocks.push(block);
        }
    }
    if blocks.is_empty() {
        return None;
    }
    let mut glued = g.clone();
    for (piece, n) in glued.pieces.iter_mut().zip(left) {
        piece.count = n;
    }
    glued.pieces.extend(blocks.iter().map(|b| {
        let ways = [0u8, 1].into_iter().filter(|q| b.turns[usize::from(*q)]).map(|q| {
            let (w, h) = b.size(q);
            (w, h, q)
        });
        let area = i64::from(b.w) * i64::from(b.h);
        Piece { ways: ways.collect(), shape: None, area, long: b.w.max(b.h), short: b.w.min(b.h), count: 1 }
    }));
    Some((glued, blocks))
}

/// A block with its first pocket filled by a rectangle that is still there, one that leaves it most turns.
fn filled(g: &Grown, block: &Rc<Block>, there: impl Fn(usize) -> bool) -> Option<(usize, Block)> {
    let pocket = block.pockets.first()?;
    let size = (pocket.x1 - pocket.x0, pocket.y1 - pocket.y0);
    let fits = (0..g.pieces.len()).filter(|&p| there(p) && g.pieces[p].shape.is_none()).filter_map(|p| {
        let filler = Rc::new(Block::of(g, p as u32)?);
        let turns = |b: &Block| b.turns.iter().filter(|t| **t).count();
        let ways = [0, 1].into_iter().filter(|q| filler.size(*q) == size);
        ways.filter_map(|q| Block::filled(block, 0, &filler, q)).max_by_key(turns).map(|b| (p, b))
    });
    // The last of the best, so that the order of equals is that of the job: either is as good.
    fits.max_by_key(|(_, b)| b.turns.iter().filter(|t| **t).count())
}

/// The pieces of a sheet, those of blocks one by one.
fn taken_apart(g: &Grown, sheet: &PackedSheet, blocks: &[Rc<Block>]) -> Vec<Placed> {
    let mut placed = Vec::new();
    for s in &sheet.spots {
        let [x, y, w, h] = [s.at[0], s.at[1], s.size[0], s.size[1]].map(|v| v as i32);
        if let Some(block) = s.item.checked_sub(g.pieces.len()).and_then(|b| blocks.get(b)) {
            block.lay((x, y), s.quarters, &mut placed);
        } else {
            let (w, h) = (w + g.gap, h + g.gap);
            placed.push(Placed { piece: s.item as u32, x, y, w, h, quarters: s.quarters });
        }
    }
    placed
}

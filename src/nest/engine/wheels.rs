//! Four blocks round a fifth, each reaching past the next: the least way to fill a rectangle that no straight cut parts.

use super::assembly::on;
use super::blocks::{Block, Part};
use super::pieces::Blank;
use super::rng::Rng;
use std::rc::Rc;

/// A block as it may lie: size, index, quarters.
type Way = (i32, i32, usize, u8);

/// One of the wheels that the blocks still there can make, if it lies on some sheet. The mirror image of one is the same.
pub(super) fn find(
    blocks: &[Option<Rc<Block>>],
    blanks: &[Blank],
    rng: &mut Rng,
    work: &mut u64,
) -> Option<([usize; 5], Block)> {
    let mut ways: Vec<Way> = Vec::new();
    for (i, block) in blocks.iter().enumerate() {
        let Some(b) = block.as_ref().filter(|b| b.pockets.is_empty()) else { continue };
        let both = |q: &u8| b.turns[usize::from(*q)] && (*q == 0 || b.w != b.h || !b.turns[0]);
        ways.extend([0u8, 1].into_iter().filter(both).map(|q| (b.size(q).0, b.size(q).1, i, q)));
    }
    ways.sort_unstable();
    let mut by_height = ways.clone();
    by_height.sort_unstable_by_key(|&(w, h, i, q)| (h, w, i, q));
    let wide = |w: i32| &ways[ways.partition_point(|o| o.0 < w)..ways.partition_point(|o| o.0 <= w)];
    let high = |h: i32| &by_height[by_height.partition_point(|o| o.1 < h)..by_height.partition_point(|o| o.1 <= h)];
    *work += (ways.len() * ways.len()) as u64 / 2;
    let mut found: Vec<([usize; 5], Block)> = Vec::new();
    // Counter-clockwise from the lower left corner: a lies under b's side, b beside c, c on d's side, d on a; e in the middle.
    for e in &ways {
        for a in ways.iter().filter(|a| a.0 > e.0) {
            for d in wide(a.0 - e.0) {
                for b in high(a.1 + e.1) {
                    let (w, h) = (a.0 + b.0, a.1 + d.1);
                    for c in wide(w - d.0).iter().filter(|c| c.1 == h - b.1) {
                        let spots = [(a, (0, 0)), (b, (a.0, 0)), (c, (d.0, b.1)), (d, (0, a.1)), (e, (d.0, a.1))];
                        let slots = spots.map(|(way, _)| way.2);
                        if (0..5).any(|i| slots[..i].contains(&slots[i])) {
                            continue;
                        }
                        let part = |(way, at): (&Way, (i32, i32))| {
                            Some(Part { block: Rc::clone(blocks[way.2].as_ref()?), at, quarters: way.3 })
                        };
                        let parts: Vec<Part> = spots.into_iter().filter_map(part).collect();
                        let wheel = Block::of_parts(w, h, Vec::new(), parts);
                        found
                            .extend(wheel.filter(|w| blanks.iter().any(|s| on(s, w.turns, (w.w, w.h)))).map(|w| (slots, w)));
                    }
                }
            }
        }
    }
    if found.is_empty() {
        return None;
    }
    Some(found.swap_remove(rng.below(found.len())))
}

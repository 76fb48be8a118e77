//! Fresh jobs of L, U and framed parts that fill their sheets without waste, by a rule like that of `planted_shapes.json`.
//!
//! Sheets are split from edge to edge into rectangles; some of these become an L, a U or a frame, a quarter of their shorter side
//! wide, and what is cut out of them is filled by further parts: by one, or by two where the name says `q`; where it says `s` some
//! parts are taken off again.

use crate::fresh::Dice;
use crate::instances::Instance;
use baywright::nest::engine::{free_rectangles, CutRule, Item, Problem, Shape, SheetKind, Turns};
use std::collections::BTreeMap;

/// Usable sheet and spacing of the planted instances, in tenths of a millimetre.
const SHEET: [i64; 2] = [24_200, 12_000];
const GAP: i64 = 70;
/// Rectangles before shapes, and the sheets they fill.
const SIZES: [(usize, u32); 5] = [(12, 1), (24, 2), (40, 3), (70, 4), (100, 5)];
/// No side of a split is shorter.
const LEAST: i64 = 1290;

/// `each` instances of each size and of each kind.
pub(crate) fn instances(seed: u64, each: u64) -> Vec<Instance> {
    let mut all = Vec::new();
    for (kind, name) in ["p", "q", "s"].into_iter().enumerate() {
        for (n, sheets) in SIZES {
            for k in 0..each {
                let dice = Dice(seed.wrapping_mul(1_000_033) ^ (kind as u64) << 50 ^ (n as u64) << 20 ^ k);
                let mut problem = job(n, sheets, kind == 1, dice);
                if kind == 2 {
                    slacken(&mut problem);
                }
                all.push(Instance {
                    name: format!("fresh_{name}_{n:03}_{k}"),
                    class: format!("fresh {name} {n:03}"),
                    problem,
                    best: Some(u64::from(sheets)),
                });
            }
        }
    }
    all
}

/// Sizes here are grown by the spacing, so that they add up.
fn job(n: usize, sheets: u32, halved: bool, mut dice: Dice) -> Problem {
    let mut leaves = vec![[SHEET[0] + GAP, SHEET[1] + GAP]; sheets as usize];
    while leaves.len() < n {
        let room = |l: &[i64; 2]| l[0].max(l[1]) >= 2 * LEAST;
        // Mostly one of the larger ones.
        let mut pick = || (dice.next() % leaves.len() as u64) as usize;
        let tries = [pick(), pick(), pick()];
        let Some(i) = tries.into_iter().filter(|&i| room(&leaves[i])).max_by_key(|&i| leaves[i][0] * leaves[i][1]) else {
            continue;
        };
        let leaf = leaves.swap_remove(i);
        let axis = usize::from(leaf[1] > leaf[0]) ^ usize::from(dice.within(0, 9) < 3);
        let axis = if leaf[axis] < 2 * LEAST { 1 - axis } else { axis };
        let least = LEAST.max(leaf[axis] / 5);
        let even = dice.within(0, 9) < 2 && leaf[axis] % 2 == 0;
        let at = if even { leaf[axis] / 2 } else { dice.within(least / 10, (leaf[axis] - least) / 10) * 10 };
        for side in [at, leaf[axis] - at] {
            let mut part = leaf;
            part[axis] = side;
            leaves.push(part);
        }
    }
    let mut items = Vec::new();
    let mut shapes = BTreeMap::new();
    for leaf in leaves {
        let size = [leaf[0] - GAP, leaf[1] - GAP];
        let wide = size[0].min(size[1]) / 4;
        let form = dice.within(0, 6);
        if form > 2 || wide < 300 {
            items.push(item(size, &mut dice));
            continue;
        }
        // A frame, a U that is open above, or an L: how far what is cut out stays off each side.
        let (right, top) = [(wide, wide), (wide, 0), (0, 0)][form as usize];
        let notch = [wide, wide, size[0] - right, size[1] - top];
        let cover = free_rectangles(size, &[notch], 1);
        shapes.insert(items.len(), Shape { cover });
        items.push(item(size, &mut dice));
        // The filler keeps off the shape, but not off a side where the shape is open.
        let off = |d: usize, open: i64| notch[d + 2] - notch[d] - GAP - if open == 0 { 0 } else { GAP };
        let filler = [off(0, right), off(1, top)];
        let axis = usize::from(filler[1] > filler[0]);
        if halved && filler[axis] > 2000 {
            let first = dice.within(filler[axis] / 4, filler[axis] * 3 / 4);
            for side in [first, filler[axis] - first - GAP] {
                let mut part = filler;
                part[axis] = side;
                items.push(item(part, &mut dice));
            }
        } else {
            items.push(item(filler, &mut dice));
        }
    }
    let sheets = vec![SheetKind { size: SHEET, count: None, cost: 1 }];
    Problem { items, shapes, defects: BTreeMap::new(), sheets, gap: GAP, cut: CutRule::Free }
}

/// Takes rectangles off until a twentieth of their area is free.
fn slacken(problem: &mut Problem) {
    let shaped: Vec<usize> = problem.shapes.keys().copied().collect();
    let area = |i: &Item| (i.size[0] + GAP) * (i.size[1] + GAP) * i64::from(i.count);
    let rectangles = |problem: &Problem| (0..problem.items.len()).filter(|k| !shaped.contains(k)).collect::<Vec<_>>();
    let mut over = rectangles(problem).iter().map(|&k| area(&problem.items[k])).sum::<i64>() / 20;
    for k in rectangles(problem) {
        if area(&problem.items[k]) <= over {
            over -= area(&problem.items[k]);
            problem.items[k].count = 0;
        }
    }
}

/// With its grain fixed or not.
fn item(size: [i64; 2], dice: &mut Dice) -> Item {
    let turns = if dice.within(0, 1) == 0 { Turns::Fixed } else { Turns::Any };
    Item { size, turns, count: 1 }
}

/// The area that rectangles cover together, of a larger one that holds them.
pub(crate) fn covered_area(size: [i64; 2], cover: &[[i64; 4]]) -> f64 {
    let area = |r: &[i64; 4]| ((r[2] - r[0]) * (r[3] - r[1])) as f64;
    // What is free of them, taken away largest first until nothing is left, does not overlap.
    let mut taken = cover.to_vec();
    let mut free = 0.0;
    while let Some(r) = free_rectangles(size, &taken, 1).into_iter().max_by_key(|r| ((r[2] - r[0]) * (r[3] - r[1]), *r)) {
        free += area(&r);
        taken.push(r);
    }
    area(&[0, 0, size[0], size[1]]) - free
}

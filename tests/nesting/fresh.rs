//! Fresh instances by the rule of the published classes, to tune on what is not reported on.
//!
//! Classes 1-6 after Berkey & Wang 1987, 7-10 after Martello & Vigo 1998; the rule from memory, checked against the files.

use crate::instances::{merged, Instance};
use baywright::nest::engine::{CutRule, Item, Problem, SheetKind, Turns};
use std::collections::BTreeMap;

/// A small generator of random numbers (splitmix64), so that an instance can be named by its seed.
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    pub(crate) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From one whole number to another, both included.
    pub(crate) fn within(&mut self, low: i64, high: i64) -> i64 {
        low + (self.next() % (high - low + 1) as u64).cast_signed()
    }
}

/// `each` instances of each class and of each of five sizes.
pub(crate) fn instances(seed: u64, each: u64, turned: bool, cut: CutRule) -> Vec<Instance> {
    let mut all = Vec::new();
    for class in 1..=10 {
        for n in [20, 40, 60, 80, 100] {
            for k in 0..each {
                let dice = Dice(seed.wrapping_mul(1_000_003) ^ (class as u64) << 40 ^ (n as u64) << 20 ^ k);
                all.push(one(class, n, k, dice, turned, cut));
            }
        }
    }
    all
}

fn one(class: i64, n: usize, k: u64, mut dice: Dice, turned: bool, cut: CutRule) -> Instance {
    const SIMPLE: [(i64, i64); 6] = [(10, 10), (10, 30), (35, 40), (35, 100), (100, 100), (100, 300)];
    let bin = if class <= 6 { SIMPLE[class as usize - 1].1 } else { 100 };
    let mut size = || {
        if class <= 6 {
            let most = SIMPLE[class as usize - 1].0;
            return [dice.within(1, most), dice.within(1, most)];
        }
        let own = class - 6;
        let mut kind = own;
        if dice.within(1, 10) > 7 {
            let others: Vec<i64> = (1..=4).filter(|t| *t != own).collect();
            kind = others[dice.within(0, 2) as usize];
        }
        let (third, half) = (2 * bin / 3, bin / 2);
        match kind {
            1 => [dice.within(third, bin), dice.within(1, half)],
            2 => [dice.within(1, half), dice.within(third, bin)],
            3 => [dice.within(half, bin), dice.within(half, bin)],
            _ => [dice.within(1, half), dice.within(1, half)],
        }
    };
    let turns = if turned { Turns::Any } else { Turns::Fixed };
    let items = (0..n).map(|_| Item { size: size(), turns, count: 1 }).collect();
    let sheets = vec![SheetKind { size: [bin, bin], count: None, cost: 1 }];
    Instance {
        name: format!("fresh_c{class:02}_n{n:03}_{k}"),
        class: format!("class {class:02}"),
        problem: Problem { items: merged(items), shapes: BTreeMap::new(), defects: BTreeMap::new(), sheets, gap: 0, cut },
        best: None,
    }
}

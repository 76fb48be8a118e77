//! The order of cuts: stage after stage, with the fence set as seldom as that allows.

use super::types::{SawCut, Source};
use std::cmp::Reverse;

/// Puts the cuts of one sheet into the order of sawing and numbers them anew.
pub(super) fn ordered(cuts: &[SawCut]) -> Vec<SawCut> {
    // By old number, whether it is made and under which new number.
    let mut made: Vec<Option<u32>> = vec![None; cuts.len()];
    let mut done: Vec<SawCut> = Vec::with_capacity(cuts.len());
    while done.len() < cuts.len() {
        let ready = |c: &SawCut| match c.from {
            Source::Sheet => true,
            Source::Off(n) | Source::Rest(n) => made[n as usize - 1].is_some(),
        };
        let waiting = || cuts.iter().filter(|c| made[c.number as usize - 1].is_none() && ready(c));
        let Some(stage) = waiting().map(|c| c.stage).min() else { break };
        // The same setting as before; else what is still in hand; else the widest.
        let last = done.last().map(SawCut::setting);
        let in_hand = |c: &SawCut| match c.from {
            Source::Sheet => false,
            Source::Off(n) | Source::Rest(n) => made[n as usize - 1] == Some(done.len() as u32),
        };
        let next = waiting()
            .filter(|c| c.stage == stage)
            .min_by_key(|c| (Some(c.setting()) != last, !in_hand(c), Reverse(c.setting()), c.number));
        let Some(next) = next else { break };
        let number = done.len() as u32 + 1;
        made[next.number as usize - 1] = Some(number);
        let renamed = |n: u32| made[n as usize - 1].unwrap_or(n);
        let from = match next.from {
            Source::Sheet => Source::Sheet,
            Source::Off(n) => Source::Off(renamed(n)),
            Source::Rest(n) => Source::Rest(renamed(n)),
        };
        done.push(SawCut { number, from, ..*next });
    }
    done
}

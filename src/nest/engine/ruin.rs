//! Goal-driven ruin and recreate.
//!
//! The sheets are limited to what would be cheaper than the best layout so far; pieces may then lack a place. Part of the
//! layout is torn up and laid again, over and over, until all have one; then the limit falls. Late acceptance decides what is
//! kept (Burke & Bykov 2017; goal-driven use after Gardeyn & Wauters 2022).

use super::pieces::Grown;
use super::rng::Rng;
use super::state::{Slot, State};
use super::surface::{Rule, Surface};

/// Length of the late-acceptance history.
const HISTORY: usize = 400;

/// One search for a layout cheaper than a limit.
#[derive(Debug)]
pub(super) struct Search<'a, S> {
    g: &'a Grown,
    rng: Rng,
    pub(super) state: State<S>,
    /// Cost may not exceed this.
    limit: u64,
    history: Vec<f64>,
    step: usize,
    now: f64,
    saved: Vec<(usize, Slot<S>)>,
    failed: Vec<u32>,
    stamp: u32,
    largest: f64,
}

impl<'a, S: Surface> Search<'a, S> {
    /// Starts from a complete layout and forbids its cost.
    pub(super) fn new(g: &'a Grown, start: &State<S>, seed: u64, lane: u64) -> Self {
        let largest = g.blanks.iter().map(|b| b.area).max().unwrap_or(1).max(1) as f64;
        let mut search = Self {
            g,
            rng: Rng::new(seed, lane),
            state: start.clone(),
            limit: start.cost.saturating_sub(1),
            history: Vec::new(),
            step: 0,
            now: 0.0,
            saved: Vec::new(),
            failed: vec![0; g.pieces.len()],
            stamp: 0,
            largest,
        };
        search.lower();
        search
    }

    /// Forbids the present cost: closes sheets, emptiest first, until the rest is cheaper.
    pub(super) fn lower(&mut self) {
        self.limit = self.state.cost.saturating_sub(1);
        while self.state.cost > self.limit {
            let emptiest = (0..self.state.slots.len()).min_by(|&a, &b| {
                let share = |i: usize| {
                    let s = &self.state.slots[i];
                    s.surface.used() as f64 / self.g.blanks[s.kind].cost.max(1) as f64
                };
                share(a).total_cmp(&share(b)).then(a.cmp(&b))
            });
            match emptiest {
                Some(slot) => self.state.close(self.g, slot),
                None => break,
            }
        }
        self.now = self.rate();
        self.history = vec![self.now; HISTORY];
    }

    /// What is made least: loose area, and among equals sheets that are either full or empty.
    fn rate(&self) -> f64 {
        let loose: f64 = self.state.loose.iter().map(|&p| self.g.pieces[p as usize].area as f64).sum();
        let even: f64 = self
            .state
            .slots
            .iter()
            .map(|s| {
                let used = s.surface.used() as f64 / self.largest;
                used * used
            })
            .sum();
        loose / self.largest - SPREAD * even
    }

    /// Works until every piece has a place (true) or the work is used up.
    pub(super) fn run(&mut self, until: u64, work: &mut u64) -> bool {
        while !self.state.loose.is_empty() {
            if *work >= until {
                return false;
            }
            self.turn(work);
        }
        true
    }

    fn turn(&mut self, work: &mut u64) {
        *work += 20;
        let count = self.state.slots.len();
        let loose_before = self.state.loose.clone();
        let (open_before, cost_before) = (self.state.open.clone(), self.state.cost);
        self.saved.clear();
        let mut out: Vec<u32> = Vec::new();
        self.ruin(&mut out, work);
        let mut pool = std::mem::take(&mut self.state.loose);
        pool.append(&mut out);
        self.recreate(pool, work);
        let rated = self.rate();
        let slot = self.step % HISTORY;
        self.step += 1;
        let taken = rated <= self.now || rated <= self.history[slot] || self.state.loose.is_empty();
        if taken {
            self.now = rated;
        } else {
            self.state.slots.truncate(count);
            for (i, old) in self.saved.drain(..).rev() {
                self.state.slots[i] = old;
            }
            self.state.loose = loose_before;
            self.state.open = open_before;
            self.state.cost = cost_before;
        }
        if self.now < self.history[slot] || !taken {
            self.history[slot] = self.now;
        }
    }

    fn save(&mut self, slot: usize) {
        if self.saved.iter().all(|(i, _)| *i != slot) {
            self.saved.push((slot, self.state.slots[slot].clone()));
        }
    }

    fn ruin(&mut self, out: &mut Vec<u32>, work: &mut u64) {
        let count = self.state.slots.len();
        if count == 0 {
            return;
        }
        let sheets = match self.rng.below(10) {
            0..=3 => 1,
            4..=8 => 2,
            _ => 3,
        };
        let manner = self.rng.below(100);
        for _ in 0..sheets.min(count) {
            let i = self.rng.below(count);
            self.save(i);
            let b = self.g.blanks[self.state.slots[i].kind];
            let len = self.state.slots[i].surface.len();
            *work += 4 + len as u64;
            let rng = &mut self.rng;
            if manner < 40 {
                // A few at random.
                let few = 1 + rng.below(4.min(len.max(1)));
                let chosen: Vec<usize> = (0..few).map(|_| rng.below(len.max(1))).collect();
                self.state.slots[i].take(&mut |k, _| chosen.contains(&k), out);
            } else if manner < 90 {
                // All that touches a window.
                let share = 0.15 + 0.5 * rng.unit();
                let (ww, wh) = ((f64::from(b.w) * share) as i32, (f64::from(b.h) * share) as i32);
                let x = rng.below((b.w - ww).max(1) as usize) as i32;
                let y = rng.below((b.h - wh).max(1) as usize) as i32;
                self.state.slots[i].take(&mut |_, p| p.x < x + ww && x < p.x + p.w && p.y < y + wh && y < p.y + p.h, out);
            } else {
                self.state.slots[i].take(&mut |_, _| true, out);
            }
        }
    }

    fn recreate(&mut self, mut pool: Vec<u32>, work: &mut u64) {
        let key = self.rng.below(4);
        let noise = [0.0, 0.1, 0.3, 0.6][self.rng.below(4)];
        let mut keyed: Vec<(f64, u32)> = pool
            .drain(..)
            .map(|id| {
                let p = &self.g.pieces[id as usize];
                let size = match key {
                    0 => p.area as f64,
                    1 => f64::from(p.long),
                    2 => f64::from(p.long) + f64::from(p.short),
                    _ => f64::from(p.short),
                };
                (size * (1.0 + noise * self.rng.unit()), id)
            })
            .collect();
        keyed.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let rule = match self.rng.below(10) {
            0..=4 => Rule::ShortSide,
            5..=7 => Rule::Contact,
            _ => Rule::Area,
        };
        self.stamp += 1;
        for (_, id) in keyed {
            if self.failed[id as usize] == self.stamp {
                self.state.loose.push(id);
                continue;
            }
            let mut best = None;
            let count = self.state.slots.len();
            *work += 1 + count as u64 / 8;
            for s in 0..count {
                if let Some((rate, nook)) = self.state.slots[s].best(self.g, id, rule, work) {
                    if best.as_ref().is_none_or(|(b, _, _)| rate < *b) && !self.rng.chance(3) {
                        best = Some((rate, s, nook));
                    }
                }
            }
            if let Some((_, s, nook)) = best {
                self.save(s);
                self.state.slots[s].surface.put(id, nook);
            } else {
                self.failed[id as usize] = self.stamp;
                self.state.loose.push(id);
            }
        }
    }
}

/// Weight of fullness against loose area.
const SPREAD: f64 = 0.01;

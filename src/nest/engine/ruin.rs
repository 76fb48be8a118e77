//! Goal-driven ruin and recreate.
//!
//! The sheets are limited to what would be cheaper than the best layout so far; pieces may then lack a place. Part of the
//! layout is torn up and laid again, over and over, until all have one; then the limit falls. Late acceptance decides what is
//! kept (Burke & Bykov 2017; goal-driven use after Gardeyn & Wauters 2022).

use super::pieces::Grown;
use super::rng::Rng;
use super::state::{Slot, State};
use super::surface::{Rule, Surface};

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
    /// Sheets as they were before this turn; the first `kept` entries count, the rest is room.
    saved: Vec<(usize, Slot<S>)>,
    kept: usize,
    /// Sheets at the start of this turn; later ones are dropped when it is undone.
    base: usize,
    loose_before: Vec<u32>,
    open_before: Vec<u32>,
    out: Vec<u32>,
    keyed: Vec<(f64, u32)>,
    failed: Vec<u32>,
    stamp: u32,
    largest: f64,
}

impl<'a, S: Surface> Search<'a, S> {
    /// Starts from a layout, without a limit yet.
    pub(super) fn new(g: &'a Grown, start: State<S>, seed: u64, lane: u64, history: usize) -> Self {
        let largest = g.blanks.iter().map(|b| b.area).max().unwrap_or(1).max(1) as f64;
        Self {
            g,
            rng: Rng::new(seed, lane),
            state: start,
            limit: u64::MAX,
            history: vec![0.0; history],
            step: 0,
            now: 0.0,
            saved: Vec::new(),
            kept: 0,
            base: 0,
            loose_before: Vec::new(),
            open_before: Vec::new(),
            out: Vec::new(),
            keyed: Vec::new(),
            failed: vec![0; g.pieces.len()],
            stamp: 0,
            largest,
        }
    }

    /// The pieces it works on.
    pub(super) fn grown(&self) -> &'a Grown {
        self.g
    }

    /// Forbids any cost over a limit: closes sheets, emptiest first, until the rest is cheap enough.
    pub(super) fn limit_to(&mut self, limit: u64) {
        if limit >= self.limit {
            return;
        }
        self.limit = limit;
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
        self.history.fill(self.now);
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
        let count = self.state.slots.len();
        *work += 20 + count as u64 / 4;
        self.loose_before.clone_from(&self.state.loose);
        self.open_before.clone_from(&self.state.open);
        let cost_before = self.state.cost;
        self.kept = 0;
        self.base = count;
        let mut out = std::mem::take(&mut self.out);
        out.clear();
        out.append(&mut self.state.loose);
        self.ruin(&mut out, work);
        self.recreate(&out, work);
        self.out = out;
        let rated = self.rate();
        let slot = self.step % self.history.len();
        self.step += 1;
        let taken = rated <= self.now || rated <= self.history[slot] || self.state.loose.is_empty();
        if taken {
            self.now = rated;
        } else {
            self.state.slots.truncate(count);
            // Closing moves the last sheets; they come back in order of their index.
            self.saved[..self.kept].sort_by_key(|(i, _)| *i);
            for (i, old) in &mut self.saved[..self.kept] {
                if *i < self.state.slots.len() {
                    std::mem::swap(&mut self.state.slots[*i], old);
                } else {
                    self.state.slots.push(old.clone());
                }
            }
            std::mem::swap(&mut self.state.loose, &mut self.loose_before);
            std::mem::swap(&mut self.state.open, &mut self.open_before);
            self.state.cost = cost_before;
        }
        if self.now < self.history[slot] || !taken {
            self.history[slot] = self.now;
        }
    }

    fn save(&mut self, slot: usize) {
        if slot >= self.base || self.saved[..self.kept].iter().any(|(i, _)| *i == slot) {
            return;
        }
        if self.kept == self.saved.len() {
            self.saved.push((slot, self.state.slots[slot].clone()));
        } else {
            self.saved[self.kept].0 = slot;
            self.saved[self.kept].1.clone_from(&self.state.slots[slot]);
        }
        self.kept += 1;
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
        // Several kinds of sheet: close some, so that others can be opened for their cost.
        if self.g.blanks.len() > 1 && self.rng.chance(15) {
            for _ in 0..=self.rng.below(4.min(count)) {
                self.swap_out(out);
            }
            return;
        }
        for _ in 0..sheets.min(count) {
            let i = self.roomier(count);
            self.save(i);
            let b = self.g.blanks[self.state.slots[i].kind];
            let len = self.state.slots[i].surface.len();
            *work += 4 + len as u64;
            let rng = &mut self.rng;
            if manner < 40 {
                // A few at random.
                let few = 1 + rng.below(4.min(len.max(1)));
                let chosen: Vec<usize> = (0..few).map(|_| rng.below(len.max(1))).collect();
                self.state.slots[i].take(self.g, &mut |k, _| chosen.contains(&k), out);
            } else if manner < 90 {
                // All that touches a window.
                let share = 0.15 + 0.5 * rng.unit();
                let (ww, wh) = ((f64::from(b.w) * share) as i32, (f64::from(b.h) * share) as i32);
                let x = rng.within(b.w - ww);
                let y = rng.within(b.h - wh);
                self.state.slots[i].take(
                    self.g,
                    &mut |_, p| p.x < x + ww && x < p.x + p.w && p.y < y + wh && y < p.y + p.h,
                    out,
                );
            } else {
                self.state.slots[i].take(self.g, &mut |_, _| true, out);
            }
        }
    }

    /// The roomier of two sheets: where something is free there is more to win.
    fn roomier(&mut self, count: usize) -> usize {
        let (a, b) = (self.rng.below(count), self.rng.below(count));
        let free = |i: usize| {
            let slot = &self.state.slots[i];
            self.g.blanks[slot.kind].area - slot.surface.used()
        };
        if free(b) > free(a) {
            b
        } else {
            a
        }
    }

    /// Closes a sheet, so that others can be opened for its cost.
    fn swap_out(&mut self, out: &mut Vec<u32>) {
        let i = self.rng.below(self.state.slots.len());
        let last = self.state.slots.len() - 1;
        // The last sheet moves into the gap: both must be put back if the turn is undone.
        self.save(i);
        self.save(last);
        self.state.close(self.g, i);
        out.append(&mut self.state.loose);
    }

    fn recreate(&mut self, pool: &[u32], work: &mut u64) {
        let key = self.rng.below(4);
        let noise = [0.0, 0.1, 0.3, 0.6][self.rng.below(4)];
        let mut keyed = std::mem::take(&mut self.keyed);
        keyed.clear();
        keyed.extend(pool.iter().map(|&id| {
            let p = &self.g.pieces[id as usize];
            let size = match key {
                0 => p.area as f64,
                1 => f64::from(p.long),
                2 => f64::from(p.long) + f64::from(p.short),
                _ => f64::from(p.short),
            };
            (size * (1.0 + noise * self.rng.unit()), id)
        }));
        keyed.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let rule = match self.rng.below(10) {
            0..=4 => Rule::ShortSide,
            5..=7 => Rule::Contact,
            _ => Rule::Area,
        };
        self.stamp += 1;
        for &(_, id) in &keyed {
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
            if best.is_none() {
                best = self.open_for(id, rule, work);
            }
            if let Some((_, s, nook)) = best {
                self.save(s);
                self.state.slots[s].surface.put(self.g, id, nook);
            } else {
                self.failed[id as usize] = self.stamp;
                self.state.loose.push(id);
            }
        }
        self.keyed = keyed;
    }

    /// Opens a sheet for a piece when the limit leaves room for one.
    fn open_for(&mut self, id: u32, rule: Rule, work: &mut u64) -> Option<(i64, usize, S::Nook)> {
        let room = self.limit - self.state.cost;
        let g = self.g;
        let state = &self.state;
        let may = |k: &usize| state.open[*k] < g.blanks[*k].count && g.blanks[*k].cost <= room && g.fits(id as usize, *k);
        let count = (0..g.blanks.len()).filter(may).count();
        if count == 0 {
            return None;
        }
        let kind = (0..g.blanks.len()).filter(may).nth(self.rng.below(count))?;
        let s = self.state.open(g, kind);
        self.state.slots[s].best(g, id, rule, work).map(|(rate, nook)| (rate, s, nook))
    }
}

/// How many turns a layout is compared back over: longer searches cool more slowly.
pub(super) fn history(work: u64) -> usize {
    (work / 100_000).clamp(400, 3000) as usize
}

/// Weight of fullness against loose area.
const SPREAD: f64 = 0.01;

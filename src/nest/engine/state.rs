//! A layout in the making: open sheets, and pieces that have no place yet.

use super::pieces::Grown;
use super::surface::{Rule, Surface};

/// An open sheet, with the pieces known not to fit any more.
#[derive(Debug)]
pub(super) struct Slot<S> {
    pub(super) kind: usize,
    pub(super) surface: S,
    /// Bit per piece: tried since the last removal, and it did not fit.
    failed: Vec<u64>,
}

impl<S: Clone> Clone for Slot<S> {
    fn clone(&self) -> Self {
        Self { kind: self.kind, surface: self.surface.clone(), failed: self.failed.clone() }
    }

    /// Keeps the room it has.
    fn clone_from(&mut self, o: &Self) {
        self.kind = o.kind;
        self.surface.clone_from(&o.surface);
        self.failed.clone_from(&o.failed);
    }
}

impl<S: Surface> Slot<S> {
    pub(super) fn open(g: &Grown, kind: usize) -> Self {
        Self { kind, surface: S::blank(g, kind), failed: vec![0; g.pieces.len().div_ceil(64)] }
    }

    /// The best place on this sheet.
    pub(super) fn best(&mut self, g: &Grown, id: u32, rule: Rule, work: &mut u64) -> Option<(i64, S::Nook)> {
        let (word, bit) = (id as usize / 64, 1u64 << (id % 64));
        if self.failed[word] & bit != 0 {
            return None;
        }
        let found = self.surface.best(g, id, rule, work);
        if found.is_none() {
            self.failed[word] |= bit;
        }
        found
    }

    pub(super) fn take(
        &mut self,
        g: &Grown,
        gone: &mut dyn FnMut(usize, &super::surface::Placed) -> bool,
        ids: &mut Vec<u32>,
    ) {
        self.surface.take(g, gone, ids);
        self.failed.fill(0);
    }
}

/// A layout in the making.
#[derive(Clone, Debug)]
pub(super) struct State<S> {
    pub(super) slots: Vec<Slot<S>>,
    /// Pieces without a place, by index, one entry per copy.
    pub(super) loose: Vec<u32>,
    /// How many of each kind of sheet are open.
    pub(super) open: Vec<u32>,
    pub(super) cost: u64,
}

impl<S: Surface> State<S> {
    pub(super) fn empty(g: &Grown) -> Self {
        Self { slots: Vec::new(), loose: Vec::new(), open: vec![0; g.blanks.len()], cost: 0 }
    }

    pub(super) fn open(&mut self, g: &Grown, kind: usize) -> usize {
        self.slots.push(Slot::open(g, kind));
        self.open[kind] += 1;
        self.cost += g.blanks[kind].cost;
        self.slots.len() - 1
    }

    /// Closes a sheet; what lay on it becomes loose.
    pub(super) fn close(&mut self, g: &Grown, slot: usize) {
        let gone = self.slots.swap_remove(slot);
        self.open[gone.kind] -= 1;
        self.cost -= g.blanks[gone.kind].cost;
        self.loose.extend(gone.surface.placed().iter().map(|p| p.piece));
    }

    pub(super) fn loose_area(&self, g: &Grown) -> i64 {
        self.loose.iter().map(|&p| g.pieces[p as usize].area).sum()
    }
}

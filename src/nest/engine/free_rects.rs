//! A sheet with free placement, kept as the list of its maximal free rectangles.

use super::pieces::Grown;
use super::surface::{Placed, Rule, Surface};

/// A rectangle by its corners.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Box2 {
    pub(super) x0: i32,
    pub(super) y0: i32,
    pub(super) x1: i32,
    pub(super) y1: i32,
}

impl Box2 {
    fn holds(&self, o: &Self) -> bool {
        self.x0 <= o.x0 && self.y0 <= o.y0 && self.x1 >= o.x1 && self.y1 >= o.y1
    }

    fn meets(&self, o: &Self) -> bool {
        self.x0 < o.x1 && o.x0 < self.x1 && self.y0 < o.y1 && o.y0 < self.y1
    }
}

/// A sheet with free placement.
#[derive(Debug)]
pub(super) struct FreeSheet {
    w: i32,
    h: i32,
    least: i32,
    placed: Vec<Placed>,
    free: Vec<Box2>,
    /// Room for [`FreeSheet::cut_out`].
    fresh: Vec<Box2>,
    used: i64,
}

/// A place: lower left corner and size.
#[derive(Clone, Copy, Debug)]
pub(super) struct FreeNook {
    x: i32,
    y: i32,
    w: i32,
    h: i32,
    turned: bool,
}

impl FreeSheet {
    /// Cuts a taken rectangle out of the free ones and keeps the list maximal.
    fn cut_out(&mut self, taken: Box2) {
        self.fresh.clear();
        let mut i = 0;
        while i < self.free.len() {
            let f = self.free[i];
            if !f.meets(&taken) {
                i += 1;
                continue;
            }
            self.free.swap_remove(i);
            let mut keep = |b: Box2| {
                if b.x1 - b.x0 >= self.least && b.y1 - b.y0 >= self.least {
                    self.fresh.push(b);
                }
            };
            if taken.x0 > f.x0 {
                keep(Box2 { x1: taken.x0, ..f });
            }
            if taken.x1 < f.x1 {
                keep(Box2 { x0: taken.x1, ..f });
            }
            if taken.y0 > f.y0 {
                keep(Box2 { y1: taken.y0, ..f });
            }
            if taken.y1 < f.y1 {
                keep(Box2 { y0: taken.y1, ..f });
            }
        }
        // A rectangle kept whole can never lie inside a fresh one (it would have lain inside the fresh one's parent).
        let whole = self.free.len();
        for (i, b) in self.fresh.iter().enumerate() {
            let inside = self.free[..whole].iter().any(|o| o.holds(b))
                || self.fresh.iter().enumerate().any(|(j, o)| j != i && o.holds(b) && (o != b || j < i));
            if !inside {
                self.free.push(*b);
            }
        }
    }

    /// Lists the free rectangles from scratch.
    fn list_free(&mut self) {
        self.free.clear();
        self.free.push(Box2 { x0: 0, y0: 0, x1: self.w, y1: self.h });
        for i in 0..self.placed.len() {
            let p = self.placed[i];
            self.cut_out(Box2 { x0: p.x, y0: p.y, x1: p.x + p.w, y1: p.y + p.h });
        }
    }

    /// Length of a rectangle's border that touches the sheet's edges or other pieces.
    fn contact(&self, b: &Box2) -> i64 {
        let span = |a0: i32, a1: i32, b0: i32, b1: i32| i64::from((a1.min(b1) - a0.max(b0)).max(0));
        let (w, h) = (i64::from(b.x1 - b.x0), i64::from(b.y1 - b.y0));
        let mut sum = 0;
        sum += if b.x0 == 0 { h } else { 0 };
        sum += if b.x1 == self.w { h } else { 0 };
        sum += if b.y0 == 0 { w } else { 0 };
        sum += if b.y1 == self.h { w } else { 0 };
        for p in &self.placed {
            let (px1, py1) = (p.x + p.w, p.y + p.h);
            if p.x == b.x1 || px1 == b.x0 {
                sum += span(p.y, py1, b.y0, b.y1);
            }
            if p.y == b.y1 || py1 == b.y0 {
                sum += span(p.x, px1, b.x0, b.x1);
            }
        }
        sum
    }
}

impl Clone for FreeSheet {
    fn clone(&self) -> Self {
        Self { placed: self.placed.clone(), free: self.free.clone(), fresh: Vec::new(), ..*self }
    }

    /// Keeps the room it has.
    fn clone_from(&mut self, o: &Self) {
        (self.w, self.h, self.least, self.used) = (o.w, o.h, o.least, o.used);
        self.placed.clone_from(&o.placed);
        self.free.clone_from(&o.free);
    }
}

impl Surface for FreeSheet {
    type Nook = FreeNook;

    fn blank(g: &Grown, kind: usize) -> Self {
        let (w, h, least) = (g.blanks[kind].w, g.blanks[kind].h, g.least_side);
        Self { w, h, least, placed: Vec::new(), free: vec![Box2 { x0: 0, y0: 0, x1: w, y1: h }], fresh: Vec::new(), used: 0 }
    }

    fn best(&self, g: &Grown, id: u32, rule: Rule, work: &mut u64) -> Option<(i64, FreeNook)> {
        let piece = &g.pieces[id as usize];
        if i64::from(self.w) * i64::from(self.h) - self.used < piece.area {
            *work += 1;
            return None;
        }
        *work += self.free.len() as u64;
        let mut best: Option<(i64, FreeNook)> = None;
        for f in &self.free {
            let (fw, fh) = (f.x1 - f.x0, f.y1 - f.y0);
            for &(w, h, turned) in &piece.ways {
                let (dw, dh) = (fw - w, fh - h);
                if dw < 0 || dh < 0 {
                    continue;
                }
                let rate = match rule {
                    Rule::ShortSide => (i64::from(dw.min(dh)) << 31) + i64::from(dw.max(dh)),
                    Rule::LongSide => (i64::from(dw.max(dh)) << 31) + i64::from(dw.min(dh)),
                    Rule::Area => i64::from(fw) * i64::from(fh) - piece.area,
                    Rule::Contact => {
                        *work += self.placed.len() as u64 / 4;
                        -self.contact(&Box2 { x0: f.x0, y0: f.y0, x1: f.x0 + w, y1: f.y0 + h }) * 1000 / i64::from(w + h)
                    }
                };
                if best.as_ref().is_none_or(|(b, _)| rate < *b) {
                    best = Some((rate, FreeNook { x: f.x0, y: f.y0, w, h, turned }));
                }
            }
        }
        best
    }

    fn put(&mut self, g: &Grown, id: u32, n: FreeNook) {
        self.used += g.pieces[id as usize].area;
        self.placed.push(Placed { piece: id, x: n.x, y: n.y, w: n.w, h: n.h, turned: n.turned });
        self.cut_out(Box2 { x0: n.x, y0: n.y, x1: n.x + n.w, y1: n.y + n.h });
    }

    fn take(&mut self, _g: &Grown, gone: &mut dyn FnMut(usize, &Placed) -> bool, ids: &mut Vec<u32>) {
        let mut index = 0;
        let before = self.placed.len();
        self.placed.retain(|p| {
            let off = gone(index, p);
            index += 1;
            if off {
                ids.push(p.piece);
                self.used -= i64::from(p.w) * i64::from(p.h);
            }
            !off
        });
        if self.placed.len() < before {
            self.list_free();
        }
    }

    fn placed(&self) -> Vec<Placed> {
        self.placed.clone()
    }

    fn len(&self) -> usize {
        self.placed.len()
    }

    fn used(&self) -> i64 {
        self.used
    }
}

//! A sheet with free placement, kept as the list of its maximal free rectangles.

use super::pieces::{Grown, Piece};
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
    pub(super) fn holds(&self, o: &Self) -> bool {
        self.x0 <= o.x0 && self.y0 <= o.y0 && self.x1 >= o.x1 && self.y1 >= o.y1
    }

    pub(super) fn moved(&self, x: i32, y: i32) -> Self {
        Self { x0: self.x0 + x, y0: self.y0 + y, x1: self.x1 + x, y1: self.y1 + y }
    }

    pub(super) fn meets(&self, o: &Self) -> bool {
        self.x0 < o.x1 && o.x0 < self.x1 && self.y0 < o.y1 && o.y0 < self.y1
    }
}

/// Cuts a taken rectangle out of the free ones and keeps the list maximal; what is narrower than `least` is forgotten.
/// `fresh` is only room to work in.
pub(super) fn cut_out(free: &mut Vec<Box2>, fresh: &mut Vec<Box2>, taken: Box2, least: i32) {
    fresh.clear();
    // Only what touches the taken one can hold a fresh one, which touches it too without being cut.
    let mut touching: Vec<Box2> = Vec::new();
    let mut i = 0;
    while i < free.len() {
        let f = free[i];
        if !f.meets(&taken) {
            if f.x1 == taken.x0 || f.x0 == taken.x1 || f.y1 == taken.y0 || f.y0 == taken.y1 {
                touching.push(f);
            }
            i += 1;
            continue;
        }
        free.swap_remove(i);
        let mut keep = |b: Box2| {
            if b.x1 - b.x0 >= least && b.y1 - b.y0 >= least {
                fresh.push(b);
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
    for (i, b) in fresh.iter().enumerate() {
        let inside = touching.iter().any(|o| o.holds(b))
            || fresh.iter().enumerate().any(|(j, o)| j != i && o.holds(b) && (o != b || j < i));
        if !inside {
            free.push(*b);
        }
    }
}

/// A sheet with free placement.
#[derive(Debug)]
pub(super) struct FreeSheet {
    kind: usize,
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
    quarters: u8,
}

impl FreeSheet {
    fn cut_out(&mut self, taken: Box2) {
        cut_out(&mut self.free, &mut self.fresh, taken, self.least);
    }

    /// Lists the free rectangles from scratch.
    fn list_free(&mut self, g: &Grown) {
        self.free.clear();
        self.free.push(Box2 { x0: 0, y0: 0, x1: self.w, y1: self.h });
        for d in &g.defects[self.kind] {
            self.cut_out(*d);
        }
        for i in 0..self.placed.len() {
            let p = self.placed[i];
            self.cut_out_piece(g, &p);
        }
    }

    /// Cuts a piece out of the free rectangles.
    fn cut_out_piece(&mut self, g: &Grown, p: &Placed) {
        match &g.pieces[p.piece as usize].shape {
            None => self.cut_out(Box2 { x0: p.x, y0: p.y, x1: p.x + p.w, y1: p.y + p.h }),
            Some(shape) => {
                for r in &shape[usize::from(p.quarters)] {
                    self.cut_out(r.moved(p.x, p.y));
                }
            }
        }
    }

    /// The best place for a piece with a shape: each of its rectangles in a corner of each free one, as long as all the
    /// others lie in free ones too.
    fn best_for_shape(
        &self,
        g: &Grown,
        piece: &Piece,
        shape: &[Vec<Box2>; 4],
        rule: Rule,
        work: &mut u64,
    ) -> Option<(i64, FreeNook)> {
        let mut best: Option<(i64, FreeNook)> = None;
        for &(w, h, quarters) in &piece.ways {
            let rects = &shape[usize::from(quarters)];
            for (k, r) in rects.iter().enumerate() {
                let (rw, rh) = (r.x1 - r.x0, r.y1 - r.y0);
                *work += self.free.len() as u64;
                for f in &self.free {
                    if f.x1 - f.x0 < rw || f.y1 - f.y0 < rh {
                        continue;
                    }
                    for (cx, cy) in [(f.x0, f.y0), (f.x1 - rw, f.y0), (f.x0, f.y1 - rh), (f.x1 - rw, f.y1 - rh)] {
                        let (x, y) = (cx - r.x0, cy - r.y0);
                        if x < 0 || y < 0 || x + w > self.w || y + h > self.h {
                            continue;
                        }
                        let others = || rects.iter().enumerate().filter(|(j, _)| *j != k);
                        *work += 2 * rects.len() as u64;
                        if !others().all(|(_, o)| self.free.iter().any(|f| f.holds(&o.moved(x, y)))) {
                            continue;
                        }
                        let rate = match rule {
                            Rule::Contact => {
                                let touch: i64 = rects.iter().map(|r| self.contact(g, &r.moved(x, y))).sum();
                                let around: i64 = rects.iter().map(|r| i64::from(r.x1 - r.x0 + r.y1 - r.y0)).sum();
                                -touch * 1000 / around.max(1)
                            }
                            Rule::Area => i64::from(y + h) * i64::from(self.w) + i64::from(x),
                            Rule::ShortSide | Rule::LongSide => {
                                let tight = |r: Box2| {
                                    let left = |f: &Box2| {
                                        let (dw, dh) = (f.x1 - f.x0 - r.x1 + r.x0, f.y1 - f.y0 - r.y1 + r.y0);
                                        i64::from(if rule == Rule::ShortSide { dw.min(dh) } else { dw.max(dh) })
                                    };
                                    self.free.iter().filter(|f| f.holds(&r)).map(left).min().unwrap_or(0)
                                };
                                let sum: i64 = rects.iter().map(|r| tight(r.moved(x, y))).sum();
                                (sum / i64::try_from(rects.len()).unwrap_or(1)) << 31
                            }
                        };
                        if best.as_ref().is_none_or(|(b, _)| rate < *b) {
                            best = Some((rate, FreeNook { x, y, w, h, quarters }));
                        }
                    }
                }
            }
        }
        best
    }

    /// Length of a rectangle's border that touches the sheet's edges or other pieces.
    fn contact(&self, g: &Grown, b: &Box2) -> i64 {
        let span = |a0: i32, a1: i32, b0: i32, b1: i32| i64::from((a1.min(b1) - a0.max(b0)).max(0));
        let (w, h) = (i64::from(b.x1 - b.x0), i64::from(b.y1 - b.y0));
        let mut sum = 0;
        sum += if b.x0 == 0 { h } else { 0 };
        sum += if b.x1 == self.w { h } else { 0 };
        sum += if b.y0 == 0 { w } else { 0 };
        sum += if b.y1 == self.h { w } else { 0 };
        let mut touch = |p: Box2| {
            if p.x0 == b.x1 || p.x1 == b.x0 {
                sum += span(p.y0, p.y1, b.y0, b.y1);
            }
            if p.y0 == b.y1 || p.y1 == b.y0 {
                sum += span(p.x0, p.x1, b.x0, b.x1);
            }
        };
        for p in &self.placed {
            match &g.pieces[p.piece as usize].shape {
                None => touch(Box2 { x0: p.x, y0: p.y, x1: p.x + p.w, y1: p.y + p.h }),
                Some(shape) => shape[usize::from(p.quarters)].iter().for_each(|r| touch(r.moved(p.x, p.y))),
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
        (self.kind, self.w, self.h, self.least, self.used) = (o.kind, o.w, o.h, o.least, o.used);
        self.placed.clone_from(&o.placed);
        self.free.clone_from(&o.free);
    }
}

impl Surface for FreeSheet {
    type Nook = FreeNook;

    fn blank(g: &Grown, kind: usize) -> Self {
        let (w, h, least) = (g.blanks[kind].w, g.blanks[kind].h, g.least_side);
        let free = Vec::with_capacity(8);
        let mut sheet = Self { kind, w, h, least, placed: Vec::new(), free, fresh: Vec::new(), used: 0 };
        sheet.list_free(g);
        sheet
    }

    fn best(&self, g: &Grown, id: u32, rule: Rule, work: &mut u64) -> Option<(i64, FreeNook)> {
        let piece = &g.pieces[id as usize];
        if i64::from(self.w) * i64::from(self.h) - self.used < piece.area {
            *work += 1;
            return None;
        }
        if let Some(shape) = &piece.shape {
            return self.best_for_shape(g, piece, shape, rule, work);
        }
        *work += self.free.len() as u64;
        let mut best: Option<(i64, FreeNook)> = None;
        for f in &self.free {
            let (fw, fh) = (f.x1 - f.x0, f.y1 - f.y0);
            for &(w, h, quarters) in &piece.ways {
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
                        -self.contact(g, &Box2 { x0: f.x0, y0: f.y0, x1: f.x0 + w, y1: f.y0 + h }) * 1000 / i64::from(w + h)
                    }
                };
                if best.as_ref().is_none_or(|(b, _)| rate < *b) {
                    best = Some((rate, FreeNook { x: f.x0, y: f.y0, w, h, quarters }));
                }
            }
        }
        best
    }

    fn put(&mut self, g: &Grown, id: u32, n: FreeNook) {
        self.used += g.pieces[id as usize].area;
        let placed = Placed { piece: id, x: n.x, y: n.y, w: n.w, h: n.h, quarters: n.quarters };
        self.placed.push(placed);
        self.cut_out_piece(g, &placed);
    }

    fn take(&mut self, g: &Grown, gone: &mut dyn FnMut(usize, &Placed) -> bool, ids: &mut Vec<u32>) {
        let mut index = 0;
        let before = self.placed.len();
        self.placed.retain(|p| {
            let off = gone(index, p);
            index += 1;
            if off {
                ids.push(p.piece);
                self.used -= g.pieces[p.piece as usize].area;
            }
            !off
        });
        if self.placed.len() < before {
            self.list_free(g);
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

/// The largest rectangles that lie free in a rectangle from the origin, each at least `least` on both sides.
#[must_use]
pub fn free_rectangles(size: [i64; 2], taken: &[[i64; 4]], least: i64) -> Vec<[i64; 4]> {
    let whole = |v: i64| i32::try_from(v).unwrap_or(i32::MAX);
    let (w, h) = (whole(size[0]), whole(size[1]));
    let free = vec![Box2 { x0: 0, y0: 0, x1: w, y1: h }];
    let mut sheet = FreeSheet { kind: 0, w, h, least: whole(least), placed: Vec::new(), free, fresh: Vec::new(), used: 0 };
    for t in taken {
        sheet.cut_out(Box2 { x0: whole(t[0]), y0: whole(t[1]), x1: whole(t[2]), y1: whole(t[3]) });
    }
    sheet.free.iter().map(|f| [f.x0, f.y0, f.x1, f.y1].map(i64::from)).collect()
}

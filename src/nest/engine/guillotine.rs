//! A sheet to be sawn, kept as a tree of blocks: a block is a piece, or two blocks side by side or one above the other.
//!
//! A piece goes in beside or above any block that has the room.

use super::model::CutRule;
use super::pieces::Grown;
use super::surface::{Placed, Rule, Surface};

/// How a node is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Form {
    Piece { id: u32, quarters: u8 },
    Row(u16, u16),
    Column(u16, u16),
}

/// A block with its least size.
#[derive(Clone, Copy, Debug)]
struct Node {
    w: i32,
    h: i32,
    form: Form,
}

/// A sheet to be sawn.
#[derive(Debug)]
pub(super) struct SawnSheet {
    w: i32,
    h: i32,
    /// Most stages of cuts.
    most: u8,
    nodes: Vec<Node>,
    root: u16,
    used: i64,
    count: usize,
}

/// A place: on the bare sheet, or beside or above a block.
#[derive(Clone, Copy, Debug)]
pub(super) enum SawnNook {
    First { w: i32, h: i32, quarters: u8 },
    Beside { node: u16, w: i32, h: i32, quarters: u8 },
    Above { node: u16, w: i32, h: i32, quarters: u8 },
}

impl SawnSheet {
    /// Visits every node with the size it may grow to.
    fn visit(&self, see: &mut impl FnMut(u16, &Node, i32, i32)) {
        if self.nodes.is_empty() {
            return;
        }
        let mut stack = [(0u16, 0i32, 0i32); 64];
        let mut spill: Vec<(u16, i32, i32)> = Vec::new();
        stack[0] = (self.root, self.w, self.h);
        let mut top = 1;
        while top > 0 || !spill.is_empty() {
            let (i, mw, mh) = if let Some(next) = spill.pop() {
                next
            } else {
                top -= 1;
                stack[top]
            };
            let n = &self.nodes[i as usize];
            see(i, n, mw, mh);
            let mut push = |next: (u16, i32, i32)| {
                if top < stack.len() {
                    stack[top] = next;
                    top += 1;
                } else {
                    spill.push(next);
                }
            };
            match n.form {
                Form::Piece { .. } => {}
                Form::Row(a, b) => {
                    push((a, mw - self.nodes[b as usize].w, mh));
                    push((b, mw - self.nodes[a as usize].w, mh));
                }
                Form::Column(a, b) => {
                    push((a, mw, mh - self.nodes[b as usize].h));
                    push((b, mw, mh - self.nodes[a as usize].h));
                }
            }
        }
    }

    /// Computes sizes again, from the leaves up.
    fn measure(&mut self, i: u16) -> (i32, i32) {
        let size = match self.nodes[i as usize].form {
            Form::Piece { .. } => (self.nodes[i as usize].w, self.nodes[i as usize].h),
            Form::Row(a, b) => {
                let (x, y) = (self.measure(a), self.measure(b));
                (x.0 + y.0, x.1.max(y.1))
            }
            Form::Column(a, b) => {
                let (x, y) = (self.measure(a), self.measure(b));
                (x.0.max(y.0), x.1 + y.1)
            }
        };
        self.nodes[i as usize].w = size.0;
        self.nodes[i as usize].h = size.1;
        size
    }

    /// Copies the part of a tree that keeps its pieces; gives its new index.
    fn pruned(
        &self,
        i: u16,
        nodes: &mut Vec<Node>,
        index: &mut usize,
        gone: &mut dyn FnMut(usize, &Placed) -> bool,
        at: (i32, i32),
        ids: &mut Vec<u32>,
    ) -> Option<u16> {
        let n = self.nodes[i as usize];
        let (a, b, row) = match n.form {
            Form::Piece { id, quarters } => {
                let placed = Placed { piece: id, x: at.0, y: at.1, w: n.w, h: n.h, quarters };
                let k = *index;
                *index += 1;
                if gone(k, &placed) {
                    ids.push(id);
                    return None;
                }
                nodes.push(n);
                return Some((nodes.len() - 1) as u16);
            }
            Form::Row(a, b) => (a, b, true),
            Form::Column(a, b) => (a, b, false),
        };
        let first = self.nodes[a as usize];
        let second_at = if row { (at.0 + first.w, at.1) } else { (at.0, at.1 + first.h) };
        let x = self.pruned(a, nodes, index, gone, at, ids);
        let y = self.pruned(b, nodes, index, gone, second_at, ids);
        match (x, y) {
            (Some(x), Some(y)) => {
                nodes.push(Node { w: 0, h: 0, form: if row { Form::Row(x, y) } else { Form::Column(x, y) } });
                Some((nodes.len() - 1) as u16)
            }
            (x, y) => x.or(y),
        }
    }

    /// Puts a piece into the tree.
    fn graft(&mut self, id: u32, nook: SawnNook) {
        let (node, w, h, quarters, row) = match nook {
            SawnNook::First { w, h, quarters } => {
                self.nodes.push(Node { w, h, form: Form::Piece { id, quarters } });
                self.root = 0;
                return;
            }
            SawnNook::Beside { node, w, h, quarters } => (node, w, h, quarters, true),
            SawnNook::Above { node, w, h, quarters } => (node, w, h, quarters, false),
        };
        // The block moves to a new index, so that whoever holds it now holds the pair.
        let moved = self.nodes[node as usize];
        self.nodes.push(moved);
        self.nodes.push(Node { w, h, form: Form::Piece { id, quarters } });
        let (a, b) = ((self.nodes.len() - 2) as u16, (self.nodes.len() - 1) as u16);
        self.nodes[node as usize].form = if row { Form::Row(a, b) } else { Form::Column(a, b) };
        self.measure(self.root);
    }

    /// The sheet with one piece more.
    fn with(&self, id: u32, nook: SawnNook) -> Self {
        let mut more = self.clone();
        more.graft(id, nook);
        more
    }

    /// How many stages of cuts part all its pieces, each trimmed to size.
    fn stages(&self) -> u8 {
        if self.nodes.is_empty() {
            return 0;
        }
        self.stages_below(self.root, None, 0, [true, true])
    }

    /// `loose` tells for each side whether the room for this block is wider than it; `row` how its parent is cut.
    fn stages_below(&self, i: u16, row: Option<bool>, stage: u8, loose: [bool; 2]) -> u8 {
        let n = self.nodes[i as usize];
        let (a, b, is_row) = match n.form {
            // What its own stage does not trim, one more does; a piece alone on the sheet needs both.
            Form::Piece { .. } => return stage + u8::from(loose[0]) + u8::from(loose[1]),
            Form::Row(a, b) => (a, b, true),
            Form::Column(a, b) => (a, b, false),
        };
        let own = if row == Some(is_row) { stage } else { stage.saturating_add(1) };
        let below = |k: u16| {
            let m = &self.nodes[k as usize];
            let room = if is_row { [false, loose[1] || m.h < n.h] } else { [loose[0] || m.w < n.w, false] };
            self.stages_below(k, Some(is_row), own, room)
        };
        below(a).max(below(b))
    }

    fn leaves(&self, i: u16, at: (i32, i32), out: &mut Vec<Placed>) {
        let n = self.nodes[i as usize];
        match n.form {
            Form::Piece { id, quarters } => out.push(Placed { piece: id, x: at.0, y: at.1, w: n.w, h: n.h, quarters }),
            Form::Row(a, b) => {
                self.leaves(a, at, out);
                self.leaves(b, (at.0 + self.nodes[a as usize].w, at.1), out);
            }
            Form::Column(a, b) => {
                self.leaves(a, at, out);
                self.leaves(b, (at.0, at.1 + self.nodes[a as usize].h), out);
            }
        }
    }
}

impl Clone for SawnSheet {
    fn clone(&self) -> Self {
        Self { nodes: self.nodes.clone(), ..*self }
    }

    /// Keeps the room it has.
    fn clone_from(&mut self, o: &Self) {
        (self.w, self.h, self.most, self.root, self.used, self.count) = (o.w, o.h, o.most, o.root, o.used, o.count);
        self.nodes.clone_from(&o.nodes);
    }
}

impl Surface for SawnSheet {
    type Nook = SawnNook;

    fn blank(g: &Grown, kind: usize) -> Self {
        let b = &g.blanks[kind];
        let most = if let CutRule::Staged(most) = g.cut { most } else { u8::MAX };
        Self { w: b.w, h: b.h, most, nodes: Vec::new(), root: 0, used: 0, count: 0 }
    }

    fn best(&self, g: &Grown, id: u32, rule: Rule, work: &mut u64) -> Option<(i64, SawnNook)> {
        let piece = &g.pieces[id as usize];
        if i64::from(self.w) * i64::from(self.h) - self.used < piece.area {
            return None;
        }
        let mut best: Option<(i64, SawnNook)> = None;
        let mut tried = 0;
        let mut offer = |rate: i64, nook: SawnNook| {
            if best.as_ref().is_none_or(|(b, _)| rate < *b) {
                if self.most < u8::MAX {
                    tried += 1;
                    if self.with(id, nook).stages() > self.most {
                        return;
                    }
                }
                best = Some((rate, nook));
            }
        };
        *work += self.nodes.len() as u64;
        for &(w, h, quarters) in &piece.ways {
            if self.nodes.is_empty() {
                if w <= self.w && h <= self.h {
                    offer(rate(rule, self.w - w, self.h - h, 0, 0), SawnNook::First { w, h, quarters });
                }
                continue;
            }
            self.visit(&mut |i, n, mw, mh| {
                if n.w + w <= mw && h <= mh {
                    let dead = i64::from((n.h - h).abs()) * i64::from(if h > n.h { n.w } else { w });
                    offer(
                        rate(rule, mw - n.w - w, mh - h, (n.h - h).abs(), dead),
                        SawnNook::Beside { node: i, w, h, quarters },
                    );
                }
                if n.h + h <= mh && w <= mw {
                    let dead = i64::from((n.w - w).abs()) * i64::from(if w > n.w { n.h } else { h });
                    offer(
                        rate(rule, mh - n.h - h, mw - w, (n.w - w).abs(), dead),
                        SawnNook::Above { node: i, w, h, quarters },
                    );
                }
            });
        }
        *work += tried * 2 * self.nodes.len() as u64;
        best
    }

    fn put(&mut self, g: &Grown, id: u32, nook: SawnNook) {
        self.graft(id, nook);
        self.count += 1;
        self.used += g.pieces[id as usize].area;
    }

    fn take(&mut self, g: &Grown, gone: &mut dyn FnMut(usize, &Placed) -> bool, ids: &mut Vec<u32>) {
        if self.nodes.is_empty() {
            return;
        }
        let before = ids.len();
        let mut nodes = Vec::with_capacity(self.nodes.len());
        let root = self.pruned(self.root, &mut nodes, &mut 0, gone, (0, 0), ids);
        self.nodes = nodes;
        if let Some(root) = root {
            self.root = root;
            self.measure(root);
        }
        for &id in &ids[before..] {
            self.count -= 1;
            self.used -= g.pieces[id as usize].area;
        }
    }

    fn placed(&self) -> Vec<Placed> {
        let mut out = Vec::with_capacity(self.count);
        if !self.nodes.is_empty() {
            self.leaves(self.root, (0, 0), &mut out);
        }
        out
    }

    fn len(&self) -> usize {
        self.count
    }

    fn used(&self) -> i64 {
        self.used
    }
}

/// Rates a place: room left along and across, how far the sides differ from the neighbour block's, area lost between them.
fn rate(rule: Rule, along: i32, across: i32, step: i32, dead: i64) -> i64 {
    match rule {
        Rule::ShortSide => (i64::from(along.min(across)) << 31) + i64::from(along.max(across)),
        Rule::LongSide => (i64::from(along.max(across)) << 31) + i64::from(along.min(across)),
        Rule::Area => (dead << 8) + i64::from(along.min(across)),
        Rule::Contact => (i64::from(step.min(along).min(across)) << 31) + i64::from(step),
    }
}

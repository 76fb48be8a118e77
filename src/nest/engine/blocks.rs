//! Jobs that leave no waste at all, or a single strip across a sheet, put together the way they were cut apart: two blocks whose sides are equal become one, and
//! four round a fifth become one, until each block is a sheet. Sides that are equal by chance mislead it, so what does not come
//! out is partly taken apart and put together in another order, over and over.

use super::model::{CutRule, PackedSheet};
use super::pieces::Grown;
use super::rng::Rng;
use super::solve::finished_from;
use super::surface::Placed;

/// Largest count of pieces: more sides are equal by chance than by cutting.
const MOST: u32 = 400;
/// Tries without any gain before all is taken apart.
const PATIENCE: u32 = 300;

/// A block: a piece, or blocks that fill it.
#[derive(Clone, Copy, Debug)]
struct Block {
    w: i32,
    h: i32,
    /// Whether it may be turned by a quarter as a whole.
    turns: bool,
    form: Form,
}

/// A part of a block and whether it is turned in it.
type Part = (u32, bool);

#[derive(Clone, Copy, Debug)]
enum Form {
    Piece(u32),
    /// The strip that is left over.
    Spare,
    Row([Part; 2]),
    Column([Part; 2]),
    /// Counter-clockwise from the lower left corner, each reaching under or beside the next; then the middle one.
    Wheel([Part; 5]),
}

/// Two blocks that make one.
#[derive(Clone, Copy, Debug)]
struct Pair {
    a: u32,
    b: u32,
    joined: Block,
}

struct Builder<'a> {
    g: &'a Grown,
    blocks: Vec<Block>,
    /// Blocks that are not yet part of another.
    whole: Vec<u32>,
    pairs: Vec<Pair>,
    /// Sizes of the sheets to be filled.
    sheets: Vec<(i32, i32)>,
    work: u64,
}

/// Fills the given number of sheets of each kind with all pieces, if they leave no waste or one strip and the work allows.
pub(super) fn solve(g: &Grown, counts: &[u32], work: u64, seed: u64) -> Option<Vec<PackedSheet>> {
    let total: i64 = g.pieces.iter().map(|p| p.area * i64::from(p.count)).sum();
    let area: i64 = g.blanks.iter().zip(counts).map(|(b, &n)| b.area * i64::from(n)).sum();
    let pieces: u32 = g.pieces.iter().map(|p| p.count).sum();
    if g.has_shapes() || g.has_defects() || matches!(g.cut, CutRule::Staged(_)) || total > area || pieces > MOST {
        return None;
    }
    let kinds: Vec<usize> = counts.iter().enumerate().flat_map(|(k, &n)| std::iter::repeat_n(k, n as usize)).collect();
    let mut spares = strips(g, &kinds, area - total);
    if total == area {
        spares.push(None);
    }
    let share = work / spares.len().max(1) as u64;
    spares.into_iter().find_map(|spare| put_together(g, &kinds, spare, share, seed))
}

/// The strips across one of the sheets that are as large as what is left over.
fn strips(g: &Grown, kinds: &[usize], waste: i64) -> Vec<Option<Block>> {
    let mut kinds = kinds.to_vec();
    kinds.dedup();
    let sides = kinds.into_iter().flat_map(|k| {
        let (w, h) = (g.blanks[k].w, g.blanks[k].h);
        [(w, h, false), (h, w, true)]
    });
    sides
        .filter_map(|(long, across, lying)| {
            let length = waste / i64::from(across);
            if waste == 0 || length * i64::from(across) != waste || length >= i64::from(long) {
                return None;
            }
            let length = length as i32;
            let (w, h) = if lying { (across, length) } else { (length, across) };
            Some(Some(Block { w, h, turns: false, form: Form::Spare }))
        })
        .collect()
}

fn put_together(g: &Grown, kinds: &[usize], spare: Option<Block>, work: u64, seed: u64) -> Option<Vec<PackedSheet>> {
    let sheets = kinds.iter().map(|&k| (g.blanks[k].w, g.blanks[k].h)).collect();
    let mut builder = Builder { g, blocks: Vec::new(), whole: Vec::new(), pairs: Vec::new(), sheets, work: 0 };
    for (id, p) in g.pieces.iter().enumerate().filter(|(_, p)| p.count > 0) {
        let &(w, h, _) = p.ways.first()?;
        let block = Block { w, h, turns: p.ways.len() > 1, form: Form::Piece(id as u32) };
        builder.blocks.extend(std::iter::repeat_n(block, p.count as usize));
    }
    builder.blocks.extend(spare);
    let leaves = builder.blocks.len();
    let mut rng = Rng::new(seed, 1);
    let (mut best, mut idle) = (Vec::new(), PATIENCE);
    while builder.work < work {
        if idle == PATIENCE {
            builder.blocks.truncate(leaves);
            builder.whole = (0..leaves as u32).collect();
            (best, idle) = (builder.whole.clone(), 0);
        } else {
            builder.whole.clone_from(&best);
            builder.take_apart(&mut rng);
        }
        let known = builder.blocks.len();
        if builder.build(&mut rng) {
            return builder.laid_on(kinds);
        }
        idle = if builder.whole.len() < best.len() { 0 } else { idle + 1 };
        // As good is good enough: it leads elsewhere.
        if builder.whole.len() <= best.len() {
            best.clone_from(&builder.whole);
        } else {
            builder.blocks.truncate(known);
        }
    }
    None
}

impl Block {
    /// How it may lie: size, and whether that is turned.
    fn ways(&self) -> impl Iterator<Item = (i32, i32, bool)> {
        let turned = (self.turns && self.w != self.h).then_some((self.h, self.w, true));
        std::iter::once((self.w, self.h, false)).chain(turned)
    }
}

impl Builder<'_> {
    /// Takes some blocks apart, full sheets rarely.
    fn take_apart(&mut self, rng: &mut Rng) {
        let mut kept = Vec::new();
        let mut open = Vec::new();
        for &b in &self.whole {
            let chance = if self.is_sheet(&self.blocks[b as usize]) { 15 } else { 60 };
            if rng.chance(chance) {
                open.push(b);
            } else {
                kept.push(b);
            }
        }
        let mut first = true;
        while let Some(b) = open.pop() {
            let parts: &[Part] = match &self.blocks[b as usize].form {
                Form::Piece(_) | Form::Spare => &[],
                Form::Row(parts) | Form::Column(parts) => parts,
                Form::Wheel(parts) => parts,
            };
            if parts.is_empty() {
                kept.push(b);
            }
            for &(part, _) in parts {
                if first || rng.chance(75) {
                    open.push(part);
                } else {
                    kept.push(part);
                }
            }
            first = false;
        }
        self.whole = kept;
    }

    fn is_sheet(&self, b: &Block) -> bool {
        self.sheets.iter().any(|&s| (b.w, b.h) == s || b.turns && (b.h, b.w) == s)
    }

    /// Joins blocks until nothing fits any more; whether each is a sheet then.
    fn build(&mut self, rng: &mut Rng) -> bool {
        self.pairs.clear();
        for i in 0..self.whole.len() {
            for j in 0..i {
                self.pair(self.whole[i], self.whole[j]);
            }
        }
        loop {
            self.work += 20 + self.whole.len() as u64;
            if let Some(pair) = self.next(rng) {
                let b = pair.joined;
                self.replace(&[pair.a, pair.b], b);
            } else if self.g.cut == CutRule::Free {
                let Some((parts, block)) = self.wheel(rng) else { break };
                self.replace(&parts, block);
            } else {
                break;
            }
        }
        self.whole.len() == self.sheets.len() && self.assigned().is_some()
    }

    /// One of the pairs at random; full sheets first, and those that go on to fit something are likelier.
    fn next(&self, rng: &mut Rng) -> Option<Pair> {
        if let Some(full) = self.pairs.iter().find(|p| self.is_sheet(&p.joined)) {
            return Some(*full);
        }
        if self.pairs.is_empty() {
            return None;
        }
        let one = self.pairs[rng.below(self.pairs.len())];
        let other = self.pairs[rng.below(self.pairs.len())];
        let promise = |p: &Pair| self.sheets.iter().any(|&(w, h)| w == p.joined.w || h == p.joined.h);
        Some(if promise(&one) || !promise(&other) { one } else { other })
    }

    /// Notes every way in which two blocks make one that fits a sheet.
    fn pair(&mut self, a: u32, b: u32) {
        self.work += 1;
        let (x, y) = (self.blocks[a as usize], self.blocks[b as usize]);
        for (xw, xh, tx) in x.ways() {
            for (yw, yh, ty) in y.ways() {
                // Both turned is the same pair turned as a whole.
                if tx && ty && x.turns && y.turns {
                    continue;
                }
                let turns = x.turns && y.turns;
                let parts = [(a, tx), (b, ty)];
                if xh == yh {
                    self.note(a, b, Block { w: xw + yw, h: xh, turns, form: Form::Row(parts) });
                }
                if xw == yw {
                    self.note(a, b, Block { w: xw, h: xh + yh, turns, form: Form::Column(parts) });
                }
            }
        }
    }

    fn note(&mut self, a: u32, b: u32, joined: Block) {
        if self.fits(joined.w, joined.h, joined.turns) {
            self.pairs.push(Pair { a, b, joined });
        }
    }

    fn fits(&self, w: i32, h: i32, turns: bool) -> bool {
        self.sheets.iter().any(|s| w <= s.0 && h <= s.1 || turns && h <= s.0 && w <= s.1)
    }

    /// Some blocks become part of a new one.
    fn replace(&mut self, parts: &[u32], block: Block) {
        let new = self.blocks.len() as u32;
        self.blocks.push(block);
        self.whole.retain(|b| !parts.contains(b));
        self.pairs.retain(|p| !parts.contains(&p.a) && !parts.contains(&p.b));
        for k in 0..self.whole.len() {
            self.pair(new, self.whole[k]);
        }
        self.whole.push(new);
    }

    /// Four blocks round a fifth: each as far beside the next as the middle one is wide or high. The mirror image is the same.
    fn wheel(&mut self, rng: &mut Rng) -> Option<([u32; 5], Block)> {
        let mut ways: Vec<(i32, i32, Part)> = Vec::new();
        for &b in &self.whole {
            ways.extend(self.blocks[b as usize].ways().map(|(w, h, turned)| (w, h, (b, turned))));
        }
        ways.sort_unstable();
        let mut by_height = ways.clone();
        by_height.sort_unstable_by_key(|&(w, h, part)| (h, w, part));
        let wide = |w: i32| &ways[ways.partition_point(|o| o.0 < w)..ways.partition_point(|o| o.0 <= w)];
        let high = |h: i32| &by_height[by_height.partition_point(|o| o.1 < h)..by_height.partition_point(|o| o.1 <= h)];
        self.work += (ways.len() * ways.len()) as u64 / 2;
        let mut found: Vec<([Part; 5], i32, i32)> = Vec::new();
        for &(ew, eh, e) in &ways {
            for &(aw, ah, a) in ways.iter().filter(|o| o.0 > ew) {
                for &(dw, dh, d) in wide(aw - ew) {
                    for &(bw, bh, b) in high(ah + eh) {
                        let (w, h) = (aw + bw, ah + dh);
                        let corner = wide(w - dw).iter().filter(|c| c.1 == h - bh);
                        for &(_, _, c) in corner {
                            let parts = [a, b, c, d, e];
                            let apart = (0..5).all(|i| (0..i).all(|j| parts[i].0 != parts[j].0));
                            if apart {
                                found.push((parts, w, h));
                            }
                        }
                    }
                }
            }
        }
        found.retain(|(parts, w, h)| self.fits(*w, *h, parts.iter().all(|p| self.blocks[p.0 as usize].turns)));
        if found.is_empty() {
            return None;
        }
        let (parts, w, h) = found[rng.below(found.len())];
        let turns = parts.iter().all(|p| self.blocks[p.0 as usize].turns);
        Some((parts.map(|p| p.0), Block { w, h, turns, form: Form::Wheel(parts) }))
    }

    /// For each sheet the block that is as large, and whether it is turned.
    fn assigned(&self) -> Option<Vec<Part>> {
        let mut left = self.whole.clone();
        // The choosy ones first.
        left.sort_by_key(|&b| self.blocks[b as usize].turns);
        self.sheets
            .iter()
            .map(|&(w, h)| {
                let part = left.iter().find_map(|&b| {
                    let way = self.blocks[b as usize].ways().find(|way| (way.0, way.1) == (w, h))?;
                    Some((b, way.2))
                })?;
                left.retain(|&b| b != part.0);
                Some(part)
            })
            .collect()
    }

    fn laid_on(&self, kinds: &[usize]) -> Option<Vec<PackedSheet>> {
        let sheets: Vec<Vec<Placed>> = self
            .assigned()?
            .into_iter()
            .map(|part| {
                let mut placed = Vec::new();
                self.lay(part, [0, 0], &mut placed);
                placed
            })
            .collect();
        Some(finished_from(self.g, kinds.iter().copied().zip(sheets.iter().map(Vec::as_slice))))
    }

    /// Lays a block with its lower left corner at a place. A block turned by a quarter is laid as if mirrored at the diagonal,
    /// which is the same for rectangles.
    fn lay(&self, (block, turned): Part, at: [i32; 2], out: &mut Vec<Placed>) {
        let size = |(b, t): Part| {
            let b = &self.blocks[b as usize];
            if t {
                [b.h, b.w]
            } else {
                [b.w, b.h]
            }
        };
        let mut put = |(b, t): Part, [dx, dy]: [i32; 2]| {
            let [dx, dy] = if turned { [dy, dx] } else { [dx, dy] };
            self.lay((b, t != turned), [at[0] + dx, at[1] + dy], out);
        };
        match self.blocks[block as usize].form {
            Form::Piece(id) => {
                let (w, h, quarters) = self.g.pieces[id as usize].ways[usize::from(turned)];
                out.push(Placed { piece: id, x: at[0], y: at[1], w, h, quarters });
            }
            Form::Spare => {}
            Form::Row([a, b]) => {
                put(a, [0, 0]);
                put(b, [size(a)[0], 0]);
            }
            Form::Column([a, b]) => {
                put(a, [0, 0]);
                put(b, [0, size(a)[1]]);
            }
            Form::Wheel([a, b, c, d, e]) => {
                let ([aw, ah], [_, bh], [dw, _]) = (size(a), size(b), size(d));
                put(a, [0, 0]);
                put(b, [aw, 0]);
                put(c, [dw, bh]);
                put(d, [0, ah]);
                put(e, [dw, ah]);
            }
        }
    }
}

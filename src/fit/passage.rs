//! A way for a box-shaped body from outside to its place: straight slides and quarter turns, searched whole.
//!
//! The body's centre moves among boxes it must stay out of (each obstacle grown by the body's half size). The ends of those boxes
//! cut space into cells; a cell is free whole or not at all, so that a search over cells finds a way exactly when there is one.
//! A quarter turn takes a square column as wide as the body's diagonal there.

use super::solid::span;
use crate::geom::tolerance::TOUCH;
use crate::geom::{Box3, Point3};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

/// What is carried: boxes round a centre at 0, 0, 0.
#[derive(Clone, Debug)]
pub(super) struct Body {
    pub(super) boxes: Vec<Box3>,
}

/// One move of the way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Move {
    /// The centre moves straight along an axis, by so much.
    Slide(usize, f64),
    /// A quarter turn about an axis.
    Turn(usize),
}

/// A way found.
#[derive(Clone, Debug)]
pub(super) struct Way {
    /// From outside to its place.
    pub(super) moves: Vec<Move>,
    /// Which of the body's own axes lies along x, y and z where its middle passes the plane of the opening.
    pub(super) through: [usize; 3],
}

/// The body standing in one way, or in the midst of a turn.
struct Space {
    /// Which of the body's own axes lies along each axis of the bay; for a turn, before it.
    order: [usize; 3],
    /// The axis it turns about; `None` when it only slides.
    turn: Option<usize>,
    /// Ends of the cells on each axis.
    ends: [Vec<f64>; 3],
    free: Vec<bool>,
}

impl Space {
    /// The goal's own coordinates are ends as well, so that a straight way to it is told as one.
    fn new(forbidden: &[Box3], goal: [f64; 3], order: [usize; 3], turn: Option<usize>) -> Self {
        let ends = [0, 1, 2].map(|i| {
            let mut list: Vec<f64> =
                forbidden.iter().flat_map(|b| <[f64; 2]>::from(span(b, i))).filter(|x| x.is_finite()).collect();
            list.push(goal[i]);
            list.sort_by(f64::total_cmp);
            list.dedup_by(|a, b| (*a - *b).abs() <= TOUCH);
            list
        });
        let mut space = Self { order, turn, ends, free: Vec::new() };
        let counts = space.counts();
        let mut free = vec![true; counts[0] * counts[1] * counts[2]];
        for b in forbidden {
            // All cells whose middle lies inside.
            let range = |axis: usize| {
                let (low, high) = span(b, axis);
                let inside = |k: usize| {
                    let x = space.middle(axis, k);
                    x > low + TOUCH && x < high - TOUCH
                };
                let from = (0..counts[axis]).find(|k| inside(*k));
                from.map(|from| (from, (from..counts[axis]).take_while(|k| inside(*k)).count()))
            };
            let (Some(x), Some(y), Some(z)) = (range(0), range(1), range(2)) else { continue };
            for i in x.0..x.0 + x.1 {
                for j in y.0..y.0 + y.1 {
                    let row = (i * counts[1] + j) * counts[2];
                    free[row + z.0..row + z.0 + z.1].fill(false);
                }
            }
        }
        space.free = free;
        space
    }

    /// Cells on each axis: between ends, and on them.
    fn counts(&self) -> [usize; 3] {
        [0, 1, 2].map(|i| self.ends[i].len() * 2 + 1)
    }

    fn middle(&self, axis: usize, cell: usize) -> f64 {
        let ends = &self.ends[axis];
        let half = cell / 2;
        if cell % 2 == 1 {
            return ends[half];
        }
        match (half.checked_sub(1).and_then(|i| ends.get(i)), ends.get(half)) {
            (Some(a), Some(b)) => f64::midpoint(*a, *b),
            (Some(a), None) => a + BEYOND,
            (None, Some(b)) => b - BEYOND,
            (None, None) => 0.0,
        }
    }

    fn index(&self, cell: [usize; 3]) -> usize {
        let c = self.counts();
        (cell[0] * c[1] + cell[1]) * c[2] + cell[2]
    }

    fn cell(&self, index: usize) -> [usize; 3] {
        let c = self.counts();
        [index / (c[1] * c[2]), index / c[2] % c[1], index % c[2]]
    }

    fn point(&self, index: usize) -> [f64; 3] {
        let cell = self.cell(index);
        [0, 1, 2].map(|i| self.middle(i, cell[i]))
    }

    fn find(&self, at: [f64; 3]) -> usize {
        self.index([0, 1, 2].map(|i| {
            let ends = &self.ends[i];
            let below = ends.iter().take_while(|e| **e < at[i] - TOUCH).count();
            match ends.get(below) {
                Some(e) if (e - at[i]).abs() <= TOUCH => below * 2 + 1,
                _ => below * 2,
            }
        }))
    }

    /// Cells beside a cell, each with the axis it lies along.
    fn neighbours(&self, index: usize) -> impl Iterator<Item = (usize, usize)> + '_ {
        let (cell, counts) = (self.cell(index), self.counts());
        (0..3).flat_map(move |axis| {
            [cell[axis].checked_sub(1), Some(cell[axis] + 1).filter(|k| *k < counts[axis])].into_iter().flatten().map(
                move |k| {
                    let mut next = cell;
                    next[axis] = k;
                    (axis, self.index(next))
                },
            )
        })
    }
}

/// How far beyond the last obstacle a body stands when it is clear of all, in mm.
const BEYOND: f64 = 500.0;

/// Everything the centre of a body must stay out of.
fn forbidden(body: &[Box3], obstacles: &[Box3]) -> Vec<Box3> {
    let minus = |a: Point3, b: Point3| Point3::new(a.x - b.x, a.y - b.y, a.z - b.z);
    obstacles
        .iter()
        .flat_map(|o| body.iter().map(move |b| Box3 { min: minus(o.min, b.max), max: minus(o.max, b.min) }))
        .collect()
}

/// A box of a size round 0, 0, 0.
fn centred(size: [f64; 3]) -> Box3 {
    let half = size.map(|s| s / 2.0);
    Box3 { min: Point3::new(-half[0], -half[1], -half[2]), max: Point3::new(half[0], half[1], half[2]) }
}

/// All the ways a single box can stand and turn: six and nine.
fn spaces(whole: &Box3, obstacles: &[Box3], goal: [f64; 3]) -> Vec<Space> {
    let size = [0, 1, 2].map(|i| span(whole, i).1 - span(whole, i).0);
    let orders = [[0, 1, 2], [1, 0, 2], [0, 2, 1], [2, 1, 0], [1, 2, 0], [2, 0, 1]];
    let standing =
        orders.iter().map(|order| Space::new(&forbidden(&[centred(order.map(|i| size[i]))], obstacles), goal, *order, None));
    let turning = orders.iter().flat_map(|order| (0..3).map(move |axis| (*order, axis))).filter_map(|(order, axis)| {
        let (a, b) = ((axis + 1) % 3, (axis + 2) % 3);
        // Each pair of standings once.
        (order[a] < order[b]).then(|| {
            let mut taken = order.map(|i| size[i]);
            let across = taken[a].hypot(taken[b]);
            (taken[a], taken[b]) = (across, across);
            Space::new(&forbidden(&[centred(taken)], obstacles), goal, order, Some(axis))
        })
    });
    standing.chain(turning).collect()
}

/// Whether the body stands free at a place.
pub(super) fn is_free(body: &Body, obstacles: &[Box3], at: [f64; 3]) -> bool {
    forbidden(&body.boxes, obstacles).iter().all(|b| {
        (0..3).any(|i| {
            let (low, high) = span(b, i);
            at[i] <= low + TOUCH || at[i] >= high - TOUCH
        })
    })
}

/// A way for a body from far outside (small y) to a place; `None` when there is none.
pub(super) fn find(body: &Body, obstacles: &[Box3], to: [f64; 3]) -> Option<Way> {
    // A way without a turn is the plainest there is, and quickly searched.
    let sliding = [Space::new(&forbidden(&body.boxes, obstacles), to, [0, 1, 2], None)];
    search(&sliding, to).or_else(|| match &body.boxes[..] {
        [whole] => search(&spaces(whole, obstacles, to), to),
        _ => None,
    })
}

fn search(spaces: &[Space], to: [f64; 3]) -> Option<Way> {
    // Places where it may turn, by the standing they can be reached from.
    let mut turns: BTreeMap<(usize, usize), Vec<(usize, usize)>> = BTreeMap::new();
    for (t, turning) in spaces.iter().enumerate() {
        let Some(axis) = turning.turn else { continue };
        let mut after = turning.order;
        after.swap((axis + 1) % 3, (axis + 2) % 3);
        for cell in (0..turning.free.len()).filter(|c| turning.free[*c]) {
            let at = turning.point(cell);
            for (s, standing) in spaces.iter().enumerate().filter(|(_, s)| s.turn.is_none()) {
                if standing.order == turning.order || standing.order == after {
                    turns.entry((s, standing.find(at))).or_default().push((t, cell));
                }
            }
        }
    }
    // Backwards from its place to the outside, by the plainest way: fewest turns, then fewest changes of direction.
    let start = (0, spaces[0].find(to));
    if !spaces[0].free[start.1] {
        return None;
    }
    let first = Node { space: start.0, cell: start.1, axis: None };
    let mut came: BTreeMap<Node, (usize, Node)> = BTreeMap::from([(first, (0, first))]);
    let mut queue = BinaryHeap::from([Reverse((0, first))]);
    while let Some(Reverse((cost, node))) = queue.pop() {
        if came[&node].0 < cost {
            continue;
        }
        let space = &spaces[node.space];
        if space.turn.is_none() && space.cell(node.cell)[1] == 0 {
            return Some(told(spaces, &path(&came, node, first), to));
        }
        let mut next: Vec<(usize, Node)> = Vec::new();
        if let Some(axis) = space.turn {
            let at = space.point(node.cell);
            let mut after = space.order;
            after.swap((axis + 1) % 3, (axis + 2) % 3);
            let standing = (0..spaces.len())
                .filter(|k| spaces[*k].turn.is_none() && [space.order, after].contains(&spaces[*k].order))
                .map(|k| (TURN, Node { space: k, cell: spaces[k].find(at), axis: None }));
            next.extend(standing);
        } else {
            for (axis, cell) in space.neighbours(node.cell).filter(|(_, c)| space.free[*c]) {
                let bend = if node.axis == Some(axis) { 0 } else { BEND };
                next.push((bend + 1, Node { space: node.space, cell, axis: Some(axis) }));
            }
            let turning = turns.get(&(node.space, node.cell)).into_iter().flatten();
            next.extend(turning.map(|(t, cell)| (TURN, Node { space: *t, cell: *cell, axis: None })));
        }
        for (more, node_after) in next {
            let total = cost + more;
            if came.get(&node_after).is_none_or(|(known, _)| total < *known) {
                came.insert(node_after, (total, node));
                queue.push(Reverse((total, node_after)));
            }
        }
    }
    None
}

/// A standing or turning body in a cell, and the axis it came along.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Node {
    space: usize,
    cell: usize,
    axis: Option<usize>,
}

/// What a change of direction costs, in cells passed.
const BEND: usize = 1_000;
/// What half a turn costs, in cells passed.
const TURN: usize = 100_000;

/// From outside to the place.
fn path(came: &BTreeMap<Node, (usize, Node)>, from: Node, to: Node) -> Vec<(usize, usize)> {
    let mut list = vec![(from.space, from.cell)];
    let mut node = from;
    while node != to {
        node = came[&node].1;
        list.push((node.space, node.cell));
    }
    list
}

/// The way as moves, from outside in; slides along one axis are one.
fn told(spaces: &[Space], path: &[(usize, usize)], to: [f64; 3]) -> Way {
    let mut at = spaces[path[0].0].point(path[0].1);
    let mut through = spaces[path[0].0].order;
    let mut moves: Vec<Move> = Vec::new();
    for (k, pair) in path.windows(2).enumerate() {
        let (node, next) = (pair[0], pair[1]);
        let goal = if k + 2 == path.len() { to } else { spaces[next.0].point(next.1) };
        for axis in 0..3 {
            let by = goal[axis] - at[axis];
            if by.abs() > TOUCH {
                match moves.last_mut() {
                    Some(Move::Slide(a, d)) if *a == axis => *d += by,
                    _ => moves.push(Move::Slide(axis, by)),
                }
            }
        }
        if let (Some(axis), None) = (spaces[next.0].turn, spaces[node.0].turn) {
            // It turns only where the standing on the other side of the turn differs.
            let beyond = path.get(k + 2).map(|n| spaces[n.0].order);
            if beyond.is_some_and(|order| order != spaces[node.0].order) {
                moves.push(Move::Turn(axis));
            }
        }
        if at[1] < 0.0 && spaces[node.0].turn.is_none() {
            through = spaces[node.0].order;
        }
        at = goal;
    }
    Way { moves, through }
}

#[cfg(test)]
mod tests;

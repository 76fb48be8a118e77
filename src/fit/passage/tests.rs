//! The search against hand-made rooms, and against a flood of a fine grid.

use super::{find, is_free, Body, Move};
use crate::geom::{Box3, Point3};
use proptest::prelude::*;
use std::collections::{BTreeSet, VecDeque};

const FAR: f64 = f64::INFINITY;

fn block(min: [f64; 3], max: [f64; 3]) -> Box3 {
    Box3 { min: Point3::new(min[0], min[1], min[2]), max: Point3::new(max[0], max[1], max[2]) }
}

fn body(size: [f64; 3]) -> Body {
    let h = size.map(|s| s / 2.0);
    Body { boxes: vec![block(h.map(|x| -x), h)] }
}

/// A room 10 wide, 10 deep, 5 high behind a wall with a door from `left` to `right`, `high` high.
fn room(left: f64, right: f64, high: f64) -> Vec<Box3> {
    vec![
        block([-FAR, -FAR, -FAR], [FAR, FAR, 0.0]),
        block([-FAR, 0.0, 5.0], [FAR, FAR, FAR]),
        block([-FAR, 0.0, 0.0], [0.0, FAR, FAR]),
        block([10.0, 0.0, 0.0], [FAR, FAR, FAR]),
        block([-FAR, 10.0, 0.0], [FAR, FAR, FAR]),
        block([-FAR, -1.0, 0.0], [left, 0.0, FAR]),
        block([right, -1.0, 0.0], [FAR, 0.0, FAR]),
        block([-FAR, -1.0, high], [FAR, 0.0, FAR]),
    ]
}

/// A way that any body could be led along: follows the moves from outside and must end at the goal.
fn ends_at(way: &super::Way, goal: [f64; 3], outside: [f64; 3]) -> bool {
    let mut at = outside;
    for step in &way.moves {
        if let Move::Slide(axis, by) = step {
            at[*axis] += by;
        }
    }
    (0..3).all(|i| (at[i] - goal[i]).abs() < 0.01)
}

fn turns(way: &super::Way) -> usize {
    way.moves.iter().filter(|m| matches!(m, Move::Turn(_))).count()
}

#[test]
fn straight_in_and_then_aside() {
    // 4 wide through a door of 4 and over to the left wall: a slide in, a slide left; exact contact is no obstacle.
    let way = find(&body([4.0, 2.0, 3.0]), &room(3.0, 7.0, 3.0), [2.0, 5.0, 1.5]).expect("a way");
    assert_eq!(turns(&way), 0, "{way:?}");
    assert_eq!(way.through, [0, 1, 2]);
    let last = way.moves.iter().rev().find_map(|m| if let Move::Slide(a, d) = m { Some((*a, *d)) } else { None });
    assert!(last.is_some_and(|(a, d)| a < 2 && d != 0.0), "{way:?}");
}

#[test]
fn a_long_body_goes_in_end_on_and_turns_inside() {
    // 8 x 2 through a door of 3: end on, then a turn, which takes a square of the diagonal (8.25) inside a room of 10.
    let way = find(&body([8.0, 2.0, 3.0]), &room(3.5, 6.5, 4.0), [5.0, 8.5, 1.5]).expect("a way");
    assert_eq!(turns(&way), 1, "{way:?}");
    assert_eq!(way.through, [1, 0, 2], "end on");
    // Longer than the room allows a turn: 9.9 x 2 sweeps 10.1.
    assert!(find(&body([9.9, 2.0, 3.0]), &room(3.5, 6.5, 4.0), [5.0, 8.5, 1.5]).is_none());
}

#[test]
fn too_high_goes_in_tipped_or_not_at_all() {
    // 4.5 high through a door of 4: on its side, and up again under a roof of 5: diagonal of 4.5 x 2 is 4.92.
    let way = find(&body([2.0, 2.0, 4.5]), &room(2.0, 8.0, 4.0), [5.0, 5.0, 2.25]).expect("a way");
    assert!(turns(&way) >= 1, "{way:?}");
    // 3 wide its diagonal is 5.41: it cannot be set up inside.
    assert!(find(&body([3.0, 3.0, 4.5]), &room(2.0, 8.0, 4.0), [5.0, 5.0, 2.25]).is_none());
}

#[test]
fn arches_behind_the_door_bar_what_the_door_lets_in() {
    let mut stands = room(1.0, 9.0, 4.0);
    stands.push(block([0.0, 2.0, 0.0], [2.0, 5.0, 3.0]));
    stands.push(block([8.0, 2.0, 0.0], [10.0, 5.0, 3.0]));
    let (narrow, wide) = (body([6.0, 3.0, 3.5]), body([7.0, 3.0, 3.5]));
    assert!(find(&narrow, &stands, [5.0, 8.0, 1.75]).is_some());
    assert!(is_free(&wide, &stands, [5.0, 8.0, 1.75]) && find(&wide, &stands, [5.0, 8.0, 1.75]).is_none());
    // A low body, 2 high, cannot be lifted over them under the door's head at 4, but it goes in end on, up, and turns over them.
    let over = find(&body([7.0, 3.0, 2.0]), &stands, [5.0, 8.0, 1.0]).expect("a way");
    assert_eq!((turns(&over), over.through), (1, [1, 0, 2]), "{over:?}");
    let mut tall = stands.clone();
    tall[7] = block([-FAR, -1.0, 5.0], [FAR, 0.0, FAR]);
    assert_eq!(turns(&find(&body([7.0, 3.0, 2.0]), &tall, [5.0, 8.0, 1.0]).expect("a way")), 0);
}

#[test]
fn a_place_that_is_not_free_has_no_way() {
    assert!(find(&body([4.0, 2.0, 3.0]), &room(3.0, 7.0, 3.0), [1.0, 5.0, 1.5]).is_none());
}

/// The same question by a flood of half steps, for a body that does not turn and obstacles at whole numbers.
fn flooded(parts: &[Box3], stands: &[Box3], goal: [i32; 3]) -> bool {
    const LOW: i32 = -8;
    const HIGH: i32 = 28;
    let free = |at: [i32; 3]| {
        let shift = Point3::new(f64::from(at[0]) / 2.0, f64::from(at[1]) / 2.0, f64::from(at[2]) / 2.0);
        parts.iter().all(|p| {
            let moved = Box3 { min: p.min.plus(shift, 1.0), max: p.max.plus(shift, 1.0) };
            stands.iter().all(|s| moved.overlap_depth(s) <= 0.01)
        })
    };
    if !free(goal) {
        return false;
    }
    let mut seen = BTreeSet::from([goal]);
    let mut queue = VecDeque::from([goal]);
    while let Some(at) = queue.pop_front() {
        if at[1] == LOW {
            return true;
        }
        for (axis, by) in [(0, 1), (0, -1), (1, 1), (1, -1), (2, 1), (2, -1)] {
            let mut next = at;
            next[axis] += by;
            if next[axis] >= LOW && next[axis] <= HIGH && !seen.contains(&next) && free(next) {
                seen.insert(next);
                queue.push_back(next);
            }
        }
    }
    false
}

fn small_box() -> impl Strategy<Value = Box3> {
    ([0..8i32, 0..8i32, 0..4i32], [1..7i32, 1..4i32, 1..5i32])
        .prop_map(|(at, size)| block(at.map(f64::from), [0, 1, 2].map(|i| f64::from(at[i] + size[i]))))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn the_cells_find_a_way_exactly_when_a_fine_grid_does(
        obstacles in prop::collection::vec(small_box(), 0..6),
        wide in 1..4i32,
        door in 1..6i32,
        goal in [2..16i32, 4..16i32, 2..6i32],
    ) {
        let mut stands = room(1.0, f64::from(1 + door), 4.0);
        stands.extend(obstacles);
        let half = f64::from(wide) / 2.0;
        // Two boxes, so that it only slides; the second stands on the first.
        let parts = vec![block([-half, -1.0, -1.0], [half, 1.0, 0.0]), block([-0.5, -1.0, 0.0], [0.5, 1.0, 1.0])];
        let found = find(&Body { boxes: parts.clone() }, &stands, goal.map(|g| f64::from(g) / 2.0));
        prop_assert_eq!(found.is_some(), flooded(&parts, &stands, goal));
        if let Some(way) = found {
            let goal = goal.map(|g| f64::from(g) / 2.0);
            let total = [0, 1, 2].map(|axis| way.moves.iter().map(|m| match m {
                Move::Slide(a, by) if *a == axis => *by,
                _ => 0.0,
            }).sum::<f64>());
            prop_assert!(ends_at(&way, goal, [0, 1, 2].map(|i| goal[i] - total[i])));
            prop_assert!(goal[1] - total[1] < 0.0, "begins outside");
        }
    }
}

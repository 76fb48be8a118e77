//! Walking along contours, distances between them, and the same answers however a contour is written down.

use super::support::{lattice_region, shown, star};
use baywright::geom::{Contour, GeomError, Point, Rect, Region, Segment, Vec2};
use proptest::prelude::*;
use std::f64::consts::PI;

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * (1.0 + a.abs().max(b.abs()))
}

/// A bar chart or a star.
fn any_contour() -> impl Strategy<Value = Contour> {
    prop_oneof![lattice_region().prop_map(|r| r.outer), star()]
}

fn runs_length(run: &[Segment]) -> f64 {
    run.iter()
        .map(|(a, b)| {
            let chord = b.distance(Point::new(a.x, a.y));
            let half = 2.0 * a.bulge.atan();
            if half == 0.0 {
                chord
            } else {
                chord * half / half.sin()
            }
        })
        .sum()
}

proptest! {
    /// Reversed, from every start, moved, turned and mirrored: area and length stay, extents follow.
    #[test]
    fn a_contour_is_the_same_however_it_is_written(c in any_contour(), dx in -1e3..1e3f64, dy in -1e3..1e3f64) {
        let (area, length, box_) = (c.area(), c.length(), c.bounds());
        let back = c.clone().reversed();
        prop_assert!(same(back.area(), -area) && same(back.length(), length) && back.bounds() == box_);
        prop_assert!(!back.is_ccw() && back.ccw().is_ccw());
        for start in 0..c.vertices().len() {
            let turned = c.start_at_vertex(start);
            prop_assert!(same(turned.area(), area) && same(turned.length(), length) && turned.bounds() == box_);
            prop_assert_eq!(turned.vertices()[0], c.vertices()[start]);
            prop_assert!(turned.check_simple().is_ok());
        }
        let moved = c.moved(Vec2::new(dx, dy));
        prop_assert!((moved.area() - area).abs() < 1e-6 && same(moved.length(), length));
        let follow = box_ + Vec2::new(dx, dy);
        let apart = moved.bounds();
        prop_assert!((apart.x0 - follow.x0).abs() < 1e-9 && (apart.y1 - follow.y1).abs() < 1e-9);
        for turns in 0..5 {
            let turned = c.quarter_turned(turns);
            prop_assert!(same(turned.area(), area) && same(turned.length(), length));
            let b = turned.bounds();
            let (w, h) = if turns % 2 == 0 { (box_.width(), box_.height()) } else { (box_.height(), box_.width()) };
            prop_assert!((b.width() - w).abs() < 1e-9 && (b.height() - h).abs() < 1e-9);
        }
        let mirrored = c.mirrored_x();
        prop_assert!(same(mirrored.area(), area) && same(mirrored.length(), length));
        let b = mirrored.bounds();
        prop_assert!((b.x0 + box_.x1).abs() < 1e-9 && (b.x1 + box_.x0).abs() < 1e-9 && same(b.y0, box_.y0));
    }

    /// Four quarter turns and two mirrorings come back to the same numbers exactly.
    #[test]
    fn turning_all_the_way_is_exact(c in any_contour()) {
        let round = (0..4).fold(c.clone(), |t, _| t.quarter_turned(1));
        prop_assert_eq!(round.vertices(), c.vertices());
        let there_and_back = c.mirrored_x().mirrored_x();
        prop_assert_eq!(there_and_back.bounds(), c.bounds());
    }

    #[test]
    fn points_along_a_contour_lie_on_it_in_order(c in any_contour(), at in -2.0..3.0f64, step in 0.001..0.4f64) {
        let whole = c.length();
        let (here, there) = (at * whole, (at + step) * whole);
        let p = c.point_at(here);
        prop_assert!(c.distance_to(p) < 1e-9);
        prop_assert!((c.point_at(here + whole) - p).hypot() < 1e-7, "lengths wrap round");
        prop_assert!((c.point_at(c.length_nearest(p)) - p).hypot() < 1e-6);
        prop_assert!((c.nearest_to(p) - p).hypot() < 1e-6);
        // The chord is never longer than the way along.
        prop_assert!((c.point_at(there) - p).hypot() <= step * whole + 1e-9);
        // The tangent is the way on, unless a corner comes within the step.
        let tangent = c.tangent_at(here);
        prop_assert!(same(tangent.hypot(), 1.0));
        let run = c.between(here, there);
        prop_assert!((runs_length(&run) - step * whole).abs() < 1e-4);
        prop_assert!(run.windows(2).all(|w| w[0].1.distance(Point::new(w[1].0.x, w[1].0.y)) < 2e-5), "in one run");
        let ahead = c.point_at(here + 1e-3);
        if c.between(here, here + 1e-3).len() == 1 {
            prop_assert!(((ahead - p) / 1e-3 - tangent).hypot() < 1e-3);
        }
    }

    #[test]
    fn a_new_start_changes_nothing_else(c in any_contour(), at in 0.0..1.0f64, q in (-60.0..60.0f64, -60.0..60.0f64)) {
        let length = at * c.length();
        let started = c.start_at_length(length);
        prop_assert!((started.area() - c.area()).abs() < 1e-2 && (started.length() - c.length()).abs() < 1e-4);
        prop_assert!((started.point_at(0.0) - c.point_at(length)).hypot() < 2e-5);
        prop_assert!(started.vertices().len() <= c.vertices().len() + 1);
        let near = c.start_near(Point::new(q.0, q.1));
        let first = near.point_at(0.0);
        prop_assert!((first.distance(Point::new(q.0, q.1)) - c.distance_to(Point::new(q.0, q.1))).abs() < 2e-5);
    }

    #[test]
    fn pieces_add_up_to_the_whole(c in any_contour(), cuts in prop::collection::vec(-1.5..2.5f64, 1..8)) {
        let cuts: Vec<f64> = cuts.iter().map(|t| t * c.length()).collect();
        let pieces = c.pieces(&cuts);
        let sum: f64 = pieces.iter().map(|p| runs_length(p)).sum();
        prop_assert!((sum - c.length()).abs() < 1e-3, "{sum} of {}", c.length());
        for (a, b) in pieces.iter().zip(pieces.iter().cycle().skip(1)) {
            let (end, start) = (a[a.len() - 1].1, b[0].0);
            prop_assert!(end.distance(Point::new(start.x, start.y)) < 2e-5, "each piece starts where the last one ends");
        }
    }

    /// Against a dense sampling of both contours: never more than a sample, never less than it by more than the spacing.
    #[test]
    fn distances_agree_with_sampling(a in star(), b in star()) {
        let exact = a.distance_between(&b);
        prop_assert!((exact - b.distance_between(&a)).abs() < 1e-9);
        prop_assert_eq!(exact == 0.0, a.crosses(&b));
        let whole = a.length();
        let samples = 400;
        let least = (0..samples)
            .map(|i| b.distance_to(a.point_at(whole * f64::from(i) / f64::from(samples))))
            .fold(f64::INFINITY, f64::min);
        prop_assert!(exact <= least + 1e-9, "{exact} over {least}");
        prop_assert!(exact >= least - whole / f64::from(samples) / 2.0 - 1e-5, "{exact} under {least}");
    }

    /// A contour and its offset lie exactly the distance apart, and cross nowhere.
    #[test]
    fn an_offset_lies_at_its_distance(c in star(), d in 0.5..4.0f64) {
        for loop_ in c.grown(d).expect("reliable") {
            prop_assert!((c.distance_between(&loop_) - d).abs() < 6e-4, "{}", shown(&Region::new(c.clone(), vec![])));
        }
    }
}

#[test]
fn distances_between_known_shapes() {
    let circle = |x, y, r| Contour::circle(Point::new(x, y), r).expect("circle");
    let square = Contour::rect(Rect::new(0.0, 0.0, 10.0, 10.0)).expect("square");
    let cases = [
        (circle(0.0, 0.0, 5.0), circle(20.0, 0.0, 6.0), 9.0),
        (circle(0.0, 0.0, 5.0), circle(1.0, 0.0, 10.0), 4.0),
        (circle(0.0, 0.0, 5.0), circle(0.0, 0.0, 7.5), 2.5),
        (circle(0.0, 0.0, 5.0), circle(10.0, 0.0, 5.0), 0.0),
        (square.clone(), circle(5.0, 15.0, 2.0), 3.0),
        (square.clone(), circle(14.0, 13.0, 2.0), 3.0),
        (square.clone(), circle(5.0, 5.0, 2.0), 3.0),
        (square.clone(), circle(5.0, 5.0, 6.0), 0.0),
        (square.clone(), square.moved(Vec2::new(13.0, 14.0)), 5.0),
        (square.clone(), square.moved(Vec2::new(10.0, 0.0)), 0.0),
    ];
    for (a, b, distance) in cases {
        assert!((a.distance_between(&b) - distance).abs() < 1e-9, "{distance}: {}", a.distance_between(&b));
        assert!((b.distance_between(&a) - distance).abs() < 1e-9);
        assert_eq!(a.crosses(&b), distance == 0.0);
    }
}

#[test]
fn a_half_turn_splits_into_equal_quarters() {
    let circle = Contour::circle(Point::new(0.0, 0.0), 10.0).expect("circle");
    let top_left = circle.start_at_length(10.0 * PI * 0.25);
    assert_eq!(top_left.vertices().len(), 3);
    assert!((top_left.area() - 100.0 * PI).abs() < 1e-9);
    let p = top_left.point_at(0.0);
    assert!((p.x + 50f64.sqrt()).abs() < 1e-9 && (p.y + 50f64.sqrt()).abs() < 1e-9, "{p:?}");
    let t = circle.tangent_at(5.0 * PI);
    assert!((t.x - 1.0).abs() < 1e-9 && t.y.abs() < 1e-9, "at the bottom, counter-clockwise goes right: {t:?}");
    assert!((circle.segment_lengths().iter().sum::<f64>() - 20.0 * PI).abs() < 1e-9);
}

#[test]
fn cuts_that_coincide_count_once() {
    let square = Contour::rect(Rect::new(0.0, 0.0, 10.0, 10.0)).expect("square");
    assert_eq!(square.pieces(&[5.0, 5.0, 45.0, 15.0]).len(), 2);
    assert_eq!(square.pieces(&[0.0, 40.0]).len(), 1);
    assert!(square.pieces(&[]).is_empty() && square.pieces(&[f64::NAN]).is_empty());
    assert!(square.between(7.0, 7.0).is_empty());
    assert_eq!(square.between(7.0, 48.0).len(), 5, "once round from mid-side: the side is split");
}

#[test]
fn a_crossing_is_named_where_it_is() {
    let points = [(0.0, 0.0), (30.0, 10.0), (30.0, 0.0), (0.0, 20.0)].map(Point::from);
    let bow = Contour::polygon(&points).expect("some area");
    // y = x/3 meets the line from (30, 0) to (0, 20), y = 20 − 2x/3, at x = 20.
    match bow.check_simple() {
        Err(GeomError::SelfCrossing { x, y }) => {
            assert!((x - 20.0).abs() < 1e-6 && (y - 20.0 / 3.0).abs() < 1e-6, "{x} {y}");
        }
        other => panic!("{other:?}"),
    }
}

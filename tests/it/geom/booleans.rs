//! Booleans against an independent polygon library.

use super::support::{area, lattice_region, path, paths, regions_area, shown, star};
use baywright::geom::{Contour, Point, Rect, Region, Vec2};
use clipper2_rust::{difference_64, intersect_64, union_64, FillRule};
use proptest::prelude::*;

fn any_contour() -> impl Strategy<Value = Contour> {
    prop_oneof![lattice_region().prop_map(|r| r.outer), star()]
}

/// Half of the moves are on the lattice, so that edges coincide.
fn shift() -> impl Strategy<Value = Vec2> {
    let lattice = (-60i32..60, -60i32..60).prop_map(|(x, y)| Vec2::new(f64::from(x) / 2.0, f64::from(y) / 2.0));
    prop_oneof![lattice, (-30.0..30.0f64, -30.0..30.0f64).prop_map(Vec2::from)]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(500))]

    #[test]
    fn areas_agree_with_another_library(a in any_contour(), b in any_contour(), by in shift()) {
        // Brought over one another first: stars are far apart by themselves.
        let b = b.moved(a.bounds().center() - b.bounds().center() + by);
        let b = b.moved(Vec2::new((b.bounds().x0 * 2.0).round() / 2.0 - b.bounds().x0, 0.0));
        let (pa, pb) = (vec![path(&a)], vec![path(&b)]);
        let ours = [a.union(&b), a.intersection(&b), a.minus(&b)];
        let theirs = [
            union_64(&pa, &pb, FillRule::NonZero),
            intersect_64(&pa, &pb, FillRule::NonZero),
            difference_64(&pa, &pb, FillRule::NonZero),
        ];
        for (ours, theirs) in ours.into_iter().zip(&theirs) {
            let ours = ours.expect("reliable");
            let (x, y) = (regions_area(&ours), area(theirs));
            prop_assert!((x - y).abs() < 0.2, "{x} against {y}");
            prop_assert!(ours.iter().all(|r| r.outer.is_ccw() && r.inner.iter().all(|i| !i.is_ccw())));
        }
    }

    /// A region with holes less another with holes.
    #[test]
    fn regions_with_holes_subtract(a in lattice_region(), b in lattice_region(), by in shift()) {
        let b = Region::new(b.outer.moved(by), b.inner.iter().map(|i| i.moved(by)).collect());
        let ours = regions_area(&a.minus(&b).expect("reliable"));
        let theirs = area(&difference_64(&paths(&a), &paths(&b), FillRule::NonZero));
        prop_assert!((ours - theirs).abs() < 0.2, "{ours} against {theirs}\n{}\nless\n{}", shown(&a), shown(&b));
    }
}

fn square(x: f64, y: f64, side: f64) -> Contour {
    Contour::rect(Rect::new(x, y, x + side, y + side)).expect("square")
}

#[test]
fn a_cut_across_two_holes_joins_them() {
    let plate = Region::new(square(0.0, 0.0, 100.0), vec![square(20.0, 40.0, 10.0), square(60.0, 40.0, 10.0)]);
    let bar = Contour::rect(Rect::new(25.0, 42.0, 65.0, 48.0)).expect("bar");
    let left = plate.minus_contour(&bar).expect("reliable");
    assert_eq!((left.len(), left[0].inner.len()), (1, 1));
    assert!((left[0].area() - (10_000.0 - 200.0 - 30.0 * 6.0)).abs() < 1e-6);
}

/// A ring-shaped union encloses an island of material, which keeps the hole inside it.
#[test]
fn an_island_between_cut_and_hole_stays() {
    let u =
        [(20., 20.), (80., 20.), (80., 70.), (70., 70.), (70., 30.), (30., 30.), (30., 70.), (20., 70.)].map(Point::from);
    let plate = Region::new(square(0.0, 0.0, 100.0), vec![Contour::polygon(&u).expect("u"), square(45.0, 45.0, 10.0)]);
    let lid = Contour::rect(Rect::new(20.0, 60.0, 80.0, 70.0)).expect("lid");
    let left = plate.minus_contour(&lid).expect("reliable");
    let mut areas: Vec<f64> = left.iter().map(Region::area).collect();
    areas.sort_by(f64::total_cmp);
    assert_eq!(areas.len(), 2, "{areas:?}");
    assert!(
        (areas[0] - (40.0 * 30.0 - 100.0)).abs() < 1e-6 && (areas[1] - (10_000.0 - 60.0 * 50.0)).abs() < 1e-6,
        "{areas:?}"
    );
}

#[test]
fn apart_and_nested_shapes_are_told_apart() {
    let (big, small, far) = (square(0.0, 0.0, 50.0), square(10.0, 10.0, 5.0), square(90.0, 0.0, 5.0));
    assert!(big.holds(&small) && !small.holds(&big) && !big.holds(&far));
    assert!(big.meets(&small) && small.meets(&big) && !big.meets(&far));
    assert_eq!(big.union(&far).expect("two").len(), 2);
    assert!(big.intersection(&far).expect("none").is_empty());
    assert!(small.minus(&big).expect("none").is_empty());
    let holed = big.minus(&small).expect("a hole");
    assert_eq!((holed.len(), holed[0].inner.len()), (1, 1));
    assert!((holed[0].area() - 2475.0).abs() < 1e-9);
    assert_eq!(Region::from_loops(vec![small.clone().cw(), big]).len(), 1);
}

//! Offsets where they are known to break: lattice shapes, slots exactly as wide as the cutter, rings of pockets.

use super::support::{lattice_region, loops_area, offset_area, regions_area, shown, star};
use baywright::geom::{Contour, GeomError, Point, Rect, Region};
use proptest::prelude::*;

fn lies_at(region: &Region, loops: &[Contour], distance: f64) -> bool {
    let lines: Vec<&Contour> = std::iter::once(&region.outer).chain(&region.inner).collect();
    loops.iter().all(|l| {
        let whole = l.length();
        (0..24).all(|i| {
            let p = l.point_at(whole * f64::from(i) / 24.0);
            let near = lines.iter().map(|c| c.distance_to(p)).fold(f64::INFINITY, f64::min);
            (near - distance.abs()).abs() < 2.6e-3
        })
    })
}

/// A plate 100 x 40 with one notch of the given width, 20 deep, from the top.
fn notched(width: f64) -> Contour {
    let (a, b) = (50.0 - width / 2.0, 50.0 + width / 2.0);
    let points = [(0.0, 0.0), (100.0, 0.0), (100.0, 40.0), (b, 40.0), (b, 20.0), (a, 20.0), (a, 40.0), (0.0, 40.0)];
    Contour::polygon(&points.map(Point::from)).expect("plate")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn lattice_shapes_offset_on_the_half_grid(region in lattice_region(), steps in 1u32..16, outward in prop::bool::ANY) {
        let distance = f64::from(steps) * if outward { -0.5 } else { 0.5 };
        let loops = region.shrunk(distance).expect("reliable");
        prop_assert!(lies_at(&region, &loops, distance));
        let (ours, theirs) = (loops_area(&loops), offset_area(&region, -distance));
        prop_assert!((ours - theirs).abs() < 0.3 + eased(&loops), "{ours} against {theirs} at {distance}\n{}", shown(&region));
    }

    /// In and out again: nothing gained, and what is lost is exactly what is reported as out of the cutter's reach.
    #[test]
    fn what_a_cutter_cannot_reach_is_the_difference(region in lattice_region(), steps in 1u32..12) {
        let radius = f64::from(steps) * 0.5;
        let missed = regions_area(&region.unreachable(radius).expect("reliable"));
        let ways = Region::from_loops(region.shrunk(radius).expect("reliable"));
        let covered: f64 = ways.iter().map(|w| offset_area(w, radius)).sum();
        prop_assert!(missed >= 0.0);
        // Grown pieces may overlap one another, so what they cover in sum is at least what is not missed.
        let length: f64 = region.outer.length() + region.inner.iter().map(Contour::length).sum::<f64>();
        prop_assert!(region.area() - missed <= covered + 0.01 * length, "missed {missed}, covered {covered}, radius {radius}\n{}", shown(&region));
        if ways.len() == 1 {
            prop_assert!((region.area() - missed - covered).abs() < 0.01 * length, "missed {missed}, covered {covered}, radius {radius}\n{}", shown(&region));
        }
    }

    #[test]
    fn stars_of_arcs_offset_like_their_polygons(shape in star(), distance in -9.0..9.0f64) {
        let region = Region::new(shape, Vec::new());
        let loops = region.shrunk(distance).expect("reliable");
        prop_assert!(lies_at(&region, &loops, distance));
        let (ours, theirs) = (loops_area(&loops), offset_area(&region, -distance));
        prop_assert!((ours - theirs).abs() < 0.3 + eased(&loops), "{ours} against {theirs} at {distance}\n{}", shown(&region));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn rings_shrink_the_pocket_itself_and_end(region in lattice_region(), first in 1u32..8, step in 1u32..8) {
        let (first, step) = (f64::from(first) * 0.5, f64::from(step) * 0.45);
        let rings = region.rings(first, step).expect("reliable");
        for (k, ring) in rings.iter().enumerate() {
            let depth = first + step * k as f64;
            prop_assert!(!ring.is_empty() && lies_at(&region, ring, depth), "ring {k}");
            prop_assert!((loops_area(ring) - offset_area(&region, -depth)).abs() < 0.3 + eased(ring), "ring {k} at {depth}: {} {}\n{}", loops_area(ring), offset_area(&region, -depth), shown(&region));
        }
        let next = first + step * rings.len() as f64;
        prop_assert!(offset_area(&region, -next) < 0.3, "area is left at {next}: {}", shown(&region));
    }
}

/// Whether some point of the path lies deep in the notch of [`notched`].
fn enters(paths: &[Contour]) -> bool {
    paths.iter().any(|p| p.distance_to(Point::new(50.0, 25.0)) < 1.0)
}

/// Either the path enters the notch, or the notch is named as out of reach: at no width both, at none neither.
#[test]
fn a_notch_is_cut_or_reported_whatever_its_width() {
    let radius = 3.0;
    let mut seen = (false, false);
    for exponent in -9..=-1 {
        for sign in [-1.0, 0.0, 1.0] {
            let part = notched(2.0 * radius + sign * 10f64.powi(exponent));
            let cut = enters(&part.grown(radius).expect("reliable"));
            let left = part.unreachable_outside(radius).expect("reliable");
            let notch: f64 = regions_area(&left);
            // Cut: what stays is the two corners at the notch's floor, (1 − π/4)·r² each, 3.86 mm² in all.
            assert_eq!(cut, notch < 5.0, "width 2r {sign:+} 1e{exponent}: {notch} mm² left");
            if !cut {
                assert!(left.iter().any(|r| r.outer.contains(Point::new(50.0, 30.0))), "the notch itself is named");
            }
            // A micron and more decides; exactly as wide as the cutter is cut.
            if sign >= 0.0 {
                assert!(cut);
            } else if exponent >= -2 {
                assert!(!cut);
            }
            seen = (seen.0 || cut, seen.1 || !cut);
        }
    }
    assert_eq!(seen, (true, true));
}

#[test]
fn a_slot_exactly_as_wide_as_the_cutter_is_cut() {
    let slot = Contour::obround(Point::new(0.0, 0.0), Point::new(40.0, 0.0), 6.0).expect("slot");
    let region = Region::new(slot, Vec::new());
    let path = region.shrunk(3.0).expect("reliable");
    assert_eq!(path.len(), 1);
    assert!((path[0].length() - 80.0).abs() < 0.01, "there and back: {}", path[0].length());
    assert!(region.unreachable(3.0).expect("reliable").is_empty());
    let wide = region.unreachable(3.01).expect("reliable");
    assert!((regions_area(&wide) - region.area()).abs() < 1e-6, "a wider cutter does not enter at all");
}

#[test]
fn a_square_pocket_keeps_its_corners() {
    let pocket = Region::new(Contour::rect(Rect::new(0.0, 0.0, 50.0, 30.0)).expect("pocket"), Vec::new());
    let left = pocket.unreachable(4.0).expect("reliable");
    assert_eq!(left.len(), 4);
    // (1 − π/4)·r² each, less the band of the slack: its length along the corner is about 2·r.
    for corner in &left {
        assert!((corner.area() - 0.2146 * 16.0).abs() < 0.06, "{}", corner.area());
    }
    assert!(pocket.unreachable(0.0).expect("no radius").is_empty());
}

#[test]
fn a_boss_too_near_the_wall_leaves_a_bridge() {
    let outer = Contour::rect(Rect::new(0.0, 0.0, 60.0, 60.0)).expect("pocket");
    let boss = Contour::circle(Point::new(15.0, 30.0), 10.0).expect("boss");
    let pocket = Region::new(outer, vec![boss]);
    let left = |radius| pocket.unreachable(radius).expect("reliable");
    // The gap is 5 wide: a smaller cutter leaves the four corners only, a larger one stops short of the gap's middle.
    assert_eq!(left(2.4).len(), 4);
    assert!(left(3.5).iter().any(|r| r.outer.contains(Point::new(2.5, 30.0))));
}

#[test]
fn a_hole_six_wide_near_an_edge_gets_right_rings() {
    // Offsetting ring from ring goes wrong on this one; from the region itself it does not.
    let outer = Contour::rect(Rect::new(0.0, 0.0, 120.0, 90.0)).expect("pocket");
    let hole = Contour::circle(Point::new(30.0, 45.0), 3.0).expect("hole");
    let pocket = Region::new(outer, vec![hole]);
    let rings = pocket.rings(2.7, 2.7).expect("reliable");
    assert_eq!(rings.len(), 16);
    for (k, ring) in rings.iter().enumerate() {
        let theirs = offset_area(&pocket, -2.7 * (k + 1) as f64);
        assert!((loops_area(ring) - theirs).abs() < 0.3, "ring {k}");
    }
}

#[test]
fn steps_that_do_not_advance_are_refused() {
    let pocket = Region::new(Contour::rect(Rect::new(0.0, 0.0, 50.0, 30.0)).expect("pocket"), Vec::new());
    for (first, step) in [(1.0, 0.0), (1.0, -1.0), (-1.0, 1.0)] {
        assert_eq!(pocket.rings(first, step).map(|r| r.len()), Err(GeomError::BadStep { first, step }));
    }
    assert_eq!(pocket.rings(f64::NAN, 1.0).map(|r| r.len()), Err(GeomError::NotFinite));
    assert_eq!(pocket.shrunk(f64::INFINITY).map(|r| r.len()), Err(GeomError::NotFinite));
    assert_eq!(pocket.rings(0.0, 4.0).expect("from the wall itself").len(), 4);
    assert_eq!(pocket.rings(20.0, 4.0).map(|r| r.len()), Ok(0));
}

/// What an eased distance adds: half a micron along the loops.
fn eased(loops: &[Contour]) -> f64 {
    loops.iter().map(Contour::length).sum::<f64>() * 6e-4
}

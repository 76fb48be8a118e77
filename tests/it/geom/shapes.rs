//! The ready-made contours, and whether a cutter can make the reliefs they promise.

use baywright::geom::{Contour, GeomError, Point, Rect, Region, Relief};
use proptest::prelude::*;
use std::f64::consts::{PI, SQRT_2};

fn corners(r: Rect) -> [Point; 4] {
    [Point::new(r.x0, r.y0), Point::new(r.x1, r.y0), Point::new(r.x1, r.y1), Point::new(r.x0, r.y1)]
}

/// Whether a cutter of this radius, kept inside the opening, takes the point away (within `slack` mm).
fn cut_away(opening: &Contour, cutter: f64, p: Point, slack: f64) -> bool {
    let paths = Region::new(opening.clone(), Vec::new()).shrunk(cutter).expect("offset");
    paths.iter().any(|path| path.contains(p) || path.distance_to(p) <= cutter + slack)
}

#[test]
fn a_slot_has_the_area_and_length_of_its_formulas() {
    let slot = Contour::obround(Point::new(10.0, 20.0), Point::new(40.0, 60.0), 8.0).expect("slot");
    assert!((slot.area() - (50.0 * 8.0 + PI * 16.0)).abs() < 1e-9);
    assert!((slot.length() - (100.0 + PI * 8.0)).abs() < 1e-9);
    assert!((slot.distance_to(Point::new(10.0, 20.0)) - 4.0).abs() < 1e-9);
    let round = Contour::obround(Point::new(1.0, 1.0), Point::new(1.0, 1.0), 8.0).expect("circle");
    assert!((round.area() - PI * 16.0).abs() < 1e-9);
}

#[test]
fn a_rounded_rectangle_loses_four_minus_pi_squares_of_its_radius() {
    let r = Contour::rounded_rect(Rect::new(0.0, 0.0, 50.0, 30.0), 5.0).expect("fits");
    assert!((r.area() - (1500.0 - (4.0 - PI) * 25.0)).abs() < 1e-9);
    let full = Contour::rounded_rect(Rect::new(0.0, 0.0, 50.0, 10.0), 5.0).expect("just fits");
    assert!((full.area() - (400.0 + PI * 25.0)).abs() < 1e-9);
    assert_eq!(full.vertices().len(), 6, "sides without length are dropped");
}

/// Each relief adds the half disc that lies outside the square, by its formula: a diagonal one the half disc less the
/// triangle CPQ, an along-the-edge one the whole half disc.
#[test]
fn reliefs_add_the_area_of_their_formulas() {
    let rect = Rect::new(0.0, 0.0, 40.0, 30.0);
    let r = 3.2;
    let cases = [
        (Relief::None, 0.0),
        (Relief::Diagonal(r), PI * r * r / 2.0 - r * r),
        (Relief::AlongX(r), PI * r * r / 2.0),
        (Relief::AlongY(r), PI * r * r / 2.0),
        (Relief::Rounded(r), -(1.0 - PI / 4.0) * r * r),
    ];
    for (a, more_a) in cases {
        for (b, more_b) in cases {
            let c = Contour::relieved_rect(rect, [a, b, a, b]).expect("fits");
            c.check_simple().expect("simple");
            assert!((c.area() - (1200.0 + 2.0 * more_a + 2.0 * more_b)).abs() < 1e-9, "{a:?} {b:?}");
        }
    }
}

#[test]
fn along_the_edge_reliefs_cut_beyond_that_edge_only() {
    let rect = Rect::new(0.0, 0.0, 40.0, 30.0);
    let x = Contour::relieved_rect(rect, [Relief::AlongX(3.0); 4]).expect("fits").bounds();
    assert_eq!((x.x0, x.y0, x.x1, x.y1), (0.0, -3.0, 40.0, 33.0));
    let y = Contour::relieved_rect(rect, [Relief::AlongY(3.0); 4]).expect("fits").bounds();
    assert_eq!((y.x0, y.y0, y.x1, y.y1), (-3.0, 0.0, 43.0, 30.0));
    let d = Contour::relieved_rect(rect, [Relief::Diagonal(3.0); 4]).expect("fits").bounds();
    let beyond = 3.0 * (1.0 - 1.0 / SQRT_2);
    assert!((d.x0 + beyond).abs() < 1e-9 && (d.y1 - 30.0 - beyond).abs() < 1e-9);
}

#[test]
fn reliefs_that_do_not_fit_are_refused_with_both_lengths() {
    let rect = Rect::new(0.0, 0.0, 40.0, 8.0);
    let refused = Contour::relieved_rect(rect, [Relief::Diagonal(3.0); 4]).expect_err("8 < 2·3·√2");
    assert!(matches!(refused, GeomError::NoRoom { have: 8.0, need } if (need - 6.0 * SQRT_2).abs() < 1e-12), "{refused}");
    assert!(Contour::relieved_rect(rect, [Relief::AlongX(3.0); 4]).is_ok());
    let short = Rect::new(0.0, 0.0, 11.0, 30.0);
    assert!(Contour::relieved_rect(short, [Relief::AlongX(3.0); 4]).is_err());
    assert!(matches!(Contour::rounded_rect(rect, 4.1), Err(GeomError::NoRoom { .. })));
    assert_eq!(Contour::relieved_rect(rect, [Relief::Rounded(-1.0); 4]).map(|c| c.area()), Err(GeomError::Degenerate));
    assert_eq!(Contour::rounded_rect(rect, f64::NAN).map(|c| c.area()), Err(GeomError::NotFinite));
    let nowhere = Contour::obround(Point::new(f64::INFINITY, 0.0), Point::ZERO, 1.0);
    assert_eq!(nowhere.map(|c| c.area()), Err(GeomError::NotFinite));
}

#[test]
fn without_relief_a_cutter_leaves_the_corner() {
    let rect = Rect::new(0.0, 0.0, 40.0, 30.0);
    let plain = Contour::relieved_rect(rect, [Relief::None; 4]).expect("rectangle");
    assert!(corners(rect).iter().all(|c| !cut_away(&plain, 3.0, *c, 1.0)));
}

fn relief() -> impl Strategy<Value = fn(f64) -> Relief> {
    prop_oneof![
        Just(Relief::Diagonal as fn(f64) -> Relief),
        Just(Relief::AlongX as fn(f64) -> Relief),
        Just(Relief::AlongY as fn(f64) -> Relief),
    ]
}

proptest! {
    /// The mate's square corner is cut away whenever the relief's radius is the cutter's or more, also when they are equal.
    #[test]
    fn a_cutter_reaches_every_relieved_corner(
        (w, h) in (15.0..300.0f64, 15.0..80.0f64),
        (x, y) in (-500.0..500.0f64, -500.0..500.0f64),
        cutter in 0.5..3.2f64,
        more in prop_oneof![Just(0.0), 0.0..0.4f64],
        kinds in [relief(), relief(), relief(), relief()],
    ) {
        let rect = Rect::new(x, y, x + w, y + h);
        let r = cutter + more;
        let opening = Contour::relieved_rect(rect, kinds.map(|k| k(r))).expect("fits: 4 r is at most 14.4");
        prop_assert!(opening.is_ccw());
        prop_assert!(opening.check_simple().is_ok());
        for c in corners(rect) {
            prop_assert!(cut_away(&opening, cutter, c, 1e-3), "corner {c:?} of {opening:?}");
        }
        // And nothing of the square mate is left standing anywhere along its sides.
        for (a, b) in corners(rect).into_iter().zip(corners(rect).into_iter().cycle().skip(1)) {
            for t in [0.003, 0.02, 0.05, 0.1, 0.3, 0.5, 0.8, 0.96, 0.998] {
                prop_assert!(cut_away(&opening, cutter, a.lerp(b, t), 1e-3));
            }
        }
    }
}

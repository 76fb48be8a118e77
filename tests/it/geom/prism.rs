//! Traced solids: their air to boxes against a general polygon library, and the boxes that cover them.

use baywright::geom::{Box3, Contour, Point, Point3, Prism};
use geo::{Area as _, BooleanOps as _, Distance as _, Euclidean, LineString, Polygon};
use proptest::prelude::*;

/// A wheel arch's section, traced seen from the side: 640 long, 265 high.
fn arch() -> Vec<[f64; 2]> {
    vec![[410.0, 0.0], [440.0, 130.0], [560.0, 240.0], [730.0, 265.0], [900.0, 235.0], [1020.0, 120.0], [1050.0, 0.0]]
}

fn prism(points: &[[f64; 2]], wide: f64) -> Prism {
    let points: Vec<Point> = points.iter().map(|p| Point::new(p[0], p[1])).collect();
    Prism::new(&Contour::polygon(&points).expect("an outline"), 0, 0.0, wide)
}

fn box3(min: [f64; 3], max: [f64; 3]) -> Box3 {
    Box3 { min: Point3::new(min[0], min[1], min[2]), max: Point3::new(max[0], max[1], max[2]) }
}

fn polygon(points: &[[f64; 2]]) -> Polygon<f64> {
    Polygon::new(LineString::from(points.iter().map(|p| (p[0], p[1])).collect::<Vec<_>>()), Vec::new())
}

#[test]
fn air_is_measured_to_the_curve_and_not_to_the_box_round_it() {
    let arch = prism(&arch(), 128.0);
    // Over the front flank at 500 to 520: the outline there is 240 - (560 - 520) / 120 * 110 = 203.333 at its higher end, so
    // straight up 250 leaves 46.67; square to the flank it is less by the flank's slope.
    let over = box3([50.0, 500.0, 250.0], [100.0, 520.0, 300.0]);
    let slope = (110.0f64 / 120.0).atan();
    let expected = (250.0 - (240.0 - 40.0 / 120.0 * 110.0)) * slope.cos();
    assert!((arch.air(&over) - expected).abs() < 1e-9, "{} and {expected}", arch.air(&over));
    // Beside it, beyond its end: straight across.
    assert_eq!(arch.air(&box3([140.0, 500.0, 0.0], [200.0, 900.0, 100.0])), 12.0);
    // Both: over the hypotenuse.
    let both = arch.air(&box3([131.0, 700.0, 269.0], [200.0, 760.0, 300.0]));
    assert!((both - 3.0f64.hypot(4.0)).abs() < 0.01, "{both}");
    // Into it by 5 mm from above.
    let into = arch.air(&box3([0.0, 725.0, 260.0], [100.0, 735.0, 400.0]));
    assert!((into + 5.0).abs() < 1e-9, "{into}");
}

proptest! {
    #[test]
    fn a_rectangle_is_as_far_away_as_a_polygon_library_says(
        y in 200.0f64..1200.0, z in -200.0f64..500.0, wide in 1.0f64..300.0, high in 1.0f64..300.0
    ) {
        let arch_points = arch();
        let air = prism(&arch_points, 5000.0).air(&box3([0.0, y, z], [5000.0, y + wide, z + high]));
        let rectangle = [[y, z], [y + wide, z], [y + wide, z + high], [y, z + high]];
        let (a, b) = (polygon(&arch_points), polygon(&rectangle));
        let apart = Euclidean.distance(&a, &b);
        if apart > 0.0 {
            prop_assert!((air - apart).abs() < 1e-6, "{air} and {apart}");
        } else {
            let common = a.intersection(&b).unsigned_area();
            prop_assert!(air <= 0.0, "{air} with {common} mm2 in common");
            // Moved out by as much as it says, nothing is left in common.
            let ways = [[air, 0.0], [-air, 0.0], [0.0, air], [0.0, -air]];
            let out = ways.iter().any(|w| {
                let moved: Vec<[f64; 2]> = rectangle.iter().map(|p| [p[0] + w[0], p[1] + w[1]]).collect();
                a.intersection(&polygon(&moved)).unsigned_area() < 1e-3
            });
            prop_assert!(out, "{air} is no way out");
        }
    }

    #[test]
    fn the_boxes_cover_the_outline_and_little_more(most in 1usize..60) {
        let points = arch();
        let boxes = prism(&points, 128.0).cover(most);
        prop_assert!(boxes.len() <= most && !boxes.is_empty());
        let whole = polygon(&points);
        let mut left = geo::MultiPolygon(vec![whole.clone()]);
        let mut area = 0.0;
        for b in &boxes {
            let (p, q) = (b.min, b.max);
            prop_assert!(p.x == 0.0 && q.x == 128.0);
            let one = polygon(&[[p.y, p.z], [q.y, p.z], [q.y, q.z], [p.y, q.z]]);
            area += one.unsigned_area();
            left = left.difference(&one);
        }
        prop_assert!(left.unsigned_area() < 1e-3, "{} mm2 not covered", left.unsigned_area());
        if most >= 40 {
            prop_assert!(area < whole.unsigned_area() * 1.06, "{area}");
        }
    }
}

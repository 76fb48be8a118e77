//! Directions, points and boxes of the bay.

use baywright::geom::{Axis, Box3, Point3};
use proptest::prelude::*;

const ALL: [Axis; 6] = [Axis::PlusX, Axis::MinusX, Axis::PlusY, Axis::MinusY, Axis::PlusZ, Axis::MinusZ];

#[test]
fn an_axis_is_its_sign_along_its_coordinate() {
    for axis in ALL {
        let unit = axis.unit().to_array();
        for (i, component) in unit.into_iter().enumerate() {
            assert_eq!(component, if i == axis.index() { axis.sign() } else { 0.0 }, "{axis:?}");
        }
    }
}

/// Right-handed: x × y = z, y × z = x, z × x = y.
#[test]
fn the_frame_is_right_handed() {
    let cycle = [Axis::PlusX, Axis::PlusY, Axis::PlusZ];
    for i in 0..3 {
        let (a, b, c) = (cycle[i].unit(), cycle[(i + 1) % 3].unit(), cycle[(i + 2) % 3].unit());
        assert_eq!(a.cross(b), c);
        assert_eq!(b.cross(a), Point3::default().plus(c, -1.0));
    }
}

fn point() -> impl Strategy<Value = Point3> {
    // Few distinct values, so that faces often touch.
    let c = || prop_oneof![(-4i32..5).prop_map(f64::from), -4.0..4.0f64];
    (c(), c(), c()).prop_map(|(x, y, z)| Point3::new(x, y, z))
}

proptest! {
    #[test]
    fn a_box_is_the_same_from_any_two_opposite_corners(a in point(), b in point()) {
        let box_ = Box3::between(a, b);
        prop_assert_eq!(box_, Box3::between(b, a));
        prop_assert_eq!(box_, Box3::between(Point3::new(b.x, a.y, b.z), Point3::new(a.x, b.y, a.z)));
        prop_assert!(box_.min.to_array().iter().zip(box_.max.to_array()).all(|(lo, hi)| *lo <= hi));
    }

    /// Depth above zero exactly when the two share some space; the same seen from either.
    #[test]
    fn overlap_is_mutual_and_means_shared_space(a in point(), b in point(), c in point(), d in point()) {
        let (p, q) = (Box3::between(a, b), Box3::between(c, d));
        let depth = p.overlap_depth(&q);
        prop_assert_eq!(depth, q.overlap_depth(&p));
        let shares = (0..3).all(|i| {
            let lo = p.min.to_array()[i].max(q.min.to_array()[i]);
            lo < p.max.to_array()[i].min(q.max.to_array()[i])
        });
        prop_assert_eq!(depth > 0.0, shares);
        let own = p.overlap_depth(&p);
        let thinnest = (0..3).map(|i| p.max.to_array()[i] - p.min.to_array()[i]).fold(f64::INFINITY, f64::min);
        prop_assert_eq!(own, thinnest, "a box overlaps itself by its thinnest side");
    }
}

#[test]
fn boxes_that_share_a_face_do_not_overlap() {
    let a = Box3::between(Point3::new(0.0, 0.0, 0.0), Point3::new(10.0, 10.0, 10.0));
    let beside = Box3::between(Point3::new(10.0, 0.0, 0.0), Point3::new(20.0, 10.0, 10.0));
    let into = Box3::between(Point3::new(8.0, 5.0, -5.0), Point3::new(20.0, 9.0, 30.0));
    let apart = Box3::between(Point3::new(13.0, 0.0, 0.0), Point3::new(20.0, 10.0, 10.0));
    assert_eq!(a.overlap_depth(&beside), 0.0);
    assert_eq!(a.overlap_depth(&into), 2.0);
    assert_eq!(a.overlap_depth(&apart), -3.0);
}

//! Boxes of panels, and sliding boxes against a step-by-step simulation.

use super::{air, boxes, hull, left_of, meet, nearest, span, swept};
use crate::design::BoardId;
use crate::dim::Dim;
use crate::geom::{Axis, Box3, Point3};
use crate::parts::{Depth, Face, Feature, FeatureKind, Frame, Grain, Hand, Panel, Purpose};
use crate::units::Mm;
use proptest::prelude::*;

fn dim(x: f64) -> Dim {
    Dim::number(Mm(x), "test")
}

fn panel(length: f64, width: f64, t: f64, cuts: Vec<(FeatureKind, Depth)>) -> Panel {
    Panel {
        id: "P-1".into(),
        name: "plate".into(),
        unit: "plates".into(),
        hand: Hand::None,
        board: BoardId(0),
        length: dim(length),
        width: dim(width),
        thickness: dim(t),
        frame: Some(Frame { origin: [dim(100.0), dim(200.0), dim(t)], u: Axis::PlusX, v: Axis::PlusY }),
        grain: Grain::Any,
        outline: None,
        features: cuts
            .into_iter()
            .enumerate()
            .map(|(i, (kind, depth))| Feature {
                id: format!("cut {i}"),
                kind,
                depth,
                purpose: Purpose::Joint,
                mate: None,
                span: None,
            })
            .collect(),
        edges: Vec::new(),
        span: None,
    }
}

fn rectangle(at: [f64; 2], size: [f64; 2]) -> FeatureKind {
    FeatureKind::Rectangle { at: at.map(dim), size: size.map(dim), radius: None }
}

fn volume(list: &[Box3]) -> f64 {
    list.iter().map(|b| (0..3).map(|i| span(b, i).1 - span(b, i).0).product::<f64>()).sum()
}

#[test]
fn a_plain_panel_is_one_box_in_its_place() {
    let list = boxes(&panel(300.0, 200.0, 15.0, vec![]));
    assert_eq!(list.len(), 1);
    assert_eq!((list[0].min, list[0].max), (Point3::new(100.0, 200.0, 0.0), Point3::new(400.0, 400.0, 15.0)));
    assert!(boxes(&Panel { frame: None, ..panel(300.0, 200.0, 15.0, vec![]) }).is_empty());
}

#[test]
fn cuts_take_away_what_they_cut_and_no_more() {
    let through = panel(300.0, 200.0, 15.0, vec![(rectangle([50.0, 50.0], [100.0, 40.0]), Depth::Through)]);
    assert_eq!(boxes(&through).len(), 4);
    assert!((volume(&boxes(&through)) - (300.0 * 200.0 - 4000.0) * 15.0).abs() < 1e-6);
    let up = panel(300.0, 200.0, 15.0, vec![(rectangle([50.0, 0.0], [20.0, 200.0]), Depth::Blind(Face::A, dim(5.0)))]);
    let list = boxes(&up);
    assert!((volume(&list) - (300.0 * 200.0 * 15.0 - 20.0 * 200.0 * 5.0)).abs() < 1e-6);
    // Face A looks up: the groove is open above.
    let tongue = Box3 { min: Point3::new(150.0, 200.0, 10.0), max: Point3::new(170.0, 400.0, 100.0) };
    assert!(list.iter().all(|b| !meet(b, &tongue)));
    let down = panel(300.0, 200.0, 15.0, vec![(rectangle([50.0, 0.0], [20.0, 200.0]), Depth::Blind(Face::B, dim(5.0)))]);
    assert!(boxes(&down).iter().any(|b| meet(b, &tongue)));
}

#[test]
fn no_way_out_of_what_is_behind_and_none_into_what_is_ahead() {
    let moving = Box3 { min: Point3::new(0.0, 100.0, 0.0), max: Point3::new(50.0, 150.0, 50.0) };
    let at = |y: f64, x: f64| Box3 { min: Point3::new(x, y, 0.0), max: Point3::new(x + 50.0, y + 20.0, 50.0) };
    let near = |b: &Box3| nearest(&moving, b, Axis::MinusY, 80.0).map(|n| (n.air, n.travel));
    assert_eq!(near(&at(30.0, 0.0)), Some((-30.0, 50.0)), "hit after 50, 30 short");
    assert_eq!(near(&at(0.0, 0.0)), Some((0.0, 80.0)), "just stops at it");
    assert_eq!(near(&at(30.0, 57.0)), Some((7.0, 50.0)), "passes with 7, first beside it after 50");
    assert_eq!(near(&at(150.0, 0.0)), Some((0.0, 0.0)), "leaves what it touches behind it");
    assert_eq!(near(&at(160.0, 0.0)), Some((10.0, 0.0)), "and what is 10 behind");
    assert_eq!(near(&at(140.0, 0.0)), None, "in the same place from the start");
}

fn any_box() -> impl Strategy<Value = Box3> {
    ([-20..20i32, -20..20i32, -20..20i32], [1..15i32, 1..15i32, 1..15i32]).prop_map(|(at, size)| Box3 {
        min: Point3::new(f64::from(at[0]), f64::from(at[1]), f64::from(at[2])),
        max: Point3::new(f64::from(at[0] + size[0]), f64::from(at[1] + size[1]), f64::from(at[2] + size[2])),
    })
}

fn any_axis() -> impl Strategy<Value = Axis> {
    prop::sample::select(vec![Axis::PlusX, Axis::MinusX, Axis::PlusY, Axis::MinusY, Axis::PlusZ, Axis::MinusZ])
}

proptest! {
    #[test]
    fn the_nearest_is_what_small_steps_find(a in any_box(), b in any_box(), axis in any_axis(), way in 0..40i32) {
        let Some(near) = nearest(&a, &b, axis, f64::from(way)) else {
            prop_assert!(meet(&a, &b));
            return Ok(());
        };
        let at = |t: f64| {
            let moved = Box3 { min: a.min.plus(axis.unit(), t), max: a.max.plus(axis.unit(), t) };
            air(&moved, &b)
        };
        let least = (0..=way * 2).map(|k| at(f64::from(k) / 2.0)).fold(f64::INFINITY, f64::min);
        if near.air < 0.0 {
            prop_assert!(least < 0.0, "blocked, and steps find {least}");
            prop_assert!(at(near.travel).abs() < 1e-9, "contact at {}", near.travel);
            prop_assert!(meet(&swept(&a, axis, f64::from(way)), &b));
        } else {
            prop_assert!((near.air - least).abs() < 1e-9, "{} is not {least}", near.air);
            prop_assert!((at(near.travel) - near.air).abs() < 1e-9, "not there");
        }
    }

    /// Strips against counting unit squares.
    #[test]
    fn strips_cover_what_is_left_once(
        cuts in prop::collection::vec(([0..11usize, 0..7usize], [1..6usize, 1..6usize]), 0..6),
    ) {
        let cuts: Vec<super::Cut> = cuts
            .iter()
            .map(|(at, size)| {
                let range = |i: usize, most: usize| [at[i] as f64, (at[i] + size[i]).min(most) as f64];
                [range(0, 12), range(1, 8), [-1.0, 0.0]]
            })
            .collect();
        let list: Vec<&super::Cut> = cuts.iter().collect();
        let strips = left_of([12.0, 8.0], &list);
        for i in 0..12 {
            for j in 0..8 {
                let (u, v) = (f64::from(i) + 0.5, f64::from(j) + 0.5);
                let inside = |r: &[[f64; 2]]| r[0][0] < u && r[0][1] > u && r[1][0] < v && r[1][1] > v;
                let cut = cuts.iter().any(|c| inside(&c[..2]));
                let covered = strips.iter().filter(|s| inside(&s[..])).count();
                prop_assert_eq!(covered, usize::from(!cut), "at {}, {}", u, v);
            }
        }
    }
}

#[test]
fn a_hull_of_nothing_is_nothing() {
    assert!(hull(&[] as &[Box3]).is_none());
}

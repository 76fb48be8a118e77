//! Random notch sets, compared with a second library.

use super::support::{notch, panel, run, usual};
use baywright::diag::Severity;
use baywright::flat::flatten;
use baywright::geom::{Contour, Rect};
use baywright::parts::Feature;
use clipper2_rust::{area_paths, difference_64, union_subjects_64, FillRule, Path64, Paths64, Point64};
use proptest::prelude::*;

const SCALE: f64 = 1e5;
const SIZE: (f64, f64) = (600.0, 300.0);
/// Chords of arcs in the comparison lie this close, in mm.
const CHORD: f64 = 1e-4;

/// A notch on one of four edges, on a half-millimetre lattice where ties are common, or off it.
fn notches() -> impl Strategy<Value = Vec<[f64; 4]>> {
    let one = (0u8..4, 0u32..1200, 14u32..120, 14u32..80, prop_oneof![Just(0.0), 0.0..0.5f64]);
    prop::collection::vec(one, 1..12).prop_map(|list| {
        list.into_iter()
            .map(|(edge, start, width, deep, off)| {
                let (w, h) = (f64::from(width) / 2.0 + off, f64::from(deep) / 2.0);
                let along = f64::from(start) / 2.0 + off;
                match edge {
                    0 => [along.min(SIZE.0 - w), 0.0, w, h],
                    1 => [along.min(SIZE.0 - w), SIZE.1 - h, w, h],
                    2 => [0.0, (along / 2.0).min(SIZE.1 - w), h, w],
                    _ => [SIZE.0 - h, (along / 2.0).min(SIZE.1 - w), h, w],
                }
            })
            .collect()
    })
}

fn path(points: &[baywright::geom::Point]) -> Path64 {
    let unit = |v: f64| (v * SCALE).round() as i64;
    points.iter().map(|p| Point64::new(unit(p.x), unit(p.y))).collect()
}

fn square([x, y, w, h]: [f64; 4]) -> Path64 {
    path(&Contour::rect(Rect::new(x, y, x + w, y + h)).expect("rect").flattened(CHORD))
}

fn features(list: &[[f64; 4]]) -> Vec<Feature> {
    list.iter().enumerate().map(|(i, r)| notch(&format!("n{i}"), *r)).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    /// What is cut holds every square notch and exceeds them by no more than one relief for each of their inner corners; the
    /// wood and the square notches together never overlap; every cutter path exists.
    #[test]
    fn random_notches_are_cut_wholly_and_not_much_more(list in notches()) {
        let checked = run(&usual(), vec![panel("P", SIZE.0, SIZE.1, features(&list))]);
        let parts = checked.value.expect("a value").parts;
        prop_assume!(!checked.findings.iter().any(|f| f.severity == Severity::Stop && f.code != baywright::flat::codes::WEB_TOO_THIN));
        let outline = &parts[0].outline.contour;
        let b = parts[0].outline.contour.bounds();
        prop_assume!((b.width() - SIZE.0).abs() < 1e-9 && (b.height() - SIZE.1).abs() < 1e-9);
        let whole: Paths64 = vec![square([0.0, 0.0, SIZE.0, SIZE.1])];
        let squares: Paths64 = list.iter().map(|r| square(*r)).collect();
        let squares = union_subjects_64(&squares, FillRule::NonZero);
        let wood: Paths64 = vec![path(&outline.flattened(CHORD))];
        let left = area_paths(&difference_64(&whole, &squares, FillRule::NonZero)) / SCALE / SCALE;
        // Never more wood than the square notches leave, and at most one half disc of relief less per corner.
        let half_disc = std::f64::consts::PI * 3.25 * 3.25 / 2.0;
        prop_assert!(outline.area() <= left + 1e-2);
        prop_assert!(outline.area() >= left - 2.0 * half_disc * list.len() as f64 - 1e-2);
        // No wood stands in a square notch.
        let standing = area_paths(&clipper2_rust::intersect_64(&wood, &squares, FillRule::NonZero)) / SCALE / SCALE;
        prop_assert!(standing.abs() < 0.05, "{standing} mm² of wood in the notches");
        prop_assert!(outline.check_simple().is_ok());
    }

    /// With a laser the areas are equal.
    #[test]
    fn square_notches_leave_exactly_what_a_second_library_leaves(list in notches()) {
        let checked = run(&super::support::laser(), vec![panel("P", SIZE.0, SIZE.1, features(&list))]);
        let parts = checked.value.expect("a value").parts;
        prop_assume!(!parts.is_empty());
        let whole: Paths64 = vec![square([0.0, 0.0, SIZE.0, SIZE.1])];
        let squares: Paths64 = list.iter().map(|r| square(*r)).collect();
        let squares = union_subjects_64(&squares, FillRule::NonZero);
        let left = area_paths(&difference_64(&whole, &squares, FillRule::NonZero)) / SCALE / SCALE;
        prop_assert!((parts[0].outline.contour.area() - left).abs() < 0.02, "{} {left}", parts[0].outline.contour.area());
    }
}

/// A thousand panels, each different, with fingers, a groove and holes.
#[test]
fn a_thousand_panels_keep_their_order_and_count() {
    let panels: Vec<_> = (0..1000)
        .map(|i| {
            let width = 200.0 + f64::from(i) / 10.0;
            let fingers = (0..4).map(|k| notch(&format!("f{k}"), [20.0 + 90.0 * f64::from(k), 0.0, 45.0, 18.0]));
            let holes = (0..6).map(|k| {
                let depth = baywright::parts::Depth::Through;
                super::support::hole(&format!("h{k}"), 30.0 + 60.0 * f64::from(k), 100.0, 5.0, depth)
            });
            panel(&format!("P{i:04}"), 400.0, width, fingers.chain(holes).collect())
        })
        .collect();
    let model = super::support::model(panels);
    let start = std::time::Instant::now();
    let checked = flatten(&usual(), &model);
    println!("1000 panels: {:?}", start.elapsed());
    assert!(checked.findings.is_empty(), "{:?}", checked.findings.first());
    let parts = checked.value.expect("parts").parts;
    assert_eq!(parts.len(), 1000);
    assert!(parts.windows(2).all(|w| w[0].id < w[1].id));
}

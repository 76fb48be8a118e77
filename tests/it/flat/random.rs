//! Random notch sets, compared with a second library.

use super::support::{notch, panel, run, usual};
use baywright::diag::Severity;
use baywright::flat::flatten;
use baywright::geom::{tolerance, Contour, Rect};
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
        // Crumbs cut free between two notches are no part.
        let less = left - parts[0].outline.contour.area();
        prop_assert!(less > -0.02 && less < 0.02 + tolerance::LEFTOVER_AREA * list.len() as f64, "{less}");
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

/// Numbers as a hurried maker, or a faulty builder, gives them.
fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        8 => -50.0..450.0f64,
        4 => (0i32..800).prop_map(|n| f64::from(n) / 2.0),
        1 => prop::sample::select(vec![0.0, -0.0, 1e-9, 1e9, -1e9, f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 6.0, 400.0, 200.0]),
    ]
}

fn any_feature() -> impl Strategy<Value = Feature> {
    let numbers = [number(), number(), number(), number()];
    (0u8..8, numbers, prop::option::of(number()), 0u8..4, number()).prop_map(|(kind, [a, b, c, e], radius, depth, deep)| {
        use super::support::d;
        use baywright::parts::{Depth, Face, FeatureKind, Purpose};
        let (at, size) = ([d(a), d(b)], [d(c), d(e)]);
        let kind = match kind {
            0 => FeatureKind::Hole { at, diameter: d(c / 20.0) },
            1 => FeatureKind::Countersunk { at, diameter: d(c / 40.0), head: d(e / 20.0), face: Face::B },
            2 => FeatureKind::Slot { from: at, to: size, width: d(deep / 10.0) },
            3 => FeatureKind::Rectangle { at, size, radius: radius.map(d) },
            4 => FeatureKind::Groove { at, size },
            5 => match Contour::circle(baywright::geom::Point::new(a, b), c) {
                Ok(circle) => FeatureKind::Free(circle),
                Err(_) => FeatureKind::Groove { at, size },
            },
            _ => FeatureKind::EdgeNotch { at, size, radius: radius.map(d) },
        };
        let depth = match depth {
            0 => Depth::Blind(Face::A, d(deep / 20.0)),
            1 => Depth::Blind(Face::B, d(deep / 20.0)),
            _ => Depth::Through,
        };
        super::support::feature("", kind, depth, Purpose::Own)
    })
}

proptest! {
    /// Whatever is asked: no panic, and each feature is cut or named in a finding; what is given on is finite, turns the right
    /// way and weighs something.
    #[test]
    fn nothing_is_dropped_silently(list in prop::collection::vec(any_feature(), 1..8), on_laser in any::<bool>()) {
        let named: Vec<Feature> =
            list.into_iter().enumerate().map(|(i, f)| Feature { id: format!("f{i}"), ..f }).collect();
        let shop = if on_laser { super::support::laser() } else { usual() };
        let checked = run(&shop, vec![panel("P", 400.0, 200.0, named.clone())]);
        let part = checked.value.and_then(|p| p.parts.into_iter().next());
        let stopped = part.is_none();
        prop_assert!(!stopped || checked.findings.iter().any(|f| f.severity == Severity::Stop));
        for feature in &named {
            let cut = part.as_ref().is_some_and(|p| p.cuts.iter().any(|c| c.feature == feature.id));
            let told = checked.findings.iter().any(|f| f.message.contains(&format!("`{}`", feature.id)));
            let notch = matches!(feature.kind, baywright::parts::FeatureKind::EdgeNotch { .. });
            prop_assert!(cut || told || notch || stopped, "{feature:?}");
            if notch && !told && matches!(feature.depth, baywright::parts::Depth::Through) && !stopped {
                // A notch without a finding is cut: its middle, where it lies in the panel, is not wood.
                let baywright::parts::FeatureKind::EdgeNotch { at, size, .. } = &feature.kind else { unreachable!() };
                let corner = |k: usize| (at[k].nominal().0, at[k].nominal().0 + size[k].nominal().0);
                let (x, y) = (corner(0), corner(1));
                let middle = |(a, b): (f64, f64), end: f64| f64::midpoint(a.max(0.0), b.min(end));
                let p = baywright::geom::Point::new(middle(x, 400.0), middle(y, 200.0));
                let b = part.as_ref().expect("a part").outline.contour.bounds();
                prop_assume!((b.width() - 400.0).abs() < 1e-9 && (b.height() - 200.0).abs() < 1e-9);
                let up = part.as_ref().expect("a part").face_up;
                let p = if up == baywright::parts::Face::B { baywright::geom::Point::new(400.0 - p.x, p.y) } else { p };
                prop_assert!(!part.as_ref().expect("a part").outline.contour.contains(p), "{feature:?} {p:?}");
            }
        }
        if let Some(part) = part {
            prop_assert!(part.outline.contour.is_ccw() && part.outline.contour.bounds().is_finite());
            prop_assert!(part.mass_kg.is_finite());
            for cut in &part.cuts {
                prop_assert!(!cut.contour.is_ccw() && cut.contour.bounds().is_finite());
            }
        }
    }
}

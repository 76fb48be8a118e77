//! The mock-up: sizes kept, thickness derived again, and what cannot be made said.

use super::support::codes;
use crate::cli::{sample, Bench};
use baywright::design::{self, codes as found, Design, MockUpWish, Scale};
use baywright::diag::{Finding, Severity, Texts};
use baywright::flat::{self, FlatParts, Operation};
use baywright::parts::{self, FeatureKind, Model, Purpose};
use baywright::project;
use baywright::shop::{self, Shop};
use baywright::units::Mm;
use std::fs;

fn wish(scale: Scale, readings: &[f64]) -> MockUpWish {
    MockUpWish {
        board: "card-single-c".into(),
        readings: readings.iter().map(|mm| Mm(*mm)).collect(),
        scale,
        machine: None,
        slot_share: None,
    }
}

fn settled(name: &str) -> (Design, Shop) {
    let mut texts = Texts::default();
    let file = texts.add(name, fs::read_to_string(sample(name)).expect("the sample"));
    let shop = shop::load(&texts, &[]).value.expect("the shop");
    let project = project::read(&texts, &[file]).value.expect("a project");
    (design::settle(&project, &shop, &texts).value.expect("a design"), shop)
}

fn mocked(name: &str, wish: &MockUpWish) -> (Option<Design>, Vec<Finding>) {
    let (real, shop) = settled(name);
    let checked = design::mock_up(&real, &shop, wish);
    (checked.value, checked.findings)
}

struct Made {
    design: Design,
    model: Model,
    parts: FlatParts,
}

fn made(name: &str, wish: &MockUpWish) -> Made {
    let (design, mut found) = mocked(name, wish);
    let design = design.expect("a mock-up");
    let model = parts::build(&design).into(&mut found).expect("a model");
    let parts = flat::flatten(&design, &model).into(&mut found).expect("parts");
    let stops: Vec<_> = found.iter().filter(|f| f.severity == Severity::Stop).collect();
    assert!(stops.is_empty(), "{stops:?}");
    Made { design, model, parts }
}

/// Outer sizes of the carcasses in the bay, over the scale.
fn outer(made: &Made) -> Vec<f64> {
    let scale = made.design.mock_up.as_ref().unwrap().scale;
    let size = |s: &design::Size| s.outside.as_ref().unwrap().nominal().0 / scale;
    made.design.carcasses.iter().flat_map(|c| [size(&c.width), size(&c.depth), size(&c.height)]).collect()
}

#[test]
fn outer_sizes_are_kept_at_every_scale() {
    let expected = [910.0, 1000.0, 232.0, 910.0, 1000.0, 262.0];
    for scale in [Scale::Factor(1.0), Scale::Factor(1.0 / 6.0), Scale::Factor(0.1), Scale::Auto] {
        let outer = outer(&made("survey-van", &wish(scale, &[3.0])));
        assert!(outer.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9), "{outer:?}");
    }
}

/// Fingers and tabs are as deep as the card is thick, whatever the scale: the short side of a corner's notches.
#[test]
fn fingers_are_as_deep_as_the_card_is_thick_at_every_scale() {
    for scale in [Scale::Factor(1.0), Scale::Factor(1.0 / 6.0), Scale::Auto] {
        for t in [3.0, 4.2] {
            let made = made("survey-van", &wish(scale, &[t]));
            let mut seen = 0;
            for panel in &made.model.panels {
                for feature in panel.features.iter().filter(|f| f.id.starts_with("finger ")) {
                    let FeatureKind::EdgeNotch { size, .. } = &feature.kind else { panic!("{}", feature.id) };
                    let depth = size[0].nominal().0.min(size[1].nominal().0);
                    let either = size.iter().any(|s| (s.nominal().0 - t).abs() < 1e-9);
                    assert!(either && depth <= t + 1e-9, "{} {}: {depth} for {t}", panel.name, feature.id);
                    seen += 1;
                }
            }
            assert!(seen > 100, "{seen}");
        }
    }
}

/// A slot is narrower than the card by the press: 0.85 thicknesses where nothing else is said.
#[test]
fn slots_press_by_a_share_of_the_thickness() {
    for (share, expected) in [(None, 0.85 * 4.0), (Some(0.76), 0.76 * 4.0)] {
        let made = made("survey-van", &MockUpWish { slot_share: share, ..wish(Scale::Factor(1.0 / 6.0), &[4.0]) });
        let slots = made.model.panels.iter().flat_map(|p| &p.features).filter(|f| f.id.starts_with("slot "));
        let widths: Vec<f64> = slots
            .filter_map(|f| match &f.kind {
                FeatureKind::Rectangle { size, .. } => Some(size[0].nominal().0.min(size[1].nominal().0)),
                _ => None,
            })
            .collect();
        assert!(widths.len() >= 8 && widths.iter().all(|w| (w - expected).abs() < 1e-9), "{widths:?}");
    }
}

/// Sizes by name that belong to no thickness: they must not move when only the card changes.
#[test]
fn thicker_card_changes_only_what_depends_on_it() {
    let scale = Scale::Factor(1.0 / 6.0);
    let (thin, thick) = (made("survey-van", &wish(scale, &[3.0])), made("survey-van", &wish(scale, &[4.2])));
    let mut moved = 0;
    for (a, b) in thin.model.sizes.iter().zip(&thick.model.sizes) {
        assert_eq!(a.name(), b.name());
        let by_card: f64 =
            a.form().iter().filter(|(s, _)| s.key == "board:card").map(|(_, sensitivity)| sensitivity * 1.2).sum();
        let by = (b.nominal() - a.nominal()).0;
        assert!((by - by_card).abs() < 1e-6, "{:?} moved by {by}, its form says {by_card}", a.name());
        moved += usize::from(by.abs() > 1e-9);
    }
    assert!(moved > 20 && moved < thin.model.sizes.len(), "{moved} of {}", thin.model.sizes.len());
    // The unit itself stays where and as large as it was, and bolts stay at their true places.
    assert_eq!(outer(&thin), outer(&thick));
    let bolts = |made: &Made| -> Vec<[f64; 3]> {
        let all = made.model.panels.iter().filter_map(|p| p.frame.as_ref().map(|f| (p, f)));
        all.flat_map(|(p, f)| p.features.iter().filter(|x| x.purpose == Purpose::Anchor).map(move |x| (f, x)))
            .map(|(f, x)| {
                let [u, v] = x.centre();
                f.to_bay(u, v, Mm::ZERO).to_array()
            })
            .collect()
    };
    let (a, b) = (bolts(&thin), bolts(&thick));
    assert_eq!(a.len(), 6);
    assert!(a.iter().zip(&b).all(|(p, q)| (p[0] - q[0]).abs() < 1e-9 && (p[1] - q[1]).abs() < 1e-9));
    // Rear left: 210, 140 in the bay.
    assert!((a[0][0] * 6.0 - 210.0).abs() < 1e-6 && (a[0][1] * 6.0 - 140.0).abs() < 1e-6);
}

#[test]
fn auto_takes_card_over_plywood() {
    let (design, found) = mocked("survey-van", &wish(Scale::Auto, &[3.71]));
    let mock = design.unwrap().mock_up.unwrap();
    // The carcass's plywood measures 14.84 mm on average.
    assert!((mock.scale - 0.25).abs() < 1e-9 && mock.words == "1:4" && mock.joints_look_true());
    assert!(!codes(&found).contains(&"joints-not-to-scale"));
    let (_, found) = mocked("survey-van", &wish(Scale::Factor(0.1), &[3.71]));
    assert!(codes(&found).contains(&"joints-not-to-scale"));
}

#[test]
fn slides_become_strips_of_their_thickness_latches_marks() {
    let full = made("first-drawer", &wish(Scale::Factor(1.0), &[3.0]));
    let channel = full.parts.parts.iter().find(|p| p.name.contains("channel")).expect("a folded channel");
    let folds: Vec<_> = channel.cuts.iter().filter(|c| matches!(c.operation, Operation::Fold { .. })).collect();
    let slide = &full.design.carcasses[0].columns[0].cells[0].drawer.as_ref().unwrap().slide;
    assert_eq!((folds.len(), channel.panels.len()), (2, 2));
    // Outer height and two legs, less a thickness for each fold; between the folds' outer lines lies the slide's height.
    let (t, high, thick) = (3.0, slide.height.0, slide.thickness.0);
    assert!((channel.width.0 - (high + 2.0 * thick - 2.0 * t)).abs() < 1e-9);
    let ys: Vec<f64> = folds.iter().flat_map(|f| [f.contour.bounds().y0, f.contour.bounds().y1]).collect();
    let (low, top) = (ys.iter().copied().fold(f64::INFINITY, f64::min), ys.iter().copied().fold(0.0, f64::max));
    assert!((top - low - high).abs() < 1e-9 && (low - (thick - t)).abs() < 1e-9);
    assert!(folds.iter().all(|f| matches!(f.operation, Operation::Fold { depth } if (depth.0 - t / 2.0).abs() < 1e-9)));
    // Thicker card is stacked, still thicker only marked.
    let stacked = made("first-drawer", &wish(Scale::Factor(1.0), &[6.5]));
    assert_eq!(stacked.parts.parts.iter().find(|p| p.name.contains("slide strip")).map(|p| p.panels.len()), Some(2));
    let small = made("first-drawer", &wish(Scale::Factor(0.2), &[3.0]));
    assert!(!small.parts.parts.iter().any(|p| p.name.contains("slide strip") || p.name.contains("channel")));
    for made in [&full, &stacked, &small] {
        let of = |what: &str| -> Vec<Operation> {
            let cuts = made.parts.parts.iter().flat_map(|p| &p.cuts);
            cuts.filter(|c| c.feature.contains(what)).map(|c| c.operation).collect()
        };
        let marked = |list: Vec<Operation>| !list.is_empty() && list.iter().all(|o| *o == Operation::Mark);
        assert!(marked(of("slide body")) && marked(of("latch")));
        assert!(of("screw").is_empty());
    }
}

#[test]
fn what_makes_no_mock_up_is_said() {
    let stops = |wish: &MockUpWish| -> Vec<&'static str> {
        let found = mocked("first-drawer", wish).1;
        found.iter().filter(|f| f.severity == Severity::Stop).map(|f| f.code.id).collect()
    };
    for factor in [0.0, -1.0, 2.0, f64::NAN, f64::INFINITY] {
        assert_eq!(stops(&wish(Scale::Factor(factor), &[3.0])), [found::SCALE_UNFIT.id], "{factor}");
    }
    // A cell of 200 - 2 x 11.9 mm, at 1:20, is 10 mm less two sheets of 4.2 mm.
    assert_eq!(stops(&wish(Scale::Factor(0.05), &[4.2])), [found::CARD_THICKER_THAN_CELL.id]);
    assert!(stops(&wish(Scale::Factor(0.1), &[4.2])).is_empty());
    let usual = wish(Scale::Auto, &[3.0]);
    assert_eq!(stops(&MockUpWish { slot_share: Some(0.2), ..usual.clone() }), [found::SLOT_SHARE_UNFIT.id]);
    let router = MockUpWish { machine: Some("router-metric".into()), ..usual.clone() };
    assert_eq!(stops(&router), [found::MOCK_UP_NEEDS_LASER.id]);
    assert_eq!(stops(&MockUpWish { board: "card-singel-c".into(), ..usual.clone() }), [found::PROFILE_UNKNOWN.id]);
    assert_eq!(
        stops(&MockUpWish { readings: vec![Mm::ZERO], ..usual }),
        [found::SIZE_NOT_POSITIVE.id, found::SCALE_UNFIT.id]
    );
}

#[test]
fn loose_panels_are_scaled_as_written_and_what_is_blind_is_marked() {
    let (_, found) = mocked("panels-only", &wish(Scale::Factor(1.0), &[3.0]));
    assert_eq!(codes(&found).iter().filter(|c| **c == "loose-panel-as-written").count(), 2);
    let made = made("panels-only", &wish(Scale::Factor(0.5), &[3.0]));
    let bracket = made.parts.parts.iter().find(|p| p.name == "instrument bracket").unwrap();
    assert!((bracket.length.0 - 210.0).abs() < 1e-9);
    let marks: Vec<&str> =
        bracket.cuts.iter().filter(|c| c.operation == Operation::Mark).map(|c| c.feature.as_str()).collect();
    assert_eq!(marks.len(), 2, "the pocket and the flutes: {marks:?}");
}

#[test]
fn the_command_makes_a_proved_pack() {
    let bench = Bench::new();
    let project = sample("survey-van");
    let args =
        ["mockup", &project, "--board", "card-single-c", "--thickness", "3.7, 3.8", "--scale", "1:6", "--out", "mock"];
    bench.run(&args).expect(0, &["mock-up, 1:6", "proved: "]);
    let proof = fs::read_to_string(bench.path().join("mock/proof.txt")).unwrap();
    assert!(proof.contains("PASSED") && proof.contains("beam-off-edge") && !proof.contains("FAIL "));
    bench.run(&["prove", "mock"]).expect(0, &["PASSED"]);
    for (scale, says) in [("0", "scale-unfit"), ("1:0", "scale-unfit"), ("1:40", "card-thicker-than-cell")] {
        let args = ["mockup", &project, "--board", "card-single-c", "--scale", scale, "--out", "none"];
        bench.run(&args).expect(1, &[says]);
        assert!(!bench.path().join("none").exists());
    }
    bench.run(&["mockup", &project, "--board", "card-single-c", "--scale", "big"]).expect(2, &["1:6"]);
}

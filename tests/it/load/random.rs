//! Whatever is carried and whatever the vehicle: no panic, no number that is none, nothing lost.

use super::support::{judged, one_drawer, BAY, BOARDS};
use proptest::prelude::*;
use std::fmt::Write as _;

fn thing() -> impl Strategy<Value = (f64, f64, f64, f64, u32, bool, bool, &'static str)> {
    let place = prop::sample::select(vec!["low.left", "low.top", "low", "desk"]);
    (1.0_f64..900.0, 1.0_f64..900.0, 1.0_f64..600.0, 0.0_f64..400.0, 1_u32..40, any::<bool>(), any::<bool>(), place)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]
    #[test]
    fn any_load_is_judged(
        things in proptest::collection::vec(thing(), 0..4),
        payload in prop::sample::select(vec![0.0, 1.0, 700.0]),
        gross in 0.0_f64..9000.0,
        base in 100.0_f64..9000.0,
        axle in -4000.0_f64..4000.0,
        load in 0.0_f64..5000.0,
        side in prop::sample::select(vec!["rear", "left", "right"]),
        held in prop::sample::select(vec!["", "anchors = [\"a\"]", "anchors = [\"a\", \"b\"]", "anchors = [\"a\", \"b\", \"c\", \"d\"]"]),
    ) {
        let carcass = format!("{held}\ntop = {{ load = {load} }}");
        let mut text = format!(
            "{BOARDS}{BAY}[vehicle]\npayload = {payload}\ngross = {gross}\nwheelbase = {base}\nrear_axle = {axle}\nload_from = \"{side}\"\n{}\
             [[pull_out]]\nname = \"desk\"\nover = \"low\"\nboard = \"carcass\"\ncover = \"carcass\"\nload = {load}\n",
            one_drawer(&carcass, "")
        );
        for (i, (a, b, c, mass, count, up, stack, place)) in things.iter().enumerate() {
            let _ = write!(
                text,
                "[[stow]]\nname = \"thing {i}\"\nsize = [{a}, {b}, {c}]\nmass = {mass}\nquantity = {count}\nthis_way_up = {up}\n\
                 stackable = {stack}\nin = \"{place}\"\n"
            );
        }
        let judged = judged(&text);
        let report = &judged.report;
        prop_assert!(report.mass_kg.is_finite());
        let carried: f64 = things.iter().map(|t| t.3 * f64::from(t.4)).sum();
        let empty: f64 = report.bodies.iter().map(baywright::fit::load::Body::empty_kg).sum();
        prop_assert!((report.mass_kg - empty - carried).abs() < 1e-6, "{} {} {}", report.mass_kg, empty, carried);
        for line in judged.lines() {
            prop_assert!(!line.contains("NaN") && !line.contains("inf "), "{line}");
        }
        for f in &judged.findings {
            prop_assert!(!f.message.contains("NaN") && !f.message.contains("inf"), "{}", f.message);
            prop_assert!(!f.remedy.is_empty());
        }
    }
}

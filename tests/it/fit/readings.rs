//! Readings in grids, and sides and diagonals that must agree.

use super::{derived, planted};
use proptest::prelude::*;

fn square(readings: [f64; 6]) -> Option<String> {
    let [front, rear, left, right, down, up] = readings;
    let text = format!(
        "format = 1\ntitle = \"Bay\"\nunits = \"mm\"\n[bay]\nwidth = 1200\nsquare = {{ front = {front}, rear = {rear}, \
         left = {left}, right = {right}, diagonals = [{down}, {up}] }}\n[boards.carcass]\nprofile = \"birch-ply-15\"\n\
         [[panel]]\nname = \"a\"\nsize = [300, 200]\nboard = \"carcass\"\n"
    );
    derived(&text)
        .findings
        .into_iter()
        .find(|f| f.code.id == "readings-disagree")
        .map(|f| format!("{} / {}", f.message, f.remedy))
}

/// Six lengths of a real four-sided floor: front at y = 0, rear corners moved a little.
fn measured(left: [f64; 2], right: [f64; 2], front: f64) -> [f64; 6] {
    let (fl, fr) = ([0.0, 0.0], [front, 0.0]);
    let far = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]);
    [front, far(left, right), far(fl, left), far(fr, right), far(fl, right), far(fr, left)]
}

#[test]
fn a_true_rectangle_agrees_and_equal_diagonals_alone_prove_nothing() {
    assert_eq!(square(measured([0.0, 1100.0], [1200.0, 1100.0], 1200.0)), None);
    // A trapezium has equal diagonals and still agrees: it is measured right.
    assert_eq!(square(measured([40.0, 1100.0], [1160.0, 1100.0], 1200.0)), None);
    // Equal diagonals, both misread: five readings say otherwise.
    assert!(square([1200.0, 1200.0, 1100.0, 1100.0, 1660.0, 1660.0]).is_some());
}

#[test]
fn the_ruling_reading_is_named_by_its_place() {
    let derived = derived(&planted("tapering-trim"));
    let width = derived.design.expect("a design").bay.expect("a bay").width.expect("a width");
    assert_eq!(width.form()[0].0.label, "bay width at height 300, depth 900");
}

#[test]
fn a_grid_whose_marks_do_not_match_is_refused() {
    let text = planted("tapering-trim").replace("depths = [0, 450, 900]", "depths = [0, 450]");
    assert!(derived(&text).findings.iter().any(|f| f.code.id == "wrong-type"));
    let text =
        planted("tapering-trim").replace("[[1200, 1190, 1150], [1200, 1180, 1003], [1200, 1190, 1160]]", "[1200, 1190]");
    assert!(derived(&text).findings.iter().any(|f| f.code.id == "wrong-type"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]

    #[test]
    fn a_bay_measured_within_a_millimetre_agrees(
        skew in prop::array::uniform4(-15.0..15.0f64), off in prop::array::uniform6(-0.4..0.4f64)
    ) {
        let mut all = measured([skew[0], 1100.0 + skew[1]], [1200.0 + skew[2], 1100.0 + skew[3]], 1200.0);
        for i in 0..6 {
            all[i] += off[i];
        }
        prop_assert_eq!(square(all), None);
    }

    #[test]
    fn one_wrong_diagonal_of_a_nearly_square_bay_is_the_one_named(
        skew in prop::array::uniform4(-2.0..2.0f64), which in 4..6usize, slip in prop::sample::select(vec![-50.0, -20.0, 10.0, 30.0, 100.0])
    ) {
        let mut all = measured([skew[0], 1100.0 + skew[1]], [1200.0 + skew[2], 1100.0 + skew[3]], 1200.0);
        all[which] += slip;
        let said = square(all);
        let name = ["front left to rear right", "front right to rear left"][which - 4];
        prop_assert!(said.as_ref().is_some_and(|s| s.contains(&format!("measure the diagonal from {name} again"))), "{:?}", said);
    }
}

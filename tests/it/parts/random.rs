//! Random small carcasses: whatever is derived without a stop has no two panels in one place and no two screws in one hole.

use super::holes::assert_screws_apart;
use super::solids::overlap;
use super::support::build_text;
use baywright::diag::Severity;
use proptest::prelude::{prop, prop_assert, prop_oneof, proptest, Just, ProptestConfig, Strategy};
use std::fmt::Write as _;

#[derive(Clone, Debug)]
struct Cell {
    shelf: bool,
    drawer: Option<(usize, usize, bool)>,
}

const JOINTS: [&str; 4] = ["butt", "finger", "dado", "rabbet"];
const BOTTOMS: [&str; 3] = ["under", "between", "groove"];

fn cell() -> impl Strategy<Value = Cell> {
    let drawer = prop_oneof![Just(None), (0..4_usize, 0..3_usize, prop::bool::ANY).prop_map(Some)];
    (prop::bool::ANY, drawer).prop_map(|(shelf, drawer)| Cell { shelf, drawer })
}

#[derive(Clone, Debug)]
struct Case {
    inch: bool,
    thickness: [f64; 2],
    size: [f64; 3],
    joint: usize,
    back: usize,
    doubled: bool,
    top: usize,
    columns: Vec<Vec<Cell>>,
}

fn case() -> impl Strategy<Value = Case> {
    (
        (prop::bool::ANY, [9.0..18.3, 9.0..15.0], [500.0..1300.0, 380.0..700.0, 220.0..700.0]),
        (0..4_usize, 0..3_usize, prop::bool::ANY, 0..5_usize),
        prop::collection::vec(prop::collection::vec(cell(), 1..4), 1..4),
    )
        .prop_map(|((inch, thickness, size), (joint, back, doubled, top), columns)| Case {
            inch,
            thickness,
            size,
            joint,
            back,
            doubled,
            top,
            columns,
        })
}

fn text(case: &Case) -> String {
    let unit = |mm: f64| if case.inch { format!("{:.4}", mm / 25.4) } else { format!("{mm:.2}") };
    let slide = if case.inch { "side-mount-12in" } else { "side-mount-300" };
    // The nearest trade size; a reading far from it would be a finding of its own.
    let board = |mm: f64| {
        let nominal = [9.0, 12.0, 15.0, 18.0].into_iter().min_by(|a, b| (a - mm).abs().total_cmp(&(b - mm).abs())).unwrap();
        let reading = unit(mm);
        format!("profile = \"birch-ply-{nominal}\"\nreadings = [{reading}, {reading}, {reading}, {reading}]\n")
    };
    let mut out = format!(
        "format = 1\ntitle = \"Random\"\nunits = \"{}\"\n[boards.carcass]\n{}[boards.thin]\n{}[[carcass]]\nname = \"unit\"\nat = [0, 0, 0]\n",
        if case.inch { "in" } else { "mm" },
        board(case.thickness[0]),
        board(case.thickness[1]),
    );
    for (name, value) in ["width", "depth", "height"].iter().zip(case.size) {
        let _ = writeln!(out, "{name} = {}", unit(value));
    }
    let _ = write!(out, "board = \"carcass\"\njoint = \"{}\"\n", JOINTS[case.joint]);
    out +=
        ["back = false\n", "back = { board = \"thin\" }\n", "back = { place = \"behind\", board = \"thin\" }\n"][case.back];
    if case.doubled {
        out += "uprights = \"doubled\"\n";
    }
    out += match case.top {
        0 => "",
        1 => "top = false\n",
        2 => "top = { removable = true }\n",
        3 => "top = { board = \"thin\", overhang_left = 1, overhang_front = 1 }\n",
        _ => "base = false\n",
    };
    for (i, column) in case.columns.iter().enumerate() {
        let _ = write!(out, "[[carcass.column]]\nname = \"c{i}\"\n");
        for (k, cell) in column.iter().enumerate() {
            out += "[[carcass.column.cell]]\n";
            if cell.shelf && k > 0 {
                out += "shelf = true\n";
            }
            if let Some((joint, bottom, overlay)) = cell.drawer {
                let fit = if overlay { "overlay" } else { "inset" };
                let _ = writeln!(out, "drawer = {{ slide = \"{slide}\", front = \"thin\", box = \"thin\", bottom_board = \"thin\", joint = \"{}\", bottom = \"{}\", fit = \"{fit}\" }}",
                    JOINTS[joint], BOTTOMS[bottom],
                );
            }
        }
    }
    out
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_two_panels_in_one_place(case in case()) {
        let text = text(&case);
        let built = build_text(&text);
        if built.findings.iter().any(|f| f.severity == Severity::Stop) {
            // Every stop names a remedy; what it stands for is not built.
            prop_assert!(built.findings.iter().all(|f| !f.remedy.is_empty()), "{}", built.shown());
            return Ok(());
        }
        let fault = overlap(&built.model);
        prop_assert!(fault.is_none(), "{}\n{text}", fault.unwrap_or_default());
        assert_screws_apart(&built, &text);
    }
}

/// Enough of the random carcasses can be built for the test above to mean something.
#[test]
fn most_random_carcasses_can_be_built() {
    use proptest::strategy::ValueTree;
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let built = (0..60)
        .filter(|_| {
            let case = case().new_tree(&mut runner).expect("a case").current();
            let built = build_text(&text(&case));
            built.findings.iter().all(|f| f.severity != Severity::Stop)
        })
        .count();
    assert!(built >= 20, "only {built} of 60");
}

//! What the builders make can be cut: no cut beside its part, none across another, for every kind of carcass and drawer.

use super::support::{build_text, two_drawers, Built};
use baywright::flat::flatten;

/// Findings of the next stage that would mean a builder put a cut in the wrong place.
fn misplaced(built: &Built) -> Vec<String> {
    const CODES: [&str; 5] = ["cut-outside-part", "cuts-cross", "notch-off-edge", "cut-shape-bad", "floor-thin"];
    let flat = flatten(&built.design, &built.model);
    flat.findings
        .iter()
        .filter(|f| CODES.contains(&f.code.id))
        .map(|f| format!("{}: {} {:?}", f.code.id, f.message, f.parts))
        .collect()
}

#[test]
fn no_builder_cuts_beside_its_part() {
    let mut faults = Vec::new();
    for joint in ["butt", "finger", "dado", "rabbet"] {
        for uprights in ["single", "doubled"] {
            for shell in [
                "back = { place = \"behind\" }",
                "back = { place = \"between\" }",
                "top = { removable = true }\nback = false",
                "top = { overhang_left = 12, overhang_front = 9 }",
                "base = false",
            ] {
                let keys = format!("joint = \"{joint}\"\nuprights = \"{uprights}\"\n{shell}");
                let found = misplaced(&build_text(&two_drawers(&keys, "")).no_stops());
                faults.extend(found.into_iter().map(|f| format!("{f}\n    {keys:?}")));
            }
        }
        for bottom in ["under", "between", "groove"] {
            for more in [
                "latch = \"flush-paddle\"",
                "finger_pull = { width = 90, depth = 22 }",
                "finger_pull = { hole = 30 }",
                "fit = \"overlay\", latch = \"slam-latch\"",
                "height = 60",
            ] {
                let keys = format!("joint = \"{joint}\", bottom = \"{bottom}\", {more}");
                let found = misplaced(&build_text(&two_drawers("", &keys)).no_stops());
                faults.extend(found.into_iter().map(|f| format!("{f}\n    {keys:?}")));
            }
        }
    }
    assert!(faults.is_empty(), "{} faults\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn nothing_built_onto_a_carcass_is_cut_beside_its_part() {
    let mut faults = Vec::new();
    for (joint, over) in [("finger", "low"), ("butt", "low.left"), ("dado", "low.right"), ("rabbet", "low")] {
        let text = format!(
            "{}[[carcass]]\nname = \"high\"\non = \"low\"\nheight = 300\nboard = \"carcass\"\njoint = \"{joint}\"\n\
             [[carcass.column]]\nname = \"a\"\n[[carcass.column.cell]]\n[[carcass.column.cell]]\nshelf = true\n\
             [[carcass.column]]\nname = \"b\"\n[[carcass.column.cell]]\n[[carcass.column.cell]]\nshelf = true\n\
             [[pull_out]]\nname = \"table\"\nover = \"{over}\"\nboard = \"carcass\"\n\
             [[lip]]\non = \"high\"\nedges = [\"front\", \"back\", \"left\", \"right\"]\nheight = 40\nboard = \"front\"\n",
            two_drawers(&format!("joint = \"{joint}\""), "latch = \"flush-paddle\"")
        );
        let found = misplaced(&build_text(&text).no_stops());
        faults.extend(found.into_iter().map(|f| format!("{f}\n    {joint} {over}")));
    }
    assert!(faults.is_empty(), "{} faults\n{}", faults.len(), faults.join("\n"));
}

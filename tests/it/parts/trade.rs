//! Trade facts at the panels: each is common practice without a source unless it names one.

use super::support::{at, build_text, diameter, model, near, of_purpose, panel, two_drawers, HEAD};
use baywright::parts::{Depth, FeatureKind, Purpose};

const IN: f64 = 25.4;

fn in_inches(carcass: &str, drawer: &str) -> String {
    format!(
        "format = 1\ntitle = \"Estate\"\nunits = \"in\"\n[bay]\nwidth = 42\n[[bay.anchor]]\nname = \"a\"\nat = [9, 12]\nthread = \"5/16\"\n\
         rating = \"not known\"\n[boards.ply]\nprofile = \"birch-ply-half-inch\"\nreadings = [0.475, 0.475, 0.475, 0.475]\n\
         [[carcass]]\nname = \"unit\"\nat = [1, 2, 0]\nwidth = 20\ndepth = 30\nheight = 12\nboard = \"ply\"\njoint = \"butt\"\n{carcass}\n\
         [[carcass.column]]\nname = \"only\"\n[[carcass.column.cell]]\ndrawer = {{ slide = \"side-mount-24in\", {drawer} }}\n"
    )
}

/// A side-mount slide takes 1/2 in on each side: the box is the opening less 1 in (common practice, no source).
#[test]
fn a_box_is_an_inch_narrower_than_its_opening() {
    let model = model(&in_inches("", "joint = \"finger\""));
    let opening = (20.0 - 2.0 * 0.475) * IN;
    let front = panel(&model, "unit only drawer box front");
    near(front.length.nominal().0, opening - IN, "box");
    // Sides stand at the box's ends, half an inch inside the uprights.
    let (side, upright) =
        (panel(&model, "unit only drawer left side").solid().unwrap(), panel(&model, "unit left upright").solid().unwrap());
    near(side.min.x - upright.max.x, IN / 2.0, "side space");
}

/// Metric slides: twice the middle of the seen window, 13.05 mm.
#[test]
fn a_metric_box_is_planned_in_the_middle_of_the_window() {
    let model = model(&two_drawers("", "joint = \"finger\""));
    let opening = (800.0 - 3.0 * 15.0) / 2.0;
    near(panel(&model, "low left drawer box front").length.nominal().0, opening - 26.1, "box");
}

/// An inset front has 1/16 in on every side (common practice, no source).
#[test]
fn an_inset_front_has_a_sixteenth_all_round() {
    let model = model(&in_inches("", "reveal = \"1/16\""));
    let front = panel(&model, "unit only drawer front").solid().unwrap();
    let (left, right) =
        (panel(&model, "unit left upright").solid().unwrap(), panel(&model, "unit right upright").solid().unwrap());
    let (base, top) = (panel(&model, "unit base").solid().unwrap(), panel(&model, "unit top").solid().unwrap());
    for gap in [front.min.x - left.max.x, right.min.x - front.max.x, front.min.z - base.max.z, top.min.z - front.max.z] {
        near(gap, IN / 16.0, "reveal");
    }
}

/// With a back behind, the upright is the base's depth less the back's thickness; between, only the inner one is.
#[test]
fn the_back_shortens_the_uprights_before_it() {
    let depth = |place: &str, which: &str| {
        let model = model(&two_drawers(&format!("back = {{ place = \"{place}\", board = \"front\" }}"), ""));
        panel(&model, which).length.nominal().0
    };
    near(depth("behind", "low left upright"), 600.0 - 12.0, "behind, outer");
    near(depth("behind", "low inner upright"), 600.0 - 12.0, "behind, inner");
    near(depth("between", "low left upright"), 600.0, "between, outer");
    near(depth("between", "low inner upright"), 600.0 - 12.0, "between, inner");
    let model = model(&two_drawers("back = false", ""));
    near(panel(&model, "low inner upright").length.nominal().0, 600.0, "none");
}

/// A box's front and back run between its sides: the box's width less both sides, plus what a rabbet takes.
#[test]
fn box_fronts_follow_from_their_joint() {
    let width = 377.5 - 26.1;
    for (joint, expected) in
        [("butt", width - 24.0), ("rabbet", width - 24.0 + 8.0), ("dado", width - 24.0 + 8.0), ("finger", width)]
    {
        let model = model(&two_drawers("", &format!("joint = \"{joint}\"")));
        near(panel(&model, "low left drawer box front").length.nominal().0, expected, joint);
        near(panel(&model, "low left drawer left side").length.nominal().0, 450.0, "sides are as long as the slide");
    }
}

/// A groove is cut at most half-way into a wall (checklist PJ2), and the bottom reaches into all four.
#[test]
fn bottoms_follow_from_how_they_are_held() {
    let inside = [377.5 - 26.1 - 24.0, 450.0 - 24.0];
    for (bottom, more) in [("under", 24.0), ("between", 0.0), ("groove", 2.0 * 0.4 * 12.0 - 0.25)] {
        let model = model(&two_drawers("", &format!("bottom = \"{bottom}\", joint = \"butt\"")));
        let panel_ = panel(&model, "low left drawer bottom");
        near(panel_.length.nominal().0, inside[0] + more, bottom);
        near(panel_.width.nominal().0, inside[1] + more, bottom);
        for f in &panel(&model, "low left drawer left side").features {
            if let (FeatureKind::Groove { .. }, Depth::Blind(_, d)) = (&f.kind, &f.depth) {
                assert!(d.nominal().0 <= 6.0, "half of the wall at most");
            }
        }
    }
}

/// 5/16 in to 3/8 in under the box clears the head of a bolt in the base; 1/4 in does not.
#[test]
fn five_sixteenths_under_a_box_clear_a_bolt_head() {
    let verdict = |gap: &str| {
        let built = build_text(&in_inches("anchors = [\"a\"]", &format!("gap_under = \"{gap}\""))).no_stops();
        let (ledger, _) = built.checked();
        let line = ledger.lines.iter().find(|l| l.gap.ends_with("under the box")).unwrap();
        assert!(line.source.contains("bolt head"), "{}", line.source);
        line.verdict.word()
    };
    assert_eq!(verdict("5/16"), "fits");
    assert_eq!(verdict("3/8"), "fits");
    assert_eq!(verdict("1/4"), "fails");
}

/// A bolt head that no box comes over asks for nothing.
#[test]
fn a_bolt_behind_the_box_does_not_matter() {
    let text = in_inches("anchors = [\"a\"]", "gap_under = \"1/4\"").replace("at = [9, 12]", "at = [9, 29]");
    let (ledger, _) = build_text(&text).no_stops().checked();
    let line = ledger.lines.iter().find(|l| l.gap.ends_with("under the box")).unwrap();
    assert_eq!(line.verdict.word(), "fits");
}

/// Where a door bulges in, the front stands back about an inch.
#[test]
fn a_front_stands_back_by_its_setback() {
    let model = model(&in_inches("", "setback = 1"));
    let (front, upright) =
        (panel(&model, "unit only drawer front").solid().unwrap(), panel(&model, "unit left upright").solid().unwrap());
    near(front.min.y - upright.min.y, IN, "setback");
}

/// Clearance holes: M6 6.6 in the medium series, M8 at least 10 in the coarse one (ISO 273); 1/4 in 9/32 normal, 5/16 in at least
/// 0.359 in loose (ASME B18.2.8, from memory).
#[test]
fn bolts_have_the_standards_holes() {
    let low = two_drawers("anchors = [\"a\"]", "").replacen(
        "[boards.carcass]",
        "[bay]\n[[bay.anchor]]\nname = \"a\"\nat = [200, 300]\nthread = \"M8\"\nrating = \"not known\"\n[boards.carcass]",
        1,
    );
    let text = format!(
        "{low}[[carcass]]\nname = \"high\"\non = \"low\"\nheight = 200\nboard = \"carcass\"\n[[carcass.column]]\nname = \"only\"\n"
    );
    let model_ = model(&text);
    let holes = |name: &str, start: &str| -> Vec<f64> {
        panel(&model_, name).features.iter().filter(|f| f.id.starts_with(start)).filter_map(diameter).collect()
    };
    assert_eq!(holes("high base", "high bolt"), [6.6; 4]);
    assert_eq!(holes("low top", "high bolt"), [6.6; 4]);
    let anchor = holes("low base", "anchor");
    assert!(anchor[0] >= 10.0 && anchor[0] <= 24.0 - 5.0, "under its large washer: {anchor:?}");
    let inch = model(&in_inches("anchors = [\"a\"]", "reveal = \"1/16\""));
    let anchor = diameter(of_purpose(panel(&inch, "unit base"), Purpose::Anchor)[0]).unwrap();
    assert!((0.359 * IN..0.875 * IN - 5.0).contains(&anchor), "{anchor}");
}

/// The hole over an anchor lies where the anchor was measured.
#[test]
fn anchor_holes_lie_over_their_anchors() {
    let model = model(&in_inches("anchors = [\"a\"]", "reveal = \"1/16\""));
    let base = panel(&model, "unit base");
    let hole = at(base, of_purpose(base, Purpose::Anchor)[0]);
    near(hole[0], 9.0 * IN, "x");
    near(hole[1], 12.0 * IN, "y");
}

/// Two storeys' heights add up: lower carcass, strips and shims, upper carcass.
#[test]
fn a_storey_stands_on_strips_and_shims() {
    let text = format!(
        "{}[[carcass]]\nname = \"high\"\non = \"low\"\nheight = 200\nboard = \"carcass\"\n[[carcass.column]]\nname = \"only\"\n\
         [[pull_out]]\nname = \"table\"\nover = \"low\"\nboard = \"carcass\"\nplay = {{ sides = 3, washers = 2 }}\n",
        two_drawers("", "")
    );
    let model = model(&text);
    // M6's large washer is 1.6 mm thick (ISO 7093-1, from memory).
    near(panel(&model, "high base").solid().unwrap().min.z, 240.0 + 15.0 + 3.2, "on the strips");
    let table = panel(&model, "table table");
    near(table.length.nominal().0, 800.0 - 2.0 * (40.0 + 3.0), "between the strips with its play");
}

/// What cannot be made is said: each with the code, and not without.
#[test]
fn impossible_wishes_are_findings() {
    let shelf = "[[carcass.column.cell]]\n[[carcass.column.cell]]\nshelf = true\n";
    let cell = |depth: u32, height: u32, drawer: &str| {
        format!(
            "{HEAD}[[carcass]]\nname = \"low\"\nat = [0, 0, 0]\nwidth = 400\ndepth = {depth}\nheight = {height}\nboard = \"carcass\"\njoint = \"butt\"\n\
             [[carcass.column]]\nname = \"only\"\n[[carcass.column.cell]]\ndrawer = {{ slide = \"side-mount-300\"{drawer} }}\n"
        )
    };
    for (text, code) in [
        (cell(280, 200, ""), "slide-longer-than-cell"),
        (cell(330, 200, ", depth = 320"), "box-deeper-than-cell"),
        (cell(400, 200, ", depth = 250"), "slide-longer-than-box"),
        (cell(400, 90, ""), "slide-taller-than-box"),
        (cell(400, 130, ", latch = \"flush-paddle\""), "latch-larger-than-front"),
        (cell(400, 160, ", latch = \"flush-paddle\""), "latch-splits-box"),
        (cell(400, 250, ", latch = \"flush-paddle\", finger_pull = { width = 90, depth = 25 }"), "grip-meets-latch"),
        (cell(400, 250, ", finger_pull = { width = 90, depth = 25 }"), "no-positive-lock"),
        (two_drawers("base = false\nanchors = [\"a\"]", "").replacen("[boards.carcass]", ANCHOR, 1), "anchor-needs-base"),
        (two_drawers("anchors = [\"a\"]", "").replacen("[boards.carcass]", ANCHOR, 1), "anchor-under-upright"),
        (
            two_drawers("anchors = [\"a\"]", "").replacen("[boards.carcass]", ANCHOR, 1).replace("at = [400, 100]", "at = [5, 100]"),
            "anchor-off-base",
        ),
        (
            format!(
                "{}[[carcass]]\nname = \"high\"\non = \"low\"\nheight = 200\nboard = \"carcass\"\n[[carcass.column]]\nname = \"only\"\n{shelf}",
                two_drawers("top = false", "")
            ),
            "nothing-holds-it",
        ),
        (
            format!(
                "{}[[carcass]]\nname = \"high\"\non = \"low\"\nheight = 200\nboard = \"carcass\"\nanchors = [\"a\"]\n",
                two_drawers("", "").replacen("[boards.carcass]", ANCHOR, 1)
            ),
            "anchor-off-floor",
        ),
    ] {
        let built = build_text(&text);
        assert!(built.has(code), "{code}: {}\n{text}", built.shown());
    }
    let fine = build_text(&cell(400, 250, ", latch = \"flush-paddle\"")).no_stops();
    assert!(fine.findings.is_empty(), "{}", fine.shown());
}

const ANCHOR: &str =
    "[bay]\n[[bay.anchor]]\nname = \"a\"\nat = [400, 100]\nthread = \"M8\"\nrating = \"not known\"\n[boards.carcass]";

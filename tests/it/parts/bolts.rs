//! Bolts through panels lying on each other: strips, covers, and the carcass on them.

use super::support::{at, build_text, near, of_purpose, two_drawers, Built};
use baywright::dim::Dim;
use baywright::parts::{FeatureKind, Model, Purpose};
use baywright::units::Mm;

const EPS: f64 = 1e-6;

fn stacked(pull_out: &str) -> Built {
    let text = format!(
        "{}[[carcass]]\nname = \"high\"\non = \"low\"\nheight = 300\nboard = \"carcass\"\njoint = \"finger\"\n\
         [[carcass.column]]\nname = \"a\"\n[[carcass.column.cell]]\n[[carcass.column]]\nname = \"b\"\n[[carcass.column.cell]]\n{pull_out}",
        two_drawers("joint = \"finger\"", "")
    );
    build_text(&text).no_stops()
}

/// Panels drilled under one id, with the bay places of their holes.
fn line(model: &Model, id: &str) -> Vec<(String, [f64; 3])> {
    model
        .panels
        .iter()
        .flat_map(|p| p.features.iter().filter(|f| f.id == id).map(move |f| (p.name.clone(), at(p, f))))
        .collect()
}

#[test]
fn standing_bolts_line_up_and_stay_off_the_uprights() {
    let built = stacked("");
    for i in 1..=4 {
        let holes = line(&built.model, &format!("high bolt {i}"));
        assert_eq!(holes.len(), 2, "base and top: {holes:?}");
        near(holes[0].1[0], holes[1].1[0], "x");
        near(holes[0].1[1], holes[1].1[1], "y");
    }
    clear_of_uprights(&built.model, "high bolt");
}

/// Half a large washer's diameter from every upright: M6, ISO 7093-1 (from memory): 18.
fn clear_of_uprights(model: &Model, id: &str) {
    let holes: Vec<[f64; 3]> =
        model.panels.iter().flat_map(|p| p.features.iter().filter(|f| f.id.contains(id)).map(move |f| at(p, f))).collect();
    assert!(!holes.is_empty());
    for p in model.panels.iter().filter(|p| p.name.contains("upright")) {
        let s = p.solid().unwrap();
        for h in &holes {
            assert!(h[0] < s.min.x - 9.0 + EPS || h[0] > s.max.x + 9.0 - EPS, "{h:?} under {}", p.name);
        }
    }
}

/// Strips, top and the carcass above hang on the same bolts; with a cover of their own on all four panels.
#[test]
fn strip_bolts_go_through_everything_that_lies_there() {
    for (over, cover, panels) in
        [("low.left", "cover = \"above\"", 3), ("low", "cover = \"above\"", 3), ("low", "cover = \"front\"", 4)]
    {
        let built = stacked(&format!(
            "[[pull_out]]\nname = \"table\"\nover = \"{over}\"\nboard = \"carcass\"\nplay = {{ sides = 4, washers = 1 }}\n{cover}\n"
        ));
        for i in 1..=4 {
            let holes = line(&built.model, &format!("table strip bolt {i}"));
            assert_eq!(holes.len(), panels, "{over} {cover}: {holes:?}");
            for h in &holes {
                near(h.1[0], holes[0].1[0], "x");
                near(h.1[1], holes[0].1[1], "y");
            }
        }
        clear_of_uprights(&built.model, "table strip bolt");
        assert!(line(&built.model, "high bolt 1").is_empty(), "the strips' bolts hold it");
        let bolts = built.model.hardware.iter().find(|h| h.unit == "table" && h.place == "runner strips").unwrap();
        assert_eq!(bolts.quantity, 4);
    }
}

/// The slot covers the bolt from closed to open, with the table's wood round it, and the bolt is off the uprights.
#[test]
fn the_stop_slot_covers_the_bolt_from_closed_to_open() {
    for over in ["low.left", "low"] {
        let built = stacked(&format!(
            "[[pull_out]]\nname = \"table\"\nover = \"{over}\"\nboard = \"carcass\"\nkeep_under_cover = \"1/3\"\n"
        ));
        let (table, top) = (built.panel("table table"), built.panel("low top"));
        let bolt = at(top, top.features.iter().find(|f| f.id == "table stop bolt").unwrap());
        let slot = of_purpose(table, Purpose::Stop)[0];
        let FeatureKind::Slot { from, to, .. } = &slot.kind else { panic!("a slot") };
        let frame = table.frame.as_ref().unwrap();
        let end = |at: &[Dim; 2]| frame.to_bay(at[0].nominal(), at[1].nominal(), Mm::ZERO).to_array();
        let travel = built.model.motions.iter().find(|m| m.name == "table").unwrap().travel.nominal().0;
        // A third of its length stays under cover (common practice, no source).
        near(travel, table.width.nominal().0 * 2.0 / 3.0, "travel");
        near(end(from)[0], bolt[0], "x");
        near(end(from)[1], bolt[1], "closed: the bolt at the slot's front end");
        near(end(to)[1] - travel, bolt[1], "open: the slot's far end has come to the bolt");
        assert!(end(to)[1] < table.solid().unwrap().max.y - 20.0 && end(from)[1] > table.solid().unwrap().min.y + 20.0);
        clear_of_uprights(&built.model, "table stop bolt");
    }
}

/// A nut under the top needs the room over the box below it, a head in the upper base the room under the box above (heights: ISO
/// 4017 and ISO 4032, the nut from memory).
#[test]
fn boxes_keep_clear_of_heads_and_nuts() {
    let with = |over: u32, under: u32| {
        let drawer = format!("gap_over = {over}, gap_under = {under}");
        let text = format!(
            "{}[[carcass]]\nname = \"high\"\non = \"low\"\nheight = 240\nboard = \"carcass\"\njoint = \"finger\"\n\
             [[carcass.column]]\nname = \"a\"\n[[carcass.column.cell]]\ndrawer = {{ slide = \"side-mount-450\", {drawer} }}\n",
            two_drawers("joint = \"finger\"", &drawer)
        );
        let (ledger, _) = build_text(&text).no_stops().checked();
        let word = |gap: &str| ledger.lines.iter().find(|l| l.gap == gap).expect("a gap").verdict.word();
        (word("low left drawer: box to what is above"), word("high a drawer: under the box"))
    };
    // M6: head 4.0, nut 0.9 x 6, washer 1.6, thread 1, air 0.5.
    assert_eq!(with(10, 8), ("fits", "fits"));
    assert_eq!(with(7, 8), ("fails", "fits"));
    assert_eq!(with(10, 5), ("fits", "fails"));
}

/// A bolt whose washer would lie on an upright is a stop.
#[test]
fn a_bolt_under_an_upright_is_said() {
    let text = |width: u32| {
        format!(
            "{}[[carcass]]\nname = \"high\"\non = \"low\"\nwidth = {width}\nheight = 240\nboard = \"carcass\"\n[[carcass.column]]\nname = \"a\"\n",
            two_drawers("joint = \"finger\"", "")
        )
    };
    // The right bolts stand 60 mm in from the upper carcass's right end; the lower inner upright is at 392.5 to 407.5.
    assert!(build_text(&text(460)).has("bolt-under-upright"));
    assert!(!build_text(&text(520)).has("bolt-under-upright"));
}

//! The order of assembly.

use super::{derived, planted, sample};
use baywright::design::BoardId;
use baywright::dim::Dim;
use baywright::fit::assemble;
use baywright::geom::Axis;
use baywright::parts::{Depth, Feature, FeatureKind, Frame, Grain, Hand, Model, Panel, PanelId, Purpose};
use baywright::run::derive;
use baywright::units::Mm;
use std::collections::BTreeSet;

fn model_of(name: &str) -> Model {
    derive(&sample(name), None).expect("read").model.expect("a model")
}

#[test]
fn every_placed_panel_of_every_sample_has_its_step() {
    for name in ["survey-van", "field-estate", "first-drawer"] {
        let model = model_of(name);
        let checked = assemble(&model);
        assert!(checked.findings.is_empty(), "{name}: {:?}", checked.findings);
        let steps = checked.value.expect("steps");
        let mut seen: Vec<PanelId> = steps.iter().filter(|s| s.group != "all").flat_map(|s| s.panels.clone()).collect();
        seen.sort_unstable();
        let placed: Vec<PanelId> =
            (0..model.panels.len()).filter(|i| model.panels[*i].frame.is_some()).map(PanelId).collect();
        assert_eq!(seen, placed, "{name}: each once");
        let firsts: BTreeSet<&str> = steps.iter().filter(|s| s.along.is_none()).map(|s| s.group.as_str()).collect();
        let groups: BTreeSet<&str> = steps.iter().map(|s| s.group.as_str()).collect();
        assert_eq!(firsts, groups, "{name}: each group begins with one part that is just there");
    }
}

#[test]
fn a_bottom_in_a_groove_goes_in_before_the_last_wall() {
    let text = planted("box-a-millimetre-wide")
        .replace("bottom_board = \"bottom\"", "bottom_board = \"bottom\", bottom = \"groove\"");
    let model = derived(&text).model.expect("a model");
    let checked = assemble(&model);
    assert!(checked.findings.is_empty(), "{:?}", checked.findings);
    let steps = checked.value.expect("steps");
    let names: Vec<&str> = steps.iter().filter(|s| s.group == "low left drawer").map(|s| s.what.as_str()).collect();
    let place = |word: &str| names.iter().position(|n| n.ends_with(word)).expect("a step");
    let walls = ["left side", "right side", "box front", "box back"].map(place);
    assert!(walls.iter().any(|w| *w > place("bottom")), "{names:?}");
}

#[test]
fn drawers_go_in_through_the_front() {
    let model = model_of("first-drawer");
    let steps = assemble(&model).value.expect("steps");
    let drawer = steps.iter().find(|s| s.group == "all" && s.what.ends_with("drawer")).expect("a drawer");
    assert_eq!(drawer.along, Some(Axis::PlusY), "in");
}

fn dim(x: f64) -> Dim {
    Dim::number(Mm(x), "test")
}

fn panel(name: &str, size: [f64; 3], origin: [f64; 3], axes: [Axis; 2], cuts: Vec<([f64; 2], [f64; 2])>) -> Panel {
    Panel {
        id: name.to_uppercase(),
        name: name.into(),
        unit: "trap".into(),
        hand: Hand::None,
        board: BoardId(0),
        length: dim(size[0]),
        width: dim(size[1]),
        thickness: dim(size[2]),
        frame: Some(Frame { origin: origin.map(dim), u: axes[0], v: axes[1] }),
        grain: Grain::Any,
        outline: None,
        features: cuts
            .into_iter()
            .map(|(at, size)| Feature {
                id: "cut".into(),
                kind: FeatureKind::Rectangle { at: at.map(dim), size: size.map(dim), radius: None },
                depth: Depth::Through,
                purpose: Purpose::Joint,
                mate: None,
                span: None,
            })
            .collect(),
        edges: Vec::new(),
        span: None,
    }
}

/// A plate standing across y with a window, and a batten lying through the window. `notch` narrows the batten to the window there.
fn trap(notch: bool) -> Model {
    // Face A of the plate looks out of the vehicle, at y = 100; the window is 60 wide.
    let plate = panel(
        "plate",
        [300.0, 100.0, 15.0],
        [0.0, 100.0, 0.0],
        [Axis::PlusX, Axis::PlusZ],
        vec![([120.0, 40.0], [60.0, 15.0])],
    );
    // The batten's face A is on top, at z = 55. Notched, it is 100 wide, and 60 within the plate.
    let (wide, left, cuts) = if notch {
        (100.0, 100.0, vec![([0.0, 100.0], [20.0, 15.0]), ([80.0, 100.0], [20.0, 15.0])])
    } else {
        (60.0, 120.0, vec![])
    };
    let batten = panel("batten", [wide, 300.0, 15.0], [left, 0.0, 55.0], [Axis::PlusX, Axis::PlusY], cuts);
    Model { panels: vec![plate, batten], ..Model::default() }
}

#[test]
fn the_last_panel_that_cannot_go_in_is_named_with_what_holds_it() {
    let checked = assemble(&trap(true));
    let stop = checked.findings.iter().find(|f| f.code.id == "no-way-to-assemble").expect("found");
    assert!(stop.message.contains("batten") && stop.message.contains("plate"), "{}", stop.message);
    assert_eq!(stop.parts, ["BATTEN", "PLATE"]);
    assert_eq!(checked.value.expect("steps").len(), 2, "and it is still listed");

    let checked = assemble(&trap(false));
    assert!(checked.findings.is_empty(), "{:?}", checked.findings);
    let steps = checked.value.expect("steps");
    assert!(matches!(steps[1].along, Some(Axis::PlusY | Axis::MinusY)), "along the window only: {steps:?}");
}

/// A plate standing across y from `y` to `y + 15`, with a screw into the plate `into` when there is one.
fn plate(name: &str, y: f64, into: Option<usize>) -> Panel {
    // Face A looks out of the vehicle, at the lower y.
    let mut plate = panel(name, [300.0, 100.0, 15.0], [0.0, y, 0.0], [Axis::PlusX, Axis::PlusZ], vec![]);
    plate.features.extend(into.map(|into| Feature {
        id: "screw 1".into(),
        kind: FeatureKind::Hole { at: [dim(150.0), dim(50.0)], diameter: dim(4.5) },
        depth: Depth::Through,
        purpose: Purpose::Clearance,
        mate: Some(PanelId(into)),
        span: None,
    }));
    plate
}

#[test]
fn a_screw_is_driven_before_what_would_stand_behind_it() {
    // The wall stands 50 mm before the screw's head.
    let panels = vec![plate("wall", 35.0, None), plate("rail", 100.0, Some(2)), plate("post", 115.0, None)];
    let checked = assemble(&Model { panels, ..Model::default() });
    assert!(checked.findings.is_empty(), "{:?}", checked.findings);
    let steps = checked.value.expect("steps");
    assert_eq!(steps.last().map(|s| s.what.as_str()), Some("wall"), "{steps:?}");
}

#[test]
fn two_screws_whose_heads_face_each_other_across_a_gap_have_no_order() {
    let facing = |gap: f64| {
        let far = 50.0 - gap;
        let panels = vec![
            plate("rail", 100.0, Some(1)),
            plate("post", 115.0, None),
            plate("cheek", far + 35.0, Some(3)),
            plate("stud", far + 20.0, None),
        ];
        assemble(&Model { panels, ..Model::default() }).findings
    };
    let found = facing(50.0);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].code.id, "no-driver-way");
    assert!(found[0].message.contains("rail") && found[0].message.contains("cheek"), "{}", found[0].message);
    assert!(facing(200.0).is_empty(), "200 mm are enough");
}

//! Every kind of joint, proved as solids.

use super::solids::{assert_apart, corners, solid, volumes};
use super::support::{build_text, model, two_drawers, HEAD};
use baywright::parts::{Depth, FeatureKind, Purpose};

const JOINTS: [&str; 4] = ["butt", "finger", "dado", "rabbet"];

/// No two panels share volume, whatever the joint, the back, the uprights, the top and the base.
#[test]
fn carcasses_of_every_kind_have_no_two_panels_in_one_place() {
    for joint in JOINTS {
        for back in ["false", "{ place = \"between\" }", "{ place = \"behind\", board = \"front\" }"] {
            for uprights in ["single", "doubled"] {
                for shell in [
                    "",
                    "base = false",
                    "top = false",
                    "base = \"bottom\"",
                    "top = { removable = true }",
                    "top = { overhang_front = 20, overhang_back = 15, overhang_left = 12, overhang_right = 8 }",
                    "top = { overhang_left = 12, board = \"front\" }",
                    "top = { overhang_right = 12 }",
                ] {
                    let keys = format!("joint = \"{joint}\"\nback = {back}\nuprights = \"{uprights}\"\n{shell}");
                    assert_apart(&model(&two_drawers(&keys, "")), &keys);
                }
            }
        }
    }
}

#[test]
fn drawers_of_every_kind_have_no_two_panels_in_one_place() {
    for joint in JOINTS {
        for bottom in ["under", "between", "groove"] {
            for fit in [
                "reveal = 2",
                "reveal = 2, setback = 25",
                "fit = \"overlay\", reveal = 0",
                "fit = \"overlay\", reveal = { left = 1, right = 2, top = 3, bottom = 0 }",
                "latch = \"flush-paddle\"",
                "finger_pull = { width = 90, depth = 22 }",
            ] {
                let keys = format!("joint = \"{joint}\", bottom = \"{bottom}\", {fit}");
                assert_apart(&model(&two_drawers("joint = \"finger\"", &keys)), &keys);
            }
        }
    }
}

/// The union of both panels fills the corner but for the play at each flank.
#[test]
fn finger_corners_have_no_hole() {
    let text = two_drawers("joint = \"finger\"\nback = { place = \"behind\", board = \"front\" }", "joint = \"finger\"");
    let built = build_text(&text).no_stops();
    let list = corners(&built.model);
    // Four corners of the carcass, four of each box.
    assert_eq!(list.len(), 12, "{list:#?}");
    let play = built.design.process.joint_clearance.finger.nominal().0;
    for corner in list {
        assert!(corner.flanks >= 2, "{}", corner.name);
        assert!((corner.open - corner.flanks as f64 * play / 2.0).abs() < 1e-6, "{corner:?} (play {play})");
    }
}

/// A finger's play is the whole play: half of it at each flank, so a finger is the play narrower than its notch.
#[test]
fn a_finger_is_narrower_than_its_notch_by_the_play() {
    let built = build_text(&two_drawers("joint = \"finger\"", "")).no_stops();
    let play = built.design.process.joint_clearance.finger.nominal().0;
    let (base, upright) = (built.panel("low base"), built.panel("low left upright"));
    let notches = |p: &baywright::parts::Panel, mate: &str| -> Vec<(f64, f64)> {
        let mate = built.model.panels.iter().position(|x| x.name == mate).unwrap();
        let axis = usize::from(p.name == "low base");
        let mut list: Vec<(f64, f64)> = p
            .features
            .iter()
            .filter(|f| f.mate.map(|m| m.0) == Some(mate))
            .filter_map(|f| match &f.kind {
                FeatureKind::EdgeNotch { at, size, .. } => {
                    Some((at[axis].nominal().0, at[axis].nominal().0 + size[axis].nominal().0))
                }
                _ => None,
            })
            .collect();
        list.sort_by(|a, b| a.0.total_cmp(&b.0));
        list
    };
    // Face A of the left upright looks right, so its u runs with y, as the base's v does.
    let (in_base, in_upright) = (notches(base, "low left upright"), notches(upright, "low base"));
    assert_eq!(in_upright.len(), in_base.len() + 1, "the base keeps both ends");
    for (notch, around) in in_base.iter().zip(in_upright.windows(2)) {
        let finger = around[1].0 - around[0].1;
        let slack = (notch.1 - notch.0) - finger;
        assert!((slack - play).abs() < 1e-9, "{slack} instead of {play}");
    }
}

/// Tabs fill their slots but for the play, and the slots lie wholly inside the field.
#[test]
fn tabs_fill_their_slots() {
    for uprights in ["single", "doubled"] {
        let built = build_text(&two_drawers(&format!("joint = \"finger\"\nuprights = \"{uprights}\""), "")).no_stops();
        let play = built.design.process.joint_clearance.finger.nominal().0;
        let base = built.panel("low base");
        let slots: Vec<_> = base
            .features
            .iter()
            .filter_map(|f| match (&f.kind, f.purpose) {
                (FeatureKind::Rectangle { at, size, .. }, Purpose::Joint) => Some((at, size)),
                _ => None,
            })
            .collect();
        assert!(slots.len() >= 2, "{uprights}");
        let inner: Vec<_> = built.model.panels.iter().filter(|p| p.name.contains("inner upright")).map(solid).collect();
        let t = base.thickness.nominal().0;
        for (at, size) in slots {
            let (u, v) = (at[0].nominal().0, at[1].nominal().0);
            let (du, dv) = (size[0].nominal().0, size[1].nominal().0);
            assert!(u > 0.0 && v > 0.0 && u + du < base.length.nominal().0 && v + dv < base.width.nominal().0);
            let hole = super::solids::block(base, [u, v, -t], [u + du, v + dv, 0.0]);
            let filled: f64 = inner
                .iter()
                .map(|s| {
                    let all = super::solids::Solid { whole: hole, cuts: Vec::new() };
                    volumes(s, &all, &hole).0
                })
                .sum();
            let tab = (du - play) * (dv - play) * t;
            assert!((filled - tab).abs() < 1e-6, "{uprights}: {filled} of {tab} mm3");
        }
    }
}

/// Dadoes reach a third into a board, so that two facing ones leave a third (checklist PJ2), and their bottoms are met.
#[test]
fn dado_depth_is_a_third() {
    let text = format!(
        "{HEAD}[[carcass]]\nname = \"low\"\nat = [0, 0, 0]\nwidth = 800\ndepth = 400\nheight = 400\nboard = \"carcass\"\n\
         joint = \"dado\"\n\
         [[carcass.column]]\nname = \"left\"\n[[carcass.column.cell]]\n[[carcass.column.cell]]\nshelf = true\n\
         [[carcass.column]]\nname = \"right\"\n[[carcass.column.cell]]\n[[carcass.column.cell]]\nshelf = true\n"
    );
    let built = build_text(&text).no_stops();
    assert_apart(&built.model, "facing dadoes");
    let inner = built.panel("low inner upright");
    let t = inner.thickness.nominal().0;
    let depths: Vec<f64> = inner
        .features
        .iter()
        .filter_map(|f| match (&f.kind, &f.depth) {
            (FeatureKind::Groove { .. }, Depth::Blind(_, d)) => Some(d.nominal().0),
            _ => None,
        })
        .collect();
    assert_eq!(depths.len(), 2, "a shelf on either side");
    for d in &depths {
        assert!((d - t / 3.0).abs() < 1e-9, "{d}");
    }
    assert!(t - depths.iter().sum::<f64>() >= t / 3.0 - 1e-9, "a third stays");
}

/// Stacked carcasses, shelves, pull-outs with washers and with plain play, own cover, lips.
#[test]
fn what_stands_on_a_carcass_has_a_place_of_its_own() {
    for (over, play, cover) in [
        ("low.left", "play = { sides = 3, washers = 2 }", "cover = \"above\""),
        ("low.right", "play = { sides = 4, washers = 1 }", "cover = \"front\""),
        ("low", "play = { sides = 4, above = 3 }\nstrip_board = \"carcass\"", "cover = \"above\""),
        ("low", "play = { sides = 4, above = 3 }", "cover = \"front\""),
    ] {
        let low = two_drawers("joint = \"finger\"", "");
        let text = format!(
            "{low}[[carcass]]\nname = \"high\"\non = \"low\"\nheight = 300\nboard = \"carcass\"\njoint = \"finger\"\n\
             [[carcass.column]]\nname = \"only\"\n[[carcass.column.cell]]\n[[carcass.column.cell]]\nshelf = true\n\
             [[pull_out]]\nname = \"table\"\nover = \"{over}\"\nboard = \"carcass\"\n{play}\n{cover}\n\
             [[lip]]\non = \"high\"\nedges = [\"front\", \"back\", \"left\", \"right\"]\nheight = 30\nboard = \"front\"\n"
        );
        assert_apart(&model(&text), &text[low.len()..]);
    }
}

/// A bottom's groove never cuts a finger: at the front's ends it runs in the notch of the side's lowest finger.
#[test]
fn a_groove_keeps_out_of_the_fingers() {
    for (height, bottom) in [(180, "bottom"), (100, "front"), (60, "bottom"), (50, "bottom")] {
        let keys = format!("joint = \"finger\", bottom = \"groove\", height = {height}");
        let text = two_drawers("", &keys).replace("bottom_board = \"bottom\"", &format!("bottom_board = \"{bottom}\""));
        let built = build_text(&text).no_stops();
        assert_apart(&built.model, &keys);
        let front = built.panel("low left drawer box front");
        let solid = solid(front);
        let groove = front
            .features
            .iter()
            .find_map(|f| match &f.kind {
                FeatureKind::Groove { at, size } => Some((at[1].nominal().0, size[1].nominal().0)),
                _ => None,
            })
            .expect("a groove");
        assert!(groove.0 > 2.0, "{keys}: wood below the groove");
        // Whole fingers: beyond the sides' inner faces the groove's height is all notch.
        let s = front.solid().unwrap();
        for z in [groove.0 + 0.1, groove.0 + groove.1 - 0.1] {
            for x in [s.min.x + 6.0, s.max.x - 6.0] {
                assert!(!solid.has([x, s.min.y + 1.0, s.min.z + z]), "{keys}");
            }
        }
    }
    // Too thick a bottom for so low a box is said.
    let text = two_drawers("", "joint = \"finger\", bottom = \"groove\", height = 46")
        .replace("bottom_board = \"bottom\"", "bottom_board = \"carcass\"");
    assert!(build_text(&text).has("groove-meets-fingers"));
}

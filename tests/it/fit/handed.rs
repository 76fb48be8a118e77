//! Faults that the builder never makes, whatever is asked of it: two lefts, and dadoes back to back that meet.

use super::{derived, sample};
use baywright::flat::flatten;
use baywright::parts::{Depth, Face, Feature, FeatureKind, Hand, Model, Panel, Purpose};
use baywright::run::derive;
use baywright::units::Mm;

fn models() -> Vec<(&'static str, Model)> {
    ["first-drawer", "field-estate", "survey-van"]
        .into_iter()
        .map(|name| (name, derive(&sample(name), None).expect("read").model.expect("a model")))
        .collect()
}

/// The drawer side on the other side of a box, by name: `... left side` and `... right side`.
fn sides(model: &Model) -> Vec<(&Panel, &Panel)> {
    model
        .panels
        .iter()
        .filter_map(|left| {
            let box_name = left.name.strip_suffix(" left side")?;
            let right = model.panels.iter().find(|p| p.name == format!("{box_name} right side"))?;
            Some((left, right))
        })
        .collect()
}

/// Holes and grooves with their places in the bay, across from the plane midway between a box's sides, and their depth from the
/// side it is cut from.
fn holes(panel: &Panel, middle: f64, sign: f64) -> Vec<[f64; 4]> {
    let frame = panel.frame.as_ref().expect("a place");
    let depth = |f: &Feature| match &f.depth {
        Depth::Through => 0.0,
        Depth::Blind(Face::A, d) => d.nominal().0,
        Depth::Blind(Face::B, d) => -d.nominal().0,
    };
    panel
        .features
        .iter()
        .filter(|f| {
            matches!(f.kind, FeatureKind::Hole { .. } | FeatureKind::Countersunk { .. } | FeatureKind::Groove { .. })
        })
        .map(|f| {
            let [u, v] = f.centre();
            let at = frame.to_bay(u, v, Mm::ZERO);
            [(at.x - middle) * sign, at.y, at.z, depth(f)]
        })
        .collect()
}

/// Whether every one of these has its like there.
fn all_in(these: &[[f64; 4]], there: &[[f64; 4]]) -> bool {
    these.iter().all(|a| there.iter().any(|b| (0..4).all(|i| (a[i] - b[i]).abs() < 1e-6)))
}

#[test]
fn left_and_right_carry_different_ids_and_are_mirror_images() {
    for (name, model) in models() {
        let pairs = sides(&model);
        assert!(!pairs.is_empty(), "{name} has drawers");
        for (left, right) in pairs {
            assert_eq!((left.hand, right.hand), (Hand::Left, Hand::Right), "{name}: {}", left.name);
            assert!(left.id.ends_with("-L") && right.id.ends_with("-R"), "{} and {}", left.id, right.id);
            let (a, b) = (left.solid().expect("a place"), right.solid().expect("a place"));
            let middle = f64::midpoint(a.min.x, b.max.x);
            let (one, two) = (holes(left, middle, -1.0), holes(right, middle, 1.0));
            assert!(!one.is_empty(), "{name}: {} has its slide's holes", left.name);
            assert!(one.len() == two.len() && all_in(&one, &two) && all_in(&two, &one), "{name}: {one:?} and {two:?}");
        }
        let mut ids: Vec<&str> = model.panels.iter().map(|p| p.id.as_str()).collect();
        ids.sort_unstable();
        assert!(ids.windows(2).all(|w| w[0] != w[1]), "{name}: an id twice");
    }
}

#[test]
fn no_cut_part_stands_for_a_left_and_a_right() {
    for name in ["first-drawer", "field-estate", "survey-van"] {
        let derived = derive(&sample(name), None).expect("read");
        let (design, model) = (derived.design.expect("a design"), derived.model.expect("a model"));
        for part in &flatten(&design, &model).value.expect("flat parts").parts {
            let hands: Vec<Hand> = part.panels.iter().map(|p| model.panels[p.0].hand).collect();
            assert!(hands.iter().all(|h| *h == part.hand), "{name}: {} is cut for {hands:?}", part.id);
        }
    }
}

/// Two columns with shelves at nearly one height on the single upright between them.
fn shelves(profile: &str, thick: f64, joint: &str, up: u32) -> String {
    format!(
        "format = 1\ntitle = \"Shelves\"\nunits = \"mm\"\n[boards.ply]\nprofile = \"{profile}\"\n\
         readings = [{thick}, {thick}, {thick}, {thick}]\n[[carcass]]\nname = \"low\"\nat = [0, 0, 0]\nwidth = 800\ndepth = 400\n\
         height = 300\nboard = \"ply\"\njoint = \"{joint}\"\n[[carcass.column]]\nname = \"left\"\n[[carcass.column.cell]]\n\
         height = 130\n[[carcass.column.cell]]\nshelf = true\n[[carcass.column]]\nname = \"right\"\n[[carcass.column.cell]]\n\
         height = {}\n[[carcass.column.cell]]\nshelf = true\n",
        130 + up
    )
}

/// Two facing dadoes must leave a third of the board (checklist PJ2, common practice). A dado's depth is no size that a project
/// can write or pin, and a free panel is cut from one face only, so that no project can ask for less.
#[test]
fn dadoes_back_to_back_leave_a_third_of_a_thin_upright() {
    let boards = [("birch-ply-9", 8.8), ("birch-ply-9", 9.2), ("birch-ply-12", 11.7), ("birch-ply-15", 15.0)];
    let mut facing = 0;
    for (profile, thick) in boards {
        for joint in ["dado", "butt", "finger"] {
            for up in [0, 3, 8] {
                let derived = derived(&shelves(profile, thick, joint, up));
                let (design, model) = (derived.design.expect("a design"), derived.model.expect("a model"));
                let flat = flatten(&design, &model);
                assert!(flat.findings.iter().all(|f| f.code.id != "faces-meet"), "{profile} {joint} {up}");
                for upright in model.panels.iter().filter(|p| p.name.contains("upright")) {
                    let deep = |face: Face| {
                        let cut = |f: &Feature| match &f.depth {
                            Depth::Blind(of, d) if *of == face && f.purpose == Purpose::Joint => d.nominal().0,
                            _ => 0.0,
                        };
                        upright.features.iter().map(cut).fold(0.0, f64::max)
                    };
                    let (a, b) = (deep(Face::A), deep(Face::B));
                    facing += usize::from(a > 0.0 && b > 0.0);
                    assert!(thick - a - b >= thick / 3.0 - 1e-6, "{profile} {joint} {up}: {} {a} {b}", upright.name);
                }
            }
        }
    }
    assert!(facing >= boards.len(), "only {facing} uprights with dadoes on both faces were seen");
}

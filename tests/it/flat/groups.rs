//! Equal panels as one part.

use super::support::{groove, hole, notch, panel, run, usual};
use baywright::parts::{Depth, Face, Grain, Hand, Panel, PanelId};

fn shaped(id: &str) -> Panel {
    let features = vec![notch("n", [100.0, 0.0, 40.0, 18.0]), hole("h", 30.0, 60.0, 5.0, Depth::Through)];
    panel(id, 400.0, 200.0, features)
}

fn ids(panels: Vec<Panel>) -> Vec<(String, Vec<usize>)> {
    let parts = run(&usual(), panels).value.expect("parts").parts;
    parts.into_iter().map(|p| (p.id, p.panels.into_iter().map(|PanelId(i)| i).collect())).collect()
}

#[test]
fn equal_panels_merge_under_the_first_ones_id_and_ids_are_sorted() {
    let panels = vec![shaped("M"), panel("A", 300.0, 200.0, vec![]), shaped("B"), shaped("C")];
    assert_eq!(ids(panels), vec![("A".into(), vec![1]), ("M".into(), vec![0, 2, 3])]);
}

#[test]
fn what_differs_stays_apart() {
    type Change = fn(&mut Panel);
    let change: [(&str, Change); 9] = [
        ("hand", |p| p.hand = Hand::Left),
        ("grain", |p| p.grain = Grain::AlongV),
        ("length", |p| p.length = super::support::d(400.001)),
        ("thickness", |p| p.thickness = super::support::d(17.2)),
        ("hole", |p| p.features[1] = hole("h", 30.0, 60.01, 5.0, Depth::Through)),
        ("diameter", |p| p.features[1] = hole("h", 30.0, 60.0, 6.0, Depth::Through)),
        ("blind", |p| p.features[1] = hole("h", 30.0, 60.0, 5.0, super::support::blind(Face::A, 5.0))),
        ("notch", |p| p.features[0] = notch("n", [100.0, 0.0, 40.0, 17.0])),
        ("more", |p| p.features.push(hole("k", 90.0, 60.0, 5.0, Depth::Through))),
    ];
    for (what, change) in change {
        let mut other = shaped("B");
        change(&mut other);
        assert_eq!(ids(vec![shaped("A"), other]).len(), 2, "{what}");
    }
}

#[test]
fn rounding_noise_does_not_keep_panels_apart() {
    let mut other = shaped("B");
    other.length = super::support::d(400.0 + 5e-8);
    other.features[1] = hole("h", 30.0 - 3e-8, 60.0, 5.0, Depth::Through);
    assert_eq!(ids(vec![shaped("A"), other]).len(), 1);
}

#[test]
fn the_order_of_features_does_not_matter() {
    let mut other = shaped("B");
    other.features.push(hole("k", 90.0, 60.0, 5.0, Depth::Through));
    let mut first = other.clone();
    first.id = "A".into();
    other.features.swap(1, 2);
    assert_eq!(ids(vec![first, other]).len(), 1);
}

/// The classic scrap is two left sides: a pair from one drawing must stay two parts.
#[test]
fn a_left_and_a_right_never_merge() {
    let side = |id: &str, hand, x| {
        let mut p = panel(id, 400.0, 200.0, vec![groove("g", [x, 0.0, 12.0, 200.0], Face::A, 5.0)]);
        p.hand = hand;
        p
    };
    let pair = vec![side("L", Hand::Left, 50.0), side("R", Hand::Right, 338.0)];
    assert_eq!(ids(pair).len(), 2);
    // Even when the shape is its own mirror image.
    let alike = vec![side("L", Hand::Left, 194.0), side("R", Hand::Right, 194.0), side("R2", Hand::Right, 194.0)];
    assert_eq!(ids(alike), vec![("L".into(), vec![0]), ("R".into(), vec![1, 2])]);
}

#[test]
fn a_finding_on_equal_panels_is_told_once_with_all_their_names() {
    let narrow = |id: &str| panel(id, 400.0, 200.0, vec![notch("n", [100.0, 0.0, 2.0, 18.0])]);
    let checked = run(&usual(), vec![narrow("A"), narrow("B")]);
    assert_eq!(checked.findings.len(), 1);
    assert_eq!(checked.findings[0].parts, vec!["A", "B"]);
}

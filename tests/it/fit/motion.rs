//! What moves, in every state of the others.

use super::{derived, planted, sample};
use baywright::fit::{ways, Way};
use baywright::run::derive;

fn ways_of(text: &str) -> Vec<Way> {
    let derived = derived(text);
    ways(derived.design.as_ref().expect("a design"), derived.model.as_ref().expect("a model"))
}

#[test]
fn everything_of_the_van_moves_freely_whatever_else_is_open() {
    let derived = derive(&sample("survey-van"), None).expect("read");
    let all = ways(derived.design.as_ref().expect("a design"), derived.model.as_ref().expect("a model"));
    assert_eq!(all.len(), 6, "four drawers, two tables");
    for way in &all {
        assert!(way.air.0 > 0.0 && way.needs.is_empty(), "{way:?}");
    }
    // The tables run under the upper base with the washers' 1.6 mm.
    assert!(all[0].name.ends_with("table") && (all[0].air.0 - 1.6).abs() < 0.01, "{:?}", all[0]);
    assert_eq!(all[0].side, "above");
}

#[test]
fn a_front_before_a_table_must_be_opened_first() {
    let all = ways_of(&planted("overlay-front-holds-the-table"));
    let table = all.iter().find(|w| w.name == "table").expect("the table");
    assert_eq!(table.needs, ["low left drawer must be open"]);
    assert!(all.iter().find(|w| w.name == "low left drawer").expect("the drawer").needs.is_empty(), "it may go first");
}

/// The left door, 550 wide and 60 thick, hinged 50 from the left, bulging in by the 30 mm the profile reaches at the drawer's
/// height of 240 at most: 10 + 240 / 400 * 10 = 16.
fn door_gap(angle: f64, left: f64) -> f64 {
    let text = planted("drawer-meets-the-open-door")
        .replace("angle = 70", &format!("angle = {angle}"))
        .replace("at = [80, 60, 0]", &format!("at = [{left}, 60, 0]"));
    let derived = derived(&text);
    let ledger = derived.ledger.expect("judged");
    let line = ledger.lines.iter().find(|l| l.gap == "low left drawer pulled out to the open left door");
    line.expect("a line").nominal.0
}

#[test]
fn an_open_door_is_passed_by_what_trigonometry_says() {
    // Straight out: the leaf's inner side stands 16 mm (less where the front ends) inside the hinge's line at 50.
    let straight = door_gap(90.0, 200.0);
    let front_left = 200.0 + 15.0 + 2.0;
    let reach_at = |height: f64| 10.0 + height / 400.0 * 10.0;
    let top = 240.0 - 15.0 - 2.0;
    assert!((straight - (front_left - 50.0 - reach_at(top))).abs() < 0.02, "{straight}");
    // Less than that leans into the way; further lies outside.
    assert!(door_gap(70.0, 200.0) < straight && door_gap(110.0, 200.0) >= straight);
    // At 80 degrees, the corner of the front pulled out to 60 - 450 = -390 meets the line of the leaf's inner side.
    let (sin, cos) = 80f64.to_radians().sin_cos();
    let (x, y) = (front_left - 50.0, 390.0);
    // Distance of (x, y) from a line through the hinge at 80 degrees, less the bulge.
    let expected = x * sin - y * cos - reach_at(top);
    assert!((door_gap(80.0, 200.0) - expected).abs() < 0.02, "{} and {expected}", door_gap(80.0, 200.0));
}

#[test]
fn the_blocked_way_says_how_far_it_goes() {
    let derived = derived(&planted("striker-in-the-way"));
    let stop = derived.findings.iter().find(|f| f.code.id == "way-blocked").expect("blocked");
    // The front stands at 60, the striker reaches in to 30.
    assert!(stop.message.contains("after 30 of 450 mm"), "{}", stop.message);
    assert!(stop.parts.iter().any(|p| p == "door striker"), "{:?}", stop.parts);
}

//! Units on their way through the opening.

use super::{derived, planted, sample};
use baywright::fit::{load, LoadPlan};
use baywright::run::derive;

fn plans(text: &str) -> Vec<LoadPlan> {
    let derived = derived(text);
    load(derived.design.as_ref().expect("a design"), derived.model.as_ref().expect("a model"))
}

#[test]
fn the_van_takes_the_lower_unit_first() {
    let derived = derive(&sample("survey-van"), None).expect("read");
    let plans = load(derived.design.as_ref().expect("a design"), derived.model.as_ref().expect("a model"));
    let names: Vec<&str> = plans.iter().map(|p| p.unit.as_str()).collect();
    assert_eq!(names, ["lower", "upper"]);
    assert!(plans.iter().all(|p| p.passes && !p.moves.is_empty()), "{plans:?}");
}

#[test]
fn a_unit_behind_another_goes_in_before_it_whatever_the_order_written() {
    let plans = plans(
        &planted("drawer-behind-another-unit")
            .replace("at = [200, 200, 0]", "at = [200, 400, 0]")
            .replace("at = [200, 60, 0]", "at = [200, 200, 0]"),
    );
    let names: Vec<&str> = plans.iter().map(|p| p.unit.as_str()).collect();
    assert_eq!(names, ["low", "fore"], "the file says fore first");
}

#[test]
fn a_step_over_the_sill_is_a_move_up_in_and_down() {
    let text = planted("drawer-rubs-the-sill");
    let plan = &plans(&text)[0];
    assert!(plan.passes);
    assert_eq!(plan.moves.last().map(|m| m.split(' ').next()), Some(Some("down")), "{:?}", plan.moves);
}

#[test]
fn what_cannot_come_in_whole_is_told_where_to_divide() {
    // Two columns: halves of 450 pass between the arches, which leave 600.
    let text = planted("arches-bar-the-way").replace(
        "[[carcass.column]]\nname = \"middle\"\n",
        "[[carcass.column]]\nname = \"a\"\n[[carcass.column]]\nname = \"b\"\n",
    );
    let found = derived(&text).findings;
    let caution = found.iter().find(|f| f.code.id == "way-in-blocked").expect("found");
    assert!(caution.remedy.contains("divide it at low inner upright into 450 and 450 mm"), "{}", caution.remedy);
    assert!(caution.remedy.contains("off its width"), "{}", caution.remedy);
}

#[test]
fn without_an_opening_nothing_is_claimed() {
    assert!(plans(&planted("under-the-roof")).is_empty());
}

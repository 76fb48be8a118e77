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
            .replace("at = [200, 60, 0]", "at = [200, 200, 0]")
            // So high that nothing is lifted over it.
            .replace("height = 100", "height = 700"),
    );
    let names: Vec<&str> = plans.iter().map(|p| p.unit.as_str()).collect();
    assert_eq!(names, ["low", "fore"], "the file says fore first");
}

#[test]
fn a_step_over_the_sill_is_a_move_up_in_and_down() {
    let text = planted("drawer-rubs-the-sill");
    let plan = &plans(&text)[0];
    assert!(plan.passes);
    assert!(plan.moves.contains(&"down 40 mm".to_owned()) && plan.moves[0].starts_with("in "), "{:?}", plan.moves);
}

#[test]
fn what_cannot_come_in_whole_is_told_where_to_divide() {
    // Between two pillars 800 are free. Behind them there is room to step a half aside, not to turn the whole: over arches of 300
    // it would be turned lying flat.
    let text = planted("arches-bar-the-way")
        .replace("size = [200, 400, 300]", "size = [200, 200, 890]")
        .replace("at = [150, 520, 0]", "at = [150, 820, 0]")
        .replace("depth = 500", "depth = 250")
        .replace(
            "[[carcass.column]]\nname = \"middle\"\n",
            "[[carcass.column]]\nname = \"a\"\n[[carcass.column]]\nname = \"b\"\n",
        );
    let found = derived(&text).findings;
    let caution = found.iter().find(|f| f.code.id == "way-in-blocked").expect("found");
    assert!(caution.remedy.contains("divide it at low inner upright into 450 and 450 mm"), "{}", caution.remedy);
    // On its side it is as wide as it must be, and is turned up under the roof when its diagonal is under 900: 864.5 and 250.
    assert!(caution.remedy.contains("take 36 mm off its width"), "{}", caution.remedy);
    // Without that room the second half has no way past the first.
    let near = text.replace("at = [150, 820, 0]", "at = [150, 320, 0]");
    let found = derived(&near).findings;
    let caution = found.iter().find(|f| f.code.id == "way-in-blocked").expect("found");
    assert!(!caution.remedy.contains("divide"), "{}", caution.remedy);
}

#[test]
fn without_an_opening_nothing_is_claimed() {
    assert!(plans(&planted("under-the-roof")).is_empty());
}

//! What a try in card found comes back as a constraint that `check` shows as met or not.

use crate::cli::{sample, Bench};
use serde_json::Value;
use std::fs;

/// The sample with a line of `rubs` and its lower storey somewhere else.
fn check(rubs: &str, left: f64) -> (i32, Value) {
    let text = fs::read_to_string(sample("survey-van")).unwrap();
    let text = text.replacen("units = \"mm\"", &format!("units = \"mm\"\nrubs = [{rubs}]"), 1);
    let text = text.replacen("at = [140, 70, 0]", &format!("at = [{left}, 70, 0]"), 1);
    let bench = Bench::with("van.toml", &text);
    let ended = bench.run(&["check", "van.toml", "--json"]);
    (ended.code.unwrap(), ended.json())
}

fn line(data: &Value) -> Option<(String, f64, f64)> {
    let lines = data["ledger"].as_array().unwrap();
    let found = lines.iter().find(|l| l["gap"].as_str().unwrap().starts_with("tried in card, left arch"))?;
    let number = |key: &str| found[key].as_f64().unwrap();
    Some((found["verdict"].as_str().unwrap().to_owned(), number("nominal_mm"), number("required_min_mm")))
}

fn codes(data: &Value) -> Vec<&str> {
    data["findings"].as_array().unwrap().iter().map(|f| f["code"].as_str().unwrap()).collect()
}

#[test]
fn the_design_that_was_tried_does_not_meet_it_and_one_further_off_does() {
    let rub = "{ where = \"left arch\", by = 4, had = 12 }";
    let (code, data) = check(rub, 140.0);
    assert_eq!((code, line(&data)), (1, Some(("fails".into(), 12.0, 16.0))));
    let (_, data) = check(rub, 143.9);
    assert_eq!(line(&data).unwrap().0, "fails");
    let (code, data) = check(rub, 145.0);
    assert_eq!((code, line(&data)), (0, Some(("fits".into(), 17.0, 16.0))));
}

#[test]
fn without_the_air_it_had_nothing_shows_as_met_and_the_line_to_write_is_told() {
    let (code, data) = check("{ where = \"left arch\", by = 4 }", 145.0);
    assert_eq!((code, line(&data)), (1, Some(("fails".into(), 17.0, 21.0))));
    let told = data["findings"].as_array().unwrap().iter().find(|f| f["code"] == "rub-without-air").unwrap();
    assert!(told["remedy"].as_str().unwrap().contains("had = 17"), "{told}");
}

#[test]
fn a_place_that_is_no_gap_and_a_rub_of_nothing_are_said() {
    let (code, data) = check("{ where = \"spare wheel\", by = 4, had = 12 }", 140.0);
    assert!(code == 1 && codes(&data).contains(&"rub-nowhere"), "{:?}", codes(&data));
    let (code, data) = check("{ where = \"left arch\", by = 0, had = 12 }", 140.0);
    assert!(code == 1 && codes(&data).contains(&"size-not-positive"), "{:?}", codes(&data));
    let (code, _) = check("{ were = \"left arch\", by = 1 }", 140.0);
    assert_eq!(code, 1);
}

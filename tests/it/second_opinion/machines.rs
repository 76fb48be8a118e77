//! Every sample on both routers, each in both units: made, proved, and swept by the other library.

use super::rows;
use super::sweep::{judged, made_in, Files};
use crate::cli::Bench;
use serde_json::Value;
use std::fs;
use std::path::Path;

const SAMPLES: [&str; 5] = [
    "samples/first-drawer.toml",
    "samples/panels-only.toml",
    "samples/field-estate.toml",
    "samples/survey-van.toml",
    "tests/cases/shelves-on-both-faces/project.toml",
];

fn read(path: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).expect("read")
}

/// The built-in router's profile, counting in the unit given, with decimals enough for the rule on arcs, and a bed that takes sheets
/// of either measure: 98 inches are less than 2500 mm.
fn profile(machine: &str, unit: &str) -> String {
    let all = read("profiles/machines.toml");
    let sources = all.find("[sources]").expect("sources");
    let first = all.find("[[machine]]").expect("machines");
    let own = all[first..].split("[[machine]]").find(|m| m.contains(&format!("id = \"{machine}\""))).expect("the machine");
    let own: String = own
        .lines()
        .map(|line| match line.split_once(" = ").map(|(key, _)| key) {
            Some("units") => format!("units = \"{unit}\"\n"),
            Some("travel") => "travel = [2600, 1350, 200]\n".to_owned(),
            Some("decimals") => format!("decimals = {}\n", if unit == "in" { 5 } else { 4 }),
            _ => format!("{line}\n"),
        })
        .collect();
    format!("{}[[machine]]{own}", &all[sources..first])
}

/// The project to be cut on another machine.
fn on(project: &str, machine: &str) -> String {
    let text = read(project);
    let line = format!("machine = \"{machine}\"\n");
    if let Some(at) = text.find("machine = ") {
        let end = at + text[at..].find('\n').expect("a line") + 1;
        return format!("{}{line}{}", &text[..at], &text[end..]);
    }
    let at = text.find("\n[").expect("a table") + 1;
    format!("{}[shop]\n{line}\n{}", &text[..at], &text[at..])
}

const RACK: &str = SAMPLES[4];

#[test]
fn an_upright_with_grooves_on_both_faces_is_cut_from_both_and_proved_over_both() {
    let bench = Bench::with("project.toml", &read(RACK));
    let (mut job, files) = made_in(&bench, "project.toml");
    let sides = |part: &Value| -> Vec<String> {
        let pockets = rows(&part["features"]).iter().filter(|f| f["operation"] == "pocket");
        pockets.map(|f| f["side"].as_str().expect("a side").to_owned()).collect()
    };
    let upright = rows(&job["parts"]).iter().find(|p| p["name"] == "rack inner upright").expect("the upright");
    assert_eq!(sides(upright), ["up", "down"]);
    let run: Vec<&str> = rows(&job["programs"]).iter().filter_map(|p| p["side"].as_str()).collect();
    assert_eq!(run, ["second", "second", "first"], "registration holes and the lower face first");
    let proof: Value = serde_json::from_slice(files["proof.json"].as_ref().expect("a file")).expect("JSON");
    let floors = rows(&proof["rules"]).iter().find(|r| r["rule"] == "proof-floor-wrong").expect("the rule");
    assert_eq!((&floors["passed"], &floors["checked"]), (&true.into(), &10.into()), "ten grooves, one of them from below");
    assert!(judged(&job, &files).faults.is_empty());
    // Run without turning the sheet over, the groove from below comes out in the wrong face.
    for program in job["programs"].as_array_mut().expect("programs") {
        program["side"] = "first".into();
    }
    assert!(judged(&job, &files).faults.iter().any(|f| f.contains("dado RA-1-006: never cut")));
}

fn every_sample(machine: &str, unit: &str) {
    for project in SAMPLES {
        let bench = Bench::with("project.toml", &on(project, machine));
        bench.write("profiles/machines.toml", &profile(machine, unit));
        let (job, files): (Value, Files) = made_in(&bench, "project.toml");
        let of = format!("{project} on {machine} in {unit}");
        assert_eq!((job["machine"]["id"].as_str(), job["cut_file_units"].as_str()), (Some(machine), Some(unit)), "{of}");
        let proof: Value = serde_json::from_slice(files["proof.json"].as_ref().expect("a file")).expect("JSON");
        assert_eq!(proof["passed"], true, "{of}");
        let checked =
            |rule: &str| rows(&proof["rules"]).iter().find(|r| r["rule"] == rule).expect("the rule")["checked"].as_u64();
        assert!(checked("proof-rapid-low") > Some(0) && checked("proof-part-gouged") > Some(0), "{of}");
        let seen = judged(&job, &files);
        assert!(seen.faults.is_empty(), "{of}\n{}", seen.faults.join("\n"));
    }
}

#[test]
fn every_sample_on_the_metric_router() {
    every_sample("router-metric", "mm");
}

#[test]
fn every_sample_on_the_metric_router_counting_in_inches() {
    every_sample("router-metric", "in");
}

#[test]
fn every_sample_on_the_inch_router() {
    every_sample("router-inch", "in");
}

#[test]
fn every_sample_on_the_inch_router_counting_in_millimetres() {
    every_sample("router-inch", "mm");
}

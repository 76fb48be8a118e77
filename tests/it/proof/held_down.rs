//! A sheet held down by screws in its waste: their holes come first, and nothing comes near a head.

use crate::cli::{own_files, Bench};
use baywright::proof::prove;
use serde_json::Value;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

const PLATES: &str = r#"
format = 1
title = "Plates"
units = "mm"

[shop]
machine = "router-metric"

[boards.ply]
profile = "birch-ply-15"
readings = [14.9, 14.9, 14.9, 14.9]

[[panel]]
name = "plate"
size = [300, 200]
board = "ply"
quantity = 3
holes = [{ at = [150, 100], diameter = 14 }]
"#;

type Files = BTreeMap<String, Vec<u8>>;

/// The plates' pack from the metric router, screws asked for.
fn plates() -> Files {
    let bench = Bench::with("plates.toml", PLATES);
    let all = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("profiles/machines.toml")).expect("read");
    let (head, rest) = all.split_once("[[machine]]").expect("machines");
    let own = rest.split("[[machine]]").next().expect("the first");
    let screws = "climb = true\nhold_down_screws = { hole = 4, head = 9, head_height = 3, spacing = 500 }";
    let profile = format!("{head}[[machine]]{}", own.replacen("climb = true", screws, 1));
    bench.write("profiles/machines.toml", &profile);
    bench.run(&["make", "plates.toml", "--out", "pack"]).expect(0, &[]);
    own_files(&bench.path().join("pack"))
}

fn job(files: &mut Files, change: impl FnOnce(&mut Value)) {
    let mut data: Value = serde_json::from_slice(&files["job.json"]).expect("JSON");
    change(&mut data);
    files.insert("job.json".to_owned(), serde_json::to_vec(&data).expect("JSON"));
}

#[track_caller]
fn refused(files: &Files) {
    let verdict = prove(files);
    assert!(verdict.rules.iter().any(|r| r.rule == "proof-screw-hit" && !r.passed), "{}", verdict.to_text());
}

#[test]
fn screws_are_kept_clear_of() {
    let good = plates();
    let verdict = prove(&good);
    assert!(verdict.passed, "{}", verdict.to_text());
    let rule = verdict.rules.iter().find(|r| r.rule == "proof-screw-hit").expect("the rule");
    assert!(rule.checked > 0);

    // A screw where an outline is cut; a head as wide as the waste; holes that are not made first; a hole that is not made.
    let mut files = good.clone();
    job(&mut files, |j| {
        let [x, y] = ["x_mm", "y_mm"].map(|k| j["sheets"][0]["placements"][0][k].as_f64().expect("a number"));
        for program in j["programs"].as_array_mut().expect("programs").iter_mut().skip(1) {
            program["set_up"]["screws_mm"][0] = serde_json::json!([x + 40.0, y - 4.0]);
        }
    });
    refused(&files);

    let mut files = good.clone();
    job(&mut files, |j| {
        for program in j["programs"].as_array_mut().expect("programs") {
            program["set_up"]["screw_head_mm"][0] = 400.into();
        }
    });
    refused(&files);

    let mut files = good.clone();
    job(&mut files, |j| {
        j["programs"][0]["order"] = 2.into();
        j["programs"][1]["order"] = 1.into();
    });
    refused(&files);

    let mut files = good;
    job(&mut files, |j| {
        let more = serde_json::json!([1200.0, 600.0]);
        for program in j["programs"].as_array_mut().expect("programs") {
            program["set_up"]["screws_mm"].as_array_mut().expect("places").push(more.clone());
        }
    });
    refused(&files);
}

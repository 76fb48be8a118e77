//! `job.json` and the two lists.

use super::sample::{sample, Sample};
use super::text;
use serde_json::Value;

fn job_json(sample: &Sample) -> Value {
    serde_json::from_str(&text(sample, "job.json")).unwrap()
}

/// Every key that design.md's contract for version 1 names.
#[test]
fn job_json_has_the_keys_of_version_1() {
    let job = job_json(&sample());
    let has = |value: &Value, keys: &[&str]| {
        for key in keys {
            assert!(value.get(key).is_some(), "{key} in {value}");
        }
    };
    let top =
        ["version", "title", "revision", "units", "boards", "parts", "sheets", "programs", "findings", "ledger", "totals"];
    has(&job, &top);
    has(&job["boards"][0], &["name", "nominal_mm", "thickness_mm"]);
    has(&job["boards"][0]["thickness_mm"], &["min", "mean", "max"]);
    let part =
        ["id", "name", "board", "quantity", "length_mm", "width_mm", "grain", "mass_kg", "features", "contours", "seats"];
    has(&job["parts"][0], &part);
    has(&job["parts"][0]["features"][0], &["id", "operation", "side", "depth_mm", "diameter_mm"]);
    has(&job["parts"][0]["contours"][0], &["feature", "operation", "side", "depth_mm", "vertices"]);
    has(&job["sheets"][0], &["board", "number", "length_mm", "width_mm", "placements", "used_ratio"]);
    has(&job["sheets"][0]["placements"][0], &["part", "copy", "x_mm", "y_mm", "turn_deg", "flipped"]);
    let program =
        ["file", "sheet", "side", "order", "cutter", "z_zero", "clearance_mm", "floor_mm", "thickness_mm", "run_s"];
    has(&job["programs"][0], &program);
    has(&job["programs"][0]["cutter"], &["name", "diameter_mm"]);
    let gap = [
        "gap",
        "nominal_mm",
        "worst_min_mm",
        "worst_max_mm",
        "rss_min_mm",
        "rss_max_mm",
        "required_min_mm",
        "required_max_mm",
        "verdict",
        "contributors",
    ];
    has(&job["ledger"][0], &gap);
}

#[test]
fn job_json_holds_the_job() {
    let job = job_json(&sample());
    assert_eq!(job["version"], 1);
    assert_eq!(job["title"], "Größe \"A\", river-survey van");
    let thickness = &job["boards"][0]["thickness_mm"];
    assert_eq!([&thickness["min"], &thickness["mean"], &thickness["max"]], [14.7, 14.8, 14.9]);
    // Along the grain comes first: the front's grain runs along its y.
    let front = &job["parts"][1];
    assert_eq!([&front["length_mm"], &front["width_mm"], &front["x_mm"]], [165, 490, 490]);
    assert_eq!(front["hand"], "left");
    let upright = &job["parts"][0];
    let strike = upright["contours"].as_array().unwrap().iter().filter(|c| c["feature"] == "strike").collect::<Vec<_>>();
    assert_eq!(strike.iter().map(|c| c["island"].as_bool().unwrap()).collect::<Vec<_>>(), [false, true]);
    assert_eq!(strike[0]["layer"], "POCKET-8-50-DEEP");
    let outline = upright["contours"].as_array().unwrap().last().unwrap();
    assert_eq!(outline["vertices"][7], serde_json::json!([345, 232, -1]));
    assert_eq!(upright["seats"][0]["mate"], "LO-1-004");
    // 600 x 232 less the finger 14.8 x 60, half a disc of radius 45, one hole of 5 and one of 4.5.
    let area = 600.0 * 232.0 - 14.8 * 60.0 - std::f64::consts::PI * (45.0 * 45.0 / 2.0 + 2.5 * 2.5 + 2.25 * 2.25);
    assert!((upright["area_mm2"].as_f64().unwrap() - area).abs() < 0.001);
    assert_eq!(job["programs"][0]["z_zero"], "spoilboard");
    assert_eq!(job["programs"][0]["file"], "gcode/carcass-01-1-up-cut-6.nc");
    assert_eq!(job["ledger"][0]["required_max_mm"], Value::Null, "no upper limit");
    assert_eq!(job["findings"][0]["place"], serde_json::json!({"file": "van.toml", "line": 2, "column": 1}));
    assert_eq!(job["totals"]["parts"], 6);
    assert_eq!(job["totals"]["hardware_mass_kg"], 0.045);
}

#[test]
fn job_json_stays_in_millimetres_for_a_machine_in_inches() {
    let (mm, inch) = (job_json(&sample()), job_json(&sample().in_inches()));
    assert_eq!(inch["units"], "mm");
    assert_eq!((&mm["cut_file_units"], &inch["cut_file_units"]), (&Value::from("mm"), &Value::from("in")));
    assert_eq!(mm["sheets"], inch["sheets"]);
    assert_eq!(mm["parts"][0]["contours"][0]["vertices"], inch["parts"][0]["contours"][0]["vertices"]);
    assert_eq!(inch["parts"][0]["contours"][0]["layer"], "POCKET-0-2362-DEEP");
}

#[test]
fn unknown_masses_are_not_taken_for_nothing() {
    let mut job = sample();
    job.model.hardware[0].mass_kg = None;
    assert_eq!(job_json(&job)["totals"]["hardware_mass_kg"], Value::Null);
    assert!(text(&job, "hardware.csv").contains("\"base, to left upright\",,\r\n"));
}

#[test]
fn the_cut_list_has_one_line_per_part() {
    let list = text(&sample(), "cut-list.csv");
    let lines: Vec<&str> = list.split_terminator("\r\n").collect();
    assert!(lines[0].starts_with("id,name,unit,hand,quantity,board,thickness_mm,length_mm,width_mm,grain,edges,sheets"));
    assert_eq!(
        lines[1],
        "LO-1-001,lower upright,lower,,2,carcass,14.8,600,232,along length,\"right: finger, LO-1-002-L\",1,1.401,2.802"
    );
    assert!(lines[2].starts_with("LO-1-002-L,lower drawer front,lower,left,1,carcass,14.8,165,490,along length,,1,"));
    assert!(lines[3].starts_with("TB-1-001,table disc,table,,3,carcass,14.8,120,120,any,,1 2,"));
    assert_eq!(lines.len(), 4);
}

#[test]
fn equal_hardware_in_one_place_is_added_up() {
    let list = text(&sample(), "hardware.csv");
    let lines: Vec<&str> = list.split_terminator("\r\n").collect();
    assert_eq!(lines[1], "countersunk screw 4.0 x 40,screw-4.0,9,lower,back,0.003,0.027");
    assert_eq!(lines[2], "countersunk screw 4.0 x 40,screw-4.0,6,lower,\"base, to left upright\",0.003,0.018");
}

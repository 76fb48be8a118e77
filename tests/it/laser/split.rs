//! Parts larger than the sheet: pieces that add up, hang on to each other and leave holes alone; on a laser and on a router.

use super::support::{codes, machine, made, panels, sound};
use crate::cli::Bench;
use baywright::geom::Contour;
use baywright::proof;
use clipper2_rust::{area_paths, intersect_64, union_subjects_64, FillRule, Path64, Paths64, Point64};
use serde_json::Value;
use std::fs;

const SCALE: f64 = 1e5;

/// A panel longer than the bed, with holes near its middle.
fn long(cuts: &str) -> String {
    panels(&format!("[[panel]]\nname = \"deck\"\nsize = [1500, 300]\nboard = \"thin\"\n{cuts}"))
        .replace("machine = \"own-laser\"", "machine = \"own-laser\"\nsplit = true")
}

/// Outlines of the pieces of a pack by id, in their own frames.
fn outlines(job: &Value) -> Vec<(String, Vec<[f64; 3]>)> {
    let rows = |v: &Value| v.as_array().cloned().unwrap_or_default();
    rows(&job["parts"])
        .iter()
        .map(|part| {
            let outline = rows(&part["contours"]).into_iter().find(|c| c["operation"] == "through-outside").unwrap();
            let vertices = rows(&outline["vertices"]);
            let number = |v: &Value, i: usize| v[i].as_f64().unwrap();
            let all = vertices.iter().map(|v| [number(v, 0), number(v, 1), number(v, 2)]).collect();
            (part["id"].as_str().unwrap().to_owned(), all)
        })
        .collect()
}

fn contour(vertices: &[[f64; 3]]) -> Contour {
    let vertex = |v: &[f64; 3]| baywright::geom::Vertex { x: v[0], y: v[1], bulge: v[2] };
    Contour::new(&vertices.iter().map(vertex).collect::<Vec<_>>()).unwrap()
}

/// A contour moved, as paths of the other library.
fn paths(c: &Contour, dx: f64, dy: f64) -> Paths64 {
    let point = |x: f64, y: f64| Point64::new(((x + dx) * SCALE).round() as i64, ((y + dy) * SCALE).round() as i64);
    let path: Path64 = c.flattened(2e-4).iter().map(|p| point(p.x, p.y)).collect();
    vec![path]
}

fn area(p: &Paths64) -> f64 {
    area_paths(p) / SCALE / SCALE
}

fn job(files: &baywright::write::Files) -> Value {
    serde_json::from_slice(&files["job.json"]).unwrap()
}

#[test]
fn two_pieces_make_the_whole_and_cannot_be_pulled_apart() {
    let made = sound(&long(""), &machine("0.2", true));
    let job = job(&made.files);
    let pieces = outlines(&job);
    assert_eq!(pieces.iter().map(|(id, _)| id.as_str()).collect::<Vec<_>>(), ["DE-1-001-P1", "DE-1-001-P2"]);
    let (low, high) = (contour(&pieces[0].1), contour(&pieces[1].1));
    assert!((low.area() + high.area() - 1500.0 * 300.0).abs() < 0.01, "{} + {}", low.area(), high.area());
    // The second piece begins at the joint, which is where it must lie for both to make 1500 mm.
    let dx = 1500.0 - high.bounds().width();
    let whole = union_subjects_64(&[paths(&low, 0.0, 0.0), paths(&high, dx, 0.0)].concat(), FillRule::NonZero);
    assert!((area(&whole) - 450_000.0).abs() < 0.5, "{}", area(&whole));
    let overlap = |pull: f64| area(&intersect_64(&paths(&low, 0.0, 0.0), &paths(&high, dx + pull, 0.0), FillRule::NonZero));
    assert!(overlap(0.0) < 0.5, "{}", overlap(0.0));
    // Pulled apart by half a knob's radius the heads are caught by the necks.
    assert!(overlap(2.25) > 3.0, "{}", overlap(2.25));
    assert!(proof::prove(&made.files).passed);
}

#[test]
fn joints_keep_off_holes_and_marks_lie_over_them() {
    // The even division would run through this hole.
    let made = sound(&long("holes = [{ at = [750, 150], diameter = 60 }]\n"), &machine("0.2", true));
    let job = job(&made.files);
    let holes: Vec<&Value> = job["parts"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|p| p["features"].as_array().unwrap())
        .filter(|f| f["operation"] == "drill")
        .collect();
    assert_eq!(holes.len(), 1, "the hole is whole, in one piece");
    assert!((holes[0]["diameter_mm"].as_f64().unwrap() - 60.0).abs() < 1e-9);
    let marks = |part: &Value| {
        part["features"].as_array().unwrap().iter().filter(|f| f["id"] == "register 1" && f["operation"] == "mark").count()
    };
    assert_eq!(job["parts"].as_array().unwrap().iter().map(marks).collect::<Vec<_>>(), [1, 1]);
}

#[test]
fn a_long_slot_is_run_through_and_a_panel_full_of_holes_is_a_finding() {
    let slot = sound(&long("slots = [{ from = [100, 150], to = [1400, 150], width = 20 }]\n"), &machine("0.2", true));
    let pieces = outlines(&job(&slot.files));
    let sum: f64 = pieces.iter().map(|(_, v)| contour(v).area()).sum();
    let slot_area = 1300.0 * 20.0 + std::f64::consts::PI * 100.0;
    assert!((sum - (450_000.0 - slot_area)).abs() < 0.05, "{sum}");
    assert!(proof::prove(&slot.files).passed);
    let holes: Vec<String> = (0..148).map(|i| format!("{{ at = [{}, 150], diameter = 8 }}", 12 + 10 * i)).collect();
    let (none, found) = made(&long(&format!("holes = [{}]\n", holes.join(", "))), &machine("0.2", true));
    assert!(none.is_none() && codes(&found).contains(&"no-place-to-divide"), "{found:?}");
}

#[test]
fn a_bed_smaller_than_the_smallest_part_is_a_finding() {
    let small = machine("0.2", true).replace("[900, 600, 40]", "[110, 70, 40]");
    let two = format!("{}[[panel]]\nname = \"lid\"\nsize = [120, 80]\nboard = \"thin\"\n", long(""));
    let (none, found) = made(&two, &small);
    assert!(none.is_none() && codes(&found).contains(&"bed-too-small"), "{found:?}");
}

#[test]
fn without_being_asked_nothing_is_divided() {
    let (none, found) = made(&long("").replace("split = true", ""), &machine("0.2", true));
    assert!(none.is_none() && codes(&found).contains(&"part-over-sheet"), "{found:?}");
}

/// The same knobs in plywood: a cutter of 6 mm makes them, and what it leaves fits with the play of a finger.
#[test]
fn plywood_larger_than_the_sheet_is_cut_by_a_router() {
    let text =
        "format = 1\ntitle = \"Deck\"\nunits = \"mm\"\n[shop]\nsplit = true\n[boards.ply]\nprofile = \"birch-ply-12\"\n\
        readings = [11.9, 11.9, 11.9, 11.9]\n[[panel]]\nname = \"deck\"\nsize = [2600, 400]\nboard = \"ply\"\n\
        holes = [{ at = [1300, 200], for = \"M8\" }]\n";
    let bench = Bench::with("deck.toml", text);
    bench.run(&["make", "deck.toml", "--out", "pack"]).expect(0, &["proved: ", "cut-in-pieces"]);
    let job: Value = serde_json::from_slice(&fs::read(bench.path().join("pack/job.json")).unwrap()).unwrap();
    let pieces = outlines(&job);
    assert_eq!(pieces.len(), 2);
    for (id, vertices) in &pieces {
        let contour = contour(vertices);
        // No arc is tighter than the cutter with its allowance: 3.25 mm.
        for (i, v) in vertices.iter().enumerate().filter(|(_, v)| v[2].abs() > 1e-6) {
            let next = vertices[(i + 1) % vertices.len()];
            let chord = (next[0] - v[0]).hypot(next[1] - v[1]);
            let radius = chord * (1.0 + v[2] * v[2]) / (4.0 * v[2].abs());
            assert!(radius > 3.0, "{id}: an arc of {radius} mm");
        }
        assert!(contour.check_simple().is_ok());
    }
    let sum: f64 = pieces.iter().map(|(_, v)| contour(v).area()).sum();
    assert!(sum < 2600.0 * 400.0 && sum > 2600.0 * 400.0 - 0.2 * 1000.0, "{sum}");
}

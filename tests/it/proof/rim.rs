//! A hole wide enough for a slug, whose middle was bored away: what stays at its wall hangs on nothing and is no tab.

use crate::cli::{own_files, Bench};
use baywright::proof::prove;

/// 14 mm: a cutter of 6 mm along its wall would leave 2 mm in the middle, but bores that away first.
const PLATE: &str = r#"
format = 1
title = "Plate"
units = "mm"

[boards.ply]
profile = "birch-ply-15"
readings = [14.9, 14.9, 14.9, 14.9]

[[panel]]
name = "plate"
size = [300, 200]
board = "ply"
holes = [{ at = [150, 100], diameter = 14 }]
"#;

const PROGRAM: &str = "gcode/ply-01-1-compression-6.nc";

#[test]
fn a_rim_left_in_a_bored_hole_is_no_tab() {
    let bench = Bench::with("plate.toml", PLATE);
    bench.run(&["make", "plate.toml", "--out", "pack"]).expect(0, &[]);
    let mut files = own_files(&bench.path().join("pack"));
    assert!(prove(&files).passed);
    let text = String::from_utf8(files[PROGRAM].clone()).expect("UTF-8");
    let hole = text.find("hole 1)").expect("the hole");
    // The last turn of the bore ends at the floor; all that widens it then runs 0.5 mm over the sheet's underside.
    let bottom = hole + text[hole..].find(" Z-0.3000").expect("the bottom of the bore");
    let end = bottom + text[bottom..].find('\n').expect("the line's end") + 1;
    let spoilt = format!("{}G1 Z0.5000\n{}", &text[..end], &text[end..]);
    files.insert(PROGRAM.to_owned(), spoilt.into_bytes());
    let verdict = prove(&files);
    assert!(!verdict.passed);
    let told: Vec<&str> = verdict.findings.iter().map(|f| f.message.as_str()).collect();
    assert!(told.iter().any(|m| m.contains("of wood stay in feature \"hole 1\"")), "{told:?}");
}

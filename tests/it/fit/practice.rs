//! The trade checklist's rows on measuring, fit and motion, and on joints and fasteners: what shows that each holds, or is found.
//! A name ending in `.toml` is a planted fault (which fails, and passes once cured); any other is a test of this tree.

use super::sample;
use baywright::fit::Verdict;
use baywright::parts::{Panel, Purpose};
use baywright::run::derive;
use baywright::units::Mm;
use std::fs;
use std::path::Path;

/// Row, and what shows it. Starred rows bind; the others are kept where they are built.
const ROWS: &[(&str, &[&str])] = &[
    ("IN1", &["no-unit.toml", "inch-file-read-as-mm.toml", "mm-file-read-as-inches.toml", "one-figure-in-inches.toml"]),
    ("IN2", &["a_reading_without_uncertainty_gets_the_tape_s_and_is_listed"]),
    ("IN3", &["tapering-trim.toml"]),
    ("IN4", &["no-air-in-the-opening.toml", "unit-larger-than-the-opening.toml"]),
    ("IN6", &["unit-in-an-arch.toml", "seat-slid-back.toml", "upper-front-meets-sloping-door.toml"]),
    ("IN7", &["tracing-distorted.toml", "a_tracing_that_a_tape_contradicts_is_a_stop_with_both_figures"]),
    ("IN8", &["wrong-diagonal.toml", "wrong-side.toml"]),
    ("IN9", &["nominal-thickness.toml", "few-thickness-readings.toml", "slipped-decimal-point.toml"]),
    ("IN10", &["slide-too-long.toml", "slide-taller-than-the-box.toml", "every_code_has_a_fault_and_a_twin"]),
    ("FM1", &["box-a-millimetre-wide.toml", "box-two-millimetres-narrow.toml"]),
    ("FM2", &["slides_with_a_narrow_window_want_a_squarer_box"]),
    ("FM3", &["gaps_thrown_by_dice_stay_where_the_ledger_says"]),
    ("FM4", &["striker-in-the-way.toml", "drawer-grazes-the-latch-pillar.toml", "lid-meets-the-roof.toml"]),
    ("FM5", &["front-meets-door.toml", "seat-slid-back.toml"]),
    ("FM6", &["arches-bar-the-way.toml", "unit-cannot-turn-inside.toml", "no-tool-gets-at-the-bolt.toml"]),
    ("FM7", &["nothing-locks-it.toml", "strike-that-misses.toml"]),
    ("FM8", &["table-pulled-off.toml", "table-that-rattles-and-slides-back.toml"]),
    ("FM9", &["drawer-too-heavy-for-its-slides.toml"]),
    ("FM10", &["missing-anchor.toml", "every_code_has_a_fault_and_a_twin"]),
    ("FM11", &["every_code_has_a_fault_and_a_twin"]),
    ("FM12", &["vehicle-overloaded.toml"]),
    ("FM13", &["two-units-in-one-place.toml", "units-rattle-on-each-other.toml"]),
    (
        "FM14",
        &[
            "the_last_panel_that_cannot_go_in_is_named_with_what_holds_it",
            "a_screw_is_driven_before_what_would_stand_behind_it",
        ],
    ),
    ("FM15", &["table-that-rattles-and-slides-back.toml", "units-rattle-on-each-other.toml"]),
    ("FM16", &["spare-wheel-behind-six-bolts.toml", "cooler-without-air.toml"]),
    ("PJ9", &["finger_corners_have_no_hole", "a_finger_is_narrower_than_its_notch_by_the_play"]),
    ("PJ2", &["dadoes_back_to_back_leave_a_third_of_a_thin_upright"]),
    ("PJ10", &["screw-pokes-through.toml", "slide-screws-in-thin-sides.toml"]),
    ("PJ11", &["slide_holes_are_the_profiles_and_no_others"]),
    ("PJ12", &["bolt-head-under-the-box.toml", "nuts-over-the-box.toml", "every_code_has_a_fault_and_a_twin"]),
    ("PJ13", &["anchor-off-the-base.toml", "anchor-under-the-upright.toml"]),
    ("PJ15", &["left_and_right_carry_different_ids_and_are_mirror_images", "no_cut_part_stands_for_a_left_and_a_right"]),
];

fn tests_of(folder: &Path, found: &mut String) {
    for entry in fs::read_dir(folder).expect("the folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            tests_of(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push_str(&fs::read_to_string(path).expect("text"));
        }
    }
}

#[test]
fn every_row_has_a_case_that_is_there() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    let mut tests = String::new();
    tests_of(&root.join("it"), &mut tests);
    let mut missing = Vec::new();
    for (row, shown) in ROWS {
        assert!(!shown.is_empty(), "{row}");
        for name in *shown {
            let there = if Path::new(name).extension().is_some_and(|e| e == "toml") {
                root.join("planted").join(name).is_file()
            } else {
                tests.contains(&format!("fn {name}("))
            };
            if !there {
                missing.push(format!("{row}: {name}"));
            }
        }
    }
    assert!(missing.is_empty(), "{}", missing.join("\n"));
}

/// A slide whose window is narrower than what two opening ends and two box ends may differ by is doubtful; the usual one is not.
#[test]
fn slides_with_a_narrow_window_want_a_squarer_box() {
    let verdict = |least: f64, most: f64| {
        let folder = tempfile::tempdir().expect("a folder");
        let profiles = folder.path().join("profiles");
        fs::create_dir(&profiles).expect("a folder");
        let slide = format!(
            "[[slide]]\nid = \"own-450\"\nname = \"own slide\"\nlength = 450\nheight = 45\nthickness = 12.7\nside_space = 13.05\n\
             side_space_min = {least}\nside_space_max = {most}\ntravel = 450\nload_kg = 40\ncase_holes = [[37, 0], [69, 1], [325, 0], \
             [357, 1]]\ndrawer_holes = [[37, 0], [69, 1], [325, 0], [357, 1]]\nscrew = \"pan-screw-4.0\"\nhead_room = 3.4\n\
             [slide.basis]\nrest = \"measured\"\n"
        );
        fs::write(profiles.join("own.toml"), slide).expect("written");
        let path = folder.path().join("project.toml");
        let text = fs::read_to_string(sample("first-drawer")).expect("the sample").replace("side-mount-450", "own-450");
        fs::write(&path, text).expect("written");
        let derived = derive(&path, None).expect("read");
        let ledger = derived.ledger.unwrap_or_else(|| panic!("{:?}", derived.findings));
        assert!(derived.findings.iter().all(|f| f.code.id != "slide-screw-head"), "its room is known and enough");
        let line = ledger.lines.iter().find(|l| l.gap.ends_with("side space at the back against the front"));
        line.expect("a line of its own").verdict
    };
    assert_eq!(verdict(12.9, 13.2), Verdict::Fits);
    assert_eq!(verdict(12.95, 13.15), Verdict::Tight);
    assert_eq!(verdict(13.0, 13.1), Verdict::Doubtful);
}

/// Every hole for a slide's screw stands where the slide's record has one, from the inner face of the front.
#[test]
fn slide_holes_are_the_profiles_and_no_others() {
    let mut seen = 0;
    for name in ["survey-van", "field-estate", "first-drawer"] {
        let derived = derive(&sample(name), None).expect("read");
        let (design, model) = (derived.design.expect("a design"), derived.model.expect("a model"));
        for cell in design.carcasses.iter().flat_map(|c| &c.columns).flat_map(|c| &c.cells) {
            let Some(drawer) = &cell.drawer else { continue };
            let unit = format!("{} drawer", cell.name.replace('.', " "));
            let side = model.panels.iter().find(|p| p.name == format!("{unit} left side")).and_then(Panel::solid);
            let front = side.expect("a side").min.y;
            for panel in &model.panels {
                let Some(frame) = &panel.frame else { continue };
                let mine = |id: &str| id.starts_with(&format!("{unit} "));
                for hole in panel.features.iter().filter(|f| f.purpose == Purpose::Slide && mine(&f.id)) {
                    let [u, v] = hole.centre();
                    let from_front = frame.to_bay(u, v, Mm::ZERO).y - front;
                    let slide = &drawer.slide;
                    let known = slide.case_holes.iter().chain(&slide.drawer_holes);
                    assert!(
                        known.map(|h| h.from_front.0).any(|at| (at - from_front).abs() < 1e-6),
                        "{name}: {} of {} at {from_front}",
                        hole.id,
                        panel.name
                    );
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 50, "{seen} holes seen");
}

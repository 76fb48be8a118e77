//! Small parts inside the openings of others: laid there, cut out in time, held, proved; with every way of cutting.

use crate::cli::Bench;
use crate::pack::held_against;
use crate::second_opinion;
use baywright::design::{self, Design};
use baywright::diag::{Finding, Texts};
use baywright::fit;
use baywright::flat::{self, FlatParts, Operation, Side};
use baywright::geom::{Contour, Vec2, Vertex};
use baywright::nest::{self, Effort, Layout, Options, Turn};
use baywright::parts;
use baywright::project;
use baywright::proof::{self, Verdict};
use baywright::shop;
use baywright::toolpath::{self, BeamSheet, Block, Program, Work};
use baywright::units::Mm;
use baywright::write::{self, Files, Job};
use proptest::prelude::*;
use serde_json::Value;
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

/// What a project became.
struct Made {
    parts: FlatParts,
    layout: Layout,
    programs: Vec<Program>,
    beams: Vec<BeamSheet>,
    files: Files,
    /// Codes of what was found.
    codes: Vec<&'static str>,
}

/// All stages but the disk, with a hand laid on the design, the parts and the layout.
fn make(
    project: &str,
    on_design: impl FnOnce(&mut Design),
    on_parts: impl FnOnce(&mut FlatParts),
    on_layout: impl FnOnce(&mut Layout),
) -> Made {
    let mut findings: Vec<Finding> = Vec::new();
    let found = &mut findings;
    let mut texts = Texts::default();
    let file = texts.add("project.toml", project);
    let shop = shop::load(&texts, &[]).into(found).expect("profiles");
    let written = project::read(&texts, &[file]).into(found).unwrap_or_else(|| panic!("{found:?}"));
    let mut design = design::settle(&written, &shop, &texts).into(found).unwrap_or_else(|| panic!("{found:?}"));
    if matches!(design.process.machine.process, shop::Process::Router(_)) {
        // What the sizes in these projects are written for.
        (design.process.part_gap, design.process.sheet_margin) = (Mm(10.0), Mm(5.0));
    }
    on_design(&mut design);
    let model = parts::build(&design).into(found).expect("panels");
    let ledger = fit::check(&design, &model).into(found).expect("gaps");
    let mut parts = flat::flatten(&design, &model).into(found).expect("parts");
    on_parts(&mut parts);
    let mut layout = nest::lay_out(&design, &parts, &Options { effort: Effort::Draft, ..Options::default() })
        .into(found)
        .expect("a layout");
    on_layout(&mut layout);
    let programs = toolpath::plan(&design, &parts, &layout).into(found).unwrap_or_else(|| panic!("{found:?}"));
    let beams = toolpath::beams(&design, &parts, &layout).into(found).unwrap_or_else(|| panic!("{found:?}"));
    let files = write::pack(&Job {
        design: &design,
        model: &model,
        ledger: &ledger,
        parts: &parts,
        layout: &layout,
        programs: &programs,
        beams: &beams,
        findings: found,
        texts: &texts,
    });
    let codes = found.iter().map(|f| f.code.id).collect();
    Made { parts, layout, programs, beams, files, codes }
}

fn plainly(project: &str) -> Made {
    make(project, |_| (), |_| (), |_| ())
}

fn case() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/cleats-in-a-frame")
}

fn cleats() -> String {
    fs::read_to_string(case().join("project.toml")).expect("read")
}

/// The project with more under `[shop]`.
fn with_shop(project: &str, more: &str) -> String {
    project.replacen("[boards.front]", &format!("[shop]\n{more}\n\n[boards.front]"), 1)
}

fn passes(files: &Files) {
    let verdict = proof::prove(files);
    assert!(verdict.passed, "{}", verdict.to_text());
}

/// What the proof finds, by code.
fn found(files: &Files) -> (Verdict, Vec<&'static str>) {
    let verdict = proof::prove(files);
    let codes = verdict.findings.iter().map(|f| f.code.id).collect();
    (verdict, codes)
}

/// How many parts lie in openings, over all sheets.
fn inner(made: &Made) -> usize {
    made.layout.sheets.iter().map(|s| nest::inside(s, &made.parts.parts).iter().flatten().count()).sum()
}

/// Every block of a sheet in the order of running.
fn blocks(made: &Made) -> Vec<&Block> {
    made.programs.iter().filter(|p| p.sheet == 0).flat_map(|p| &p.blocks).collect()
}

/// Where in the order a block is, by its label.
fn place(made: &Made, label: &str) -> usize {
    let labels: Vec<&str> = blocks(made).iter().map(|b| b.label.as_str()).collect();
    labels.iter().position(|l| *l == label).unwrap_or_else(|| panic!("no {label} in {labels:?}"))
}

/// The program's order was read by a person, line by line: holes, the cleats' outlines, the opening, the frame's outline.
#[test]
fn cleats_in_a_frame_save_a_sheet() {
    let made = plainly(&cleats());
    assert_eq!((made.layout.sheets.len(), inner(&made)), (1, 3));
    passes(&made.files);
    let off = plainly(&with_shop(&cleats(), "parts_in_openings = false"));
    assert_eq!((off.layout.sheets.len(), inner(&off)), (2, 0));
    passes(&off.files);
    let mut order = String::from("file, restart: what, work, tabs\n");
    for program in &made.programs {
        for b in &program.blocks {
            let restart = b.restart.map_or_else(|| "-".into(), |n| n.to_string());
            let (work, tabs) = (b.work.words(), b.tabs.map_or(0, |t| t.count));
            let _ = writeln!(order, "{} {}, {restart}: {}, {work}, {}", program.order, program.cutter.id, b.label, tabs);
        }
    }
    let text = String::from_utf8(made.files["gcode/front-01-2-compression-6.nc"].clone()).expect("text");
    let text: String = text.lines().filter(|l| !l.starts_with("(revision")).fold(String::new(), |all, l| all + l + "\n");
    let mut wrong = Vec::new();
    held_against(&case().join("order.txt"), &order, &mut wrong);
    held_against(&case().join("front-01-2-compression-6.txt"), &text, &mut wrong);
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let job: Value = serde_json::from_slice(&made.files["job.json"]).expect("JSON");
    let inside: Vec<&Value> =
        job["sheets"][0]["placements"].as_array().expect("a list").iter().map(|p| &p["inside"]).collect();
    let opening = serde_json::json!({ "part": "FF-1-001", "copy": 1, "feature": "cut-out 1" });
    assert_eq!(inside, [&opening, &opening, &opening, &Value::Null]);
}

/// One that fits without stays out of the opening, and an offcut that is worth it is made larger.
#[test]
fn a_larger_offcut_is_worth_it() {
    let large = cleats().replace("length = 800, width = 620", "length = 1240, width = 620");
    let made = plainly(&large);
    let off = plainly(&with_shop(&large, "parts_in_openings = false"));
    let offcut = |made: &Made| made.layout.sheets[0].offcut.map_or(0.0, |o| o.area());
    assert_eq!((made.layout.sheets.len(), off.layout.sheets.len(), inner(&made)), (1, 1, 3));
    assert!(offcut(&made) > offcut(&off) + 300.0 * 300.0, "{} {}", offcut(&made), offcut(&off));
    let list = |made: &Made| String::from_utf8(made.files["offcuts.csv"].clone()).expect("text");
    assert!(list(&made) != list(&off) && list(&made).lines().count() == 2, "{}", list(&made));
    passes(&made.files);
}

/// The opening first, then the cleats that lie on the piece that fell out: the drawings are the same, the order is not.
#[test]
fn an_opening_cut_before_its_parts_is_caught() {
    let made = plainly(&cleats());
    let name = "gcode/front-01-2-compression-6.nc";
    let text = String::from_utf8(made.files[name].clone()).expect("text");
    let lines: Vec<&str> = text.lines().collect();
    let at = |what: &str| lines.iter().position(|l| l.ends_with(&format!("{what})"))).expect("a label");
    let (cleat, last, opening, frame) =
        (at("CL-1-001 1 outline"), at("CL-1-001 3 outline"), at("FF-1-001 1 cut-out 1"), at("FF-1-001 1 outline"));
    assert!(cleat < last && last < opening && opening < frame);
    let moved = |to: usize| {
        let order = [&lines[..to], &lines[opening..frame], &lines[to..opening], &lines[frame..]].concat();
        let mut files = made.files.clone();
        files.insert(name.into(), (order.join("\n") + "\n").into_bytes());
        // Restart points are named where they now are.
        let mut job: Value = serde_json::from_slice(&files["job.json"]).expect("JSON");
        for program in job["programs"].as_array_mut().expect("a list").iter_mut().filter(|p| p["file"] == name) {
            for restart in program["restarts"].as_array_mut().expect("a list") {
                let label = format!("(restart {}: {})", restart["number"], restart["label"].as_str().expect("words"));
                restart["line"] = (order.iter().position(|l| *l == label).expect("the label") + 1).into();
            }
        }
        files.insert("job.json".into(), serde_json::to_vec(&job).expect("JSON"));
        found(&files)
    };
    for to in [cleat, last] {
        let (verdict, codes) = moved(to);
        assert!(codes.contains(&"proof-order-wrong"), "{}", verdict.to_text());
        assert!(
            verdict.to_text().contains("after \"cut-out 1\" of \"FF-1-001\" copy 1, in which it lies"),
            "{}",
            verdict.to_text()
        );
    }
    // Back where it was nothing is found.
    let (verdict, codes) = moved(opening);
    assert!(verdict.passed && codes.is_empty(), "{}", verdict.to_text());
}

/// Laid over the ring, on nothing but dust, or said to lie elsewhere than it does.
#[test]
fn a_part_over_the_ring_is_caught_and_so_is_one_that_nothing_holds() {
    let by = |x: f64| {
        make(
            &cleats(),
            |_| (),
            |_| (),
            |layout| {
                layout.sheets[0].placements.iter_mut().find(|p| p.copy == 2).expect("a cleat").at.x += x;
            },
        )
    };
    passes(&by(1.0).files);
    let (verdict, codes) = found(&by(-40.0).files);
    assert!(codes.contains(&"proof-part-gouged"), "{}", verdict.to_text());
    // Where the opening leaves the gap alone the two cuts meet: the cleat lies loose in a ring of dust.
    let tight = cleats()
        .replace("at = [90, 90], size = [580, 380], radius = 20", "at = [170, 240], size = [420, 80], radius = 5")
        .replace("quantity = 3", "quantity = 1");
    let loose = make(
        &tight,
        |d| d.process.parts_in_openings = false,
        |_| (),
        |layout| {
            let frame = layout.sheets.iter().flat_map(|s| s.placements.clone()).find(|p| p.part == 1).expect("the frame");
            layout.sheets.truncate(1);
            let at = frame.at + Vec2::new(180.0, 250.0);
            layout.sheets[0].placements = vec![nest::Placement { part: 0, copy: 1, turn: Turn::None, at }, frame];
        },
    );
    let (verdict, codes) = found(&loose.files);
    assert!(codes.contains(&"proof-part-loose"), "{}", verdict.to_text());
    assert!(verdict.to_text().contains("nothing joins it"), "{}", verdict.to_text());
    // The job's own word is held against the contours.
    for (key, value) in [("inside", Value::Null), ("copy", 2.into()), ("feature", "outline".into())] {
        let mut files = by(0.0).files;
        let mut job: Value = serde_json::from_slice(&files["job.json"]).expect("JSON");
        let first = &mut job["sheets"][0]["placements"][0];
        if key == "inside" {
            first["inside"] = value;
        } else {
            first["inside"][key] = value;
        }
        files.insert("job.json".into(), serde_json::to_vec(&job).expect("JSON"));
        let (verdict, codes) = found(&files);
        assert_eq!(codes, ["proof-copies-wrong"], "{key}\n{}", verdict.to_text());
    }
}

/// Both faces: what is blind on the first face comes first, then the sheet is turned over and everything that goes through is
/// cut, the parts in the opening before it. Nothing is loose while the sheet is turned.
#[test]
fn a_sheet_with_work_on_both_faces_is_turned_before_anything_is_cut_out() {
    let project = cleats()
        .replace(
            "[[panel]]\nname = \"cleat\"",
            "slots = [{ from = [40, 60], to = [300, 60], width = 10, depth = 5 }, \
            { from = [40, 520], to = [300, 520], width = 10, depth = 5 }]\n\n[[panel]]\nname = \"cleat\"\n\
            slots = [{ from = [100, 30], to = [200, 30], width = 8, depth = 4 }]",
        )
        .replace("length = 800", "length = 830");
    let turned = |parts: &mut FlatParts| {
        let frame = parts.parts.iter_mut().find(|p| p.id.starts_with("FF")).expect("the frame");
        let slots = frame.cuts.iter_mut().filter(|c| matches!(c.operation, Operation::Pocket { .. }));
        slots.take(1).for_each(|c| c.side = Side::Down);
    };
    let made = make(&project, |_| (), turned, |_| ());
    assert_eq!((made.layout.sheets.len(), inner(&made)), (1, 3));
    let set_ups: Vec<u32> = made.programs.iter().map(|p| p.set_up.number).collect();
    assert!(set_ups.contains(&1) && set_ups.contains(&2), "{set_ups:?}");
    for program in made.programs.iter().filter(|p| p.set_up.number == 1) {
        let early = program.blocks.iter().filter(|b| b.placement.is_some());
        assert!(early.into_iter().all(|b| b.work == Work::Pockets), "{:?}", program.blocks);
    }
    let opening = place(&made, "FF-1-001 1 cut-out 3");
    for copy in 1..=3 {
        assert!(place(&made, &format!("CL-1-001 {copy} outline")) < opening);
    }
    assert!(opening < place(&made, "FF-1-001 1 outline"));
    passes(&made.files);
}

/// A notch that only the thin cutter gets into, in the cleat or in the opening: the cutters are changed as often as the order
/// asks for, and no more.
#[test]
fn two_outline_cutters_keep_the_order() {
    let cutters = |made: &Made| -> Vec<String> { made.programs.iter().map(|p| p.cutter.id.clone()).collect() };
    let notched = |parts: &mut FlatParts| {
        let cleat = parts.parts.iter_mut().find(|p| p.id.starts_with("CL")).expect("the cleat");
        let corners = [
            (0.0, 0.0),
            (400.0, 0.0),
            (400.0, 60.0),
            (202.5, 60.0),
            (202.5, 40.0),
            (197.5, 40.0),
            (197.5, 60.0),
            (0.0, 60.0),
        ];
        // The notch is rounded at its end as the thin cutter leaves it.
        let bulge = |k: usize| if k == 4 { 1.0 } else { 0.0 };
        let vertices: Vec<Vertex> =
            corners.iter().enumerate().map(|(k, (x, y))| Vertex { x: *x, y: *y, bulge: bulge(k) }).collect();
        cleat.outline.contour = Contour::new(&vertices).expect("a contour");
    };
    // The thin cutter has the cleats' outlines, the other one the rest.
    let made = make(&cleats(), |_| (), notched, |_| ());
    assert_eq!(inner(&made), 3);
    assert_eq!(cutters(&made), ["drill-5", "up-cut-3", "compression-6"]);
    passes(&made.files);
    // The thin cutter has the opening, between the cleats' outlines and the frame's.
    let narrow = |parts: &mut FlatParts| {
        let frame = parts.parts.iter_mut().find(|p| p.id.starts_with("FF")).expect("the frame");
        let opening = frame.cuts.iter_mut().find(|c| c.operation == Operation::ThroughInside).expect("the opening");
        let (b, r, quarter) = (opening.contour.bounds(), 2.5, std::f64::consts::FRAC_PI_8.tan());
        let corners = [
            [(b.x0 + r, b.y0), (b.x1 - r, b.y0)],
            [(b.x1, b.y0 + r), (b.x1, b.y1 - r)],
            [(b.x1 - r, b.y1), (b.x0 + r, b.y1)],
            [(b.x0, b.y1 - r), (b.x0, b.y0 + r)],
        ];
        let side = |[from, to]: [(f64, f64); 2]| {
            [Vertex { x: from.0, y: from.1, bulge: 0.0 }, Vertex { x: to.0, y: to.1, bulge: quarter }]
        };
        let vertices: Vec<Vertex> = corners.into_iter().flat_map(side).collect();
        opening.contour = Contour::new(&vertices).expect("a contour").cw();
    };
    let made = make(&cleats(), |_| (), narrow, |_| ());
    assert_eq!(
        (inner(&made), cutters(&made)),
        (3, ["drill-5", "compression-6", "up-cut-3", "compression-6"].map(str::to_owned).to_vec())
    );
    let (opening, frame) = (place(&made, "FF-1-001 1 cut-out 1"), place(&made, "FF-1-001 1 outline"));
    assert!((1..=3).all(|copy| place(&made, &format!("CL-1-001 {copy} outline")) < opening) && opening < frame);
    passes(&made.files);
}

/// A skin and hold-down screws: no ring is needed under a skin, and no screw stands in a part or in the cutter's way.
#[test]
fn a_skin_and_screws_hold_parts_in_openings_too() {
    // 400 + 2 x 10 mm and what the round corners take: the gap alone is kept.
    let close = cleats()
        .replace("at = [90, 90], size = [580, 380]", "at = [90, 90], size = [424, 380]")
        .replace("radius = 20", "radius = 4");
    let skin = |design: &mut Design| {
        on_router(design, |r| r.hold_down = shop::HoldDown::Skin { thickness: baywright::units::Mm(0.4) });
    };
    let made_with = make(&close, skin, |_| (), |_| ());
    assert_eq!((made_with.layout.sheets.len(), inner(&made_with)), (1, 3));
    passes(&made_with.files);
    let screws = |design: &mut Design| {
        let mm = baywright::units::Mm;
        let screws = shop::HoldDownScrews { hole: mm(3.0), head: mm(8.0), head_height: mm(3.0), spacing: mm(300.0) };
        on_router(design, |r| r.habits.screws = Some(screws));
    };
    let made_with =
        make(&cleats().replace("length = 800, width = 620", "length = 850, width = 630"), screws, |_| (), |_| ());
    assert_eq!(inner(&made_with), 3);
    assert!(!made_with.programs[0].set_up.screws.is_empty());
    passes(&made_with.files);
}

fn on_router(design: &mut Design, change: impl FnOnce(&mut shop::Router)) {
    let mut machine = (*design.process.machine).clone();
    let shop::Process::Router(router) = &mut machine.process else { panic!("a router") };
    change(router);
    design.process.machine = std::sync::Arc::new(machine);
}

/// A frame in the opening of a frame, and a cleat in that: inmost first, each hanging on the next.
#[test]
fn openings_in_openings_are_cut_from_the_inside_out() {
    let project = cleats().replace("quantity = 3", "quantity = 1").replace("size = [400, 60]", "size = [380, 60]")
        + "\n[[panel]]\nname = \"inner frame\"\nsize = [500, 300]\nboard = \"front\"\n\
           cut_outs = [{ at = [30, 30], size = [440, 240], radius = 10 }]\n";
    let made = plainly(&project);
    assert_eq!((made.layout.sheets.len(), inner(&made)), (1, 2));
    let order =
        ["CL-1-001 1 outline", "IF-1-001 1 cut-out 1", "IF-1-001 1 outline", "FF-1-001 1 cut-out 1", "FF-1-001 1 outline"];
    let places: Vec<usize> = order.iter().map(|label| place(&made, label)).collect();
    assert!(places.windows(2).all(|w| w[0] < w[1]), "{places:?}");
    passes(&made.files);
}

/// Mates stay beside each other when they lie in an opening, and grain is kept there.
#[test]
fn mates_and_grain_hold_in_openings() {
    let mates = cleats()
        .replace("quantity = 3", "quantity = 1")
        .replace("name = \"cleat\"", "name = \"left cleat\"")
        .replace("[400, 60]", "[250, 60]")
        .replace("diameter = 5 }, { at = [370, 30], diameter = 5 }]", "diameter = 5 }]")
        + "\n[[panel]]\nname = \"right cleat\"\nsize = [240, 60]\nboard = \"front\"\n\
           [[together]]\nparts = [\"left cleat\", \"right cleat\"]\n";
    let made = plainly(&mates);
    assert_eq!((made.layout.sheets.len(), inner(&made)), (1, 2));
    let of = |id: &str| {
        made.layout.sheets[0].placements.iter().find(|p| made.parts.parts[p.part].id.starts_with(id)).expect("it lies")
    };
    let (left, right) = (of("LC"), of("RC"));
    assert!((right.at.x - left.at.x - 260.0).abs() < 0.011 && (right.at.y - left.at.y).abs() < 0.011, "{left:?} {right:?}");
    passes(&made.files);
    // Longer than the opening is high: across the grain it does not go in, though it would fit.
    let across = cleats().replace("quantity = 3", "quantity = 3\ngrain = \"width\"");
    assert_eq!(inner(&plainly(&across)), 0);
    let tall = across.replace("size = [400, 60]", "size = [330, 60]").replace("[370, 30]", "[300, 30]");
    let made = plainly(&tall);
    assert_eq!(inner(&made), 3);
    assert!(made.layout.sheets[0]
        .placements
        .iter()
        .filter(|p| p.part == 0)
        .all(|p| matches!(p.turn, Turn::Quarter | Turn::ThreeQuarter)));
    passes(&made.files);
}

/// On a laser the gap is enough, and the beam goes round the inner parts first.
#[test]
fn a_laser_burns_the_inner_parts_first() {
    let card = cleats()
        .replace(
            "[boards.front]\nprofile = \"birch-ply-12\"\nreadings = [11.9, 11.9, 11.9, 11.9]",
            "[shop]\nmachine = \"laser-bench\"\n[boards.front]\nprofile = \"laser-ply-3\"\nreadings = [3, 3, 3, 3]",
        )
        .replace("quantity = 3", "quantity = 5");
    let made = plainly(&card.replace("length = 800, width = 620", "length = 800, width = 580"));
    assert_eq!((made.layout.sheets.len(), inner(&made)), (1, 5));
    let order: Vec<usize> = made.beams[0].parts.iter().map(|p| made.layout.sheets[0].placements[p.placement].part).collect();
    assert_eq!(order, [0, 0, 0, 0, 0, 1]);
    passes(&made.files);
    let off = plainly(
        &card
            .replace("length = 800, width = 620", "length = 800, width = 580")
            .replace("[shop]", "[shop]\nparts_in_openings = false"),
    );
    assert_eq!((off.layout.sheets.len(), inner(&off)), (2, 0));
}

/// As a maker runs it: told on the screen and in the book, the same for parts made again, never on a saw, and in card as well.
#[test]
fn a_maker_is_told_and_may_make_them_again() {
    let bench = Bench::with("rack.toml", &cleats());
    let told = "3 parts in openings of others, cut out before them";
    bench.run(&["make", "rack.toml", "--out", "pack"]).expect(0, &["1 sheet of 800 x 620 mm", told, "proved: "]);
    let page = fs::read_to_string(bench.path().join("pack/book.html")).expect("read");
    for words in
        ["In openings of other parts: No. 1, 2, 3, cut out before the opening is.", "in `cut-out 1` of FF-1-001, copy 1"]
    {
        assert!(page.contains(words), "no {words}");
    }
    let job = fs::read(bench.path().join("pack/job.json")).expect("read");
    second_opinion::shapes_and_layout(&serde_json::from_slice(&job).expect("JSON"));
    let again = ["make", "rack.toml", "--only", "cleat 1", "--only", "frame front", "--from", "790x590", "--out", "again"];
    bench.run(&again).expect(0, &["2 in all", "1 sheet of 790 x 590 mm", "1 part in openings of others", "proved: "]);
    let alone = ["make", "rack.toml", "--only", "frame front", "--from", "790x590", "--out", "alone"];
    assert!(!bench.run(&alone).expect(0, &["1 in all"]).out.contains("in openings"));
    let saw = bench.run(&["make", "rack.toml", "--process", "saw", "--out", "saw"]).expect(0, &["2 sheets of 800 x 620 mm"]);
    assert!(!saw.out.contains("in openings"), "{}", saw.out);
    let card = ["mockup", "rack.toml", "--board", "card-single-c", "--thickness", "3.8,3.9", "--out", "card"];
    bench.run(&card).expect(0, &["1 sheet", told, "proved: "]);
    bench.run(&["prove", "card"]).expect(0, &["PASSED"]);
}

/// Nine tiles in an opening: the one in the middle has nothing but dust round it, so they are laid outside, and that is said.
#[test]
fn a_part_that_nothing_would_hold_is_laid_elsewhere() {
    let tiles = "format = 1\ntitle = \"Tiles\"\nunits = \"mm\"\n[shop]\npart_gap = 10\nsheet_margin = 5\n[boards.front]\nprofile = \"birch-ply-12\"\n\
        readings = [11.9, 11.9, 11.9, 11.9]\nstock = [{ length = 360, width = 360 }]\n\
        [[panel]]\nname = \"frame\"\nsize = [350, 350]\nboard = \"front\"\n\
        cut_outs = [{ at = [52, 52], size = [246, 246], radius = 4 }]\n\
        [[panel]]\nname = \"tile\"\nsize = [60, 60]\nboard = \"front\"\nquantity = 9\n";
    let made = plainly(tiles);
    assert_eq!((made.layout.sheets.len(), inner(&made)), (1, 9));
    assert!(made.codes.contains(&"inner-part-not-held"), "{:?}", made.codes);
    let bench = Bench::with("tiles.toml", tiles);
    let words =
        ["2 sheets of 360 x 360 mm", "note[inner-part-not-held]", "no part lies in an opening of another", "proved: "];
    bench.run(&["make", "tiles.toml", "--out", "pack"]).expect(0, &words);
    // Four hang on the ring at a corner each.
    let made = plainly(&tiles.replace("quantity = 9", "quantity = 4"));
    assert_eq!((made.layout.sheets.len(), inner(&made)), (1, 4));
    assert!(!made.codes.contains(&"inner-part-not-held"), "{:?}", made.codes);
    passes(&made.files);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 5, ..ProptestConfig::default() })]

    /// Whatever lies in whatever opening, on routers that zero and cut differently: one part that surely fits is laid inside (with
    /// more of them only where that saves a sheet), and the pack passes its proof.
    #[test]
    fn random_parts_in_random_openings_are_proved(
        (w, h) in (160_u32..700, 110_u32..380),
        radius in prop::sample::select(vec![4_u32, 12, 45]),
        first in (0.3_f64..1.0, 0.3_f64..1.0),
        more in prop::collection::vec((40_u32..300, 30_u32..120, 1_u32..4), 0..4),
        inch in any::<bool>(),
    ) {
        let machine = if inch { "router-inch" } else { "router-metric" };
        // 22.7 mm are kept with the cutter of a quarter inch; the corners' arcs take some of it.
        let room = |side: u32, share: f64| 30.0 + (f64::from(side) - 2.0 * 23.0 - 2.0 * f64::from(radius) - 30.0).max(0.0) * share;
        let mut project = format!(
            "format = 1\ntitle = \"Random\"\nunits = \"mm\"\n[shop]\nmachine = \"{machine}\"\n[boards.ply]\n\
             profile = \"birch-ply-12\"\nreadings = [11.9, 11.9, 12.0, 11.9]\n\
             stock = [{{ length = {}, width = {} }}]\n\
             [[panel]]\nname = \"frame\"\nsize = [{}, {}]\nboard = \"ply\"\n\
             cut_outs = [{{ at = [40, 40], size = [{w}, {h}], radius = {radius} }}]\n\
             [[panel]]\nname = \"first\"\nsize = [{:.1}, {:.1}]\nboard = \"ply\"\n",
            w + 96, h + 96, w + 80, h + 80, room(w, first.0), room(h, first.1),
        );
        for (k, (w, h, n)) in more.iter().enumerate() {
            let (w, h) = (w.min(&150), h.min(&100));
            let _ = writeln!(project, "[[panel]]\nname = \"more {k}\"\nsize = [{w}, {h}]\nboard = \"ply\"\nquantity = {n}");
        }
        let made = plainly(&project);
        // What cannot hang there is laid without openings by the command.
        prop_assume!(!made.codes.contains(&"inner-part-not-held"));
        prop_assert!(inner(&made) >= 1 || !more.is_empty(), "{project}");
        let verdict = proof::prove(&made.files);
        prop_assert!(verdict.passed, "{project}\n{}", verdict.to_text());
    }
}

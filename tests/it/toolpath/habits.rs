//! What a shop does beyond the plain cut: a last thin pass, an air trace, restart points, screws, the coupon.

use super::bench::{block, cutter, down, hole, opening, part, pocket, rect, router, steps, usual_cutters, Job};
use baywright::design::{coupon, BoardId};
use baywright::flat::FlatPart;
use baywright::geom::{Contour, Point, Point3, Vertex};
use baywright::nest::{Effort, Options, Turn};
use baywright::shop::{CutterKind, HoldDownScrews, Material, Router};
use baywright::toolpath::{Block, Move, Program, SheetSide, Work};
use baywright::units::{decimal, Mm};
use baywright::write::{gcode, Job as Pack};
use baywright::{flat, nest, parts, proof, run, toolpath, write};
use std::path::Path;

fn board() -> FlatPart {
    part("board", rect(0.0, 0.0, 500.0, 300.0), vec![opening(rect(60.0, 60.0, 200.0, 120.0), "window")])
}

fn with(change: impl FnOnce(&mut Router), parts: Vec<(FlatPart, Turn, [f64; 2])>) -> Job {
    let mut r = router();
    change(&mut r);
    Job::new(r, usual_cutters(), parts)
}

/// Places of a block's cutting moves, height with each, split where it goes up to clearance and over.
fn runs(p: &Program, b: &Block) -> Vec<Vec<Point3>> {
    let mut all = vec![Vec::new()];
    for (from, to, m) in steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b) {
        match m {
            Move::Rapid { .. } => all.push(Vec::new()),
            _ => all.last_mut().unwrap().extend([from, to]),
        }
    }
    all.retain(|run| !run.is_empty());
    all
}

/// Twice the area that a run goes round at its floor, positive counter-clockwise.
fn turning(run: &[Point3]) -> f64 {
    run.windows(2).map(|w| w[0].x * w[1].y - w[1].x * w[0].y).sum()
}

#[test]
fn an_edge_is_left_thick_one_way_and_finished_the_other() {
    let job = with(
        |r| {
            r.habits.edge_pass = Some(Mm(0.3));
            r.habits.rough_other_way = true;
        },
        vec![(board(), Turn::None, [40.0, 40.0])],
    );
    let programs = job.sound();
    for (feature, contour) in [("outline", rect(0.0, 0.0, 500.0, 300.0)), ("window", rect(60.0, 60.0, 200.0, 120.0))] {
        let (p, b) = block(&programs, feature);
        let edge = job.laid(0, &contour, SheetSide::First);
        let radius = p.cutter.diameter.0 / 2.0;
        let [rough, finish] = &runs(p, b)[..] else { panic!("{feature} has two runs") };
        let nearest =
            |run: &[Point3]| run.iter().map(|q| edge.distance_to(Point::new(q.x, q.y))).fold(f64::INFINITY, f64::min);
        assert!((nearest(rough) - radius - 0.3).abs() < 1e-6, "{feature}: {}", nearest(rough));
        assert!((nearest(finish) - radius).abs() < 1e-6, "{feature}: {}", nearest(finish));
        assert!(turning(rough) * turning(finish) < 0.0, "{feature} turns both ways");
        // Climb cutting has the wood on the right: clockwise round an outline.
        assert_eq!(turning(finish) < 0.0, feature == "outline");
        // Both leave the same tabs: wherever one runs over a tab's top, the other is up there beside it.
        let top = 4.0;
        let tabs = |run: &[Point3]| -> Vec<Point> {
            run.iter().filter(|q| (q.z - top).abs() < 1e-9).map(|q| Point::new(q.x, q.y)).collect()
        };
        assert!(tabs(finish).len() >= 6, "{feature} has three tabs");
        for t in tabs(finish) {
            assert!(tabs(rough).iter().any(|q| (*q - t).hypot() < 1.0), "{feature}: no tab beside {t:?}");
        }
    }
}

#[test]
fn an_edge_the_cutter_only_just_follows_has_no_last_pass_and_says_so() {
    // A slot of the cutter's own width in the edge.
    let v = |x, y| Vertex { x, y, bulge: 0.0 };
    let outline = Contour::new(&[
        v(0.0, 0.0),
        v(400.0, 0.0),
        v(400.0, 200.0),
        v(206.35, 200.0),
        v(206.35, 150.0),
        v(200.0, 150.0),
        v(200.0, 200.0),
        v(0.0, 200.0),
    ])
    .unwrap();
    let job =
        with(|r| r.habits.edge_pass = Some(Mm(0.3)), vec![(part("slotted", outline, Vec::new()), Turn::None, [40.0, 40.0])]);
    let checked = job.plan();
    let ids: Vec<&str> = checked.findings.iter().map(|f| f.code.id).collect();
    assert!(ids.contains(&"no-last-thin-pass"), "{ids:?}");
    let programs = job.sound();
    let (p, b) = block(&programs, "outline");
    assert_eq!(runs(p, b).len(), 1);
}

#[test]
fn the_air_trace_goes_round_everything_before_the_spindle_starts() {
    let hole_first = part("board", rect(0.0, 0.0, 500.0, 300.0), vec![hole(50.0, 50.0, 5.0, None, "hole")]);
    let job = with(|r| r.habits.air_trace = true, vec![(hole_first, Turn::None, [40.0, 40.0])]);
    let programs = job.sound();
    assert_eq!(programs.iter().filter(|p| p.trace.is_some()).count(), 1, "once in a set-up");
    let p = &programs[0];
    let trace = p.trace.unwrap();
    // The outline's way runs a radius outside the part; a lead may run out somewhat further.
    let radius = 6.35 / 2.0;
    assert!(trace.x0 <= 40.0 - radius + 1e-6 && trace.x1 >= 540.0 + radius - 1e-6, "{trace:?}");
    assert!(trace.x0 >= 40.0 - 3.0 * radius && trace.y1 <= 340.0 + 3.0 * radius, "{trace:?}");
    let text = String::from_utf8(gcode::program(&job.design.process.machine, p, &[])).unwrap();
    let spindle = text.find("M3").unwrap();
    let air = &text[text.find("(air trace").unwrap()..spindle];
    assert_eq!(air.matches("G1").count(), 4, "{air}");
    assert!(!air.contains('Z'), "stays at clearance height: {air}");
    assert!(p.times.iter().any(|(w, s)| *w == Work::AirTrace && *s > 1.0));
    super::text::check(&job.design.process.machine, p, text.as_bytes());
}

#[test]
fn times_by_kind_of_work_make_up_the_run_time() {
    let cuts = vec![
        hole(50.0, 50.0, 5.0, None, "hole"),
        pocket(rect(100.0, 100.0, 60.0, 40.0), 5.0, "pocket"),
        opening(rect(250.0, 60.0, 100.0, 120.0), "window"),
    ];
    let job = Job::one(part("board", rect(0.0, 0.0, 500.0, 300.0), cuts));
    let programs = job.sound();
    let mut kinds: Vec<Work> = Vec::new();
    for p in &programs {
        assert!((p.times.iter().map(|(_, s)| s).sum::<f64>() - p.run_s).abs() < 1e-6);
        assert!(p.times.iter().all(|(_, s)| *s >= 0.0));
        kinds.extend(p.times.iter().map(|(w, _)| *w));
    }
    for work in [Work::Holes, Work::Pockets, Work::Openings, Work::Outlines, Work::Travel, Work::RunUp] {
        assert!(kinds.contains(&work), "{}", work.words());
    }
}

#[test]
fn restart_points_are_numbered_where_part_or_work_changes_and_stand_alone() {
    let holes = |id: &str| {
        let cuts = vec![hole(50.0, 50.0, 5.0, None, "hole 1"), hole(80.0, 50.0, 5.0, None, "hole 2")];
        part(id, rect(0.0, 0.0, 300.0, 200.0), cuts)
    };
    let job = Job::usual(vec![(holes("a"), Turn::None, [40.0, 40.0]), (holes("b"), Turn::None, [400.0, 40.0])]);
    for p in &job.sound() {
        let numbers: Vec<u32> = p.blocks.iter().filter_map(|b| b.restart).collect();
        assert_eq!(numbers, (1..=numbers.len() as u32).collect::<Vec<_>>());
        assert_eq!(p.blocks[0].restart, Some(1));
        for pair in p.blocks.windows(2) {
            let same = pair[0].placement == pair[1].placement && pair[0].work == pair[1].work;
            assert_eq!(pair[1].restart.is_none(), same, "{}", pair[1].label);
        }
        let text = String::from_utf8(gcode::program(&job.design.process.machine, p, &[])).unwrap();
        let lines: Vec<&str> = text.lines().collect();
        for (k, _) in lines.iter().enumerate().filter(|(_, l)| l.starts_with("(restart ")) {
            assert!(lines[k + 1].contains("G0 Z"), "{}", lines[k + 1]);
            assert!(lines[k + 2].contains("G0 X") && lines[k + 2].contains('Y'), "{}", lines[k + 2]);
        }
    }
}

#[test]
fn hold_down_screws_come_first_and_every_pass_keeps_clear_of_them() {
    let screws = HoldDownScrews { hole: Mm(5.0), head: Mm(9.0), head_height: Mm(3.0), spacing: Mm(500.0) };
    let both = |id: &str| {
        let cuts = vec![
            pocket(rect(40.0, 40.0, 80.0, 30.0), 5.0, "groove"),
            down(pocket(rect(40.0, 120.0, 80.0, 30.0), 4.0, "groove below")),
            down(hole(250.0, 50.0, 5.0, Some(6.0), "blind")),
        ];
        part(id, rect(0.0, 0.0, 500.0, 300.0), cuts)
    };
    let job = with(
        |r| r.habits.screws = Some(screws),
        vec![(both("a"), Turn::None, [60.0, 60.0]), (both("b"), Turn::None, [600.0, 400.0])],
    );
    let programs = job.sound();
    assert!(programs[0].blocks.iter().all(|b| b.work == Work::HoldDown), "the screws' holes are a program of their own");
    assert!(programs[0].blocks.len() >= 4);
    assert!(programs[1..].iter().all(|p| p.blocks.iter().all(|b| b.work != Work::HoldDown)));
    for p in &programs {
        assert_eq!(p.set_up.screws.len(), programs[0].blocks.len());
        assert!(p.clearance.0 >= super::bench::THICKEST + 3.0 + 5.0 - 1e-9);
        let wanted = p.cutter.diameter.0 / 2.0 + 4.5 + 5.0;
        for b in p.blocks.iter().filter(|b| b.work != Work::HoldDown) {
            for (from, to, m) in steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b) {
                if from.z.min(to.z) < p.clearance.0 - 1e-9 || matches!(m, Move::Drill { .. }) {
                    for q in super::bench::along(from, to, m) {
                        for s in &p.set_up.screws {
                            let far = (*s - q).hypot();
                            assert!(far >= wanted - 2e-3, "{} comes within {far:.2} of a screw", b.label);
                        }
                    }
                }
            }
        }
        // Turned over, a screw stands in its hole.
        for (s, b) in p.set_up.screws.iter().zip(&programs[0].set_up.screws) {
            let y = if p.side == programs[0].side { b.y } else { 1220.0 - b.y };
            assert!((s.x - b.x).abs() < 1e-9 && (s.y - y).abs() < 1e-9);
        }
    }
    // Nowhere in the waste is farther from a screw than the spacing: looked at along the sheet's long edges.
    for x in 0..24 {
        for y in [15.0, 1205.0] {
            let p = Point::new(f64::from(x) * 100.0 + 30.0, y);
            let far = programs[0].blocks.iter().map(|b| (b.start - p).hypot()).fold(f64::INFINITY, f64::min);
            assert!(far < 500.0 + 15.0, "{p:?} is {far} from a screw");
        }
    }
    let text = String::from_utf8(gcode::program(&job.design.process.machine, &programs[0], &[])).unwrap();
    assert!(text.contains("put the screws in after this program"), "{text}");
}

#[test]
fn the_header_says_set_up_face_and_pins_in_words() {
    let cuts = vec![
        pocket(rect(40.0, 40.0, 80.0, 30.0), 5.0, "groove"),
        pocket(rect(140.0, 40.0, 80.0, 30.0), 5.0, "groove 2"),
        down(pocket(rect(40.0, 120.0, 80.0, 30.0), 4.0, "groove below")),
    ];
    let job = Job::one(part("both", rect(0.0, 0.0, 500.0, 300.0), cuts));
    let programs = job.sound();
    let text = |p: &Program| String::from_utf8(gcode::program(&job.design.process.machine, p, &[])).unwrap();
    let (first, last) = (&programs[0], programs.last().unwrap());
    assert_eq!((first.set_up.number, last.set_up.number, last.set_up.of), (1, 2, 2));
    assert_eq!(first.side, SheetSide::Second, "the face with less work comes first");
    assert!(text(first).contains("(set-up 1 of 2: the face drawn on the sheet map down)"));
    assert!(text(first).contains("front to back") && text(first).contains("before the sheet is turned over"));
    assert!(text(last).contains("(set-up 2 of 2: the face drawn on the sheet map up)"));
    let pins = &last.set_up.pins;
    assert_eq!(pins.len(), 2);
    for (a, b) in first.set_up.pins.iter().zip(pins) {
        assert!((a.x - b.x).abs() < 1e-9 && (a.y - (1220.0 - b.y)).abs() < 1e-9);
        assert!(text(last).contains(&format!("x {} y {}", decimal(b.x, 1), decimal(b.y, 1))), "{}", text(last));
    }
}

#[test]
fn a_cutter_without_a_chip_load_for_the_board_is_not_used() {
    let mut bare = cutter("bare", 6.35, CutterKind::UpCut);
    bare.chip_load.clear();
    let mut bare_drill = cutter("bare drill", 5.0, CutterKind::Drill);
    bare_drill.chip_load.clear();
    let good = cutter("good", 4.0, CutterKind::UpCut);
    let p = || part("board", rect(0.0, 0.0, 300.0, 200.0), vec![hole(50.0, 50.0, 5.0, None, "hole")]);
    let job = Job::new(router(), vec![bare.clone(), good, bare_drill], vec![(p(), Turn::None, [40.0, 40.0])]);
    let programs = job.sound();
    assert!(programs.iter().all(|p| p.cutter.chip_load.contains_key(&Material::HardwoodPly)));
    let alone = Job::new(router(), vec![bare], vec![(p(), Turn::None, [40.0, 40.0])]).plan();
    let stop = alone.findings.iter().find(|f| f.code.id == "chip-load-not-known").expect("a stopper");
    assert_eq!(stop.severity, baywright::diag::Severity::Stop);
}

#[test]
fn a_drill_feeds_from_just_above_the_wood_and_clears_chips_as_its_profile_says() {
    let mut drill = cutter("drill", 2.5, CutterKind::Drill);
    drill.pass_depth = Mm(7.5);
    let cutters = vec![cutter("up-cut", 6.35, CutterKind::UpCut), drill];
    let cuts = vec![hole(50.0, 50.0, 2.5, None, "hole")];
    let job =
        Job::new(router(), cutters, vec![(part("board", rect(0.0, 0.0, 300.0, 200.0), cuts), Turn::None, [40.0, 40.0])]);
    let programs = job.sound();
    let (p, b) = block(&programs, "hole");
    let Move::Drill { retract, peck, .. } = b.moves[0] else { panic!("{:?}", b.moves) };
    assert!(retract.0 > super::bench::THICKEST && retract.0 <= super::bench::THICKEST + 1.0 + 1e-9);
    assert_eq!(peck, Some(Mm(7.5)));
    let seconds = p.times.iter().find(|(w, _)| *w == Work::Holes).unwrap().1;
    // 16.4 mm at 16000 x 2 x 0.14 mm/min is a fifth of a second; with three pecks and the way down and up two seconds.
    assert!(seconds < 2.5, "{seconds}");
}

#[test]
fn a_hole_little_wider_than_the_cutter_takes_seconds() {
    // M6 clearance, 6.6 mm, with a 6 mm outline cutter that may not plunge and a plunging one beside it.
    let mut compression = cutter("compression", 6.0, CutterKind::Compression { up_cut: Mm(4.5) });
    compression.centre_cutting = false;
    let cutters = vec![compression, cutter("up-cut", 6.0, CutterKind::UpCut), cutter("small", 3.0, CutterKind::UpCut)];
    let cuts = vec![hole(50.0, 50.0, 6.6, None, "hole")];
    let job =
        Job::new(router(), cutters, vec![(part("board", rect(0.0, 0.0, 300.0, 200.0), cuts), Turn::None, [40.0, 40.0])]);
    let programs = job.sound();
    let (p, b) = block(&programs, "hole");
    assert_eq!(b.work, Work::Holes);
    let seconds = p.times.iter().find(|(w, _)| *w == Work::Holes).unwrap().1;
    assert!(seconds < 4.0, "{} with {}: {} moves", seconds, p.cutter.name, b.moves.len());
}

#[test]
fn the_coupon_of_a_board_is_a_job_that_passes_its_proof() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples/first-drawer.toml");
    let derived = run::derive(&path, None).unwrap_or_else(|_| panic!("the sample can be read"));
    let design = derived.design.unwrap();
    assert!(coupon(&design, BoardId(99)).is_none());
    let job = coupon(&design, BoardId(0)).unwrap();
    let mut findings = Vec::new();
    let model = parts::build(&job).into(&mut findings).unwrap();
    let ledger = baywright::fit::check(&job, &model).into(&mut findings).unwrap();
    let flat = flat::flatten(&job, &model).into(&mut findings).unwrap();
    let options = Options { effort: Effort::Draft, ..Options::default() };
    let layout = nest::lay_out(&job, &flat, &options).into(&mut findings).unwrap();
    assert_eq!(layout.sheets.len(), 1, "both plates on one piece");
    assert!(layout.sheets[0].length.0 < 500.0 && layout.sheets[0].width.0 < 300.0, "no larger than an offcut");
    let programs = toolpath::plan(&job, &flat, &layout).into(&mut findings).unwrap();
    let stops: Vec<_> = findings.iter().filter(|f| f.severity == baywright::diag::Severity::Stop).collect();
    assert!(stops.is_empty(), "{stops:?}");
    let planned = design.boards[0].thickness.nominal().0 + design.process.joint_clearance.glued.nominal().0;
    let ladder = flat.parts.iter().find(|p| p.cuts.len() == 7).expect("five slots, a groove, a hole");
    let mut widths: Vec<f64> = ladder
        .cuts
        .iter()
        .filter(|c| matches!(c.operation, flat::Operation::ThroughInside))
        .map(|c| c.contour.bounds().width().min(c.contour.bounds().height()))
        .collect();
    widths.sort_by(f64::total_cmp);
    for (width, over) in widths.iter().zip([-0.1, 0.0, 0.1, 0.2, 0.3]) {
        assert!((width - planned - over).abs() < 1e-6, "{width} for {planned} and {over}");
    }
    let square = flat.parts.iter().find(|p| p.cuts.is_empty()).unwrap();
    assert_eq!((square.length, square.width), (Mm(100.0), Mm(100.0)));
    let texts = baywright::diag::Texts::default();
    let pack = Pack {
        design: &job,
        model: &model,
        ledger: &ledger,
        parts: &flat,
        layout: &layout,
        programs: &programs,
        beams: &[],
        findings: &[],
        texts: &texts,
    };
    let verdict = proof::prove(&write::pack(&pack));
    assert!(verdict.passed, "{}", verdict.to_text());
}

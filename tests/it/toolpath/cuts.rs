//! Single cuts.

use super::bench::{
    along, block, cutter, hole, opening, part, pocket, rect, router, slot, steps, usual_cutters, Job, THICK, THICKEST,
};
use baywright::geom::{Contour, Point, Point3, Vertex};
use baywright::nest::Turn;
use baywright::shop::{CutterKind, ZZero};
use baywright::toolpath::{Block, Move, Program};
use baywright::units::Mm;

/// Signed area swept round by a block's sideways moves at the bottom: negative when it runs clockwise.
fn turning(p: &Program, b: &Block) -> f64 {
    let start = Point3::new(b.start.x, b.start.y, p.clearance.0);
    steps(start, b)
        .iter()
        .filter(|(_, to, m)| to.z < THICK && !matches!(m, Move::Rapid { .. }))
        .map(|(a, b, _)| a.x * b.y - b.x * a.y)
        .sum()
}

fn lowest(p: &Program, b: &Block) -> f64 {
    steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b)
        .iter()
        .map(|(_, to, m)| if let Move::Drill { bottom, .. } = m { bottom.0 } else { to.z })
        .fold(f64::INFINITY, f64::min)
}

#[test]
fn climb_runs_clockwise_outside_and_counter_clockwise_inside() {
    for climb in [true, false] {
        let mut r = router();
        r.climb = climb;
        let p = part("a", rect(0.0, 0.0, 600.0, 400.0), vec![opening(rect(100.0, 100.0, 200.0, 150.0), "window")]);
        let programs = Job::new(r, usual_cutters(), vec![(p, Turn::None, [40.0, 40.0])]).sound();
        let (p, b) = block(&programs, "outline");
        assert_eq!(turning(p, b) < 0.0, climb);
        let (p, b) = block(&programs, "window");
        assert_eq!(turning(p, b) > 0.0, climb);
    }
}

#[test]
fn through_cuts_go_below_the_sheet_by_the_overcut_and_no_further_than_the_floor() {
    for (zero, floor, want) in [
        (ZZero::Spoilboard, 1.0, -0.3),
        // Zero on the top: the thickest sheet must be cut through as well.
        (ZZero::SheetTop, 1.0, -0.3 - (THICKEST - THICK)),
        (ZZero::Spoilboard, 0.2, -0.2),
    ] {
        let mut r = router();
        (r.z_zero, r.floor) = (zero, Mm(floor));
        let job =
            Job::new(r, usual_cutters(), vec![(part("a", rect(0.0, 0.0, 600.0, 400.0), vec![]), Turn::None, [40.0, 40.0])]);
        let programs = job.sound();
        let (p, b) = block(&programs, "outline");
        assert!((lowest(p, b) - want).abs() < 1e-9, "{} {want}", lowest(p, b));
    }
}

#[test]
fn passes_are_even_and_no_deeper_than_the_cutter_allows() {
    let programs = Job::one(part("a", rect(0.0, 0.0, 600.0, 400.0), vec![])).sound();
    let (p, b) = block(&programs, "outline");
    let mut levels: Vec<f64> = steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b)
        .iter()
        .filter(|(from, to, _)| (from.z - to.z).abs() < 1e-9 && to.z < THICKEST)
        .map(|s| s.1.z)
        .collect();
    levels.sort_by(|a, b| b.total_cmp(a));
    levels.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    // 15.4 mm in passes of at most 6.35: three of 5.13. The tabs' tops, 4 mm, are a level too.
    let want = [THICKEST - 15.4 / 3.0, THICKEST - 2.0 * 15.4 / 3.0, 4.0, -0.3];
    assert_eq!(levels.len(), want.len(), "{levels:?}");
    for (have, want) in levels.iter().zip(want) {
        assert!((have - want).abs() < 1e-6, "{levels:?}");
    }
}

#[test]
fn nothing_plunges_with_a_tool_that_cannot() {
    let mut cutters = usual_cutters();
    cutters[0].centre_cutting = false;
    cutters[1].centre_cutting = false;
    let cuts = vec![
        pocket(rect(50.0, 50.0, 100.0, 80.0), 6.0, "pocket"),
        pocket(rect(200.0, 50.0, 120.0, 9.0), 6.0, "groove"),
        hole(400.0, 60.0, 7.0, None, "bored"),
        opening(slot(400.0, 120.0, 40.0, 6.35), "slot"),
    ];
    let job = Job::new(router(), cutters, vec![(part("a", rect(0.0, 0.0, 600.0, 400.0), cuts), Turn::None, [40.0, 40.0])]);
    for p in job.sound() {
        for b in &p.blocks {
            for (from, to, m) in steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b) {
                let (fall, run) = (from.z - to.z, (from.x - to.x).hypot(from.y - to.y));
                if matches!(m, Move::Line { .. }) && fall > 1e-6 && to.z < THICK - 1e-6 {
                    // Straight down only where a pass before has been; along a line no steeper than the ramp.
                    assert!(run < 1e-9 || fall / run < 5.01_f64.to_radians().tan(), "{} falls {fall} over {run}", b.label);
                    assert!(run > 1e-9 || to.z >= THICK - 6.0, "{} plunges to {}", b.label, to.z);
                }
            }
        }
    }
}

#[test]
fn a_pocket_is_cleared_to_its_depth_with_islands_kept() {
    let mut c = pocket(rect(50.0, 50.0, 160.0, 120.0), 6.0, "pocket");
    c.islands = vec![Contour::circle(Point::new(130.0, 110.0), 15.0).unwrap()];
    let programs = Job::one(part("a", rect(0.0, 0.0, 600.0, 400.0), vec![c])).sound();
    let (p, b) = block(&programs, "pocket");
    assert!((lowest(p, b) - (THICK - 6.0)).abs() < 1e-9);
    // Every point of the pocket's floor, corners and a hair at the walls left out, is passed over at depth.
    let at_depth: Vec<Point> = steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b)
        .into_iter()
        .filter(|(from, to, _)| from.z.max(to.z) < THICK - 6.0 + 1e-6)
        .flat_map(|(from, to, m)| along(from, to, m))
        .collect();
    let r = p.cutter.diameter.0 / 2.0;
    let (mut x, mut missed) = (91.0, 0);
    while x < 249.0 {
        let mut y = 91.0;
        while y < 209.0 {
            let q = Point::new(x, y);
            let corner = [(90.0, 90.0), (250.0, 90.0), (90.0, 210.0), (250.0, 210.0)]
                .iter()
                .any(|c| (Point::new(c.0, c.1) - q).hypot() < 1.5 * r);
            let island = (q - Point::new(170.0, 150.0)).hypot() < 15.3;
            if !corner && !island && !at_depth.iter().any(|c| (*c - q).hypot() < r + 0.2) {
                missed += 1;
            }
            y += 1.5;
        }
        x += 1.5;
    }
    assert_eq!(missed, 0);
}

#[test]
fn a_groove_a_little_wider_than_the_cutter_is_cut_in_two_flanks() {
    let programs =
        Job::one(part("a", rect(0.0, 0.0, 600.0, 400.0), vec![pocket(rect(60.0, 60.0, 200.0, 9.0), 6.0, "groove")])).sound();
    let (p, b) = block(&programs, "groove");
    assert_eq!(p.cutter.id, "up-cut");
    let r = p.cutter.diameter.0 / 2.0;
    let mut flanks: Vec<f64> = steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b)
        .iter()
        .filter(|(from, to, _)| (from.x - to.x).abs() > 50.0 && (from.y - to.y).abs() < 1e-6 && to.z < THICK)
        .map(|s| s.1.y)
        .collect();
    flanks.sort_by(f64::total_cmp);
    flanks.dedup_by(|a, b| (*a - *b).abs() < 1e-3);
    assert_eq!(flanks.len(), 2, "{flanks:?}");
    assert!((flanks[0] - (100.0 + r)).abs() < 1e-3 && (flanks[1] - (109.0 - r)).abs() < 1e-3, "{flanks:?}");
}

#[test]
fn a_groove_open_at_the_edge_is_run_out() {
    let programs =
        Job::one(part("a", rect(0.0, 0.0, 600.0, 400.0), vec![pocket(rect(100.0, 0.0, 15.0, 400.0), 6.0, "open groove")]))
            .sound();
    let (p, b) = block(&programs, "open groove");
    let all = steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b);
    let deep = || all.iter().filter(|s| s.1.z < THICK);
    let (low, high) = (deep().map(|s| s.1.y).fold(f64::INFINITY, f64::min), deep().map(|s| s.1.y).fold(0.0, f64::max));
    // The centre passes both edges of the part, at y 40 and 440.
    assert!(low < 40.0 && high > 440.0, "{low} {high}");
    // And keeps the groove's walls.
    let r = p.cutter.diameter.0 / 2.0;
    assert!(deep().all(|s| s.1.x > 140.0 + r - 1e-3 && s.1.x < 155.0 - r + 1e-3));
}

#[test]
fn a_slot_exactly_as_wide_as_the_cutter_is_cut_with_it() {
    for extra in [0.0, 1e-6, -1e-6, 1e-4, 0.01] {
        let cuts = vec![opening(slot(100.0, 100.0, 60.0, 6.35 + extra), "slot")];
        let programs = Job::one(part("a", rect(0.0, 0.0, 600.0, 400.0), cuts)).sound();
        let (p, b) = block(&programs, "slot");
        assert_eq!(p.cutter.id, "up-cut", "{extra}");
        let xs: Vec<f64> = steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b)
            .iter()
            .filter(|s| s.1.z < 0.0)
            .map(|s| s.1.x)
            .collect();
        let (low, high) = (xs.iter().copied().fold(f64::INFINITY, f64::min), xs.iter().copied().fold(0.0, f64::max));
        assert!((low - 140.0).abs() < 0.01 && (high - 200.0).abs() < 0.01, "{extra}: {low} {high}");
    }
}

#[test]
fn a_slot_too_narrow_for_the_first_cutter_gets_a_smaller_one_and_too_narrow_for_all_stops() {
    let job = |w: f64| Job::one(part("a", rect(0.0, 0.0, 600.0, 400.0), vec![opening(slot(100.0, 100.0, 60.0, w), "slot")]));
    let programs = job(5.0).sound();
    assert_eq!(block(&programs, "slot").0.cutter.id, "small up-cut");
    let checked = job(2.5).plan();
    let stop = checked.findings.iter().find(|f| f.code.id == "no-cutter-fits").unwrap();
    assert!(stop.remedy.contains("2.5 mm"), "{}", stop.remedy);
    assert!(stop.parts == ["a"] && checked.has_stop());
}

#[test]
fn a_notch_too_narrow_for_any_cutter_stops() {
    let v = |x, y| Vertex { x, y, bulge: 0.0 };
    let notched = |w: f64| {
        Contour::new(&[
            v(0.0, 0.0),
            v(600.0, 0.0),
            v(600.0, 400.0),
            v(300.0 + w, 400.0),
            v(300.0 + w, 360.0),
            v(300.0, 360.0),
            v(300.0, 400.0),
            v(0.0, 400.0),
        ])
        .unwrap()
    };
    let ids = |w: f64| {
        let checked = Job::one(part("a", notched(w), vec![])).plan();
        let cutter =
            checked.value.as_ref().unwrap().iter().flat_map(|p| p.blocks.iter().map(|_| p.cutter.id.clone())).next();
        (checked.has_stop(), cutter)
    };
    assert_eq!(ids(6.35), (false, Some("up-cut".into())));
    assert_eq!(ids(6.2), (false, Some("small up-cut".into())));
    assert_eq!(ids(3.0), (true, None));
}

#[test]
fn holes_are_drilled_plunged_bored_or_cleared() {
    let cuts = vec![
        hole(50.0, 50.0, 5.0, None, "drilled"),
        hole(80.0, 50.0, 5.0, Some(11.0), "blind"),
        hole(110.0, 50.0, 6.35, None, "plunged"),
        hole(140.0, 50.0, 10.0, None, "bored"),
        hole(180.0, 50.0, 35.0, Some(12.0), "cup"),
        hole(250.0, 50.0, 35.0, None, "cleared"),
        hole(350.0, 80.0, 120.0, None, "held"),
    ];
    let programs = Job::one(part("a", rect(0.0, 0.0, 600.0, 400.0), cuts)).sound();
    for (feature, tool, bottom) in [
        ("drilled", "drill", -0.3),
        ("blind", "drill", THICK - 11.0),
        ("plunged", "up-cut", -0.3),
        ("bored", "up-cut", -0.3),
        ("cup", "up-cut", THICK - 12.0),
        ("cleared", "up-cut", -0.3),
        ("held", "up-cut", -0.3),
    ] {
        let (p, b) = block(&programs, feature);
        assert_eq!(p.cutter.id, tool, "{feature}");
        assert!((lowest(p, b) - bottom).abs() < 1e-9, "{feature}: {}", lowest(p, b));
    }
    // 15.4 deep in 5 mm: pecked; 11.3 is not over three diameters.
    let peck = |f: &str| matches!(block(&programs, f).1.moves[0], Move::Drill { peck: Some(_), .. });
    assert!(peck("drilled") && !peck("blind"));
    // A helix: only arcs go down, evenly, at the bore's radius less the cutter's.
    let (p, b) = block(&programs, "bored");
    let orbit = 5.0 - p.cutter.diameter.0 / 2.0;
    for (from, to, m) in steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b) {
        if to.z < THICKEST && to.z < from.z {
            let Move::Arc { centre, ccw, .. } = m else { panic!("{m:?}") };
            assert!(ccw && ((Point::new(to.x, to.y) - centre).hypot() - orbit).abs() < 1e-9);
            assert!((centre - Point::new(180.0, 90.0)).hypot() < 1e-9);
        }
    }
    // A core of 120 mm less the cut is held by tabs; 35 mm is cut to dust.
    let tops = |f: &str| {
        let (p, b) = block(&programs, f);
        steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b)
            .iter()
            .filter(|(a, b, _)| (a.z - 4.0).abs() < 1e-9 && (b.z - 4.0).abs() < 1e-9)
            .count()
    };
    assert_eq!(tops("cleared"), 0);
}

#[test]
fn a_hole_nothing_makes_stops() {
    let checked = Job::one(part("a", rect(0.0, 0.0, 600.0, 400.0), vec![hole(50.0, 50.0, 2.5, None, "tiny")])).plan();
    assert!(checked.findings.iter().any(|f| f.code.id == "no-cutter-fits"));
}

#[test]
fn a_compression_cutter_starts_deep_and_leaves_shallow_pockets_to_another() {
    let compression = cutter("compression", 6.35, CutterKind::Compression { up_cut: Mm(5.0) });
    let p = || part("a", rect(0.0, 0.0, 600.0, 400.0), vec![pocket(rect(60.0, 60.0, 100.0, 40.0), 4.0, "pocket")]);
    let with = |cutters| Job::new(router(), cutters, vec![(p(), Turn::None, [40.0, 40.0])]);
    let programs = with(vec![compression.clone(), cutter("up-cut", 6.35, CutterKind::UpCut)]).sound();
    assert_eq!(block(&programs, "pocket").0.cutter.id, "up-cut");
    let (p1, outline) = block(&programs, "outline");
    assert_eq!(p1.cutter.id, "compression");
    let first = steps(Point3::new(outline.start.x, outline.start.y, p1.clearance.0), outline)
        .iter()
        .filter(|(a, b, _)| (a.z - b.z).abs() < 1e-9 && b.z < THICKEST)
        .map(|s| s.1.z)
        .fold(0.0, f64::max);
    assert!(THICKEST - first >= 6.0 - 1e-9, "first pass to {first}");
    let alone = with(vec![compression]).plan();
    assert!(alone.findings.iter().any(|f| f.code.id == "pocket-shallower-than-up-cut"));
}

#[test]
fn short_edges_stop() {
    let mut cutters = usual_cutters();
    // 15.1 + 0.3 + 2 mm is what it takes.
    for c in &mut cutters {
        c.flute_length = Mm(17.3);
    }
    let job = Job::new(
        router(),
        cutters.clone(),
        vec![(part("a", rect(0.0, 0.0, 600.0, 400.0), vec![]), Turn::None, [40.0, 40.0])],
    );
    assert!(job.plan().findings.iter().any(|f| f.code.id == "flute-too-short"));
    cutters[0].flute_length = Mm(17.4);
    let job = Job::new(router(), cutters, vec![(part("a", rect(0.0, 0.0, 600.0, 400.0), vec![]), Turn::None, [40.0, 40.0])]);
    job.sound();
}

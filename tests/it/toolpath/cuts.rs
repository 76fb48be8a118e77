//! Single cuts.

use super::bench::{
    along, block, cutter, hole, opening, part, pocket, rect, router, slot, steps, usual_cutters, Job, THICK, THICKEST,
};
use baywright::geom::{Contour, Point, Point3, Rect, Vertex};
use baywright::nest::Turn;
use baywright::shop::{CutterKind, HoldDown, ZZero};
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

/// Stretches of the last pass at tab height, sideways: each as (from, to).
fn tabs(p: &Program, b: &Block, height: f64) -> Vec<(Point, Point)> {
    let mut list: Vec<(Point, Point)> = Vec::new();
    let all = steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b);
    let last_ramp = all
        .iter()
        .rposition(|(from, to, m)| to.z < -0.29 && from.z < height + 2.0 && !matches!(m, Move::Rapid { .. }))
        .unwrap();
    for (from, to, _) in &all[..=last_ramp] {
        if (from.z - height).abs() < 1e-6 && (to.z - height).abs() < 1e-6 {
            let (a, b) = (Point::new(from.x, from.y), Point::new(to.x, to.y));
            if !list.iter().any(|t| (t.0 - a).hypot() < 1e-3 && (t.1 - b).hypot() < 1e-3) {
                list.push((a, b));
            }
        }
    }
    list
}

#[test]
fn tabs_have_their_size_and_count_and_keep_off_corners_and_clean_edges() {
    let mut p = part("a", rect(0.0, 0.0, 600.0, 400.0), vec![]);
    p.keep_clean = vec![Rect::new(-1.0, -1.0, 601.0, 1.0), Rect::new(599.0, -1.0, 601.0, 401.0)];
    let job = Job::one(p);
    let programs = job.sound();
    let (program, b) = block(&programs, "outline");
    let r = program.cutter.diameter.0 / 2.0;
    let found = tabs(program, b, 4.0);
    // 2000 mm round at 300 mm: seven.
    assert_eq!(found.len(), 7, "{found:?}");
    for (a, b) in found {
        // Wood left is the tool's way less its diameter.
        assert!(((a - b).hypot() - (8.0 + 2.0 * r)).abs() < 1e-6);
        let middle = a.midpoint(b);
        let corners = [(40.0, 40.0), (640.0, 40.0), (640.0, 440.0), (40.0, 440.0)];
        assert!(corners.iter().all(|c| (Point::new(c.0, c.1) - middle).hypot() > 25.0 + 4.0));
        assert!(middle.y > 42.0 && middle.x < 638.0, "{middle:?} is on a clean edge");
    }
}

#[test]
fn tiny_parts_get_two_tabs_and_a_part_without_room_is_held_and_found() {
    let programs = Job::one(part("a", rect(0.0, 0.0, 90.0, 60.0), vec![])).sound();
    let (p, b) = block(&programs, "outline");
    assert!(tabs(p, b, 4.0).len() >= 2);
    let mut clean = part("a", rect(0.0, 0.0, 300.0, 200.0), vec![]);
    clean.keep_clean = vec![Rect::new(-1.0, -1.0, 301.0, 201.0)];
    let checked = Job::one(clean).plan();
    for code in ["tab-on-clean-edge", "entry-on-clean-edge"] {
        assert!(checked.findings.iter().any(|f| f.code.id == code), "{code}");
    }
    let programs = checked.value.unwrap();
    let (p, b) = block(&programs, "outline");
    assert!(tabs(p, b, 4.0).len() >= 3, "held all the same");
    // None fits on sides shorter than a tab.
    let checked = Job::one(part("a", rect(0.0, 0.0, 7.0, 7.0), vec![])).plan();
    assert!(checked.findings.iter().any(|f| f.code.id == "too-few-tabs"));
}

#[test]
fn a_skin_is_left_instead_of_tabs() {
    let mut r = router();
    r.hold_down = HoldDown::Skin { thickness: Mm(0.4) };
    let cuts = vec![opening(rect(100.0, 100.0, 200.0, 150.0), "window"), opening(rect(350.0, 100.0, 20.0, 20.0), "small")];
    let programs =
        Job::new(r, usual_cutters(), vec![(part("a", rect(0.0, 0.0, 600.0, 400.0), cuts), Turn::None, [40.0, 40.0])])
            .sound();
    for (feature, floor) in [("outline", 0.4), ("window", 0.4), ("small", -0.3)] {
        let (p, b) = block(&programs, feature);
        assert!((lowest(p, b) - floor).abs() < 1e-9, "{feature}");
    }
}

#[test]
fn leads_lie_in_waste_and_keep_off_a_neighbour() {
    // 8 mm between the two: no room for a full lead there, plenty on the other sides.
    let job = Job::usual(vec![
        (part("a", rect(0.0, 0.0, 300.0, 400.0), vec![]), Turn::None, [40.0, 40.0]),
        (part("b", rect(0.0, 0.0, 300.0, 400.0), vec![]), Turn::None, [348.0, 40.0]),
    ]);
    let programs = job.sound();
    for p in &programs {
        for b in &p.blocks {
            let all = steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b);
            let cutting: Vec<_> = all.iter().filter(|s| !matches!(s.2, Move::Rapid { .. })).collect();
            assert!(matches!(cutting[1].2, Move::Arc { .. }), "{} comes in along an arc", b.label);
            assert!(matches!(cutting[cutting.len() - 1].2, Move::Arc { .. }), "{} leaves along an arc", b.label);
        }
    }
}

#[test]
fn countersunk_seats_stay_inside_the_cone() {
    use baywright::flat::Operation;
    let at = Point::new(100.0, 100.0);
    let mut seat =
        super::bench::cut(Operation::Countersink { at, diameter: Mm(9.0) }, Contour::circle(at, 4.5).unwrap().cw(), "seat");
    seat.feature = "seat".into();
    let programs =
        Job::one(part("a", rect(0.0, 0.0, 600.0, 400.0), vec![seat, hole(100.0, 100.0, 5.0, None, "hole")])).sound();
    let (p, b) = block(&programs, "seat");
    let r = p.cutter.diameter.0 / 2.0;
    let mut deepest = THICK;
    for (from, to, m) in steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b) {
        for q in along(from, to, m) {
            let z = from.z.min(to.z);
            if z < THICK {
                deepest = f64::min(deepest, z);
                let reach = (q - Point::new(140.0, 140.0)).hypot() + r;
                assert!(reach <= 4.5 - (THICK - z) + 0.26, "{reach} at {z}");
            }
        }
    }
    // Down to about the hole's edge: 4.5 - 2.5 mm.
    assert!((THICK - deepest - 2.0).abs() < 0.3, "{deepest}");
}

#[test]
fn a_seat_too_small_for_any_cutter_is_left_to_the_hand_and_said() {
    use baywright::flat::Operation;
    let at = Point::new(100.0, 100.0);
    let seat =
        super::bench::cut(Operation::Countersink { at, diameter: Mm(6.0) }, Contour::circle(at, 3.0).unwrap().cw(), "seat");
    let checked =
        Job::one(part("a", rect(0.0, 0.0, 600.0, 400.0), vec![seat, hole(100.0, 100.0, 2.5, None, "hole")])).plan();
    assert!(checked.findings.iter().any(|f| f.code.id == "countersink-by-hand"));
}

#[test]
fn tabs_stand_no_further_apart_than_half_as_much_again_as_asked() {
    for (w, h) in [(600.0, 400.0), (1200.0, 300.0), (900.0, 900.0), (400.0, 120.0)] {
        let programs = Job::one(part("a", rect(0.0, 0.0, w, h), vec![])).sound();
        let (p, b) = block(&programs, "outline");
        let mut at: Vec<f64> = tabs(p, b, 4.0)
            .iter()
            .map(|(a, b)| {
                // Place along the part's edge, counter-clockwise from its lower left corner.
                let m = a.midpoint(*b);
                let (x, y) = (m.x - 40.0, m.y - 40.0);
                if y < 0.0 {
                    x
                } else if x > w {
                    w + y
                } else if y > h {
                    2.0 * w + h - x
                } else {
                    2.0 * (w + h) - y
                }
            })
            .collect();
        at.sort_by(f64::total_cmp);
        let around = 2.0 * (w + h);
        let widest = (0..at.len()).map(|i| (at[(i + 1) % at.len()] - at[i]).rem_euclid(around)).fold(0.0, f64::max);
        assert!(at.len() >= 3 && widest <= 450.0, "{w} x {h}: {at:?}");
    }
}

#[test]
fn a_round_part_has_its_tabs_on_the_arc() {
    let disc = Contour::circle(Point::new(150.0, 150.0), 150.0).unwrap();
    let programs = Job::one(part("disc", disc, vec![])).sound();
    let (p, b) = block(&programs, "outline");
    // 942 mm round at 300 mm: four.
    assert_eq!(tabs(p, b, 4.0).len(), 4);
}

#[test]
fn a_rabbet_along_an_edge_is_run_out_on_three_sides() {
    let p = part("a", rect(0.0, 0.0, 600.0, 400.0), vec![pocket(rect(0.0, 0.0, 600.0, 15.0), 6.0, "open rabbet")]);
    let programs = Job::one(p).sound();
    let (p, b) = block(&programs, "open rabbet");
    let all = steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b);
    let deep = || all.iter().filter(|s| s.1.z < THICK);
    let r = p.cutter.diameter.0 / 2.0;
    let reach =
        |f: fn(&Point3) -> f64| deep().map(|s| f(&s.1)).fold((f64::INFINITY, 0.0_f64), |(a, b), v| (a.min(v), b.max(v)));
    let ((x0, x1), (y0, y1)) = (reach(|p| p.x), reach(|p| p.y));
    assert!(x0 < 40.0 && x1 > 640.0 && y0 < 40.0, "{x0} {x1} {y0}");
    assert!((y1 - (55.0 - r)).abs() < 1e-3, "its one wall at y 55: {y1}");
}

#[test]
fn a_tool_that_may_not_plunge_leaves_no_longer_tabs() {
    let mut cutters = usual_cutters();
    cutters[0].centre_cutting = false;
    let job = Job::new(router(), cutters, vec![(part("a", rect(0.0, 0.0, 600.0, 400.0), vec![]), Turn::None, [40.0, 40.0])]);
    let programs = job.sound();
    let (p, b) = block(&programs, "outline");
    let mut backwards = 0;
    let mut last: Option<Point> = None;
    for (from, to, _) in steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b) {
        let way = Point::new(to.x, to.y) - Point::new(from.x, from.y);
        let (fall, run) = (from.z - to.z, way.hypot());
        if to.z < 4.0 && fall > 1e-6 {
            assert!(fall / run < 5.01_f64.to_radians().tan(), "falls {fall} over {run}");
        }
        // Coming down behind a tab it goes back over the same line.
        if let Some(before) = last {
            backwards += i32::from(way.dot(before - Point::ORIGIN) < -1.0 && fall > 1e-6);
        }
        last = Some(Point::ORIGIN + way);
    }
    let count = tabs(p, b, 4.0).len();
    assert_eq!(count, 7);
    assert!(backwards as usize >= count, "{backwards}");
}

#[test]
fn a_strip_of_waste_is_cut_to_dust() {
    // 74 by 14 mm: a cutter along the edge would leave a strip of 2 mm, too thin for tabs.
    let cuts = vec![opening(slot(100.0, 100.0, 60.0, 14.0), "slot"), opening(rect(100.0, 200.0, 120.0, 80.0), "window")];
    let programs = Job::one(part("a", rect(0.0, 0.0, 600.0, 400.0), cuts)).sound();
    let held = |f: &str| {
        let (p, b) = block(&programs, f);
        steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b)
            .iter()
            .any(|(a, b, _)| (a.z - 4.0).abs() < 1e-9 && (b.z - 4.0).abs() < 1e-9)
    };
    assert!(!held("slot") && held("window"));
}

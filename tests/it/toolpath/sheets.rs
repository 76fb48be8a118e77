//! Whole sheets: order, cutters, two faces, travel.

use super::bench::{
    block, cutter, down, hole, machine, opening, part, pocket, rect, router, steps, usual_cutters, Job, THICK,
};
use baywright::geom::{Point, Point3};
use baywright::nest::Turn;
use baywright::shop::{ChipLoad, CutterKind, Laser, Material, Process};
use baywright::toolpath::{plan, Move, Program, SheetSide};
use baywright::units::{Mm, Unit};

/// Features in order of running.
fn features(programs: &[Program]) -> Vec<(Option<usize>, String)> {
    programs.iter().flat_map(|p| &p.blocks).map(|b| (b.placement, b.feature.clone())).collect()
}

fn busy(id: &str) -> baywright::flat::FlatPart {
    let cuts = vec![
        opening(rect(200.0, 100.0, 120.0, 90.0), "window"),
        pocket(rect(50.0, 50.0, 80.0, 60.0), 5.0, "pocket"),
        hole(30.0, 30.0, 5.0, None, "pilot"),
        hole(360.0, 30.0, 6.35, None, "plunged"),
        pocket(rect(50.0, 130.0, 80.0, 4.0), 5.0, "narrow groove"),
    ];
    part(id, rect(0.0, 0.0, 400.0, 240.0), cuts)
}

#[test]
fn work_goes_from_holes_to_outlines_and_small_outlines_come_before_big_ones() {
    let job = Job::usual(vec![
        (busy("big"), Turn::None, [20.0, 20.0]),
        (part("small", rect(0.0, 0.0, 150.0, 100.0), vec![]), Turn::Quarter, [600.0, 20.0]),
        (busy("turned"), Turn::Quarter, [300.0, 300.0]),
        (busy("about"), Turn::Half, [900.0, 600.0]),
        (busy("back"), Turn::ThreeQuarter, [1000.0, 900.0]),
    ]);
    let programs = job.sound();
    // A program for the drill, one for the small cutter, one for the outline cutter, which comes last.
    let tools: Vec<&str> = programs.iter().map(|p| p.cutter.id.as_str()).collect();
    assert_eq!(tools, ["drill", "small up-cut", "up-cut"]);
    let last: Vec<String> = features(&programs[2..]).into_iter().map(|f| f.1).collect();
    let rank = |f: &str| ["plunged", "pocket", "window", "outline"].iter().position(|x| *x == f).unwrap();
    assert!(last.windows(2).all(|w| rank(&w[0]) <= rank(&w[1])), "{last:?}");
    let outlines: Vec<Option<usize>> = features(&programs).into_iter().filter(|f| f.1 == "outline").map(|f| f.0).collect();
    assert_eq!(outlines[0], Some(1), "the small part first: {outlines:?}");
    assert!(programs.iter().all(|p| p.run_s > 5.0 && p.run_s.is_finite()));
}

#[test]
fn the_same_job_gives_the_same_programs() {
    let job = || Job::usual(vec![(busy("a"), Turn::None, [20.0, 20.0]), (busy("b"), Turn::Half, [900.0, 400.0])]);
    assert_eq!(format!("{:?}", job().sound()), format!("{:?}", job().sound()));
}

#[test]
fn a_part_inside_anothers_opening_is_cut_out_before_the_opening() {
    let frame = part("frame", rect(0.0, 0.0, 600.0, 400.0), vec![opening(rect(50.0, 50.0, 500.0, 300.0), "window")]);
    let inner = part("inner", rect(0.0, 0.0, 400.0, 200.0), vec![opening(rect(50.0, 50.0, 300.0, 100.0), "inner window")]);
    let inmost = part("inmost", rect(0.0, 0.0, 200.0, 50.0), vec![]);
    let job = Job::usual(vec![
        (frame, Turn::None, [20.0, 20.0]),
        (inner, Turn::None, [120.0, 120.0]),
        (inmost, Turn::None, [200.0, 190.0]),
    ]);
    let programs = plan(&job.design, &job.parts, &job.layout);
    assert!(!programs.has_stop());
    let order: Vec<String> =
        features(&programs.value.unwrap()).into_iter().map(|(p, f)| format!("{} {f}", p.unwrap())).collect();
    assert_eq!(order, ["2 outline", "1 inner window", "1 outline", "0 window", "0 outline"]);
    // Leads of an inner part keep off the opening it lies in.
    for gap in [7.0, 8.0, 12.0] {
        let frame = part("frame", rect(0.0, 0.0, 600.0, 400.0), vec![opening(rect(50.0, 50.0, 300.0, 200.0), "window")]);
        let inner = part("inner", rect(0.0, 0.0, 300.0 - 2.0 * gap, 200.0 - 2.0 * gap), vec![]);
        let at = [70.0 + gap, 70.0 + gap];
        let job = Job::usual(vec![(frame, Turn::None, [20.0, 20.0]), (inner, Turn::None, at)]);
        let programs = job.plan().value.unwrap();
        let edge = job.laid(0, &job.parts.parts[0].cuts[0].contour, SheetSide::First);
        for p in &programs {
            for b in p.blocks.iter().filter(|b| b.placement == Some(1)) {
                for (from, to, m) in steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b) {
                    for q in super::bench::along(from, to, m) {
                        let d = edge.distance_to(q);
                        assert!(d >= p.cutter.diameter.0 / 2.0 - 1e-3, "{gap}: {d}");
                    }
                }
            }
        }
    }
}

#[test]
fn a_laser_has_no_programs() {
    let mut job = Job::usual(vec![(busy("a"), Turn::None, [20.0, 20.0])]);
    let mut m = machine(router(), Unit::Mm);
    m.process = Process::Laser(Laser { kerf: Mm(0.2), compensate: false, lines: Box::default() });
    job.design.process.machine = std::sync::Arc::new(m);
    job.design.process.outline_cutter = None;
    let checked = job.plan();
    assert!(checked.value.unwrap().is_empty() && checked.findings.is_empty());
}

#[test]
fn work_on_one_face_only_is_one_set_up() {
    let p = part("a", rect(0.0, 0.0, 400.0, 240.0), vec![down(pocket(rect(50.0, 50.0, 80.0, 60.0), 5.0, "pocket"))]);
    let programs = Job::one(p).sound();
    assert!(programs.iter().all(|p| p.side == SheetSide::Second));
    assert!(programs.iter().flat_map(|p| &p.blocks).all(|b| b.placement.is_some()), "no registration holes");
    // On the turned sheet y runs the other way: the pocket's y 90 to 150 becomes 1070 to 1130.
    let (p, b) = block(&programs, "pocket");
    for (_, to, _) in steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b) {
        assert!((1070.0..=1130.0).contains(&to.y) && (90.0..=170.0).contains(&to.x));
    }
}

#[test]
fn work_on_both_faces_is_registered_and_turned_once() {
    let two = part(
        "upright",
        rect(0.0, 0.0, 700.0, 400.0),
        vec![
            pocket(rect(50.0, 50.0, 80.0, 60.0), 5.0, "groove up"),
            pocket(rect(50.0, 200.0, 80.0, 60.0), 5.0, "second groove up"),
            down(pocket(rect(300.0, 50.0, 80.0, 60.0), 5.0, "groove down")),
            opening(rect(500.0, 100.0, 120.0, 90.0), "window"),
        ],
    );
    let job = Job::usual(vec![(two, Turn::None, [300.0, 200.0])]);
    let programs = job.sound();
    let sides: Vec<SheetSide> = programs.iter().map(|p| p.side).collect();
    // The face with less work first, and the sheet is turned once.
    assert_eq!(sides[0], SheetSide::Second);
    assert_eq!(sides.windows(2).filter(|w| w[0] != w[1]).count(), 1, "{sides:?}");
    // Registration holes before all else, on the axis half way up, through, at unequal distances from the ends.
    let order = features(&programs);
    assert!(order[0].0.is_none() && order[1].0.is_none() && order[2].0.is_some(), "{order:?}");
    let holes: Vec<Point> = programs[0].blocks.iter().filter(|b| b.placement.is_none()).map(|b| b.start).collect();
    assert_eq!(holes.len(), 2);
    assert!(holes.iter().all(|h| (h.y - 610.0).abs() < 1e-9));
    let ends = [holes[0].x.min(holes[1].x), 2440.0 - holes[0].x.max(holes[1].x)];
    assert!((ends[0] - ends[1]).abs() >= 15.0, "{ends:?}");
    // Nothing goes through in the first set-up but those.
    for p in programs.iter().filter(|p| p.side == sides[0]) {
        for b in p.blocks.iter().filter(|b| b.placement.is_some()) {
            let low = steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b)
                .iter()
                .map(|s| s.1.z)
                .fold(f64::INFINITY, f64::min);
            assert!((low - (THICK - 5.0)).abs() < 1e-9, "{} to {low}", b.label);
        }
    }
}

#[test]
fn a_sheet_without_room_for_registration_stops() {
    let both =
        vec![pocket(rect(50.0, 50.0, 80.0, 60.0), 5.0, "up"), down(pocket(rect(300.0, 50.0, 80.0, 60.0), 5.0, "down"))];
    let job = Job::usual(vec![(part("a", rect(0.0, 0.0, 2420.0, 1200.0), both), Turn::None, [10.0, 10.0])]);
    assert!(job.plan().findings.iter().any(|f| f.code.id == "no-registration-place"));
}

#[test]
fn feeds_follow_the_chip_window_and_are_derated_for_deep_passes() {
    for (pass, share) in [(6.35, 1.0), (12.7, 0.75), (19.05, 0.5)] {
        let mut cutters = usual_cutters();
        cutters[0].pass_depth = Mm(pass);
        cutters[0].flute_length = Mm(60.0);
        // 0.15 to 0.23 mm per tooth in plywood with a quarter-inch cutter at 1 D; 25 % less at 2 D, 50 % less at 3 D (GC7).
        cutters[0].chip_load.insert(Material::HardwoodPly, ChipLoad { min: Mm(0.15), max: Mm(0.23) });
        cutters[0].rpm = 12_000.0;
        let mut p = part("a", rect(0.0, 0.0, 600.0, 400.0), vec![]);
        // As deep as whole passes of this depth.
        (p.thickness, p.thickness_max) = (Mm(38.1 - 0.3), Mm(38.1 - 0.3));
        let job = Job::new(router(), cutters, vec![(p, Turn::None, [40.0, 40.0])]);
        let checked = job.plan();
        let programs = checked.value.unwrap();
        let feed = programs[0].blocks[0]
            .moves
            .iter()
            .filter_map(|m| match m {
                Move::Line { to, feed } if to.z < 38.0 => Some(*feed),
                _ => None,
            })
            .fold(0.0, f64::max);
        assert!((feed - 12_000.0 * 2.0 * 0.19 * share).abs() < 1e-6, "{pass}: {feed}");
    }
}

#[test]
fn rubbing_overspeed_and_unknown_chips_are_found() {
    let ids = |change: &dyn Fn(&mut baywright::shop::Cutter)| -> Vec<&'static str> {
        let mut cutters = vec![cutter("up-cut", 6.35, CutterKind::UpCut)];
        change(&mut cutters[0]);
        let job =
            Job::new(router(), cutters, vec![(part("a", rect(0.0, 0.0, 600.0, 400.0), vec![]), Turn::None, [40.0, 40.0])]);
        job.plan().findings.iter().map(|f| f.code.id).collect()
    };
    assert!(ids(&|_| ()).is_empty());
    // 6000 mm/min over 3 edges at 24 000 per minute is 0.083 mm.
    let fast = |c: &mut baywright::shop::Cutter| {
        (c.flutes, c.rpm) = (3, 24_000.0);
        c.chip_load.insert(Material::HardwoodPly, ChipLoad { min: Mm(0.15), max: Mm(0.23) });
    };
    assert_eq!(ids(&fast), ["chip-too-thin"]);
    assert_eq!(ids(&|c| c.rpm_max = 6_000.0), ["spindle-too-fast"]);
    assert_eq!(ids(&|c| c.chip_load.clear()), ["chip-load-not-known"]);
}

#[test]
fn beyond_the_machines_reach_stops() {
    let mut job = Job::usual(vec![(busy("a"), Turn::None, [20.0, 20.0])]);
    let mut m = machine(router(), Unit::Mm);
    m.travel[0] = Mm(300.0);
    job.design.process.machine = std::sync::Arc::new(m);
    assert!(job.plan().findings.iter().any(|f| f.code.id == "beyond-machine-travel"));
}

/// Weight of the least tree over points: no way through all of them is shorter.
fn least_tree(nodes: &[Point]) -> f64 {
    let mut reach = vec![f64::INFINITY; nodes.len()];
    let mut inside = vec![false; nodes.len()];
    reach[0] = 0.0;
    let mut sum = 0.0;
    for _ in 0..nodes.len() {
        let next = (0..nodes.len()).filter(|i| !inside[*i]).min_by(|a, b| reach[*a].total_cmp(&reach[*b])).unwrap();
        inside[next] = true;
        sum += reach[next];
        for i in 0..nodes.len() {
            reach[i] = reach[i].min((nodes[i] - nodes[next]).hypot());
        }
    }
    sum
}

#[test]
fn travel_between_many_holes_is_near_the_least_tree() {
    let cuts = (0..1000)
        .map(|k| {
            let f = f64::from(k);
            let (x, y) = ((f * 0.754_877_666).fract() * 2300.0 + 20.0, (f * 0.569_840_29).fract() * 1100.0 + 20.0);
            hole(x, y, 5.0, None, &format!("hole {k}"))
        })
        .collect();
    let job = Job::usual(vec![(part("a", rect(0.0, 0.0, 2350.0, 1150.0), cuts), Turn::None, [20.0, 20.0])]);
    let began = std::time::Instant::now();
    let programs = job.plan().value.unwrap();
    println!("1000 holes planned in {:.2} s", began.elapsed().as_secs_f64());
    let starts: Vec<Point> = programs[0].blocks.iter().map(|b| b.start).collect();
    assert_eq!(starts.len(), 1000);
    let way: f64 = starts.windows(2).map(|w| (w[1] - w[0]).hypot()).sum();
    let ratio = way / least_tree(&starts);
    println!("travel over least tree: {ratio:.3}");
    assert!(ratio < 1.25, "{ratio}");
}

#[test]
fn forty_parts_are_planned_in_reasonable_time() {
    let laid = (0..40)
        .map(|k| (busy(&format!("p{k}")), Turn::None, [20.0 + f64::from(k % 5) * 410.0, 20.0 + f64::from(k / 5) * 250.0]))
        .collect();
    let mut job = Job::usual(laid);
    job.layout.sheets[0].width = Mm(2100.0);
    let mut m = machine(router(), Unit::Mm);
    m.travel[1] = Mm(2200.0);
    job.design.process.machine = std::sync::Arc::new(m);
    let began = std::time::Instant::now();
    let programs = job.plan().value.unwrap();
    let moves: usize = programs.iter().flat_map(|p| &p.blocks).map(|b| b.moves.len()).sum();
    println!("40 parts, {moves} moves planned in {:.2} s", began.elapsed().as_secs_f64());
    assert!(began.elapsed().as_secs() < 60);
    job.rules(&programs);
}

#[test]
fn a_cutter_beyond_the_sheet_is_found() {
    let job = Job::usual(vec![(part("a", rect(0.0, 0.0, 400.0, 240.0), vec![]), Turn::None, [1.0, 20.0])]);
    assert!(job.plan().findings.iter().any(|f| f.code.id == "cutter-beyond-sheet"));
}

#[test]
fn a_layout_of_parts_that_do_not_exist_is_found_not_fatal() {
    let mut job = Job::usual(vec![(busy("a"), Turn::None, [20.0, 20.0])]);
    job.layout.sheets[0].placements[0].part = 7;
    let checked = job.plan();
    assert!(checked.value.is_none_or(|p| p.is_empty()));
    assert!(checked.findings.iter().any(|f| f.code.id == "placement-without-part"));
    job.layout.sheets[0].placements[0].part = 0;
    job.layout.sheets[0].board = baywright::design::BoardId(3);
    assert!(job.plan().findings.iter().any(|f| f.code.id == "placement-without-part"));
    job.design.process.outline_cutter = Some(99);
    assert!(job.plan().findings.iter().any(|f| f.code.id == "no-outline-cutter"));
}

#[test]
fn where_parts_lie_on_the_axis_the_registration_holes_change_places() {
    let both =
        vec![pocket(rect(50.0, 50.0, 80.0, 60.0), 5.0, "up"), down(pocket(rect(300.0, 50.0, 80.0, 60.0), 5.0, "down"))];
    let job = Job::usual(vec![(part("a", rect(0.0, 0.0, 2420.0, 900.0), both), Turn::None, [10.0, 160.0])]);
    let programs = job.sound();
    let holes: Vec<Point> = programs[0].blocks.iter().filter(|b| b.placement.is_none()).map(|b| b.start).collect();
    assert_eq!(holes.len(), 2);
    // Turned over about x, y becomes 1220 - y: each comes to lie where the other was, and nowhere else end for end.
    assert!((holes[0].x - holes[1].x).abs() < 1e-9 && (holes[0].y + holes[1].y - 1220.0).abs() < 1e-9, "{holes:?}");
    assert!((2.0 * holes[0].x - 2440.0).abs() >= 15.0);
}

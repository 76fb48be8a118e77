//! Hold-down: tabs, skins, waste; leads; screw seats.

use super::bench::{along, block, hole, opening, part, pocket, rect, router, slot, steps, usual_cutters, Job, THICK};
use baywright::geom::{Contour, Point, Point3, Rect};
use baywright::nest::Turn;
use baywright::shop::HoldDown;
use baywright::toolpath::{Block, Move, Program};
use baywright::units::Mm;

/// Lowest height of a block.
fn lowest(p: &Program, b: &Block) -> f64 {
    let start = Point3::new(b.start.x, b.start.y, p.clearance.0);
    steps(start, b).iter().map(|s| s.1.z).fold(f64::INFINITY, f64::min)
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

/// A tab needs both cutters and half its own length from part to part, and one of them to the sheet's edge, to hang on anything
/// when all is cut.
#[test]
fn tabs_that_end_where_a_neighbour_is_cut_are_told() {
    let cutter = block(&Job::one(part("a", rect(0.0, 0.0, 300.0, 200.0), vec![])).sound(), "outline").0.cutter.diameter.0;
    let (gap, margin) = (2.0 * cutter + 4.0, cutter + 4.0);
    let middle_of_five = |gap: f64| {
        let at = |x: f64, y: f64| (part("a", rect(0.0, 0.0, 300.0, 200.0), vec![]), Turn::None, [x, y]);
        let (x, y) = (400.0, 400.0);
        let around = [at(x + 300.0 + gap, y), at(x - 300.0 - gap, y), at(x, y + 200.0 + gap), at(x, y - 200.0 - gap)];
        let checked = Job::usual(std::iter::once(at(x, y)).chain(around).collect()).plan();
        checked.findings.iter().filter(|f| f.code.id == "tabs-without-waste").count()
    };
    assert_eq!((middle_of_five(gap - 0.1), middle_of_five(gap)), (1, 0));
    let at_the_rim = |margin: f64| {
        let sheet = Rect::new(0.0, 0.0, 2500.0, 1250.0);
        let whole = rect(0.0, 0.0, sheet.width() - 2.0 * margin, sheet.height() - 2.0 * margin);
        let checked = Job::usual(vec![(part("a", whole, vec![]), Turn::None, [margin, margin])]).plan();
        checked.findings.iter().filter(|f| f.code.id == "tabs-without-waste").count()
    };
    assert_eq!((at_the_rim(margin - 0.1), at_the_rim(margin)), (1, 0));
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

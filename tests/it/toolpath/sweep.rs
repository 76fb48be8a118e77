//! The programs swept with another polygon library: what the cutter takes away against what it should.

use super::bench::{along, part, pocket, rect, router, steps, usual_cutters, Job, THICK};
use super::random::{panel, side_by_side};
use baywright::flat::{FlatCut, Operation};
use baywright::geom::{Contour, Point, Point3, Vertex};
use baywright::nest::Turn;
use baywright::shop::HoldDown;
use baywright::toolpath::{Block, Move, Program, SheetSide};
use baywright::units::Mm;
use clipper2_rust::{
    area_paths, difference_64, inflate_paths_64, intersect_64, union_subjects_64, EndType, FillRule, JoinType, Paths64,
    Point64,
};
use proptest::prelude::*;

const SCALE: f64 = 1e5;

fn path(points: &[Point]) -> Vec<Point64> {
    points.iter().map(|p| Point64::new((p.x * SCALE).round() as i64, (p.y * SCALE).round() as i64)).collect()
}

fn polygon(c: &Contour) -> Paths64 {
    vec![path(&c.clone().ccw().flattened(0.0005))]
}

fn mm2(p: &Paths64) -> f64 {
    area_paths(p).abs() / SCALE / SCALE
}

fn grown(p: &Paths64, by: f64, end: EndType) -> Paths64 {
    inflate_paths_64(p, by * SCALE, JoinType::Round, end, 2.0, 0.0005 * SCALE)
}

/// Where a cutter goes at or below a height, as lines.
fn runs(p: &Program, b: &Block, z: f64) -> Paths64 {
    let mut list = Vec::new();
    for (from, to, m) in steps(Point3::new(b.start.x, b.start.y, p.clearance.0), b) {
        match m {
            Move::Drill { bottom, .. } if bottom.0 <= z => {
                list.push(path(&[Point::new(from.x, from.y), Point::new(from.x + 1e-4, from.y)]));
            }
            Move::Line { .. } | Move::Arc { .. } if from.z.max(to.z) <= z => {
                let points = match m {
                    Move::Arc { .. } => along(from, to, m),
                    _ => vec![Point::new(from.x, from.y), Point::new(to.x, to.y)],
                };
                list.push(path(&points));
            }
            _ => (),
        }
    }
    list.retain(|l| l.len() > 1);
    list
}

fn swept(p: &Program, b: &Block, z: f64) -> Paths64 {
    grown(&runs(p, b, z), p.cutter.diameter.0 / 2.0, EndType::Round)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(10))]
    #[test]
    fn takes_away_what_it_should_and_nothing_else(a in panel(), b in panel(), turn in 0_u32..4, climb in any::<bool>()) {
        let mut r = router();
        r.climb = climb;
        // Tabs of no height: everything must come away at the sheet's underside.
        r.hold_down = HoldDown::Tabs { length: Mm(8.0), height: Mm(0.0), spacing: Mm(300.0) };
        let job = Job::new(r, usual_cutters(), side_by_side(a, b, turn));
        let programs = job.sound();
        for i in 0..2 {
            let part = &job.parts.parts[i];
            let outline = job.laid(i, &part.outline.contour, SheetSide::First);
            let blocks: Vec<(&Program, &Block)> = programs.iter().flat_map(|p| p.blocks.iter().map(move |b| (p, b))).collect();
            // What goes through, all blocks of both parts together.
            let all: Paths64 = blocks.iter().flat_map(|(p, b)| swept(p, b, 1e-9)).collect();
            let all = union_subjects_64(&all, FillRule::NonZero);
            let whole = polygon(&outline);
            let openings: Paths64 = part
                .cuts
                .iter()
                .filter(|c| matches!(c.operation, Operation::ThroughInside | Operation::Drill { depth: None, .. }))
                .flat_map(|c| polygon(&job.laid(i, &c.contour, SheetSide::First)))
                .collect();
            let wood = difference_64(&whole, &openings, FillRule::NonZero);
            let gouge = mm2(&intersect_64(&all, &wood, FillRule::NonZero));
            // A thousandth of a millimetre along every finished edge, from rounding arcs to chords here.
            let edges = outline.length() + part.cuts.iter().map(|c| c.contour.length()).sum::<f64>();
            prop_assert!(gouge < edges * 1e-3, "gouged {gouge} mm² along {edges} mm");
            // A band of half a millimetre round the part, and inside each opening, is all gone, square inner corners left out.
            let band = difference_64(&grown(&whole, 0.5, EndType::Polygon), &whole, FillRule::NonZero);
            let left = mm2(&difference_64(&band, &all, FillRule::NonZero));
            prop_assert!(left < outline.length() * 1e-3, "left {left} mm² round part {i}");
            for c in &part.cuts {
                let edge = job.laid(i, &c.contour, SheetSide::First);
                let area = polygon(&edge);
                let (p, b) = *blocks.iter().find(|(_, b)| b.placement == Some(i) && b.feature == c.feature).unwrap();
                let r = p.cutter.diameter.0 / 2.0;
                // Four square corners keep (1 - pi/4) r² each.
                let corners = if c.contour.vertices().iter().all(|v| v.bulge == 0.0) { 4.0 * (1.0 - std::f64::consts::FRAC_PI_4) * r * r } else { 0.0 };
                if let Operation::Pocket { depth } = c.operation {
                        let cleared = swept(p, b, THICK - depth.0 + 1e-9);
                        let left = mm2(&difference_64(&area, &cleared, FillRule::NonZero));
                        prop_assert!(left < corners + edge.length() * 1e-3, "left {left} mm² in {}", c.feature);
                        let over = mm2(&difference_64(&cleared, &area, FillRule::NonZero));
                        prop_assert!(over < edge.length() * 1e-3, "{} is {over} mm² too big", c.feature);
                } else {
                    let inner = difference_64(&area, &grown(&area, -0.5, EndType::Polygon), FillRule::NonZero);
                    let left = mm2(&difference_64(&inner, &all, FillRule::NonZero));
                    prop_assert!(left < corners + edge.length() * 2e-3, "left {left} mm² in {}", c.feature);
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(25))]
    /// Pockets and islands on a grid, where offsets tie.
    #[test]
    fn pockets_with_islands_are_cleared_and_keep_them(
        size in (12_u32..60, 12_u32..40),
        islands in prop::collection::vec((0_u32..4, 0_u32..3, 2_u32..8, any::<bool>()), 0..5),
    ) {
        let (w, h) = (f64::from(size.0) * 5.0, f64::from(size.1) * 5.0);
        let mut c = pocket(rect(50.0, 50.0, w, h), 5.0, "pocket");
        let mut taken = Vec::new();
        for (col, row, s, round) in islands {
            let (pitch_x, pitch_y, s) = (w / 4.0, h / 3.0, f64::from(s));
            // Each in its own field of the grid, with room for the smaller cutter all round; the larger often has none.
            if s < pitch_x.min(pitch_y) - 4.0 && !taken.contains(&(col, row)) {
                taken.push((col, row));
                let middle = Point::new(50.0 + pitch_x * (f64::from(col) + 0.5), 50.0 + pitch_y * (f64::from(row) + 0.5));
                c.islands.push(if round {
                    Contour::circle(middle, s / 2.0).unwrap()
                } else {
                    rect(middle.x - s / 2.0, middle.y - s / 2.0, s, s)
                });
            }
        }
        let job = Job::one(part("a", rect(0.0, 0.0, 400.0, 300.0), vec![c.clone()]));
        let [left, over, corners] = floor_of(&job, &c);
        let edges = c.contour.length() + c.islands.iter().map(Contour::length).sum::<f64>();
        prop_assert!(left < corners + edges * 1e-3, "left {left} mm²");
        prop_assert!(over < edges * 1e-3, "{over} mm² too much");
    }
}

/// What stays of a pocket's floor, what is cut beside it, and what four square corners keep of it, mm².
fn floor_of(job: &Job, c: &FlatCut) -> [f64; 3] {
    let programs = job.sound();
    let (p, b) = super::bench::block(&programs, "pocket");
    let r = p.cutter.diameter.0 / 2.0;
    let islands: Paths64 = c.islands.iter().flat_map(|i| polygon(&job.laid(0, i, SheetSide::First))).collect();
    let floor = difference_64(&polygon(&job.laid(0, &c.contour, SheetSide::First)), &islands, FillRule::NonZero);
    let cleared = swept(p, b, THICK - 5.0 + 1e-9);
    let left = mm2(&difference_64(&floor, &cleared, FillRule::NonZero));
    let over = mm2(&difference_64(&cleared, &floor, FillRule::NonZero));
    [left, over, 4.0 * (1.0 - std::f64::consts::FRAC_PI_4) * r * r]
}

/// A pocket of 75 x 60 mm with a round island that leaves passages of 5.875 and 6.5 mm along two walls.
fn passage() -> FlatCut {
    let mut c = pocket(rect(50.0, 50.0, 75.0, 60.0), 5.0, "pocket");
    c.islands.push(Contour::circle(Point::new(59.375, 60.0), 3.5).unwrap());
    c
}

#[test]
fn a_passage_narrower_than_the_outlines_cutter_is_cleared_by_a_smaller_one() {
    let c = passage();
    let job = Job::one(part("a", rect(0.0, 0.0, 400.0, 300.0), vec![c.clone()]));
    let [left, over, corners] = floor_of(&job, &c);
    assert!(left < corners + 0.3 && over < 0.3, "{left} mm² left, {corners} of them in corners; {over} too much");
    let programs = job.sound();
    assert!((super::bench::block(&programs, "pocket").0.cutter.diameter.0 - 3.175).abs() < 1e-9);
}

#[test]
fn a_passage_narrower_than_every_cutter_stops_with_its_place_and_a_cutter_that_would_do() {
    let wide = usual_cutters().into_iter().filter(|c| c.diameter.0 > 6.0).collect();
    let panel = part("a", rect(0.0, 0.0, 400.0, 300.0), vec![passage()]);
    let job = Job::new(router(), wide, vec![(panel, Turn::None, [50.0, 50.0])]);
    let checked = job.plan();
    let stop = checked.findings.iter().find(|f| f.code.id == "no-cutter-fits").unwrap();
    // Two pieces in the neck of 5.875 mm between island and wall, 1.75 and 0.57 mm², the larger at the wall 10 mm up. A cutter of
    // 5.9 mm leaves nothing thicker there than counts as cut.
    assert!(stop.message.contains("would leave 2.3 mm² uncut, at (50.6, 60.0) of the part"), "{}", stop.message);
    assert!(stop.remedy.contains("5.9 mm"), "{}", stop.remedy);
}

#[test]
fn a_neck_between_two_bows_is_a_passage_as_well() {
    // Bows of 10.25 mm radius from the lower and the upper side of a pocket, 5.27 mm apart aslant; the cutter touches the middle of
    // each and does not pass between them.
    let v = |x: f64, y: f64, bulge: f64| Vertex { x, y, bulge };
    let waist = [
        v(50.0, 50.0, 0.0),
        v(60.0, 50.0, -0.8),
        v(80.0, 50.0, 0.0),
        v(100.0, 50.0, 0.0),
        v(100.0, 70.0, 0.0),
        v(88.0, 70.0, -0.8),
        v(68.0, 70.0, 0.0),
        v(50.0, 70.0, 0.0),
    ];
    let c = pocket(Contour::new(&waist).unwrap(), 5.0, "pocket");
    let job = Job::one(part("a", rect(0.0, 0.0, 400.0, 300.0), vec![c.clone()]));
    let programs = job.sound();
    assert!((super::bench::block(&programs, "pocket").0.cutter.diameter.0 - 3.175).abs() < 1e-9);
    // Where a bow leaves its side, a corner keeps more than a square one does.
    let [left, over, corners] = floor_of(&job, &c);
    assert!(left < 3.0 * corners && over < 0.3, "{left} mm² left, {corners} of them in square corners; {over} too much");
    // With the bows farther apart the wider cutter passes.
    let apart = waist.map(|p| if p.y > 60.0 { v(p.x, p.y + 2.0, p.bulge) } else { p });
    let c = pocket(Contour::new(&apart).unwrap(), 5.0, "pocket");
    let programs = Job::one(part("a", rect(0.0, 0.0, 400.0, 300.0), vec![c])).sound();
    assert!((super::bench::block(&programs, "pocket").0.cutter.diameter.0 - 6.35).abs() < 1e-9);
}

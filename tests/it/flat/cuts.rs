//! Openings, pockets, grooves, slots, holes and countersinks.

use super::support::{
    area, blind, clean, close, d, design, feature, found, groove, hole, laser, mated, outside, panel, part, rectangle, run,
    slot, usual, DENSITY, GLUED,
};
use baywright::design::ReliefStyle;
use baywright::diag::Severity;
use baywright::flat::{codes, FlatPart, Operation, Side};
use baywright::geom::{Contour, Point, Region};
use baywright::parts::{Depth, Face, FeatureKind, Purpose};
use std::f64::consts::PI;

const R: f64 = 3.25;

fn one(features: Vec<baywright::parts::Feature>) -> FlatPart {
    clean(&usual(), panel("P", 400.0, 200.0, features))
}

#[test]
fn an_opening_for_a_mate_is_relieved_and_clockwise() {
    let part = one(vec![rectangle("o", [100.0, 50.0, 80.0, 18.15], None, Depth::Through)]);
    let cut = &part.cuts[0];
    assert_eq!((cut.operation, cut.side), (Operation::ThroughInside, Side::Up));
    close(cut.contour.area(), -(80.0 * 18.15 + 4.0 * R * R * (PI / 2.0 - 1.0)), 1e-6);
    assert!(Region::new(cut.contour.clone(), vec![]).unreachable(3.0).expect("rolled").is_empty());
}

#[test]
fn an_opening_with_a_radius_is_rounded() {
    let part = one(vec![rectangle("o", [100.0, 50.0, 80.0, 40.0], Some(10.0), Depth::Through)]);
    close(part.cuts[0].contour.area(), -(3200.0 - 100.0 * (4.0 - PI)), 1e-6);
}

#[test]
fn a_radius_too_large_for_the_opening_stops() {
    let codes = found(&usual(), vec![rectangle("o", [100.0, 50.0, 80.0, 40.0], Some(21.0), Depth::Through)]);
    assert_eq!(codes, vec![(codes::CUT_SHAPE_BAD, Severity::Stop)]);
}

/// A dado for a sheet that measures 17.2 mm instead of 18: the seat is the sheet itself, the channel 0.15 mm wider.
#[test]
fn a_dado_for_a_thin_sheet_seats_it_with_its_clearance() {
    let host = panel("A", 400.0, 200.0, vec![groove("dado", [100.0, 0.0, 17.2 + GLUED, 200.0], Face::A, 6.0)]);
    let checked = run(&usual(), mated(host, 17.2));
    assert!(checked.findings.is_empty(), "{:?}", checked.findings);
    let part = &checked.value.expect("parts").parts[0];
    let cut = &part.cuts[0];
    let b = cut.contour.bounds();
    close(b.width(), 17.35, 1e-9);
    // Open ends run out by the cutter's radius and 1 mm.
    assert_eq!((b.y0, b.y1), (-4.0, 204.0));
    let seat = cut.seats.as_ref().expect("a seat").shape.bounds();
    close(seat.width(), 17.2, 1e-9);
    assert_eq!((seat.y0, seat.y1), (0.0, 200.0));
    close(part.mass_kg, (80_000.0 * 18.0 - 17.35 * 200.0 * 6.0) * DENSITY / 1e9, 1e-9);
}

#[test]
fn a_stopped_groove_is_relieved_at_its_closed_end() {
    let part = one(vec![groove("g", [100.0, 0.0, 12.0, 150.0], Face::A, 6.0)]);
    let cut = &part.cuts[0];
    close(-cut.contour.area(), 12.0 * 154.0 + 2.0 * R * R * (PI / 2.0 - 1.0), 1e-6);
    let square = Contour::rect(baywright::geom::Rect::new(100.0, 0.0, 112.0, 150.0)).expect("square");
    close(outside(&square, &cut.contour), 0.0, 1e-9);
    // What the cutter does not reach lies outside the panel, in the run-out.
    let left = Region::new(cut.contour.clone(), vec![]).unreachable(3.0).expect("rolled");
    assert!(left.iter().all(|r| r.outer.bounds().y1 <= 0.0), "{left:?}");
}

#[test]
fn a_rabbet_runs_out_over_the_edge_it_lies_on() {
    let part = one(vec![groove("r", [0.0, 0.0, 400.0, 9.0], Face::A, 6.0)]);
    let b = part.cuts[0].contour.bounds();
    assert_eq!((b.x0, b.y0, b.x1, b.y1), (-4.0, -4.0, 404.0, 9.0));
    close(part.mass_kg, (80_000.0 * 18.0 - 3600.0 * 6.0) * DENSITY / 1e9, 1e-9);
}

#[test]
fn a_groove_drawn_beyond_the_panel_is_clipped_and_one_beside_it_stops() {
    let part = one(vec![groove("g", [100.0, -80.0, 12.0, 500.0], Face::A, 6.0)]);
    let b = part.cuts[0].contour.bounds();
    assert_eq!((b.y0, b.y1), (-4.0, 204.0));
    let beside = vec![groove("g", [420.0, 0.0, 12.0, 200.0], Face::A, 6.0)];
    assert_eq!(found(&usual(), beside), vec![(codes::CUT_OUTSIDE_PART, Severity::Stop)]);
}

#[test]
fn a_blind_notch_is_a_pocket_open_at_the_edge() {
    let mut cut = super::support::notch("n", [100.0, 0.0, 40.0, 18.0]);
    cut.depth = blind(Face::A, 9.0);
    let part = one(vec![cut]);
    close(part.outline.contour.area(), 80_000.0, 1e-9);
    assert!(matches!(part.cuts[0].operation, Operation::Pocket { depth } if depth.0 == 9.0));
    close(-part.cuts[0].contour.area(), 40.0 * 22.0 + 2.0 * R * R * (PI / 2.0 - 1.0), 1e-6);
}

#[test]
fn a_rabbet_narrower_than_the_cutter_is_cut_from_outside() {
    let part = one(vec![groove("r", [0.0, 0.0, 400.0, 4.0], Face::A, 6.0)]);
    assert_eq!(part.cuts[0].contour.bounds().y1, 4.0);
}

#[test]
fn a_slot_has_round_ends() {
    let part = one(vec![slot("s", [100.0, 100.0], [150.0, 100.0], 9.0)]);
    close(part.cuts[0].contour.area(), -(50.0 * 9.0 + PI * 20.25), 1e-9);
}

#[test]
fn cuts_narrower_than_every_cutter_stop() {
    let narrow = |w: f64| {
        vec![
            slot("s", [100.0, 100.0], [150.0, 100.0], w),
            rectangle("o", [100.0, 50.0, 80.0, w], None, Depth::Through),
            rectangle("r", [100.0, 50.0, 80.0, w], Some(1.0), blind(Face::A, 5.0)),
            groove("g", [100.0, 0.0, w, 150.0], Face::A, 5.0),
        ]
    };
    for width in [5.9999, 2.0] {
        for cut in narrow(width) {
            let checked = run(&usual(), vec![panel("P", 400.0, 200.0, vec![cut])]);
            let finding = &checked.findings[0];
            assert_eq!((finding.code, finding.severity), (codes::TOO_NARROW_FOR_CUTTER, Severity::Stop));
            assert!(finding.remedy.contains(&format!("at most {width} mm")), "{}", finding.remedy);
        }
    }
    for cut in narrow(6.0) {
        let codes = found(&usual(), vec![cut]);
        assert!(codes.iter().all(|c| c.1 != Severity::Stop), "{codes:?}");
    }
}

#[test]
fn a_smaller_cutter_at_hand_is_used_where_the_outline_cutter_does_not_go() {
    let shop = design(&[6.0, 3.0], &[]);
    let part = clean(&shop, panel("P", 400.0, 200.0, vec![rectangle("o", [100.0, 50.0, 80.0, 5.0], None, Depth::Through)]));
    // 1.5 + 0.25 mm on the diagonal needs 2 √2 1.75 = 4.95 of the 5 mm.
    close(-part.cuts[0].contour.area(), 400.0 + 4.0 * 1.75 * 1.75 * (PI / 2.0 - 1.0), 1e-6);
}

#[test]
fn holes_are_drilled_or_bored_or_marked() {
    for (diameter, made) in [(3.0, true), (5.0, true), (5.04, true), (6.0, true), (35.0, true), (4.0, false), (2.0, false)] {
        let checked = run(&usual(), vec![panel("P", 400.0, 200.0, vec![hole("h", 100.0, 100.0, diameter, Depth::Through)])]);
        let cut = &checked.value.as_ref().expect("parts").parts[0].cuts[0];
        if made {
            let at = Point::new(100.0, 100.0);
            let drill = Operation::Drill { at, diameter: baywright::units::Mm(diameter), depth: None };
            assert_eq!(cut.operation, drill, "{diameter}");
            assert!(checked.findings.is_empty());
        } else {
            assert_eq!(cut.operation, Operation::Mark, "{diameter}");
            assert_eq!((checked.findings[0].code, checked.findings[0].severity), (codes::DRILL_BY_HAND, Severity::Note));
            assert!(checked.findings[0].remedy.contains("by hand"));
        }
        close(cut.contour.area(), -PI * diameter * diameter / 4.0, 1e-9);
    }
}

#[test]
fn a_countersunk_hole_is_two_cuts() {
    let kind =
        |head: f64| FeatureKind::Countersunk { at: [d(100.0), d(100.0)], diameter: d(5.0), head: d(head), face: Face::A };
    let part = one(vec![feature("screw", kind(9.0), Depth::Through, Purpose::Clearance)]);
    assert!(matches!(part.cuts[0].operation, Operation::Drill { depth: None, .. }));
    assert!(matches!(part.cuts[1].operation, Operation::Countersink { diameter, .. } if diameter.0 == 9.0));
    assert_eq!(part.cuts[0].feature, part.cuts[1].feature);
    // Cone of 2 mm: frustum π h (R² + R r + r²) / 3 less the hole in it.
    let cone = PI * 2.0 * ((4.5 * 4.5 + 4.5 * 2.5 + 2.5 * 2.5) / 3.0 - 2.5 * 2.5);
    close(part.mass_kg, (80_000.0 * 18.0 - PI * 6.25 * 18.0 - cone) * DENSITY / 1e9, 1e-9);
    let flat = vec![feature("screw", kind(5.0), Depth::Through, Purpose::Clearance)];
    assert_eq!(found(&usual(), flat), vec![(codes::COUNTERSINK_TOO_SMALL, Severity::Stop)]);
    let deep = vec![feature("screw", kind(41.0), Depth::Through, Purpose::Clearance)];
    assert_eq!(found(&usual(), deep), vec![(codes::BLIND_TOO_DEEP, Severity::Stop)]);
}

#[test]
fn a_free_opening_names_what_the_cutter_leaves() {
    let square = Contour::rect(baywright::geom::Rect::new(100.0, 50.0, 140.0, 90.0)).expect("square");
    let free = |c: &Contour| vec![feature("f", FeatureKind::Free(c.clone()), Depth::Through, Purpose::Own)];
    assert_eq!(found(&usual(), free(&square)), vec![(codes::CORNER_NOT_REACHED, Severity::Caution)]);
    let round = Contour::rounded_rect(square.bounds(), 4.0).expect("rounded");
    assert_eq!(found(&usual(), free(&round)), vec![]);
    let tiny = Contour::circle(Point::new(100.0, 100.0), 2.5).expect("circle");
    let checked = run(&usual(), vec![panel("P", 400.0, 200.0, free(&tiny))]);
    assert_eq!(checked.findings[0].code, codes::TOO_NARROW_FOR_CUTTER);
    assert!(checked.findings[0].message.contains("4.99") || checked.findings[0].message.contains("5 mm"));
}

#[test]
fn a_pocket_is_as_deep_as_asked_from_its_face() {
    let part = one(vec![rectangle("p", [100.0, 50.0, 80.0, 40.0], Some(5.0), blind(Face::B, 6.0))]);
    assert!(matches!(part.cuts[0].operation, Operation::Pocket { depth } if depth.0 == 6.0));
    assert_eq!((part.face_up, part.cuts[0].side), (Face::B, Side::Up));
}

#[test]
fn shapes_without_size_stop() {
    let bad = vec![
        hole("h", 100.0, 100.0, 0.0, Depth::Through),
        hole("h", 100.0, 100.0, -3.0, Depth::Through),
        hole("h", f64::NAN, 100.0, 5.0, Depth::Through),
        slot("s", [100.0, 100.0], [150.0, 100.0], 0.0),
        rectangle("o", [100.0, 50.0, 0.0, 30.0], None, Depth::Through),
        rectangle("o", [100.0, 50.0, f64::NAN, 30.0], None, Depth::Through),
        rectangle("p", [100.0, 50.0, 80.0, 40.0], Some(5.0), blind(Face::A, 0.0)),
        rectangle("p", [100.0, 50.0, 80.0, 40.0], Some(5.0), blind(Face::A, f64::NAN)),
        rectangle("p", [100.0, 50.0, 80.0, 40.0], Some(f64::NAN), Depth::Through),
        rectangle("p", [100.0, 50.0, 80.0, 40.0], Some(-5.0), Depth::Through),
    ];
    for cut in bad {
        let text = format!("{cut:?}");
        assert_eq!(found(&usual(), vec![cut]), vec![(codes::CUT_SHAPE_BAD, Severity::Stop)], "{text}");
    }
}

#[test]
fn a_laser_marks_what_it_cannot_cut() {
    let cuts = vec![
        groove("g", [100.0, 0.0, 4.0, 200.0], Face::A, 2.0),
        hole("small", 200.0, 100.0, 4.0, Depth::Through),
        hole("large", 220.0, 100.0, 9.0, Depth::Through),
        rectangle("o", [250.0, 50.0, 80.0, 3.0], None, Depth::Through),
    ];
    let checked = run(&laser(), vec![panel("P", 400.0, 200.0, cuts)]);
    let codes: Vec<_> = checked.findings.iter().map(|f| (f.code, f.severity)).collect();
    assert_eq!(codes, vec![(codes::BLIND_ON_LASER, Severity::Caution), (codes::DRILL_BY_HAND, Severity::Note)]);
    let part = &checked.value.expect("parts").parts[0];
    let marks = part.cuts.iter().filter(|c| c.operation == Operation::Mark).count();
    assert_eq!(marks, 2);
    let opening = part.cuts.iter().find(|c| c.feature == "o").expect("opening");
    close(opening.contour.area(), -240.0, 1e-9);
}

#[test]
fn a_pocket_without_relief_keeps_the_cutters_corners() {
    let mut shop = usual();
    shop.process.relief = ReliefStyle::None;
    let part =
        part(&shop, panel("P", 400.0, 200.0, vec![rectangle("p", [100.0, 50.0, 80.0, 40.0], None, blind(Face::A, 6.0))]));
    close(-part.cuts[0].contour.area(), 3200.0 - 9.0 * (4.0 - PI), 1e-6);
    close(area(&Region::new(part.cuts[0].contour.clone(), vec![]).unreachable(3.0).expect("rolled")), 0.0, 1e-6);
}

#[test]
fn alike_cuts_share_a_finding_that_names_them_all() {
    let holes = (0..6).map(|i| hole(&format!("h{i}"), 50.0 + 50.0 * f64::from(i), 100.0, 2.0, Depth::Through)).collect();
    let checked = run(&usual(), vec![panel("P", 400.0, 200.0, holes)]);
    assert_eq!(checked.findings.len(), 1);
    let message = &checked.findings[0].message;
    assert!(message.starts_with("each of `h0`, `h1`") && message.contains("`h5` of 2 mm is a hole"), "{message}");
}

#[test]
fn a_router_without_cutters_gives_nothing() {
    let checked = run(&design(&[], &[5.0]), vec![panel("P", 400.0, 200.0, vec![])]);
    assert!(checked.value.is_none());
    assert_eq!(checked.findings[0].code, codes::NO_CUTTER);
}

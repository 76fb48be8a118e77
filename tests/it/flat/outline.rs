//! Outlines with notches, areas worked out by formula.

use super::support::{area, clean, close, d, design, found, laser, mated, notch, panel, part, run, usual};
use baywright::design::ReliefStyle;
use baywright::diag::Severity;
use baywright::flat::{codes, seats};
use baywright::geom::{Contour, Point};
use baywright::parts::{FeatureKind, Model, Purpose};
use std::f64::consts::PI;

/// Relief radius of the usual design: 3 mm cutter radius and 0.25 mm.
const R: f64 = 3.25;

/// What a diagonal relief takes beyond its corner: half a disc less the triangle on its diameter.
fn diagonal(r: f64) -> f64 {
    r * r * (PI / 2.0 - 1.0)
}

/// What a relief beside the corner takes: half a disc.
fn along(r: f64) -> f64 {
    PI * r * r / 2.0
}

#[test]
fn a_plain_panel_keeps_its_rectangle() {
    let part = clean(&usual(), panel("P", 400.0, 200.0, vec![]));
    close(part.outline.contour.area(), 80_000.0, 1e-9);
    assert_eq!(part.outline.contour.vertices().len(), 4);
    close(part.mass_kg, 0.4 * 0.2 * 0.018 * 680.0, 1e-12);
    assert!(part.cuts.is_empty() && part.keep_clean.is_empty());
}

#[test]
fn a_notch_takes_its_rectangle_and_two_diagonal_reliefs() {
    let part = clean(&usual(), panel("P", 400.0, 200.0, vec![notch("n", [100.0, 0.0, 40.0, 18.0])]));
    close(part.outline.contour.area(), 80_000.0 - 720.0 - 2.0 * diagonal(R), 1e-6);
    assert!(part.outline.contour.is_ccw());
    assert!(part.outline.contour.unreachable_outside(3.0).expect("rolled").is_empty());
}

#[test]
fn each_edge_may_be_notched() {
    let all = [[100.0, 0.0, 40.0, 18.0], [100.0, 182.0, 40.0, 18.0], [0.0, 80.0, 18.0, 40.0], [382.0, 80.0, 18.0, 40.0]];
    let features = all.iter().enumerate().map(|(i, r)| notch(&format!("n{i}"), *r)).collect();
    let part = clean(&usual(), panel("P", 400.0, 200.0, features));
    close(part.outline.contour.area(), 80_000.0 - 4.0 * 720.0 - 8.0 * diagonal(R), 1e-6);
}

#[test]
fn a_relief_beside_the_corner_follows_the_longer_edge() {
    let mut shop = usual();
    shop.process.relief = ReliefStyle::AlongEdge;
    let part = clean(&shop, panel("P", 400.0, 200.0, vec![notch("n", [100.0, 0.0, 40.0, 18.0])]));
    close(part.outline.contour.area(), 80_000.0 - 720.0 - 2.0 * along(R), 1e-6);
    // Half of 40 is longer than 18: the reliefs deepen the notch and do not widen it.
    assert!(!part.outline.contour.contains(Point::new(103.0, 18.0 + R - 0.1)));
    assert!(part.outline.contour.contains(Point::new(99.9, 17.0)));
}

#[test]
fn a_corner_notch_has_one_inner_corner() {
    for at in [[0.0, 0.0], [360.0, 0.0], [0.0, 182.0], [360.0, 182.0]] {
        let part = clean(&usual(), panel("P", 400.0, 200.0, vec![notch("n", [at[0], at[1], 40.0, 18.0])]));
        close(part.outline.contour.area(), 80_000.0 - 720.0 - diagonal(R), 1e-6);
    }
}

#[test]
fn a_notch_along_a_whole_edge_makes_the_part_smaller() {
    let part = clean(&usual(), panel("P", 400.0, 200.0, vec![notch("n", [0.0, 0.0, 400.0, 18.0])]));
    close(part.outline.contour.area(), 400.0 * 182.0, 1e-6);
    close(part.width.0, 182.0, 1e-9);
    close(part.outline.contour.bounds().y0, 0.0, 1e-9);
}

#[test]
fn notches_side_by_side_are_united_and_only_real_corners_relieved() {
    let features = vec![notch("a", [100.0, 0.0, 40.0, 18.0]), notch("b", [140.0, 0.0, 40.0, 30.0])];
    let part = clean(&usual(), panel("P", 400.0, 200.0, features));
    // Inner corners: (100, 18), (140, 30), (180, 30); at (140, 18) wood stands on one side only.
    close(part.outline.contour.area(), 80_000.0 - 720.0 - 1200.0 - 3.0 * diagonal(R), 1e-5);
}

#[test]
fn equal_notches_side_by_side_are_one() {
    let features = vec![notch("a", [100.0, 0.0, 40.0, 18.0]), notch("b", [140.0, 0.0, 40.0, 18.0])];
    let part = clean(&usual(), panel("P", 400.0, 200.0, features));
    close(part.outline.contour.area(), 80_000.0 - 1440.0 - 2.0 * diagonal(R), 1e-5);
}

#[test]
fn overlapping_notches_count_once() {
    let features = vec![notch("a", [100.0, 0.0, 40.0, 18.0]), notch("b", [120.0, 0.0, 40.0, 18.0])];
    let part = clean(&usual(), panel("P", 400.0, 200.0, features));
    close(part.outline.contour.area(), 80_000.0 - 60.0 * 18.0 - 2.0 * diagonal(R), 1e-5);
}

#[test]
fn a_narrow_notch_is_relieved_into_its_side_walls() {
    // 8 mm: two diagonals need 2 √2 3.25 = 9.19 mm, so each relief goes up its own 18 mm wall.
    let part = clean(&usual(), panel("P", 400.0, 200.0, vec![notch("n", [100.0, 0.0, 8.0, 18.0])]));
    close(part.outline.contour.area(), 80_000.0 - 144.0 - 2.0 * along(R), 1e-6);
    assert!(!part.outline.contour.contains(Point::new(100.0 - R + 0.1, 18.0 - R)));
}

#[test]
fn a_notch_as_wide_as_the_cutter_is_cut_and_a_hair_less_is_not() {
    for (width, stop) in [(5.9999, true), (6.0, false), (6.0001, false), (6.3, false)] {
        let codes = found(&usual(), vec![notch("n", [100.0, 0.0, width, 18.0])]);
        assert_eq!(codes.contains(&(codes::TOO_NARROW_FOR_CUTTER, Severity::Stop)), stop, "{width}");
        // 1.05 cutter diameters are 6.3 mm.
        assert_eq!(codes.contains(&(codes::TIGHT_FOR_CUTTER, Severity::Caution)), !stop && width < 6.3, "{width}");
        let part = part(&usual(), panel("P", 400.0, 200.0, vec![notch("n", [100.0, 0.0, width, 18.0])]));
        let left = 80_000.0 - if stop { 0.0 } else { width * 18.0 + 2.0 * along(R) };
        close(part.outline.contour.area(), left, 1e-5);
    }
}

#[test]
fn a_relief_without_room_names_the_widest_cutter() {
    // 7 mm wide, 6 mm deep: along the wall the radius is at most 3 mm, on the diagonal 3.5 / √2; less 0.25 mm: 5.5 mm.
    let features = vec![notch("n", [100.0, 0.0, 7.0, 6.0])];
    let checked = run(&usual(), vec![panel("P", 400.0, 200.0, features.clone())]);
    let finding = checked.findings.iter().find(|f| f.code == codes::RELIEF_DOES_NOT_FIT).expect("found");
    assert_eq!(finding.severity, Severity::Stop);
    assert!(finding.message.contains("5.5 mm") && finding.remedy.contains("5.5 mm"), "{finding:?}");
    assert!(!found(&design(&[5.5], &[]), features).iter().any(|f| f.0 == codes::RELIEF_DOES_NOT_FIT));
}

#[test]
fn without_relief_corners_keep_the_cutters_arc() {
    let mut shop = usual();
    shop.process.relief = ReliefStyle::None;
    let checked = run(&shop, vec![panel("P", 400.0, 200.0, vec![notch("n", [100.0, 0.0, 40.0, 18.0])])]);
    let contour = &checked.value.expect("parts").parts[0].outline.contour;
    close(contour.area(), 80_000.0 - 720.0 + 2.0 * 9.0 * (1.0 - PI / 4.0), 1e-6);
    assert_eq!(checked.findings[0].code, codes::CORNER_NOT_RELIEVED);
}

#[test]
fn a_grip_notch_keeps_its_radius_or_the_cutters() {
    for (asked, made, noted) in [(12.0, 12.0, false), (3.0, 3.0, false), (1.0, 3.0, true)] {
        let mut grip = notch("grip", [100.0, 170.0, 100.0, 30.0]);
        grip.purpose = Purpose::Grip;
        if let FeatureKind::EdgeNotch { radius, .. } = &mut grip.kind {
            *radius = Some(d(asked));
        }
        let checked = run(&usual(), vec![panel("P", 400.0, 200.0, vec![grip])]);
        let part = &checked.value.expect("parts").parts[0];
        close(part.outline.contour.area(), 80_000.0 - 3000.0 + 2.0 * made * made * (1.0 - PI / 4.0), 1e-6);
        assert_eq!(checked.findings.iter().any(|f| f.code == codes::CORNER_RADIUS_RAISED), noted);
        assert!(part.keep_clean.is_empty());
    }
}

#[test]
fn a_laser_needs_no_relief() {
    let part = clean(&laser(), panel("P", 400.0, 200.0, vec![notch("n", [100.0, 0.0, 4.0, 18.0])]));
    close(part.outline.contour.area(), 80_000.0 - 72.0, 1e-9);
}

/// Every corner that takes a square mate: the mate grown by its clearance lies wholly where the cutter reaches.
#[test]
fn the_mate_and_its_clearance_lie_where_the_cutter_rolls() {
    for style in [ReliefStyle::Diagonal, ReliefStyle::AlongEdge] {
        for width in [6.4, 8.0, 9.2, 14.0, 17.2 + super::support::FINGER, 60.0] {
            for diameter in [3.0, 6.0] {
                let mut shop = design(&[diameter], &[]);
                shop.process.relief = style;
                let host = panel("A", 400.0, 200.0, vec![notch("n", [100.0, 0.0, width, 18.0])]);
                let model = Model { panels: mated(host, 18.0), ..Model::default() };
                let parts = baywright::flat::flatten(&shop, &model).value.expect("parts").parts;
                let outline = &parts[0].outline.contour;
                assert!(outline.unreachable_outside(diameter / 2.0).expect("rolled").is_empty(), "{style:?} {width}");
                let (id, seat) = seats(&shop, &model, &parts[0]).remove(0);
                assert_eq!(id, "n");
                close(seat.shape.bounds().width(), width - super::support::FINGER, 1e-9);
                assert_eq!(seat.mate, "Z-mate");
                let grown = Contour::rect(seat.shape.bounds().inflate(super::support::FINGER / 2.0, 0.0)).expect("grown");
                close(area(&outline.intersection(&grown).expect("overlap")), 0.0, 1e-6);
            }
        }
    }
}

#[test]
fn notches_that_split_a_panel_stop() {
    let two = found(&usual(), vec![notch("n", [100.0, 0.0, 40.0, 200.0])]);
    assert_eq!(two, vec![(codes::OUTLINE_IN_PIECES, Severity::Stop)]);
    let nothing = found(&usual(), vec![notch("n", [0.0, 0.0, 400.0, 200.0])]);
    assert_eq!(nothing, vec![(codes::OUTLINE_IN_PIECES, Severity::Stop)]);
    assert_eq!(found(&usual(), vec![notch("n", [100.0, 0.0, 40.0, 150.0])]), vec![]);
}

#[test]
fn a_notch_must_reach_an_edge() {
    for at in [[100.0, 50.0, 40.0, 18.0], [100.0, -40.0, 40.0, 18.0]] {
        assert_eq!(found(&usual(), vec![notch("n", at)]), vec![(codes::NOTCH_OFF_EDGE, Severity::Stop)]);
    }
}

#[test]
fn a_free_outline_is_notched_too() {
    let mut host =
        panel("P", 400.0, 200.0, vec![notch("n", [100.0, 0.0, 40.0, 18.0]), notch("slope", [300.0, 60.0, 100.0, 60.0])]);
    let corners = [(0.0, 0.0), (400.0, 0.0), (400.0, 50.0), (300.0, 200.0), (0.0, 200.0)];
    host.outline = Some(Contour::polygon(&corners.map(|(x, y)| Point::new(x, y))).expect("polygon"));
    let part = clean(&usual(), host);
    // The slope x = 400 − (y − 50) · 2/3 crosses the notch from (393.33, 60) to (353.33, 120).
    let taken = 60.0 * (93.0 + 1.0 / 3.0 + 53.0 + 1.0 / 3.0) / 2.0;
    close(part.outline.contour.area(), 72_500.0 - 720.0 - taken - 4.0 * diagonal(R), 1e-3);
}

#[test]
fn a_free_outline_that_crosses_itself_stops() {
    let mut host = panel("P", 400.0, 200.0, vec![]);
    let corners = [(0.0, 0.0), (400.0, 200.0), (400.0, 0.0), (0.0, 150.0)];
    host.outline = Contour::polygon(&corners.map(|(x, y)| Point::new(x, y))).ok();
    let checked = run(&usual(), vec![host]);
    assert_eq!(checked.findings[0].code, codes::OUTLINE_BAD);
    assert!(checked.value.expect("a value").parts.is_empty());
}

#[test]
fn sharp_inner_corners_of_a_free_outline_are_named() {
    let mut host = panel("P", 400.0, 200.0, vec![]);
    let corners = [(0.0, 0.0), (400.0, 0.0), (400.0, 200.0), (300.0, 200.0), (300.0, 100.0), (0.0, 100.0)];
    host.outline = Contour::polygon(&corners.map(|(x, y)| Point::new(x, y))).ok();
    let checked = run(&usual(), vec![host.clone()]);
    assert_eq!(checked.findings[0].code, codes::CORNER_NOT_REACHED);
    assert!(run(&laser(), vec![host]).findings.is_empty());
}

#[test]
fn sizes_that_are_not_sizes_stop() {
    for (l, w) in [(0.0, 200.0), (400.0, -5.0), (f64::NAN, 200.0), (f64::INFINITY, 200.0)] {
        let checked = run(&usual(), vec![panel("P", l, w, vec![])]);
        assert_eq!(checked.findings[0].code, codes::OUTLINE_BAD, "{l} x {w}");
    }
}

//! Each check with a failing and a passing case.

use super::support::{blind, d, feature, found, groove, hole, notch, panel, rectangle, run, slot, usual};
use baywright::diag::{Code, Severity};
use baywright::dim::{Dim, Source, SourceKind};
use baywright::flat::codes;
use baywright::parts::{Depth, Face, Feature, FeatureKind, Purpose};
use baywright::units::Mm;

#[track_caller]
fn only(features: Vec<Feature>, expected: Option<(Code, Severity)>) {
    assert_eq!(found(&usual(), features), expected.into_iter().collect::<Vec<_>>());
}

#[test]
fn openings_lie_inside_the_outline() {
    let stop = Some((codes::CUT_OUTSIDE_PART, Severity::Stop));
    only(vec![hole("h", 500.0, 100.0, 5.0, Depth::Through)], stop);
    only(vec![hole("h", 1.0, 100.0, 5.0, Depth::Through)], stop);
    only(vec![hole("h", 2.5, 100.0, 5.0, Depth::Through)], stop);
    only(vec![rectangle("o", [380.0, 50.0, 40.0, 40.0], Some(5.0), Depth::Through)], stop);
    only(vec![rectangle("p", [380.0, 50.0, 40.0, 40.0], Some(5.0), blind(Face::A, 5.0))], stop);
    only(vec![notch("n", [100.0, 0.0, 40.0, 18.0]), hole("h", 120.0, 10.0, 5.0, Depth::Through)], stop);
    only(vec![hole("h", 20.0, 100.0, 5.0, Depth::Through)], None);
}

/// 2 mm is the hard floor (cutting services' file rules), 6 mm the design's least web.
#[test]
fn wood_between_a_cut_and_the_edge() {
    let web = |w: f64| vec![hole("h", 2.5 + w, 100.0, 5.0, Depth::Through)];
    only(web(1.9999), Some((codes::WEB_TOO_THIN, Severity::Stop)));
    only(web(2.0), Some((codes::WEB_TOO_THIN, Severity::Caution)));
    only(web(5.9999), Some((codes::WEB_TOO_THIN, Severity::Caution)));
    only(web(6.0), None);
}

/// A screw's hole in the middle of its mate's edge is no bridge: only the hard floor counts.
#[test]
fn wood_beside_a_screw() {
    let screw = |w: f64| {
        let mut hole = hole("h", 2.1 + w, 100.0, 4.2, Depth::Through);
        hole.purpose = Purpose::Clearance;
        vec![hole]
    };
    let shop = super::support::design(&[4.0], &[]);
    assert_eq!(found(&shop, screw(5.3)), vec![]);
    assert_eq!(found(&shop, screw(1.9)), vec![(codes::WEB_TOO_THIN, Severity::Stop)]);
}

#[test]
fn alike_thin_webs_are_told_together() {
    let holes = (0..5).map(|i| hole(&format!("h{i}"), 40.0 + 60.0 * f64::from(i), 5.0, 5.0, Depth::Through)).collect();
    let checked = run(&usual(), vec![panel("P", 400.0, 200.0, holes)]);
    assert_eq!(checked.findings.len(), 1, "{:?}", checked.findings);
    let message = &checked.findings[0].message;
    assert!(message.contains("2.5 mm") && (0..5).all(|i| message.contains(&format!("`h{i}`"))), "{message}");
}

/// A drawer wall's bottom groove ends in the finger notches at its corners.
#[test]
fn a_groove_may_end_in_a_notch() {
    let corner = |x: f64| notch(&format!("n{x}"), [x, 0.0, 18.0, 40.0]);
    let joint = |from: f64, to: f64| groove("g", [from, 12.0, to - from, 6.6], Face::A, 6.0);
    only(vec![corner(0.0), corner(382.0), joint(12.0, 388.0)], None);
    let wide = notch("wide", [0.0, 0.0, 60.0, 40.0]);
    only(vec![wide, joint(10.0, 50.0)], Some((codes::CUT_OUTSIDE_PART, Severity::Stop)));
}

#[test]
fn the_wall_beside_a_blind_cut_is_worth_a_look_below_the_hard_floor() {
    let caution = Some((codes::WEB_TOO_THIN, Severity::Caution));
    let dado = |id: &str, x: f64| groove(id, [x, 0.0, 12.0, 200.0], Face::A, 5.0);
    only(vec![dado("a", 1.9)], caution);
    only(vec![dado("a", 100.0), dado("b", 113.9)], caution);
    only(vec![dado("a", 100.0), dado("b", 114.0)], None);
    only(vec![dado("a", 100.0), hole("h", 116.0, 100.0, 5.0, Depth::Through)], caution);
}

#[test]
fn a_countersink_may_not_break_the_edge() {
    let screw = |x: f64| {
        let kind = FeatureKind::Countersunk { at: [d(x), d(100.0)], diameter: d(5.0), head: d(18.0), face: Face::A };
        vec![feature("screw", kind, Depth::Through, Purpose::Clearance)]
    };
    only(screw(8.9), Some((codes::CUT_OUTSIDE_PART, Severity::Stop)));
    only(screw(9.1), None);
    only(screw(-20.0), Some((codes::CUT_OUTSIDE_PART, Severity::Stop)));
}

#[test]
fn wood_between_two_cuts() {
    let web = |w: f64| {
        vec![hole("h", 100.0, 100.0, 5.0, Depth::Through), slot("s", [105.5 + w, 100.0], [150.0, 100.0], 6.0 + 0.4)]
    };
    // Radii 2.5 and 3.2: the walls are w − 0.2 apart.
    only(web(2.1), Some((codes::WEB_TOO_THIN, Severity::Stop)));
    only(web(2.3), Some((codes::WEB_TOO_THIN, Severity::Caution)));
    only(web(6.3), None);
}

#[test]
fn wood_between_two_notches_and_at_the_end() {
    let tooth = |w: f64| vec![notch("a", [100.0, 0.0, 40.0, 18.0]), notch("b", [140.0 + w, 0.0, 40.0, 18.0])];
    // Each diagonal relief widens its notch by 3.25 (1 − 1/√2) = 0.952 mm.
    only(tooth(3.8), Some((codes::WEB_TOO_THIN, Severity::Stop)));
    only(tooth(4.0), Some((codes::WEB_TOO_THIN, Severity::Caution)));
    only(tooth(8.0), None);
    only(vec![notch("a", [2.5, 0.0, 40.0, 18.0])], Some((codes::WEB_TOO_THIN, Severity::Stop)));
    only(vec![notch("a", [8.0, 0.0, 40.0, 18.0])], None);
}

#[test]
fn cuts_do_not_cross() {
    let stop = Some((codes::CUTS_CROSS, Severity::Stop));
    let o = |id: &str, x: f64| rectangle(id, [x, 50.0, 40.0, 40.0], Some(5.0), Depth::Through);
    only(vec![o("a", 100.0), o("b", 130.0)], stop);
    only(vec![o("a", 100.0), o("b", 140.0)], stop);
    only(vec![o("a", 100.0), hole("in", 120.0, 70.0, 5.0, Depth::Through)], stop);
    only(vec![o("a", 100.0), o("twice", 100.0)], stop);
    only(vec![o("a", 100.0), groove("g", [110.0, 0.0, 12.0, 200.0], Face::A, 5.0)], stop);
    only(vec![o("a", 100.0), o("b", 150.0)], None);
}

#[test]
fn a_hole_in_a_pocket_is_as_it_should_be() {
    let pocket = rectangle("p", [100.0, 50.0, 80.0, 40.0], Some(5.0), blind(Face::A, 6.0));
    only(vec![pocket.clone(), hole("h", 140.0, 70.0, 5.0, Depth::Through)], None);
    only(vec![pocket.clone(), hole("h", 140.0, 70.0, 5.0, blind(Face::A, 10.0))], None);
    only(vec![pocket.clone(), hole("h", 140.0, 70.0, 5.0, blind(Face::A, 4.0))], Some((codes::CUTS_CROSS, Severity::Stop)));
    only(vec![pocket, hole("h", 100.0, 70.0, 5.0, Depth::Through)], Some((codes::CUTS_CROSS, Severity::Stop)));
}

#[test]
fn a_dado_may_run_into_a_rabbet() {
    let rabbet = groove("back", [0.0, 188.0, 400.0, 12.0], Face::A, 6.0);
    only(vec![rabbet, groove("dado", [100.0, 0.0, 12.0, 200.0], Face::A, 6.0)], None);
}

#[test]
fn a_countersink_does_not_cross_its_own_hole_but_does_another() {
    let kind = FeatureKind::Countersunk { at: [d(100.0), d(100.0)], diameter: d(5.0), head: d(12.0), face: Face::A };
    let screw = feature("screw", kind, Depth::Through, Purpose::Clearance);
    only(vec![screw.clone()], None);
    let near = found(&usual(), vec![screw, hole("h", 108.0, 100.0, 5.0, Depth::Through)]);
    assert!(near.contains(&(codes::CUTS_CROSS, Severity::Stop)), "{near:?}");
}

/// Half the board under a joint, 2 mm under anything else.
#[test]
fn blind_cuts_leave_a_floor() {
    let dado = |t: f64| vec![groove("g", [100.0, 0.0, 12.0, 200.0], Face::A, t)];
    only(dado(9.0), None);
    only(dado(9.01), Some((codes::FLOOR_THIN, Severity::Caution)));
    let pilot = |t: f64| vec![hole("h", 100.0, 100.0, 5.0, blind(Face::A, t))];
    only(pilot(16.0), None);
    only(pilot(16.1), Some((codes::FLOOR_THIN, Severity::Caution)));
    only(pilot(18.0), Some((codes::BLIND_TOO_DEEP, Severity::Stop)));
    only(pilot(25.0), Some((codes::BLIND_TOO_DEEP, Severity::Stop)));
}

#[test]
fn a_floor_that_may_vanish_in_a_thin_sheet_is_told() {
    let mut host = panel("P", 400.0, 200.0, vec![hole("h", 100.0, 100.0, 5.0, blind(Face::A, 15.9))]);
    host.thickness = Dim::source(Source {
        key: "t".into(),
        label: "board".into(),
        kind: SourceKind::Board,
        nominal: Mm(18.0),
        minus: Mm(2.2),
        plus: Mm(0.2),
        basis: "test".into(),
        span: None,
    });
    let codes: Vec<_> = run(&usual(), vec![host]).findings.iter().map(|f| (f.code, f.severity)).collect();
    assert_eq!(codes, vec![(codes::BLIND_TOO_DEEP, Severity::Caution)]);
}

/// 25 x 50 mm is the least that cutting services free (file rules, seen).
#[test]
fn a_small_part_is_hard_to_hold() {
    for (l, w, small) in [(60.0, 24.9, true), (49.9, 30.0, true), (50.0, 25.0, false), (25.0, 50.0, false)] {
        let checked = run(&usual(), vec![panel("P", l, w, vec![])]);
        assert_eq!(checked.findings.iter().any(|f| f.code == codes::PART_HARD_TO_HOLD), small, "{l} x {w}");
    }
}

#[test]
fn an_unknown_board_stops() {
    let mut host = panel("P", 400.0, 200.0, vec![]);
    host.board = baywright::design::BoardId(7);
    assert_eq!(run(&usual(), vec![host]).findings[0].code, codes::UNKNOWN_BOARD);
}

#[test]
fn every_finding_names_its_part_and_a_remedy() {
    let features = vec![
        notch("a", [100.0, 0.0, 2.0, 18.0]),
        notch("b", [200.0, 60.0, 40.0, 18.0]),
        hole("c", 500.0, 100.0, 5.0, Depth::Through),
        hole("d", 50.0, 100.0, 1.0, Depth::Through),
        groove("e", [300.0, 0.0, 12.0, 200.0], Face::A, 17.0),
    ];
    let checked = run(&usual(), vec![panel("P", 400.0, 200.0, features)]);
    assert_eq!(checked.findings.len(), 5, "{:?}", checked.findings);
    for finding in &checked.findings {
        assert_eq!(finding.parts, vec!["P"]);
        assert!(!finding.remedy.is_empty() && finding.message.chars().any(char::is_numeric), "{finding:?}");
    }
}

#[test]
fn codes_are_listed_once() {
    let mut ids: Vec<_> = codes::ALL.iter().map(|c| c.id).collect();
    ids.sort_unstable();
    let before = ids.len();
    ids.dedup();
    assert_eq!(ids.len(), before);
}

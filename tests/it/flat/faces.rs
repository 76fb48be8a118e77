//! Which face lies up, and parts worked on from both.

use super::support::{blind, close, d, feature, groove, hole, mated, notch, panel, part, run, usual};
use baywright::diag::Severity;
use baywright::flat::{codes, seats, Operation, PartGrain, Side};
use baywright::parts::{Depth, EdgeNote, Face, FeatureKind, Grain, Model, PanelEdge, PanelId, Purpose};

#[test]
fn the_inside_face_is_up_when_nothing_else_decides() {
    let features =
        vec![groove("a", [100.0, 0.0, 12.0, 200.0], Face::A, 5.0), groove("b", [200.0, 0.0, 12.0, 200.0], Face::B, 5.0)];
    let part = part(&usual(), panel("P", 400.0, 200.0, features));
    assert_eq!(part.face_up, Face::A);
    let sides: Vec<_> = part.cuts.iter().map(|c| (c.feature.as_str(), c.side)).collect();
    assert_eq!(sides, vec![("a", Side::Up), ("b", Side::Down)]);
    close(part.cuts[1].contour.bounds().x0, 200.0, 1e-9);
}

#[test]
fn with_face_b_up_everything_is_mirrored_and_still_turns_the_right_way() {
    let features = vec![
        groove("g", [100.0, 0.0, 12.0, 200.0], Face::B, 5.0),
        hole("h", 30.0, 60.0, 5.0, Depth::Through),
        notch("n", [20.0, 182.0, 40.0, 18.0]),
        notch("corner", [0.0, 0.0, 40.0, 18.0]),
    ];
    let mut host = panel("P", 400.0, 200.0, features);
    host.edges = vec![EdgeNote { edge: PanelEdge::Left, joint: "finger".into(), mate: PanelId(1), screws: Vec::new() }];
    let model = Model { panels: mated(host, 18.0), ..Model::default() };
    let checked = baywright::flat::flatten(&usual(), &model);
    assert!(checked.findings.is_empty(), "{:?}", checked.findings);
    let part = &checked.value.expect("parts").parts[0];
    assert_eq!(part.face_up, Face::B);
    assert!(part.outline.contour.is_ccw());
    assert!(part.cuts.iter().all(|c| !c.contour.is_ccw() && c.side == Side::Up));
    let groove = part.cuts.iter().find(|c| c.feature == "g").expect("groove");
    close(groove.contour.bounds().x0, 288.0, 1e-9);
    close(groove.contour.bounds().x1, 300.0, 1e-9);
    let Some(Operation::Drill { at, .. }) = part.cuts.iter().find(|c| c.feature == "h").map(|c| c.operation) else {
        panic!("a hole");
    };
    assert_eq!((at.x, at.y), (370.0, 60.0));
    let b = part.outline.contour.bounds();
    assert_eq!((b.x0, b.y0), (0.0, 0.0));
    // The corner notch lies at the lower right now: no wood there, wood at the lower left.
    assert!(!part.outline.contour.contains(baywright::geom::Point::new(395.0, 5.0)));
    assert!(part.outline.contour.contains(baywright::geom::Point::new(5.0, 5.0)));
    let xs: Vec<_> = seats(&usual(), &model, part).iter().map(|(_, s)| s.shape.bounds().center().x).collect();
    assert!(xs.iter().all(|x| *x > 290.0), "{xs:?}");
    // The left edge's clean strip is the right one's.
    assert!(part.keep_clean.iter().any(|r| r.x0 == 399.0 && r.x1 == 401.0 && r.y1 == 201.0));
}

#[test]
fn bounds_start_at_zero_when_a_notch_takes_a_whole_edge() {
    let features = vec![notch("n", [0.0, 0.0, 50.0, 200.0]), groove("g", [100.0, 0.0, 12.0, 200.0], Face::B, 5.0)];
    let part = part(&usual(), panel("P", 400.0, 200.0, features));
    close(part.length.0, 350.0, 1e-9);
    close(part.cuts[0].contour.bounds().x0, 288.0, 1e-9);
    let b = part.outline.contour.bounds();
    close(b.x0, 0.0, 1e-9);
    close(b.x1, 350.0, 1e-9);
}

#[test]
fn countersinks_count_for_the_face_they_are_in() {
    let sunk = |id: &str, x: f64, face| {
        let kind = FeatureKind::Countersunk { at: [d(x), d(100.0)], diameter: d(5.0), head: d(9.0), face };
        feature(id, kind, Depth::Through, Purpose::Clearance)
    };
    let part = part(&usual(), panel("P", 400.0, 200.0, vec![sunk("a", 50.0, Face::B), sunk("b", 350.0, Face::B)]));
    assert_eq!(part.face_up, Face::B);
    assert!(part.cuts.iter().all(|c| c.side == Side::Up));
}

#[test]
fn grooves_back_to_back_must_leave_a_third() {
    let two = |a: f64, b: f64, x: f64| {
        let features =
            vec![groove("a", [100.0, 0.0, 12.0, 200.0], Face::A, a), groove("b", [x, 0.0, 12.0, 200.0], Face::B, b)];
        let checked = run(&usual(), vec![panel("P", 400.0, 200.0, features)]);
        checked.findings.iter().filter(|f| f.code == codes::FACES_MEET).map(|f| f.severity).next()
    };
    assert_eq!(two(6.0, 6.0, 100.0), None);
    assert_eq!(two(6.0, 6.01, 100.0), Some(Severity::Caution));
    assert_eq!(two(9.0, 7.5, 105.0), Some(Severity::Stop));
    assert_eq!(two(9.0, 9.0, 100.0), Some(Severity::Stop));
    assert_eq!(two(9.0, 9.0, 130.0), None);
}

#[test]
fn a_blind_hole_over_a_groove_on_the_other_face_is_seen() {
    let features =
        vec![groove("g", [100.0, 0.0, 12.0, 200.0], Face::A, 6.0), hole("h", 106.0, 80.0, 5.0, blind(Face::B, 11.0))];
    let checked = run(&usual(), vec![panel("P", 400.0, 200.0, features)]);
    assert_eq!(checked.findings[0].code, codes::FACES_MEET);
    assert!(checked.findings[0].message.contains("leave 1 mm"), "{}", checked.findings[0].message);
}

#[test]
fn grain_follows_the_panel_unless_the_board_has_none() {
    for (grain, lies) in
        [(Grain::AlongU, PartGrain::AlongX), (Grain::AlongV, PartGrain::AlongY), (Grain::Any, PartGrain::Any)]
    {
        let mut host = panel("P", 400.0, 200.0, vec![]);
        host.grain = grain;
        assert_eq!(part(&usual(), host).grain, lies);
    }
    let mut shop = usual();
    let mut board = (*shop.boards[0].profile).clone();
    board.has_grain = false;
    shop.boards[0].profile = std::sync::Arc::new(board);
    assert_eq!(part(&shop, panel("P", 400.0, 200.0, vec![])).grain, PartGrain::Any);
}

#[test]
fn the_thickest_reading_rules_else_the_class() {
    let mut shop = usual();
    assert_eq!(part(&shop, panel("P", 400.0, 200.0, vec![])).thickness_max.0, 18.7);
    shop.boards[0].readings = vec![baywright::units::Mm(17.9), baywright::units::Mm(18.2)];
    assert_eq!(part(&shop, panel("P", 400.0, 200.0, vec![])).thickness_max.0, 18.2);
}

#[test]
fn edges_shaped_for_a_mate_stay_clean_and_butted_ones_may_carry_tabs() {
    use PanelEdge::{Bottom, Left, Right, Top};
    let note = |edge, joint: &str| EdgeNote { edge, joint: joint.into(), mate: PanelId(0), screws: Vec::new() };
    let strips = |joints: &[(PanelEdge, &str)]| {
        let mut host = panel("P", 400.0, 200.0, vec![]);
        host.edges = joints.iter().map(|(edge, joint)| note(*edge, joint)).collect();
        part(&usual(), host).keep_clean.len()
    };
    let butt = "butt, screwed";
    assert_eq!(strips(&[(Bottom, butt), (Top, butt), (Left, "finger"), (Left, "finger")]), 1);
    assert_eq!(strips(&[(Bottom, butt), (Top, butt), (Left, "dado"), (Right, "finger")]), 2);
    assert_eq!(strips(&[(Bottom, butt), (Top, butt), (Left, butt), (Right, butt)]), 0);
}

#[test]
fn slide_lines_keep_the_edge_clean_at_both_ends() {
    let mut features =
        vec![hole("s1", 40.0, 120.0, 3.0, blind(Face::A, 12.0)), hole("s2", 340.0, 120.0, 3.0, blind(Face::A, 12.0))];
    for f in &mut features {
        f.purpose = Purpose::Slide;
    }
    let part = part(&usual(), panel("P", 400.0, 200.0, features));
    let centres: Vec<_> = part.keep_clean.iter().map(|r| (r.center().x, r.center().y)).collect();
    assert_eq!(centres, vec![(0.0, 120.0), (400.0, 120.0)]);
}

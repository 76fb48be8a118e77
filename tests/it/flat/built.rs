//! Parts of whole designs, from the builders.

use super::support::area;
use baywright::design::{settle, Design};
use baywright::diag::{Severity, Texts};
use baywright::flat::{codes, flatten, seats, FlatPart, Operation};
use baywright::geom::{Contour, Region};
use baywright::parts::{build, Hand, Model};
use baywright::project::{read, starter, StarterAnswers};
use baywright::shop::load;
use baywright::units::{Mm, Unit};

/// Two drawers, with fingers and bottoms in grooves.
const FINGERS: &str = r#"
format = 1
title = "River-survey van, rear unit"
units = "mm"
[boards.carcass]
profile = "birch-ply-15"
readings = [14.7, 14.9, 14.8, 14.8]
[boards.front]
profile = "birch-ply-12"
[[carcass]]
name = "lower"
at = [140, 60, 0]
width = 920
depth = 1000
height = 232
board = "carcass"
joint = "finger"
[[carcass.column]]
name = "left"
[[carcass.column.cell]]
drawer = { slide = "side-mount-700", front = "front", joint = "finger", bottom = "groove" }
[[carcass.column]]
name = "right"
[[carcass.column.cell]]
drawer = { slide = "side-mount-700", front = "front" }
"#;

fn built(text: &str) -> (Design, Model) {
    let mut texts = Texts::default();
    let file = texts.add("van.toml", text);
    let project = read(&texts, &[file]);
    let shop = load(&Texts::default(), &[]).value.expect("the built-in shop");
    let design = settle(&project.value.expect("read"), &shop, &texts).value.expect("settled");
    let model = build(&design).value.expect("built");
    (design, model)
}

fn start(drawers: u32) -> String {
    let carcass = [Mm(920.0), Mm(1000.0), Mm(500.0)];
    starter(&StarterAnswers { title: "Survey boxes".into(), units: Unit::Mm, bay: None, carcass, drawers })
}

#[test]
fn every_panel_of_a_starter_is_in_one_part_and_nothing_stops() {
    for drawers in [1, 2, 4, 6] {
        let (design, model) = built(&start(drawers));
        let checked = flatten(&design, &model);
        let stops: Vec<_> = checked.findings.iter().filter(|f| f.severity != Severity::Note).collect();
        assert!(stops.is_empty(), "{stops:?}");
        let parts = checked.value.expect("parts").parts;
        let mut panels: Vec<usize> = parts.iter().flat_map(|p| &p.panels).map(|p| p.0).collect();
        panels.sort_unstable();
        assert_eq!(panels, (0..model.panels.len()).collect::<Vec<_>>());
        for part in &parts {
            assert!(part.panels.iter().all(|p| model.panels[p.0].hand == part.hand));
        }
        assert!(parts.iter().any(|p| p.hand == Hand::Left) && parts.iter().any(|p| p.hand == Hand::Right));
        // Drawers side by side are alike: their walls are cut several times from one part.
        assert!(drawers == 1 || parts.iter().any(|p| p.panels.len() > 1));
    }
}

/// What the outline cutter cannot reach of an opening or pocket, inside the part.
fn unreached(part: &FlatPart, contour: &Contour, radius: f64) -> f64 {
    let left = Region::new(contour.clone(), vec![]).unreachable(radius).expect("rolled");
    left.iter().map(|r| area(&part.outline.contour.intersection(&r.outer).expect("overlap"))).sum()
}

/// Every mating corner: the square mate lies wholly in what is cut, and the cutter reaches all of what is cut.
#[test]
fn every_mate_of_a_fingered_unit_seats_where_the_cutter_reaches() {
    let (design, model) = built(FINGERS);
    let checked = flatten(&design, &model);
    assert!(checked.findings.iter().all(|f| f.severity != Severity::Stop), "{:?}", checked.findings);
    let radius = design.process.cutters[design.process.outline_cutter.expect("a router")].diameter.0 / 2.0;
    let parts = checked.value.expect("parts").parts;
    let (mut in_notches, mut in_cuts) = (0, 0);
    for part in &parts {
        let outline = &part.outline.contour;
        assert!(outline.unreachable_outside(radius).expect("rolled").is_empty(), "{}", part.id);
        for cut in &part.cuts {
            if matches!(cut.operation, Operation::ThroughInside | Operation::Pocket { .. }) {
                assert!(unreached(part, &cut.contour, radius) < 1e-3, "{} {}", part.id, cut.feature);
            }
            if let Some(seat) = &cut.seats {
                let standing = area(&seat.shape.minus(&cut.contour).expect("difference"));
                assert!(standing < 1e-6, "{} {}: {standing} mm²", part.id, cut.feature);
                in_cuts += 1;
            }
        }
        for (id, seat) in seats(&design, &model, part) {
            if part.cuts.iter().all(|c| c.feature != id) {
                let standing = area(&outline.intersection(&seat.shape).expect("overlap"));
                assert!(standing < 1e-6, "{} {id}: {standing} mm² of wood where {} seats", part.id, seat.mate);
                in_notches += 1;
            }
        }
    }
    assert!(in_notches > 20 && in_cuts > 3, "{in_notches} {in_cuts}");
}

#[test]
fn a_project_with_every_key_gives_all_its_panels() {
    let (design, model) = built(include_str!("../data/every-key.toml"));
    let checked = flatten(&design, &model);
    let stops: Vec<_> = checked.findings.iter().filter(|f| f.severity == Severity::Stop).map(|f| f.code).collect();
    // Its drawers ask for a grip where the latch is, and for screws through a groove.
    assert!(stops.iter().all(|c| *c == codes::CUTS_CROSS), "{stops:?}");
    let parts = checked.value.expect("parts").parts;
    assert!(parts.iter().all(|p| p.mass_kg > 0.0));
    let panels: usize = parts.iter().map(|p| p.panels.len()).sum();
    assert_eq!(panels, model.panels.len());
}

/// Somewhere on each outline a tab or a lead may come.
#[test]
fn every_part_leaves_room_to_hold_it() {
    for text in [FINGERS.to_owned(), start(4), include_str!("../data/every-key.toml").to_owned()] {
        let (design, model) = built(&text);
        for part in flatten(&design, &model).value.expect("parts").parts {
            let outline = &part.outline.contour;
            let steps = outline.length().floor();
            let clean = |p| part.keep_clean.iter().any(|r| r.contains(p));
            let free = (0..steps as usize).filter(|i| !clean(outline.point_at(*i as f64))).count();
            assert!(free > 100, "{} {}: {free} of {steps} mm", part.id, part.name);
        }
    }
}

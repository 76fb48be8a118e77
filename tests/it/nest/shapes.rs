//! The engine on pieces that are not rectangles.

#[path = "../../nesting/instances.rs"]
mod instances;

use super::{design, flat, laid, part, sheet, through};
use baywright::flat::{FlatParts, PartGrain};
use baywright::geom::{Contour, Point, Vertex};
use baywright::nest::engine::{
    self, free_rectangles, CutRule, Item, Problem, Settings, Shape, SheetKind, Strip, StripPiece, Turns,
};
use baywright::nest::{check, lay_out, Effort, Options};
use std::collections::BTreeMap;

fn solve(problem: &Problem, threads: usize) -> engine::Packing {
    let packing = engine::pack(problem, &Settings { work: Effort::Quick.work(), seed: 1, threads, ask: None });
    assert_eq!(check::packing(problem, &packing), Vec::<String>::new());
    packing
}

#[test]
fn planted_shapes_are_found_on_the_planted_sheets() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/nesting/planted_shapes.json");
    let all = instances::read(file, false, CutRule::Free);
    assert_eq!(all.len(), 3);
    for instance in &all {
        let packing = solve(&instance.problem, 1);
        assert_eq!((Some(packing.sheets.len() as u64), packing.optimal), (instance.best, true), "{}", instance.name);
        assert_eq!(packing, solve(&instance.problem, 2), "{}", instance.class);
    }
}

#[test]
fn a_frame_is_filled_by_two_and_turned_as_its_fillers_may_be() {
    // A frame of 100 x 80 with an opening of 60 x 40; its fillers' grain runs along the sheet, so it must lie too; nothing is left of the sheet.
    let frame = free_rectangles([100, 80], &[[20, 20, 80, 60]], 1);
    let item = |size, turns| Item { size, turns, count: 1 };
    let items = vec![
        item([100, 80], Turns::Any),
        item([38, 36], Turns::Fixed),
        item([36, 16], Turns::Quarter),
        item([100, 20], Turns::Fixed),
        item([102, 102], Turns::Quarter),
    ];
    let problem = Problem {
        items,
        shapes: BTreeMap::from([(0, Shape { cover: frame })]),
        defects: BTreeMap::new(),
        sheets: vec![SheetKind { size: [204, 102], count: None, cost: 1 }],
        gap: 2,
        cut: CutRule::Free,
    };
    assert!(solve(&problem, 1).optimal);
}

#[test]
fn what_fills_a_notch_is_glued_into_it_where_the_sheets_are_not_full() {
    // Five U of 100 x 80 whose notch of 60 x 50 is filled by 56 x 48 with a gap of 2, and two rectangles: glued they are seven
    // rectangles that go on one sheet of 308 x 250 with a strip to spare.
    let u = free_rectangles([100, 80], &[[20, 30, 80, 80]], 1);
    let item = |size, count| Item { size, turns: Turns::Fixed, count };
    let problem = Problem {
        items: vec![item([100, 80], 5), item([56, 48], 5), item([150, 70], 1), item([130, 60], 1)],
        shapes: BTreeMap::from([(0, Shape { cover: u })]),
        defects: BTreeMap::new(),
        sheets: vec![SheetKind { size: [308, 250], count: None, cost: 1 }],
        gap: 2,
        cut: CutRule::Free,
    };
    let packing = solve(&problem, 1);
    assert!(packing.optimal, "{} sheets", packing.sheets.len());
    assert_eq!(packing, solve(&problem, 2));
}

/// A U, a notched panel and one with an arch, each with what goes into it: true sizes of a van's panels, gap 10, margin 5.
fn panels() -> FlatParts {
    let shaped = |id: &str, size: (f64, f64), corners: &[(f64, f64)]| {
        let mut p = part(id, size.0, size.1, 1, PartGrain::AlongX);
        p.outline.contour = through(corners);
        p
    };
    let u = [
        (0.0, 0.0),
        (700.0, 0.0),
        (700.0, 600.0),
        (550.0, 600.0),
        (550.0, 150.0),
        (150.0, 150.0),
        (150.0, 600.0),
        (0.0, 600.0),
    ];
    let notched = [(0.0, 0.0), (290.0, 0.0), (290.0, 300.0), (150.0, 300.0), (150.0, 600.0), (0.0, 600.0)];
    let mut arch = part("A", 1000.0, 200.0, 1, PartGrain::AlongX);
    // 150 deep over 500: bulge = rise over half the chord.
    let bulged = |x: f64, y: f64, bulge: f64| Vertex { x, y, bulge };
    arch.outline.contour = Contour::new(&[
        bulged(0.0, 0.0, 0.0),
        bulged(1000.0, 0.0, 0.0),
        bulged(1000.0, 200.0, 0.0),
        bulged(750.0, 200.0, -0.6),
        bulged(250.0, 200.0, 0.0),
        bulged(0.0, 200.0, 0.0),
    ])
    .unwrap();
    flat(vec![
        shaped("U", (700.0, 600.0), &u),
        part("in-U", 380.0, 440.0, 1, PartGrain::AlongX),
        shaped("N", (290.0, 600.0), &notched),
        part("in-N", 130.0, 290.0, 1, PartGrain::AlongX),
        arch,
        part("in-A", 280.0, 85.0, 1, PartGrain::AlongX),
    ])
}

#[test]
fn notched_and_curved_panels_take_others_in_and_the_judge_looks_at_the_true_contours() {
    let parts = panels();
    let tight = design(vec![sheet(1010.0, 820.0, Some(1))]);
    let checked = lay_out(&tight, &parts, &Options::default());
    assert!(checked.findings.is_empty(), "{:?}", checked.findings);
    let layout = checked.value.unwrap();
    assert_eq!((layout.sheets.len(), layout.sheets[0].placements.len()), (1, 6));
    // What lies in the U fits to the hundredth: a tenth to either side is too near, though the bounds overlap anyway.
    for (name, by) in
        [("in-U", (0.1, 0.0)), ("in-U", (-0.1, 0.0)), ("in-N", (0.1, 0.0)), ("in-A", (0.0, -40.0)), ("in-A", (0.0, 40.0))]
    {
        let mut moved = layout.clone();
        let spot = moved.sheets[0].placements.iter_mut().find(|p| parts.parts[p.part].id.as_str() == name).unwrap();
        spot.at = Point::new(spot.at.x + by.0, spot.at.y + by.1);
        assert!(!check::layout(&tight, &parts, &moved).is_empty(), "{name} {by:?}");
    }
}

#[test]
fn gussets_share_a_rectangle() {
    // Two right-angled triangles of 400 x 300, apart by 10 on their slope: 17 more in length, or a little more where the slope is
    // followed in steps.
    let mut gusset = part("G", 400.0, 300.0, 2, PartGrain::AlongX);
    gusset.outline.contour = through(&[(0.0, 0.0), (400.0, 0.0), (0.0, 300.0)]);
    let parts = flat(vec![gusset, part("S", 20.0, 20.0, 1, PartGrain::Any)]);
    let layout = laid(&design(vec![sheet(510.0, 340.0, Some(1))]), &parts);
    assert_eq!(layout.sheets[0].placements.len(), 3);
}

#[test]
fn outlines_in_a_strip_are_laid_exactly_and_judged_by_other_code() {
    // A square of 60 from four right-angled triangles of 60 x 30 about their common corner, and two U that lock into each other.
    let triangle = vec![[0, 0], [60, 0], [30, 30]];
    let u = vec![[0, 0], [30, 0], [30, 30], [20, 30], [20, 10], [10, 10], [10, 30], [0, 30]];
    let filler = vec![[0, 0], [10, 0], [10, 20], [0, 20]];
    let piece = |ring: &Vec<[i64; 2]>, count| StripPiece { outline: vec![ring.clone()], quarters: vec![0, 1, 2, 3], count };
    let strip = Strip { width: 60, pieces: vec![piece(&triangle, 4), piece(&u, 4), piece(&filler, 4)] };
    let run = |threads| engine::in_strip(&strip, &Settings { work: 3_000_000, seed: 1, threads, ask: None }).unwrap();
    let laid = run(1);
    assert_eq!(check::strip(&strip, &laid), Vec::<String>::new());
    assert_eq!(laid, run(2));
    // 60 of the square and 60 of the four U with what fills them: nothing is left.
    assert_eq!(laid.length, 120);
    for (k, by) in [(0, [1, 0]), (5, [0, 1]), (9, [-1, 0])] {
        let mut moved = laid.clone();
        moved.pieces[k].at = [moved.pieces[k].at[0] + by[0], moved.pieces[k].at[1] + by[1]];
        assert!(!check::strip(&strip, &moved).is_empty(), "{k}");
    }
    let mut twice = laid.clone();
    twice.pieces[1] = twice.pieces[0];
    assert!(check::strip(&strip, &twice).iter().any(|f| f.contains("overlap")));
    assert!(engine::in_strip(&Strip { width: 20, ..strip }, &Settings { work: 0, seed: 1, threads: 1, ask: None }).is_none());
}

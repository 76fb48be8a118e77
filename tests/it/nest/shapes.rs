//! The engine on pieces that are not rectangles.

#[path = "../../nesting/instances.rs"]
mod instances;

use baywright::nest::engine::{self, free_rectangles, CutRule, Item, Problem, Settings, Shape, SheetKind, Turns};
use baywright::nest::{check, Effort};
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

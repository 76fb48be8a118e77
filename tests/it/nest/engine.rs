//! The engine alone: whole-number rectangles, bounds, public instances.

use baywright::nest::engine::{self, CutRule, Item, Problem, Settings, SheetKind, Turns};
use baywright::nest::{check, Effort};
use proptest::prelude::*;
use std::collections::BTreeMap;

fn solve(problem: &Problem, work: u64, threads: usize) -> engine::Packing {
    engine::pack(problem, &Settings { work, seed: 1, threads, ask: None })
}

pub(super) fn one_size(size: [i64; 2], gap: i64, cut: CutRule, items: Vec<Item>) -> Problem {
    Problem {
        items,
        shapes: BTreeMap::new(),
        defects: BTreeMap::new(),
        sheets: vec![SheetKind { size, count: None, cost: 1 }],
        gap,
        cut,
    }
}

#[test]
fn a_pinwheel_cannot_be_sawn() {
    let wheel = [[0, 0, 60, 30], [70, 0, 100, 60], [40, 70, 100, 100], [0, 40, 30, 100]];
    assert!(!check::can_be_sawn(&wheel, 10));
    assert!(check::can_be_sawn(&wheel[..3], 10));
    // A cut needs room for the whole kerf.
    assert!(check::can_be_sawn(&[[0, 0, 10, 10], [13, 0, 20, 10]], 3));
    assert!(!check::can_be_sawn(&[[0, 0, 10, 10], [12, 0, 20, 10]], 3));
}

#[test]
fn the_bound_proves_what_area_alone_cannot() {
    // Three pieces just over half the sheet each way: one each, though their area would go on one sheet.
    let items = vec![Item { size: [51, 51], turns: Turns::Any, count: 3 }];
    let packing = solve(&one_size([100, 100], 0, CutRule::Free, items), 0, 1);
    assert_eq!((packing.cost, packing.bound, packing.optimal), (3, 3, true));
}

#[test]
fn the_bound_counts_whole_sheets() {
    // 130 of area, at a cost of 1 for each: 130 by area alone; but sheets come whole, and two of 60 are too small.
    let sheets =
        vec![SheetKind { size: [10, 10], count: Some(3), cost: 100 }, SheetKind { size: [10, 6], count: Some(2), cost: 60 }];
    let items = vec![Item { size: [10, 1], turns: Turns::Fixed, count: 13 }];
    let none = BTreeMap::new();
    let problem = Problem { items, shapes: none, defects: BTreeMap::new(), sheets, gap: 0, cut: CutRule::Free };
    let packing = solve(&problem, Effort::Quick.work(), 1);
    assert_eq!((packing.cost, packing.bound, packing.optimal), (160, 160, true));
}

/// An instance of the public set: its square sheet and its pieces.
pub(super) fn public(name: &str, turns: Turns) -> (i64, Vec<Item>) {
    let all: serde_json::Value = serde_json::from_str(include_str!("../../nesting/rectangles.json")).unwrap();
    let found = all.as_array().unwrap().iter().find(|i| i["name"] == name).unwrap();
    let side = |v: &serde_json::Value, k: usize| v[k].as_i64().unwrap();
    let items = found["items"].as_array().unwrap().iter();
    let items = items.map(|i| Item { size: [side(i, 0), side(i, 1)], turns, count: 1 }).collect();
    (side(&found["bin"], 0), items)
}

#[test]
fn search_reaches_the_bound_where_the_first_answer_does_not() {
    // Martello & Vigo 1998, class 3, 40 pieces: best known 11 sheets, which is also the bound.
    let (side, items) = public("c03_n040_i03", Turns::Fixed);
    for cut in [CutRule::Free, CutRule::Guillotine] {
        let problem = one_size([side, side], 0, cut, items.clone());
        let first = solve(&problem, 0, 1);
        assert_eq!((first.cost, first.bound, first.optimal), (12, 11, false));
        let later = solve(&problem, 3_000_000, 1);
        assert_eq!(check::packing(&problem, &later), Vec::<String>::new());
        assert_eq!((later.cost, later.optimal), (11, true));
        assert_eq!(later, solve(&problem, 3_000_000, 2));
    }
}

/// A planted instance: its fewest sheets, and the problem with turns by grain. Several sheet sizes cost their area.
fn planted(all: &serde_json::Value, cut: CutRule) -> (String, usize, Problem) {
    let pair = |v: &serde_json::Value| [0, 1].map(|k| v[k].as_i64().unwrap());
    let items = all["parts"].as_array().unwrap().iter().map(|p| Item {
        size: pair(&p["size"]),
        turns: if p["grain"] == 1 { Turns::Fixed } else { Turns::Any },
        count: p["qty"].as_u64().unwrap() as u32,
    });
    let list = all["sheets"].as_array().unwrap();
    let sheet = |s: &serde_json::Value| {
        let size = pair(&s["size"]);
        let count = if list.len() > 1 { s["qty"].as_u64().map(|n| n as u32) } else { None };
        SheetKind { size, count, cost: (size[0] * size[1]) as u64 }
    };
    let problem = Problem {
        items: items.collect(),
        shapes: BTreeMap::new(),
        defects: BTreeMap::new(),
        sheets: list.iter().map(sheet).collect(),
        gap: all["spacing"].as_i64().unwrap(),
        cut,
    };
    (all["name"].as_str().unwrap().to_owned(), all["optimum_sheets"].as_u64().unwrap() as usize, problem)
}

#[test]
fn jobs_without_waste_are_put_together_again() {
    // Cut from whole sheets (g, f with pinwheels, v from several sizes) or but for one strip (o), up to a hundred parts.
    let all: serde_json::Value = serde_json::from_str(include_str!("../../nesting/planted_rectangles.json")).unwrap();
    let mut seen = 0;
    for cut in [CutRule::Free, CutRule::Guillotine] {
        for one in all.as_array().unwrap() {
            let (name, fewest, problem) = planted(one, cut);
            // Pinwheels cannot be sawn; what leaves slack is for the search.
            if name.starts_with('s') || name.starts_with('f') && cut == CutRule::Guillotine {
                continue;
            }
            let packing = solve(&problem, Effort::Quick.work(), 1);
            assert_eq!(check::packing(&problem, &packing), Vec::<String>::new(), "{name}");
            assert_eq!((packing.sheets.len(), packing.optimal), (fewest, true), "{name}, {cut:?}");
            seen += 1;
        }
    }
    assert_eq!(seen, 20);
}

#[test]
fn a_jigsaw_with_a_little_waste_is_put_together() {
    // f_020 with one part a tenth of a millimetre narrower: no block next to it is as wide any more.
    let all: serde_json::Value = serde_json::from_str(include_str!("../../nesting/planted_rectangles.json")).unwrap();
    let found = all.as_array().unwrap().iter().find(|i| i["name"] == "f_020").unwrap();
    let (_, fewest, mut problem) = planted(found, CutRule::Free);
    problem.items[3].size[0] -= 1;
    let packing = solve(&problem, Effort::Quick.work(), 1);
    assert_eq!(check::packing(&problem, &packing), Vec::<String>::new());
    assert_eq!((packing.sheets.len(), packing.optimal), (fewest, true));
}

fn items() -> impl Strategy<Value = Vec<Item>> {
    let turns = prop_oneof![Just(Turns::Fixed), Just(Turns::Any), Just(Turns::Quarter)];
    let item = (1..60i64, 1..60i64, turns, 1..4u32).prop_map(|(w, h, turns, count)| Item { size: [w, h], turns, count });
    proptest::collection::vec(item, 1..14)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn every_packing_is_sound(items in items(), gap in 0..5i64, short in 0..3u32) {
        let sheets = vec![
            SheetKind { size: [60, 80], count: Some(short), cost: 2 },
            SheetKind { size: [100, 70], count: None, cost: 3 },
        ];
        for cut in [CutRule::Free, CutRule::Guillotine, CutRule::Staged(3)] {
            let (items, sheets) = (items.clone(), sheets.clone());
            let problem = Problem { items, shapes: BTreeMap::new(), defects: BTreeMap::new(), sheets, gap, cut };
            let packing = solve(&problem, 40_000, 1);
            prop_assert_eq!(check::packing(&problem, &packing), Vec::<String>::new());
            prop_assert!(packing.unplaced.is_empty());
            prop_assert_eq!(&packing, &solve(&problem, 40_000, 2));
        }
    }

    #[test]
    fn nothing_lies_on_a_defect(items in items(), gap in 0..5i64, at in (0..50i64, 0..60i64), size in (1..20i64, 1..20i64)) {
        let sheets = vec![
            SheetKind { size: [60, 80], count: Some(1), cost: 1 },
            SheetKind { size: [100, 70], count: None, cost: 3 },
        ];
        let bad = vec![[at.0, at.1, at.0 + size.0, at.1 + size.1], [55, 70, 60, 80]];
        let defects = BTreeMap::from([(0, bad)]);
        let problem = Problem { items, shapes: BTreeMap::new(), defects, sheets, gap, cut: CutRule::Free };
        let packing = solve(&problem, 40_000, 1);
        prop_assert_eq!(check::packing(&problem, &packing), Vec::<String>::new());
        prop_assert!(packing.unplaced.is_empty());
        prop_assert_eq!(packing.cost, packing.sheets.iter().map(|s| problem.sheets[s.kind].cost).sum::<u64>());
    }
}

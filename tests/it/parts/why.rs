//! Explanations reach what a maker can check: tape readings, boards and chosen numbers, each with its line.

use super::support::shop;
use baywright::design::settle;
use baywright::diag::Texts;
use baywright::parts::why::{explain, find, lines, Reason};
use baywright::parts::{build, Model};
use baywright::project::read;

fn sample(name: &str, text: &str) -> (Texts, Model) {
    let mut texts = Texts::default();
    let file = texts.add(name, text);
    let project = read(&texts, &[file]).value.expect("read");
    let design = settle(&project, shop(), &texts).value.expect("settled");
    let model = build(&design).value.expect("built");
    (texts, model)
}

fn leaves<'r>(reason: &'r Reason, list: &mut Vec<&'r Reason>) {
    if reason.from.is_empty() {
        list.push(reason);
    }
    reason.from.iter().for_each(|r| leaves(r, list));
}

fn line_of(text: &str, what: &str) -> usize {
    text.lines().position(|l| l.contains(what)).unwrap_or_else(|| panic!("no line with {what:?}")) + 1
}

const VAN: &str = include_str!("../../../samples/survey-van.toml");
const ESTATE: &str = include_str!("../../../samples/field-estate.toml");

#[test]
fn a_drawer_front_is_explained_down_to_boards_and_chosen_numbers() {
    let (texts, model) = sample("survey-van.toml", VAN);
    let sizes = find(&model, "lower left drawer front").expect("a panel");
    let reasons: Vec<Reason> = sizes.iter().map(|d| explain(d, &texts)).collect();
    let width = &reasons[0];
    assert_eq!(width.what, "lower left drawer front width");
    assert_eq!(width.how, "lower left opening width - lower.left drawer reveal left - lower.left drawer reveal right");
    let mut list = Vec::new();
    leaves(width, &mut list);
    let place = |what: &str| {
        let leaf = list.iter().find(|r| r.what == what).unwrap_or_else(|| panic!("{what} is not named: {}", lines(width)));
        leaf.place.clone().unwrap_or_else(|| panic!("{what} has no place"))
    };
    let file = "survey-van.toml".to_owned();
    assert_eq!(place("lower width"), (file.clone(), line_of(VAN, "width = 910")));
    let board = line_of(VAN, "[boards.carcass]");
    let (at_file, at) = place("carcass board thickness");
    assert!(at_file == file && (board..=board + 2).contains(&at), "{at}");
    assert_eq!(place("lower.left drawer reveal left"), (file, line_of(VAN, "reveal = 2, gap_under = 10")));
    // Every end is something a maker can check, and what is added up gives the value.
    for leaf in &list {
        assert!(leaf.place.is_some() || !leaf.how.is_empty(), "{leaf:?}");
    }
    let sum = width.from[0].value_mm - width.from[1].value_mm - width.from[2].value_mm;
    assert!((sum - width.value_mm).abs().0 < 1e-9);
    let thickness = lines(&reasons[2]);
    assert!(thickness.contains("4 readings"), "{thickness}");
}

#[test]
fn the_reading_that_rules_is_named() {
    let (texts, model) = sample("field-estate.toml", ESTATE);
    let reason = explain(&find(&model, "unit width").expect("a size")[0], &texts);
    let text = lines(&reason);
    assert!(text.contains("the least of 3: bay width reading 3 rules"), "{text}");
    let line = line_of(ESTATE, "width = { readings");
    for i in 1..=3 {
        let what = format!("bay width reading {i}");
        let mut list = Vec::new();
        leaves(&reason, &mut list);
        let leaf = list.iter().find(|r| r.what == what).expect("each reading");
        assert_eq!(leaf.place, Some(("field-estate.toml".to_owned(), line)));
        assert!(leaf.how.starts_with("read from the tape (give or take"), "{}", leaf.how);
    }
    assert!(text.contains("assumed"), "the free space is a default: {text}");
}

#[test]
fn a_pin_shows_both_figures() {
    let (texts, model) = sample("field-estate.toml", ESTATE);
    let text = lines(&explain(&find(&model, "unit left drawer box length").expect("a size")[0], &texts));
    assert!(text.contains("pinned by you; without the pin it would be 711.2 mm"), "{text}");
    assert!(text.contains(&format!("field-estate.toml:{}", line_of(ESTATE, "28 1/2 in"))), "{text}");
}

/// No line says a thing of itself, or the same thing twice in a row.
#[test]
fn no_line_is_idle() {
    for (name, text) in [("survey-van.toml", VAN), ("field-estate.toml", ESTATE)] {
        let (texts, model) = sample(name, text);
        for size in &model.sizes {
            let reason = explain(size, &texts);
            let shown = lines(&reason);
            for line in shown.lines() {
                assert!(!line.contains("1 x ") && !line.contains("= is ") && !line.contains("of x"), "{line}");
            }
            let mut stack = vec![&reason];
            while let Some(r) = stack.pop() {
                assert_ne!(r.what, r.how, "{shown}");
                assert!(r.from.iter().all(|f| f.what != r.what || f.value_mm != r.value_mm), "{shown}");
                stack.extend(&r.from);
            }
        }
    }
}

#[test]
fn a_near_miss_gets_the_nearest_names() {
    let (_, model) = sample("survey-van.toml", VAN);
    let near = find(&model, "lower left drawr front").unwrap_err();
    assert!(near.contains(&"lower left drawer front".to_owned()), "{near:?}");
}

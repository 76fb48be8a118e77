//! What `check` prints: short, worst first, within the terminal; and with another board.

use super::sample;
use std::process::{Command, Output};

fn check(args: &[&str]) -> Output {
    let path = sample(args[0]);
    Command::new(env!("CARGO_BIN_EXE_baywright")).arg("check").arg(path).args(&args[1..]).output().expect("it runs")
}

fn text(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("text")
}

#[test]
fn no_line_is_wider_than_the_terminal_and_the_worst_comes_first() {
    for args in [&["survey-van"][..], &["field-estate"], &["first-drawer"], &["survey-van", "--with", "carcass=17.2"]] {
        let out = text(&check(args));
        for line in out.lines() {
            assert!(line.chars().count() <= 100, "{args:?}: {line}");
        }
    }
    let out = text(&check(&["survey-van"]));
    let verdicts: Vec<&str> =
        out.lines().skip(1).take_while(|l| !l.is_empty()).filter_map(|l| l.split(' ').next()).collect();
    let rank = |v: &&str| ["fails", "doubtful", "tight", "fits"].iter().position(|w| w == v);
    let ranks: Vec<usize> = verdicts.iter().filter_map(rank).collect();
    assert!(ranks.windows(2).all(|w| w[0] <= w[1]), "{out}");
    assert!(out.contains("measure this to halve it: door point 3 reach"), "{out}");
    assert!(out.contains("(8 alike)"), "left and right of four drawers are one line:\n{out}");
}

#[test]
fn data_holds_every_line_the_ways_the_loading_and_the_order() {
    let data: serde_json::Value = serde_json::from_slice(&check(&["survey-van", "--json"]).stdout).expect("data");
    assert!(data["ledger"].as_array().expect("lines").len() > 40);
    assert_eq!(data["ways"].as_array().map(Vec::len), Some(6));
    assert_eq!(data["loading"][0]["unit"], "lower");
    assert!(data["assembly"].as_array().expect("steps").iter().any(|s| s["moves"] == "in"));
}

#[test]
fn another_board_says_what_changes_and_what_still_serves() {
    let data: serde_json::Value =
        serde_json::from_slice(&check(&["survey-van", "--with", "bottom=8.7", "--json"]).stdout).expect("data");
    let names = |key: &str| -> Vec<String> {
        data[key].as_array().expect("a list").iter().map(|v| v.as_str().expect("a name").to_owned()).collect()
    };
    let (serve, anew) = (names("parts_that_serve"), names("parts_to_cut_anew"));
    // Another bottom changes the bottoms and the walls above them, never the carcass.
    assert!(anew.iter().any(|n| n.ends_with("drawer bottom")), "{anew:?}");
    assert!(serve.iter().any(|n| n.ends_with("lower base")), "{serve:?}");
    assert!(anew.iter().all(|n| n.contains("drawer")), "{anew:?}");
    // The thickness it has changes nothing.
    let same: serde_json::Value =
        serde_json::from_slice(&check(&["survey-van", "--with", "bottom=9.15", "--json"]).stdout).expect("data");
    assert_eq!(same["parts_to_cut_anew"].as_array().map(Vec::len), Some(0), "{}", same["parts_to_cut_anew"]);
    assert_eq!(same["sizes"].as_array().map(Vec::len), Some(0));
}

#[test]
fn a_board_that_is_not_there_or_not_a_thickness_is_trouble() {
    for wrong in ["carcas=17", "carcass=thick", "carcass", "=17"] {
        let out = check(&["survey-van", "--with", wrong]);
        assert_eq!(out.status.code(), Some(2), "{wrong}");
    }
    let out = check(&["survey-van", "--with", "carcas=17"]);
    assert!(String::from_utf8_lossy(&out.stderr).contains("carcass, front, bottom"), "{out:?}");
}

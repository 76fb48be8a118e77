//! `new`: the starter passes `check` and `make` as it is.

use super::Bench;
use std::io::Write as _;
use std::process::Stdio;

#[test]
fn a_starter_of_any_kind_goes_through_check_and_make() {
    let cases: [&[&str]; 4] = [
        &["--units", "mm", "--bay", "1200x1300x900", "--drawers", "2"],
        &["--units", "in", "--bay", "47 1/4x51x36", "--drawers", "1", "--title", "Small \"rear\" unit"],
        &["--units", "mm", "--unit-size", "900x700x250", "--drawers", "1"],
        &["--yes"],
    ];
    for args in cases {
        let bench = Bench::new();
        let all: Vec<&str> = ["new", "start.toml"].iter().chain(args).copied().collect();
        bench.run(&all).expect(0, &["baywright check start.toml"]);
        bench.run(&["check", "start.toml"]).expect(0, &["0 stoppers"]);
        let made = bench.run(&["make", "start.toml", "--effort", "draft"]).expect(0, &["proved: ", "start-pack"]);
        assert!(bench.path().join("start-pack/job.json").is_file(), "{}", made.out);
    }
}

#[test]
fn never_writes_over_a_file() {
    let bench = Bench::with("mine.toml", "keep me");
    let before = bench.all();
    bench.run(&["new", "mine.toml", "--yes"]).expect(2, &["mine.toml exists already", "do: "]);
    assert_eq!(bench.all(), before);
}

#[test]
fn wrong_answers_are_told_and_nothing_is_written() {
    let bench = Bench::new();
    let cases: [(&[&str], &[&str]); 8] = [
        (&["--bay", "1200x1300"], &["1200x1300", "1200x1300x900"]),
        (&["--bay", "1200xwidex900"], &["1200xwidex900"]),
        (&["--bay", "1200x-5x900"], &["1200x-5x900"]),
        (&["--bay", "0x1300x900"], &["above zero"]),
        (&["--drawers", "0"], &["from 1 to 12"]),
        (&["--drawers", "40"], &["from 1 to 12"]),
        (&["--bay", "15x12x10"], &["do: "]),
        (&["--units", "cubit"], &["mm"]),
    ];
    for (args, words) in cases {
        let all: Vec<&str> = ["new", "start.toml", "--yes"].iter().chain(args).copied().collect();
        bench.run(&all).expect(2, words);
        assert!(bench.all().is_empty(), "{args:?}");
    }
    bench.run(&["new", "nowhere/start.toml", "--yes"]).expect(2, &["nowhere/start.toml", "do: "]);
}

/// Without a terminal it never waits for an answer.
#[test]
fn asks_nothing_when_nobody_is_there() {
    let bench = Bench::new();
    let child = bench.command().args(["new", "start.toml"]).stdin(Stdio::piped()).stderr(Stdio::piped()).spawn();
    let mut child = child.expect("start");
    drop(child.stdin.take().map(|mut pipe| pipe.write_all(b"never read\n")));
    let output = child.wait_with_output().expect("end");
    assert!(output.status.success());
    assert!(bench.path().join("start.toml").is_file());
}

/// On a terminal it asks each thing once, and an empty line takes what stands in brackets.
#[cfg(target_os = "linux")]
#[test]
fn asks_on_a_terminal() {
    let bench = Bench::new();
    let program = env!("CARGO_BIN_EXE_baywright");
    let child = std::process::Command::new("script")
        .args(["-qec", &format!("'{program}' new start.toml"), "/dev/null"])
        .current_dir(bench.path())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn();
    // `script` belongs to util-linux, which every Linux system has; say so rather than pass without a terminal.
    let mut child = child.expect("script(1) of util-linux");
    child.stdin.take().expect("a pipe").write_all(b"River van\nin\n47 1/4x51x36\n3\n").expect("answer");
    let output = child.wait_with_output().expect("end");
    let seen = String::from_utf8_lossy(&output.stdout).into_owned();
    for question in
        ["Title? [First unit]", "Units, mm or in? [mm]", "Clear bay", "How many drawers? [2]", "Wrote start.toml"]
    {
        assert!(seen.contains(question), "{question} in\n{seen}");
    }
    let text = std::fs::read_to_string(bench.path().join("start.toml")).expect("written");
    assert!(text.contains("title = \"River van\"") && text.contains("units = \"in\""), "{text}");
    assert_eq!(text.matches("drawer = ").count(), 3, "{text}");
}

//! Help, completions, the manual page, and the commands that only read.

use super::{sample, Bench, Ended, DRAWER, PLATE};

const COMMANDS: [&str; 10] = ["new", "check", "why", "load", "make", "mockup", "prove", "shop", "completions", "man"];

#[test]
fn help_of_the_program_and_of_every_command() {
    let bench = Bench::new();
    let main = bench.run(&["--help"]).expect(0, &["Examples:", "Exit codes: 0 fine"]);
    for command in COMMANDS {
        assert!(main.out.contains(&format!("\n  {command} ")), "{command} in\n{}", main.out);
        let help = bench.run(&[command, "--help"]).expect(0, &["Usage: baywright"]);
        let plain = ["man", "completions"].contains(&command);
        assert!(plain || help.out.contains("baywright "), "an example in {}", help.out);
    }
    bench.run(&["--version"]).expect(0, &["baywright 0."]);
}

#[test]
fn every_example_of_a_help_text_is_a_command_that_exists() {
    let bench = Bench::new();
    let mut seen = 0;
    for command in std::iter::once("").chain(COMMANDS) {
        let args: Vec<&str> = [command, "--help"].into_iter().filter(|a| !a.is_empty()).collect();
        let help = bench.run(&args).out;
        for line in help.lines().filter_map(|l| l.trim().strip_prefix("baywright ")) {
            let word = line.split_whitespace().next().expect("a command");
            assert!(COMMANDS.contains(&word), "{line}");
            seen += 1;
        }
    }
    assert!(seen >= 10, "{seen} examples");
}

#[test]
fn wrong_usage_ends_with_2_and_says_what_is_right() {
    let bench = Bench::with("plate.toml", PLATE);
    bench.run(&[]).expect(2, &["Usage: baywright"]);
    bench.run(&["mak", "plate.toml"]).expect(2, &["mak", "make"]);
    bench.run(&["make"]).expect(2, &["<PROJECT>"]);
    bench.run(&["make", "plate.toml", "--effort", "hard"]).expect(2, &["draft", "quick", "thorough", "exhaustive"]);
    bench.run(&["make", "plate.toml", "--seed", "-1"]).expect(2, &["-1"]);
    bench.run(&["completions", "abacus"]).expect(2, &["bash"]);
}

#[test]
fn completions_for_the_usual_shells_name_every_command() {
    let bench = Bench::new();
    for (shell, mark) in [("bash", "complete -F"), ("zsh", "#compdef baywright"), ("fish", "complete -c baywright")] {
        let script = bench.run(&["completions", shell]).expect(0, &[mark]);
        for command in COMMANDS {
            assert!(script.out.contains(command), "{command} for {shell}");
        }
    }
}

#[test]
fn the_manual_page_is_roff_and_holds_every_command_with_its_options() {
    let page = Bench::new().run(&["man"]).expect(0, &[".TH baywright 1", ".SH NAME", ".SH SYNOPSIS", "effort"]);
    for command in COMMANDS {
        let heading = format!(".SH \"BAYWRIGHT {}\"", command.to_uppercase());
        assert!(page.out.contains(&heading), "{heading}");
    }
}

#[test]
fn check_judges_and_writes_nothing() {
    let bench = Bench::with("drawer.toml", &DRAWER.replace("{}", "slide = \"side-mount-450\", latch = \"flush-paddle\""));
    let before = bench.all();
    let text = bench.run(&["check", "drawer.toml"]).expect(0, &["verdict", "side space left", "0 stoppers"]);
    let widest = text.out.lines().map(|l| l.chars().count()).max().expect("lines");
    assert!(widest <= 120, "{widest} columns");
    let data = bench.run(&["check", "drawer.toml", "--json"]).expect(0, &[]);
    assert!(data.err.is_empty(), "{}", data.err);
    let json = data.json();
    assert!(json["ledger"].as_array().expect("a list").len() >= 6);
    let first = &json["ledger"][0];
    for key in ["gap", "nominal_mm", "worst_min_mm", "rss_max_mm", "required_min_mm", "verdict", "contributors"] {
        assert!(!first[key].is_null(), "{key}");
    }
    assert!(json["findings"].as_array().expect("a list").iter().any(|f| f["code"] == "no-bay"));
    assert_eq!(bench.all(), before);
}

#[test]
fn why_leads_a_size_back_to_the_line_it_was_chosen_in() {
    let bench = Bench::new();
    let van = sample("survey-van");
    let text = bench.run(&["why", &van, "lower left drawer front"]).expect(0, &["lower left drawer front width", "reveal"]);
    assert!(text.out.contains("survey-van.toml:"), "{}", text.out);
    bench.run(&["why", &van, "lower left drawer front", "--inches", "1/16"]).expect(0, &["in inches: 16"]);
    let json = bench.run(&["why", &van, "lower left drawer front", "--json"]).expect(0, &[]).json();
    assert!(json.as_array().is_some_and(|list| list.len() >= 2), "{json}");
    bench.run(&["why", &van]).expect(0, &["Parts:", "Sizes:", "Gaps:", "upper right drawer front"]);
    let all = bench.run(&["why", &van, "--json"]).expect(0, &[]).json();
    assert!(all["parts"].as_array().is_some_and(|list| list.len() > 20));
    bench.run(&["why", &van, "lower left drawer frunt"]).expect(2, &["nearest: ", "lower left drawer front"]);
}

#[test]
fn shop_lists_shows_and_suggests() {
    let bench = Bench::new();
    bench.run(&["shop"]).expect(0, &["birch-ply-15", "side-mount-600", "flush-paddle", "M6"]);
    assert!(bench.run(&["shop", "--json"]).expect(0, &[]).json().as_array().is_some_and(|list| list.len() > 50));
    bench.run(&["shop", "birch-ply-15"]).expect(0, &["birch-ply-15", "mm", "EN 315"]);
    assert!(bench.run(&["shop", "birch-ply-15", "--json"]).expect(0, &[]).json().is_array());
    bench.run(&["shop", "birch-pli-15"]).expect(2, &["nearest: ", "birch-ply-15"]);
    let own = "format = 1\n[[board]]\nid = \"birch-ply-15\"\nthick = 15\n";
    bench.write("mine/boards.toml", own);
    bench.run(&["shop", "--profiles", "mine"]).expect(1, &["mine/boards.toml:"]);
    // The program's own profiles copied beside a project say nothing new; one of them changed does.
    let boards = include_str!("../../../profiles/boards.toml");
    bench.write("profiles/boards.toml", boards);
    assert!(bench.run(&["shop"]).expect(0, &[]).err.is_empty());
    bench.write("profiles/boards.toml", &boards.replacen("density_kg_m3 = ", "density_kg_m3 =  ", 1));
    bench.run(&["shop"]).expect(0, &["profile-replaces"]);
    bench.run(&["shop", "--profiles", "nowhere"]).expect(2, &["nowhere", "do: "]);
}

#[test]
fn colour_only_when_asked_for_or_on_a_terminal() {
    let bench = Bench::with("p.toml", &PLATE.replace("for = \"M6\"", "for = \"M7½\""));
    let plain = bench.run(&["check", "p.toml"]);
    assert!(!plain.err.contains('\u{1b}'));
    assert!(bench.run(&["check", "p.toml", "--colour", "always"]).err.contains('\u{1b}'));
    assert!(!bench.run(&["check", "p.toml", "--colour", "never"]).err.contains('\u{1b}'));
}

/// A reader that goes away is no fault; a full device is.
#[cfg(target_os = "linux")]
#[test]
fn output_that_goes_nowhere() {
    let bench = Bench::new();
    let program = env!("CARGO_BIN_EXE_baywright");
    let shell = |script: &str| {
        let output = std::process::Command::new("sh").args(["-c", script, "sh", program]).current_dir(bench.path()).output();
        Ended::of(&output.expect("start sh"))
    };
    shell("\"$1\" shop > /dev/full").expect(2, &["cannot print", "do: "]);
    shell("\"$1\" man | head -n 1").expect(0, &[]);
}

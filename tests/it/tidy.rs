//! The house in order: plain tests over the project's own tree.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// The stages in order; each imports only what stands before it. The same list opens `src/lib.rs`.
const ORDER: [&str; 18] = [
    "units", "diag", "dim", "geom", "share", "shop", "project", "design", "parts", "fit", "flat", "nest", "toolpath",
    "write", "proof", "codes", "cli", "run",
];

/// Gathers every stage's list of codes; it declares none.
const GATHERS: &str = "src/codes.rs";

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Files below a folder by their path from the root, with the ending wanted.
fn files(folder: &str, ending: &str) -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    let mut open = vec![root().join(folder)];
    while let Some(place) = open.pop() {
        for entry in fs::read_dir(&place).expect("read the folder") {
            let path = entry.expect("an entry").path();
            let name = path.strip_prefix(root()).expect("inside").to_string_lossy().replace('\\', "/");
            if path.is_dir() {
                open.push(path);
            } else if name.ends_with(ending) {
                found.insert(name, fs::read_to_string(&path).expect("text"));
            }
        }
    }
    assert!(!found.is_empty(), "{folder}");
    found
}

fn sources() -> BTreeMap<String, String> {
    files("src", ".rs")
}

/// A source without its comments and its unit tests, line by line; line numbers stay.
fn code(text: &str) -> Vec<&str> {
    let end = text.lines().position(|l| l.trim() == "#[cfg(test)]").unwrap_or(usize::MAX);
    let bare = |line| if is_comment(line) { "" } else { line };
    text.lines().take(end).map(bare).collect()
}

fn is_comment(line: &str) -> bool {
    line.trim_start().starts_with("//")
}

/// The stage a source belongs to; none for `lib.rs` and `main.rs`.
fn stage(name: &str) -> Option<usize> {
    let inside = name.strip_prefix("src/")?;
    let word = inside.split(['/', '.']).next()?;
    ORDER.iter().position(|stage| *stage == word)
}

/// Names after each `crate::` of a line.
fn imports(line: &str) -> impl Iterator<Item = &str> {
    line.match_indices("crate::").filter(|(at, _)| !line[..*at].ends_with('$')).map(|(at, word)| {
        let rest = &line[at + word.len()..];
        &rest[..rest.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(rest.len())]
    })
}

#[track_caller]
fn none(wrong: &[String]) {
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn every_source_is_of_a_stage_and_lib_rs_lists_them_in_order() {
    let sources = sources();
    let strays: Vec<&String> =
        sources.keys().filter(|n| stage(n).is_none() && !["src/lib.rs", "src/main.rs"].contains(&n.as_str())).collect();
    assert!(strays.is_empty(), "{strays:?}");
    let lib = &sources["src/lib.rs"];
    let told: Vec<&str> = lib
        .lines()
        .filter(|l| l.starts_with("//! ") && l.contains(". [`"))
        .flat_map(|l| l.split('`').skip(1).step_by(2))
        .collect();
    let mut sorted = ORDER.to_vec();
    sorted.sort_unstable();
    let declared: Vec<&str> =
        lib.lines().filter_map(|l| l.strip_prefix("pub mod ")).map(|l| l.trim_end_matches(';')).collect();
    assert_eq!(declared, sorted);
    assert_eq!(told, ORDER);
}

#[test]
fn a_stage_imports_only_what_stands_before_it() {
    let mut wrong = Vec::new();
    let mut seen = 0;
    for (name, text) in sources() {
        let Some(own) = stage(&name) else { continue };
        for (n, line) in code(&text).iter().enumerate() {
            for other in imports(line) {
                seen += 1;
                let Some(at) = ORDER.iter().position(|s| *s == other) else {
                    wrong.push(format!("{name}:{} imports crate::{other}, which is no stage", n + 1));
                    continue;
                };
                if at > own {
                    wrong.push(format!("{name}:{} imports the later stage {other}", n + 1));
                }
                let proof_knows = ["units", "diag", "share", "proof"];
                if ORDER[own] == "proof" && !proof_knows.contains(&other) {
                    wrong.push(format!("{name}:{} lets the proof lean on {other}", n + 1));
                }
            }
        }
    }
    assert!(seen > 300, "{seen} imports seen");
    none(&wrong);
}

#[test]
fn imports_can_be_read_by_machine_and_person() {
    let mut wrong = Vec::new();
    for (name, text) in sources() {
        let stage_root = name.ends_with("/mod.rs") || !name[4..].contains('/');
        for (n, line) in code(&text).iter().enumerate() {
            let line = line.trim_start();
            let within = line.trim_start_matches("pub ").trim_start_matches("pub(crate) ").trim_start_matches("pub(super) ");
            let bad = within.starts_with("use crate::{")
                || within.starts_with("use crate::*")
                || within.starts_with("use crate::") && within.ends_with("::*;")
                || within.starts_with("use super::*")
                || stage_root && within.starts_with("use super::") && name.matches('/').count() == 2;
            if bad && !["src/run/mod.rs", "src/cli/mod.rs"].contains(&name.as_str()) {
                wrong.push(format!("{name}:{}: {line}", n + 1));
            }
        }
    }
    none(&wrong);
}

#[test]
fn only_run_and_main_touch_disk_clock_screen_and_environment() {
    let banned = [
        "std::fs",
        "std::env",
        "std::process",
        "std::net",
        "println!",
        "eprintln!",
        "print!(",
        "SystemTime",
        "Instant",
        "chrono",
        "io::stdout",
        "io::stderr",
        "io::stdin",
        "rand::",
        "thread_rng",
        "HashMap",
        "HashSet",
    ];
    let mut wrong = Vec::new();
    for (name, text) in sources() {
        if name.starts_with("src/run/") || name == "src/main.rs" {
            continue;
        }
        for (n, line) in code(&text).iter().enumerate() {
            wrong.extend(banned.iter().filter(|b| line.contains(**b)).map(|b| format!("{name}:{}: {b}", n + 1)));
        }
    }
    none(&wrong);
}

#[test]
fn every_stage_says_what_it_takes_gives_guarantees_and_never_does() {
    let sources = sources();
    let mut wrong = Vec::new();
    for stage in ORDER {
        // `units` and `dim` are one type each; what they promise stands at the type.
        if ["units", "dim"].contains(&stage) {
            continue;
        }
        // `codes` and `share` are one file each.
        let single = format!("src/{stage}.rs");
        let file = if sources.contains_key(&single) { single } else { format!("src/{stage}/mod.rs") };
        let text = sources.get(&file).unwrap_or_else(|| panic!("there is no {file}"));
        let head: String = text.lines().take_while(|l| l.starts_with("//!")).collect::<Vec<_>>().join("\n");
        for word in ["//! Takes: ", "//! Gives: ", "//! Guarantees: ", "//! Never: "] {
            if head.matches(word).count() != 1 {
                wrong.push(format!("src/{stage}/mod.rs does not open with one `{word}`"));
            }
        }
    }
    none(&wrong);
}

#[test]
fn files_are_short() {
    let mut wrong = Vec::new();
    for (name, text) in sources() {
        let lines = code(&text).len();
        if lines > 400 {
            wrong.push(format!("{name} has {lines} lines without its tests"));
        }
    }
    let main = fs::read_to_string(root().join("src/main.rs")).expect("main.rs").lines().count();
    assert!(main <= 60, "main.rs has {main} lines");
    none(&wrong);
}

#[test]
fn tolerances_live_in_one_file() {
    let mut wrong = Vec::new();
    for (name, text) in sources() {
        if name == "src/geom/tolerance.rs" || name.ends_with("/tests.rs") {
            continue;
        }
        for (n, line) in code(&text).iter().enumerate() {
            let mut before = ' ';
            for (at, c) in line.char_indices() {
                let small = c.is_ascii_digit() && line[at + 1..].starts_with("e-");
                if small && !before.is_alphabetic() && !line.contains("const ") {
                    wrong.push(format!("{name}:{}: {}", n + 1, line.trim()));
                }
                before = c;
            }
        }
    }
    none(&wrong);
}

#[test]
fn every_code_is_declared_once_and_used() {
    let sources = sources();
    let mut ids = BTreeSet::new();
    let mut wrong = Vec::new();
    for code in baywright::codes::all() {
        if !ids.insert(code.id) {
            wrong.push(format!("{} is declared twice", code.id));
        }
        if code.id.chars().any(|c| !(c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-')) {
            wrong.push(format!("{} is not lower-case words", code.id));
        }
        if !code.about.ends_with('.') {
            wrong.push(format!("{}: \"{}\" is no sentence", code.id, code.about));
        }
    }
    // Declared: `pub const NAME: Code = Code::new("id"`; used: the name somewhere else in its stage.
    let mut declared = 0;
    for (name, text) in sources.iter().filter(|(n, _)| n.ends_with("/codes.rs") && *n != GATHERS) {
        let folder = name.trim_end_matches("codes.rs");
        for (at, _) in text.match_indices(": Code =") {
            declared += 1;
            let constant = text[..at].rsplit([' ', '\n']).next().expect("a name");
            let whole = |line: &str| {
                line.match_indices(constant).any(|(at, _)| {
                    let after = line[at + constant.len()..].chars().next().unwrap_or(' ');
                    line[..at].ends_with("codes::") && !(after.is_alphanumeric() || after == '_')
                })
            };
            let used = sources
                .iter()
                .filter(|(n, _)| n.starts_with(folder) && *n != name)
                .any(|(_, text)| code(text).iter().any(|line| whole(line)));
            if !used {
                wrong.push(format!("{name}: {constant} is never used"));
            }
        }
    }
    assert_eq!(declared, ids.len(), "a code is declared but not in its stage's ALL, or the other way round");
    none(&wrong);
}

/// The README's list of findings is made from the codes; `BLESS=1 cargo test` writes it anew, then fails.
#[test]
fn the_readme_lists_every_code() {
    let path = root().join("README.md");
    let readme = fs::read_to_string(&path).expect("README.md");
    let (open, close) = ("<!-- findings -->\n", "<!-- end of findings -->");
    let from = readme.find(open).expect("the list's opening mark") + open.len();
    let to = readme.find(close).expect("the list's closing mark");
    let rows: String = baywright::codes::all()
        .iter()
        .map(|code| {
            ["| `", code.id, "` | ", code.about, if code.overridable { " *Can be overridden.*" } else { "" }, " |\n"]
                .concat()
        })
        .collect();
    let list = format!("\n| code | what it means |\n|---|---|\n{rows}\n");
    if readme[from..to] != list {
        if std::env::var_os("BLESS").is_some() {
            fs::write(&path, format!("{}{list}{}", &readme[..from], &readme[to..])).expect("write");
        }
        panic!("README.md does not list the findings as they are (BLESS=1 cargo test writes the list anew)");
    }
}

#[test]
fn developers_md_names_each_folder_and_no_other() {
    let text = fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md");
    assert!(text.lines().count() <= 300, "{} lines", text.lines().count());
    let told: BTreeSet<String> = text
        .lines()
        .filter_map(|l| l.strip_prefix("### `src/")?.strip_suffix('`'))
        .map(|l| l.trim_end_matches('/').to_owned())
        .collect();
    let mut there = BTreeSet::new();
    for entry in fs::read_dir(root().join("src")).expect("src") {
        let path = entry.expect("an entry").path();
        let name = path.file_name().expect("named").to_string_lossy().into_owned();
        let file_of_folder = name.strip_suffix(".rs").is_some_and(|n| root().join("src").join(n).is_dir());
        if path.is_dir() || !["lib.rs", "main.rs"].contains(&name.as_str()) && !file_of_folder {
            there.insert(name);
        }
    }
    assert_eq!(told, there);
}

/// What is kept beside the sources; anything else needs a better place.
const TOP: [&str; 15] = [
    ".cargo",
    ".ci",
    ".gitignore",
    ".rustfmt.toml",
    "CHANGELOG.md",
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE-APACHE",
    "LICENSE-MIT",
    "README.md",
    "profiles",
    "samples",
    "src",
    "tests",
];

#[test]
fn the_top_level_holds_only_what_belongs_there() {
    let mut wrong = Vec::new();
    let ignored = fs::read_to_string(root().join(".gitignore")).expect(".gitignore");
    let made: Vec<&str> = ignored.lines().filter_map(|l| l.strip_prefix('/')).chain([".git"]).collect();
    assert_eq!(made, ["target", "pack", ".git"]);
    for entry in fs::read_dir(root()).expect("the root") {
        let name = entry.expect("an entry").file_name().to_string_lossy().into_owned();
        if !TOP.contains(&name.as_str()) && !made.contains(&name.as_str()) {
            wrong.push(name);
        }
    }
    none(&wrong);
    let missing: Vec<String> = TOP.iter().filter(|n| !root().join(n).exists()).map(|n| (*n).to_owned()).collect();
    none(&missing);
}

#[test]
fn nothing_names_a_machine_or_a_registry_and_there_are_no_tabs() {
    let mut texts = sources();
    for (folder, ending) in [
        ("tests", ".rs"),
        ("tests", ".py"),
        ("tests", ".sh"),
        ("tests", ".toml"),
        ("tests", ".txt"),
        ("profiles", ".toml"),
        ("samples", ".toml"),
    ] {
        texts.extend(files(folder, ending));
    }
    for name in ["README.md", "DEVELOPERS.md", "CHANGELOG.md", "Cargo.toml", ".ci/run"] {
        texts.insert(name.to_owned(), fs::read_to_string(root().join(name)).expect(name));
    }
    // Put together here so that this file does not hold them itself.
    let banned = [
        ["/ro", "ot/"],
        ["/wo", "rk/"],
        ["/tm", "p/"],
        ["/ho", "me/"],
        ["crates", ".io"],
        ["py", "pi."],
        ["npm", "js."],
        ["pythonhosted", ".org"],
        ["to", "do!("],
        ["db", "g!("],
        ["#[ig", "nore"],
        ["FIX", "ME"],
        ["XX", "X"],
    ]
    .map(|[a, b]| format!("{a}{b}"));
    let mut wrong = Vec::new();
    for (name, text) in &texts {
        for (n, line) in text.lines().enumerate() {
            let found = |word: &&String| {
                line.match_indices(word.as_str()).any(|(at, _)| !line[..at].ends_with(|c: char| c.is_alphanumeric()))
            };
            wrong.extend(banned.iter().filter(found).map(|b| format!("{name}:{}: {b}", n + 1)));
            if line.contains('\t') {
                wrong.push(format!("{name}:{}: a tab", n + 1));
            }
        }
    }
    none(&wrong);
}

/// Blocks of a Markdown text in a language.
fn blocks<'a>(text: &'a str, language: &str) -> Vec<&'a str> {
    let open = format!("```{language}\n");
    text.split(open.as_str()).skip(1).map(|rest| rest.split("```").next().unwrap_or_default()).collect()
}

#[test]
fn the_readme_is_true() {
    let readme = fs::read_to_string(root().join("README.md")).expect("README.md");
    let commands = ["new", "check", "why", "make", "mockup", "prove", "shop", "completions", "man"];
    let mut seen = BTreeSet::new();
    for block in blocks(&readme, "console") {
        for line in block.lines().filter_map(|l| l.strip_prefix("$ ")) {
            let line = line.replace("cargo run --release -- ", "baywright ");
            let mut words = line.split_whitespace();
            match words.next() {
                Some("baywright") => {
                    let command = words.next().expect("a command");
                    assert!(commands.contains(&command), "{line}");
                    seen.insert(command.to_owned());
                    for word in words.filter(|w| w.starts_with("samples/") || w.starts_with("tests/")) {
                        assert!(root().join(word).is_file(), "{line}");
                    }
                }
                Some("sh") => assert!(root().join(words.next().expect("a script")).is_file(), "{line}"),
                Some("git" | "cd" | "cargo") => {}
                other => panic!("{other:?} in {line}"),
            }
        }
    }
    assert!(["new", "check", "why", "make", "prove", "shop"].iter().all(|c| seen.contains(*c)), "{seen:?}");
    let files = blocks(&readme, "toml");
    assert!(!files.is_empty());
    for text in files {
        let mut texts = baywright::diag::Texts::default();
        let file = texts.add("README.md", text);
        let read = baywright::project::read(&texts, &[file]);
        let shop = baywright::shop::load(&texts, &[]).value.expect("the shop");
        let mut findings = Vec::new();
        let project = read.into(&mut findings).expect("a project");
        let design = baywright::design::settle(&project, &shop, &texts).into(&mut findings).expect("a design");
        assert!(baywright::parts::build(&design).into(&mut findings).is_some());
        let stops: Vec<_> = findings.iter().filter(|f| f.severity == baywright::diag::Severity::Stop).collect();
        assert!(stops.is_empty(), "{stops:?}");
    }
    for picture in readme.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
        let file: PathBuf = root().join(picture);
        assert!(picture.starts_with('#') || file.exists(), "{picture}");
    }
}

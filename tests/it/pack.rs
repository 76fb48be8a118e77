//! Whole packs: what each sample and each case of `tests/cases` becomes, held against texts that a person has read.
//!
//! `BLESS=1 cargo test` writes the texts anew and then fails, so that the difference gets read before it is kept.

use crate::cli::{sample, tree, Bench};
use crate::second_opinion;
use baywright::write::book;
use serde_json::Value;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

/// Expected texts of mock-ups.
const MOCK_UPS: [&str; 1] = ["first-drawer-card"];

pub(crate) const SAMPLES: [&str; 4] = ["first-drawer", "panels-only", "field-estate", "survey-van"];

/// An expected text longer than this will not be read by anyone.
const LONGEST_TEXT: usize = 20 << 10;

fn cases() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases")
}

/// Compares a text with the file of that name, or writes it when asked to. Adds what is wrong to `wrong`.
pub(crate) fn held_against(path: &Path, text: &str, wrong: &mut Vec<String>) {
    assert!(text.len() <= LONGEST_TEXT, "{} would be {} bytes", path.display(), text.len());
    let known = fs::read_to_string(path).unwrap_or_default();
    if known == text {
        return;
    }
    if std::env::var_os("BLESS").is_some() {
        fs::create_dir_all(path.parent().expect("a folder")).expect("make the folder");
        fs::write(path, text).expect("write");
        wrong.push(format!("{} was written anew: read the difference", path.display()));
    } else {
        let line = known.lines().zip(text.lines()).position(|(a, b)| a != b);
        let line = line.unwrap_or(known.lines().count().min(text.lines().count()));
        wrong.push(format!(
            "{}:{}\n  was {}\n  is  {}\n  (BLESS=1 cargo test writes it anew)",
            path.display(),
            line + 1,
            known.lines().nth(line).unwrap_or("(end)"),
            text.lines().nth(line).unwrap_or("(end)")
        ));
    }
}

fn number(value: &Value) -> String {
    value.as_f64().map_or_else(|| value.to_string(), |n| format!("{n:.2}"))
}

fn word(value: &Value) -> &str {
    value.as_str().unwrap_or("-")
}

/// A list of a job's data; empty where there is none.
pub(crate) fn rows(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

/// Parts, sheets with their placements, and programs.
fn stage_text(job: &Value) -> String {
    let mut out = format!("{}\n\nparts: id, name, board, quantity, size, cuts by operation\n", word(&job["title"]));
    for part in rows(&job["parts"]) {
        let mut cuts: BTreeMap<&str, usize> = BTreeMap::new();
        for feature in rows(&part["features"]) {
            *cuts.entry(word(&feature["operation"])).or_default() += 1;
        }
        let cuts: Vec<String> = cuts.iter().map(|(operation, n)| format!("{n} {operation}")).collect();
        let _ = writeln!(
            out,
            "{:<12} {}; {}; {}; {} x {}; {}",
            word(&part["id"]),
            word(&part["name"]),
            word(&part["board"]),
            part["quantity"],
            number(&part["length_mm"]),
            number(&part["width_mm"]),
            cuts.join(", "),
        );
    }
    for sheet in rows(&job["sheets"]) {
        let _ = writeln!(out, "\nsheet {} {}: part, copy, x, y, turn", word(&sheet["board"]), sheet["number"]);
        for p in rows(&sheet["placements"]) {
            let place = format!("{} {}", number(&p["x_mm"]), number(&p["y_mm"]));
            let _ = writeln!(out, "{:<12} {} {place} {}", word(&p["part"]), p["copy"], p["turn_deg"]);
        }
    }
    out.push_str("\nprograms: file, cutter, minutes\n");
    for p in rows(&job["programs"]) {
        let minutes = p["run_s"].as_f64().unwrap_or(f64::NAN) / 60.0;
        let _ = writeln!(out, "{} {} {minutes:.1}", word(&p["file"]), word(&p["cutter"]["id"]));
    }
    out
}

/// The ledger, one gap a line.
fn ledger_text(ledger: &Value) -> String {
    let mut out = String::from("verdict, gap: nominal, likely, worst case, must be; what moves it most\n");
    for line in rows(ledger) {
        let range = |a: &str, b: &str| format!("{}..{}", number(&line[a]), number(&line[b]));
        let most = &line["contributors"][0]["source"];
        let _ = writeln!(
            out,
            "{:<9}{}: {}, {}, {}, {}; {}",
            word(&line["verdict"]),
            word(&line["gap"]),
            number(&line["nominal_mm"]),
            range("rss_min_mm", "rss_max_mm"),
            range("worst_min_mm", "worst_max_mm"),
            range("required_min_mm", "required_max_mm"),
            word(most),
        );
    }
    out
}

/// Findings as data, one a line, without the folder of the file they are in.
fn findings_text(findings: &Value) -> String {
    let mut out = String::new();
    for f in rows(findings) {
        let place =
            if f["place"].is_null() { "-".into() } else { format!("{}:{}", f["place"]["line"], f["place"]["column"]) };
        let _ = writeln!(
            out,
            "{} [{}] {place}: {}; do: {}",
            word(&f["severity"]),
            word(&f["code"]),
            word(&f["message"]),
            word(&f["remedy"])
        );
    }
    out
}

/// Everything the outputs' contract promises of `job.json`, `null` where it may be.
fn has_the_contract(job: &Value) {
    let keys = |value: &Value, keys: &str, of: &str| {
        for key in keys.split(' ') {
            assert!(value.get(key).is_some(), "{of} has no {key}: {value:.200}");
        }
    };
    keys(job, "version title revision units boards parts sheets programs findings ledger totals", "the job");
    assert_eq!((job["version"].as_u64(), word(&job["units"])), (Some(1), "mm"));
    let lists: [(&str, &str); 5] = [
        ("boards", "name nominal_mm thickness_mm"),
        ("parts", "id name board quantity length_mm width_mm grain mass_kg features"),
        ("sheets", "board number length_mm width_mm placements used_ratio"),
        ("programs", "file sheet side order cutter z_zero run_s"),
        (
            "ledger",
            "gap nominal_mm worst_min_mm worst_max_mm rss_min_mm rss_max_mm required_min_mm required_max_mm verdict contributors",
        ),
    ];
    for (list, wanted) in lists {
        for row in rows(&job[list]) {
            keys(row, wanted, list);
        }
    }
    for sheet in rows(&job["sheets"]) {
        for p in rows(&sheet["placements"]) {
            keys(p, "part copy x_mm y_mm turn_deg flipped tabs inside", "a placement");
        }
    }
    for b in rows(&job["boards"]) {
        keys(&b["thickness_mm"], "min mean max", "a thickness");
    }
    for p in rows(&job["programs"]) {
        keys(&p["cutter"], "name diameter_mm", "a cutter");
    }
}

/// Counts that must agree, and the files that must be there.
fn adds_up(pack: &BTreeMap<String, Option<Vec<u8>>>, job: &Value) {
    let placed: usize = rows(&job["sheets"]).iter().map(|s| rows(&s["placements"]).len()).sum();
    let wanted: u64 = rows(&job["parts"]).iter().filter_map(|p| p["quantity"].as_u64()).sum();
    assert_eq!((placed as u64, job["totals"]["parts"].as_u64()), (wanted, Some(wanted)), "parts placed, totalled");
    assert_eq!(job["totals"]["sheets"].as_u64(), Some(rows(&job["sheets"]).len() as u64));
    assert_eq!(job["totals"]["programs"].as_u64(), Some(rows(&job["programs"]).len() as u64));
    let mut named: Vec<&str> = vec!["job.json", "cut-list.csv", "hardware.csv", "offcuts.csv", "proof.json", "proof.txt"];
    for owner in rows(&job["parts"]).iter().chain(rows(&job["sheets"])) {
        assert_eq!(rows(&owner["files"]).len(), 2, "a DXF and an SVG of {owner:.80}");
        named.extend(rows(&owner["files"]).iter().map(word));
    }
    named.extend(rows(&job["programs"]).iter().map(|p| word(&p["file"])));
    named.sort_unstable();
    named.dedup();
    let files: Vec<&str> = pack.iter().filter(|(_, bytes)| bytes.is_some()).map(|(name, _)| name.as_str()).collect();
    // The book has its own test; a coupon has no book.
    let files: Vec<&str> =
        files.into_iter().filter(|name| !name.starts_with("coupon/") && !book::FILES.contains(name)).collect();
    assert_eq!(files, named);
    let is_book = |name: &str| book::FILES.contains(&name);
    for (name, bytes) in pack.iter().filter_map(|(name, bytes)| Some((name, bytes.as_ref()?))).filter(|(n, _)| !is_book(n)) {
        let text = String::from_utf8(bytes.clone()).expect("text").to_lowercase();
        let words = text.split(|c: char| !(c.is_ascii_alphanumeric() || c == '-'));
        for word in words {
            assert!(!["nan", "-nan", "inf", "-inf", "infinity", "-0.000"].contains(&word), "{word} in {name}");
        }
    }
    let list = String::from_utf8(pack["cut-list.csv"].clone().expect("a file")).expect("text");
    assert_eq!(list.lines().count(), rows(&job["parts"]).len() + 1, "a line for every part and one above");
}

/// Each board of a router that has sheets has a coupon, which is a whole pack; gives how many.
fn coupons(pack: &BTreeMap<String, Option<Vec<u8>>>, job: &Value) -> usize {
    let mut boards: Vec<&str> = rows(&job["sheets"]).iter().map(|s| word(&s["board"])).collect();
    boards.dedup();
    if job["machine"]["process"] != "router" {
        boards.clear();
    }
    for board in &boards {
        let inside = format!("coupon/{board}/");
        let own: BTreeMap<String, Option<Vec<u8>>> =
            pack.iter().filter_map(|(name, bytes)| Some((name.strip_prefix(&inside)?.to_owned(), bytes.clone()))).collect();
        let own_job: Value = serde_json::from_slice(own["job.json"].as_ref().expect("a file")).expect("JSON");
        has_the_contract(&own_job);
        adds_up(&own, &own_job);
        assert_eq!((word(&own_job["boards"][0]["name"]), rows(&own_job["sheets"]).len()), (*board, 1));
    }
    let jobs = pack.keys().filter(|name| name.starts_with("coupon/") && name.ends_with("/job.json")).count();
    assert_eq!(jobs, boards.len());
    jobs
}

/// Makes a pack; gives the program's data and the pack's files.
fn make(bench: &Bench, project: &str) -> (Value, BTreeMap<String, Option<Vec<u8>>>) {
    let told = bench.run(&["make", project, "--out", "pack", "--json"]).expect(0, &[]).json();
    (told, tree(&bench.path().join("pack")))
}

fn check_sample(name: &str) {
    let bench = Bench::new();
    let (told, pack) = make(&bench, &sample(name));
    let job: Value = serde_json::from_slice(pack["job.json"].as_ref().expect("a file")).expect("JSON");
    has_the_contract(&job);
    adds_up(&pack, &job);
    second_opinion::shapes_and_layout(&job);
    assert_eq!(told["revision"], job["revision"]);
    let coupons = coupons(&pack, &job);
    let proofs = 2 + 2 * coupons;
    assert_eq!(rows(&told["files"]).len() + proofs, pack.values().flatten().count(), "files told of, and the proof's");
    bench.run(&["prove", "pack"]).expect(0, &["PASSED"]);
    let folder = cases().join(name);
    let mut wrong = Vec::new();
    held_against(&folder.join("stages.txt"), &stage_text(&job), &mut wrong);
    held_against(&folder.join("ledger.txt"), &ledger_text(&job["ledger"]), &mut wrong);
    held_against(&folder.join("findings.txt"), &findings_text(&told["findings"]), &mut wrong);
    for list in ["cut-list.csv", "hardware.csv"] {
        let text = String::from_utf8(pack[list].clone().expect("a file")).expect("text").replace("\r\n", "\n");
        held_against(&folder.join(list), &text, &mut wrong);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The same drawer in card: what it became, what was found, what stands in for its hardware.
#[test]
fn first_drawer_in_card() {
    let bench = Bench::new();
    let project = sample("first-drawer");
    let args = ["mockup", &project, "--board", "card-single-c", "--thickness", "3.8,3.9", "--scale", "1:4", "--out", "pack"];
    let told = bench.run(&[&args[..], &["--json"]].concat()).expect(0, &[]).json();
    let pack = tree(&bench.path().join("pack"));
    let job: Value = serde_json::from_slice(pack["job.json"].as_ref().expect("a file")).expect("JSON");
    has_the_contract(&job);
    second_opinion::shapes_and_layout(&job);
    let folder = cases().join(MOCK_UPS[0]);
    let mut wrong = Vec::new();
    held_against(&folder.join("stages.txt"), &stage_text(&job), &mut wrong);
    held_against(&folder.join("findings.txt"), &findings_text(&told["findings"]), &mut wrong);
    let text = String::from_utf8(pack["hardware.csv"].clone().expect("a file")).expect("text").replace("\r\n", "\n");
    held_against(&folder.join("hardware.csv"), &text, &mut wrong);
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn first_drawer() {
    check_sample("first-drawer");
}

#[test]
fn panels_only() {
    check_sample("panels-only");
}

#[test]
fn field_estate() {
    check_sample("field-estate");
}

#[test]
fn survey_van() {
    check_sample("survey-van");
}

/// Every folder of `tests/cases` with a project of its own holds one thing that goes wrong, or nearly.
#[test]
fn cases_of_one_issue_each() {
    let mut folders: Vec<PathBuf> =
        fs::read_dir(cases()).expect("tests/cases").map(|e| e.expect("an entry").path()).collect();
    folders.sort();
    let mut wrong = Vec::new();
    let mut seen = 0;
    for folder in folders {
        let name = folder.file_name().expect("named").to_string_lossy().into_owned();
        let project = folder.join("project.toml");
        if !project.is_file() {
            assert!(SAMPLES.iter().chain(&MOCK_UPS).any(|s| *s == name), "{name} has no project.toml and is no sample's");
            continue;
        }
        seen += 1;
        let bench = Bench::with("project.toml", &fs::read_to_string(&project).expect("read"));
        let told = bench.run(&["make", "project.toml", "--out", "pack", "--json"]);
        let data = told.json();
        assert_eq!(told.code == Some(0), data["pack"] == "pack", "{name}");
        let mut text = format!("exit code {}\n{}", told.code.expect("a code"), findings_text(&data["findings"]));
        let screen = bench.run(&["check", "project.toml"]);
        let _ = write!(text, "\ncheck ends with {}\n{}{}", screen.code.expect("a code"), screen.err, screen.out);
        held_against(&folder.join("expected.txt"), &text, &mut wrong);
    }
    assert!(seen >= 6, "{seen} cases");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The pictures of the README are what the program makes now.
#[test]
fn pictures_are_what_the_program_makes() {
    let bench = Bench::new();
    let (_, pack) = make(&bench, &sample("survey-van"));
    let mut wrong = Vec::new();
    for (picture, file) in [("sheet-map.svg", "sheets/carcass-01.svg"), ("drawer-front.svg", "parts/LL-2-006.svg")] {
        let names: Vec<&String> = pack.keys().filter(|n| n.starts_with("parts/")).collect();
        let bytes = pack.get(file).unwrap_or_else(|| panic!("no {file} among {names:?}")).clone().expect("a file");
        // The part's own drawing with its hairlines drawn thick enough for a page.
        let text = String::from_utf8(bytes).expect("text").replace("stroke-width=\"0.05\"", "stroke-width=\"1\"");
        let bytes = text.into_bytes();
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples/pictures").join(picture);
        let known = fs::read(&path).unwrap_or_default();
        if known != bytes {
            if std::env::var_os("BLESS").is_some() {
                fs::create_dir_all(path.parent().expect("a folder")).expect("make the folder");
                fs::write(&path, &bytes).expect("write");
            }
            wrong.push(format!("{} is not what the program makes (BLESS=1 cargo test writes it anew)", path.display()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

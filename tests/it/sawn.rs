//! Saw packs: made, read back by their tables, and refused when anything in them is spoilt.

use crate::cli::{sample, tree, Bench};
use crate::pack::held_against;
use baywright::proof::{prove, Verdict};
use std::collections::BTreeMap;
use std::path::Path;

type Pack = BTreeMap<String, Vec<u8>>;

/// The saw pack of a sample, as it lies on the disk.
fn made(name: &str) -> (String, Pack) {
    let bench = Bench::new();
    let told =
        bench.run(&["make", &sample(name), "--process", "saw", "--threads", "1", "--out", "pack"]).expect(0, &["proved: "]);
    let again = bench.run(&["make", &sample(name), "--process", "saw", "--threads", "2", "--out", "again"]).expect(0, &[]);
    assert!(again.out.contains("fence set"));
    assert_eq!(tree(&bench.path().join("pack")), tree(&bench.path().join("again")), "threads change the pack");
    let files = tree(&bench.path().join("pack"));
    bench.run(&["prove", "pack"]).expect(0, &["PASSED"]);
    (told.out, files.into_iter().filter_map(|(name, bytes)| Some((name, bytes?))).collect())
}

fn text<'a>(pack: &'a Pack, name: &str) -> &'a str {
    std::str::from_utf8(&pack[name]).expect("text")
}

fn names(pack: &Pack, ending: &str) -> Vec<String> {
    pack.keys().filter(|n| n.starts_with("saw/") && n.ends_with(ending)).cloned().collect()
}

/// The pages of the drawer and of the van, held against texts that a person has read.
#[test]
fn pages_at_the_saw_are_what_they_were() {
    let mut wrong = Vec::new();
    for name in ["first-drawer", "survey-van"] {
        let (_, pack) = made(name);
        let pages: Vec<&str> = names(&pack, ".txt").iter().map(|n| text(&pack, n)).collect();
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases").join(name).join("saw.txt");
        held_against(&path, &pages.join("\n"), &mut wrong);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_programs_and_no_sheet_drawings_but_a_table_a_page_and_a_picture_of_each_sheet() {
    let (told, pack) = made("first-drawer");
    for word in ["cuts", "fence set", "no layout uses fewer", "keep "] {
        assert!(told.contains(word), "{word} in {told}");
    }
    assert!(!pack.keys().any(|n| n.starts_with("gcode/") || n.starts_with("sheets/") || n.starts_with("coupon/")));
    assert_eq!(names(&pack, ".csv").len(), names(&pack, ".svg").len());
    assert_eq!(names(&pack, ".csv").len(), names(&pack, ".txt").len());
    let job: serde_json::Value = serde_json::from_slice(&pack["job.json"]).expect("JSON");
    assert_eq!(job["machine"]["process"], "saw");
    assert_eq!(job["saw"]["kerf_mm"], 3.2);
    assert!(text(&pack, "saw/ply-01.txt").contains("cut to shape: parts/"));
}

#[test]
fn the_project_sets_kerf_trim_and_turns() {
    let plain = std::fs::read_to_string(sample("first-drawer")).expect("read");
    let bench = Bench::with("a.toml", &format!("{plain}\n[saw]\nkerf = 4\ntrim = 0\nturns = 1\n"));
    bench.run(&["make", "a.toml", "--process", "saw", "--out", "pack"]).expect(0, &["turned 1 times at most"]);
    let page = std::fs::read_to_string(bench.path().join("pack/saw/ply-01.txt")).expect("read");
    assert!(page.contains("saw: kerf 4 mm, 0 mm off each edge"), "{page}");
    assert!(!page.lines().any(|l| l.starts_with(|c: char| c.is_ascii_digit()) && l.split_whitespace().nth(1) == Some("3")));
    for (wrong, word) in [("kerf = 0", "kerf"), ("turns = 0", "turns"), ("trim = -1", "trim"), ("blade = 3", "blade")] {
        bench.write("b.toml", &format!("{plain}\n[saw]\n{wrong}\n"));
        bench.run(&["make", "b.toml", "--process", "saw", "--out", "no"]).expect(1, &["stop[", word]);
    }
}

/// Proves a pack with one file changed; the change must be seen by the rule named.
#[track_caller]
fn spoilt(pack: &Pack, file: &str, change: impl FnOnce(&str) -> String, rule: &str) {
    let mut pack = pack.clone();
    let changed = change(text(&pack, file));
    assert_ne!(changed, text(&pack, file), "nothing was spoilt");
    pack.insert(file.to_owned(), changed.into_bytes());
    failed_by(&prove(&pack), rule);
}

#[track_caller]
fn failed_by(verdict: &Verdict, rule: &str) {
    assert!(!verdict.passed, "not seen");
    let by: Vec<&str> = verdict.rules.iter().filter(|r| !r.passed).map(|r| r.rule).collect();
    assert!(by.contains(&rule), "{rule} does not see it, but {by:?}");
}

/// A field of the row of a cut set to something else.
fn set(table: &str, row: usize, column: usize, change: impl Fn(&str) -> String) -> String {
    let mut lines: Vec<Vec<String>> = table.lines().map(|l| l.trim_end().split(',').map(str::to_owned).collect()).collect();
    lines[row][column] = change(&lines[row][column]);
    lines.iter().map(|l| l.join(",") + "\r\n").collect()
}

fn more(by: f64) -> impl Fn(&str) -> String {
    move |text| format!("{:.2}", text.parse::<f64>().expect("a length") + by)
}

#[test]
fn whatever_is_spoilt_in_a_saw_pack_is_seen() {
    let (_, pack) = made("first-drawer");
    let mut bare = pack.clone();
    bare.remove("proof.json");
    bare.remove("proof.txt");
    assert!(prove(&bare).passed);
    let table = "saw/ply-01.csv";
    let rows = text(&pack, table).lines().count();
    // A fence a tenth of a millimetre off, at any cut; a size that is not what comes off; a wrong edge, way or stage.
    for row in 1..rows {
        spoilt(&bare, table, |t| set(t, row, 6, more(0.1)), "proof-saw-cuts");
        spoilt(&bare, table, |t| set(t, row, 9, more(0.3)), "proof-saw-cuts");
        spoilt(&bare, table, |t| set(t, row, 1, |s| format!("{s}1")), "proof-saw-cuts");
        spoilt(&bare, table, |t| set(t, row, 3, |_| "99a".to_owned()), "proof-saw-cuts");
        spoilt(
            &bare,
            table,
            |t| set(t, row, 2, |w| if w == "rip" { "crosscut" } else { "rip" }.to_owned()),
            "proof-saw-cuts",
        );
    }
    // Two cuts changed places; one is missing; a blank is taken for waste, or for another.
    let swapped = |t: &str| {
        let mut lines: Vec<&str> = t.lines().collect();
        lines.swap(1, 3);
        lines.join("\r\n")
    };
    spoilt(&bare, table, swapped, "proof-saw-cuts");
    spoilt(&bare, table, |t| t.lines().take(rows - 1).collect::<Vec<_>>().join("\r\n"), "proof-saw-pieces");
    let name = "BL-1-003.1";
    spoilt(&bare, table, |t| t.replace(name, "waste"), "proof-saw-pieces");
    spoilt(&bare, table, |t| t.replace(name, "BL-1-004.1"), "proof-saw-cuts");
    spoilt(&bare, table, |t| t.replace(name, "XX-1-003.1"), "proof-saw-pieces");
    // The kerf of another blade; a part of another size; a part turned.
    spoilt(
        &bare,
        "job.json",
        |t| t.replacen("\"kerf_mm\": 3.2,\n    \"trim", "\"kerf_mm\": 2.8,\n    \"trim", 1),
        "proof-saw-cuts",
    );
    spoilt(&bare, "job.json", |t| t.replacen("\"turns\": 3", "\"turns\": 0", 1), "proof-saw-cuts");
    // The page and the picture must say the same.
    let page = "saw/ply-01.txt";
    spoilt(&bare, page, |t| t.replacen("crosscut", "rip", 1), "proof-saw-told");
    spoilt(&bare, page, |t| t.replacen("1240", "1204", 2), "proof-saw-told");
    spoilt(&bare, page, |t| t.lines().filter(|l| !l.starts_with("5 ")).collect::<Vec<_>>().join("\n"), "proof-saw-told");
    let picture = "saw/ply-01.svg";
    spoilt(
        &bare,
        picture,
        |t| t.replacen("data-piece=\"BL-1-003.1\"", "data-piece=\"BL-1-004.1\"", 1),
        "proof-file-unreadable",
    );
    spoilt(&bare, picture, |t| t.replacen("data-cut=\"4\"", "data-cut=\"5\"", 1), "proof-saw-told");
    spoilt(&bare, picture, |t| t.replacen("width=\"2500mm\"", "width=\"1250mm\"", 1), "proof-file-unreadable");
    for file in [table, page, picture] {
        let mut less = bare.clone();
        less.remove(file);
        failed_by(&prove(&less), "proof-file-missing");
        let mut empty = bare.clone();
        empty.insert(file.to_owned(), Vec::new());
        assert!(!prove(&empty).passed, "{file} empty");
    }
    let mut foreign = bare.clone();
    foreign.insert("saw/ply-02.csv".to_owned(), b"cut\r\n".to_vec());
    failed_by(&prove(&foreign), "proof-file-foreign");
}

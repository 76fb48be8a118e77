//! `write`: a pack from a job made by hand, read as text.

mod drawings;
mod frame;
mod lists;
mod real;
mod sample;
mod settled;

use sample::{sample, Sample};
use std::process::Command;

/// A file of a pack as text.
fn text(sample: &Sample, name: &str) -> String {
    String::from_utf8(sample.pack().remove(name).unwrap_or_else(|| panic!("no {name}"))).unwrap()
}

/// The same job with release 12 drawings.
fn release_12() -> Sample {
    let mut job = sample();
    job.design.process.dxf_release_12 = true;
    job
}

/// One of each kind of job.
fn kinds() -> [(&'static str, Sample); 4] {
    [("mm", sample()), ("inch", sample().in_inches()), ("release-12", release_12()), ("laser", sample().on_a_laser())]
}

#[test]
fn a_pack_has_the_files_of_the_contract() {
    let files = sample().pack();
    let names: Vec<&str> = files.keys().map(String::as_str).collect();
    assert_eq!(
        names,
        [
            "cut-list.csv",
            "gcode/carcass-01-1-up-cut-6.nc",
            "hardware.csv",
            "job.json",
            "offcuts.csv",
            "parts/LO-1-001.dxf",
            "parts/LO-1-001.svg",
            "parts/LO-1-002-L.dxf",
            "parts/LO-1-002-L.svg",
            "parts/TB-1-001.dxf",
            "parts/TB-1-001.svg",
            "sheets/carcass-01.dxf",
            "sheets/carcass-01.svg",
            "sheets/carcass-02.dxf",
            "sheets/carcass-02.svg",
        ]
    );
}

#[test]
fn names_stay_unique_and_plain_whatever_the_maker_calls_things() {
    let mut job = sample();
    job.parts.parts[1].id = "lo-1-001".to_owned();
    job.parts.parts[2].id = "../Tür: 1?".to_owned();
    job.design.boards[0].name = "CON".to_owned();
    let files = job.pack();
    assert_eq!(files.len(), sample().pack().len(), "no file overwrote another");
    for name in files.keys() {
        let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.' | '/');
        assert!(name.chars().all(plain) && !name.contains(".."), "{name}");
    }
    assert!(files.contains_key("parts/lo-1-001_2.svg") && files.contains_key("sheets/CON_-01.dxf"), "{:?}", files.keys());
}

#[test]
fn no_file_holds_a_number_that_is_none_or_a_negative_zero() {
    for (kind, job) in kinds() {
        for (name, bytes) in job.pack() {
            no_bad_number(kind, &name, &bytes);
        }
    }
}

fn no_bad_number(kind: &str, name: &str, bytes: &[u8]) {
    let text = std::str::from_utf8(bytes).unwrap().to_lowercase();
    for word in text.split(|c: char| !(c.is_alphanumeric() || matches!(c, '-' | '.' | '+'))) {
        let bare = word.trim_start_matches(['-', '+']);
        assert!(!["nan", "inf", "infinity"].contains(&bare), "{kind} {name}: {word}");
        let zero = word.strip_prefix('-').and_then(|w| w.parse::<f64>().ok());
        assert_ne!(zero, Some(0.0), "{kind} {name}: {word}");
    }
}

#[test]
fn every_cut_file_says_what_it_is() {
    for (kind, job) in kinds() {
        let revision = baywright::write::revision(&job.job());
        for (name, bytes) in job.pack() {
            let line = if name.starts_with("gcode/") { "tool centre" } else { "finished edge" };
            if name.contains('/') {
                let text = String::from_utf8(bytes).unwrap();
                let thickness = if kind == "inch" { "real thickness 0.5827 in" } else { "real thickness 14.8 mm" };
                for words in ["river-survey van", revision.as_str(), "board: carcass", thickness, line] {
                    assert!(text.contains(words), "{kind} {name}: {words}");
                }
            }
        }
    }
}

/// Same input, same bytes: also in a zone where 1 January 1900 began twice, and under another locale.
#[test]
fn a_pack_does_not_depend_on_zone_or_locale() {
    let here = digest();
    for (zone, locale) in [("Europe/Stockholm", "C"), ("Asia/Kolkata", "de_DE.UTF-8"), ("America/St_Johns", "tr_TR.UTF-8")] {
        let child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "write::a_pack_is_the_same_twice", "--nocapture"])
            .envs([("TZ", zone), ("LC_ALL", locale)])
            .output()
            .unwrap();
        assert!(child.status.success(), "{zone}");
        let said = String::from_utf8(child.stdout).unwrap();
        assert!(said.contains(&format!("digest {here:016x}")), "{zone}: {said}");
    }
}

#[test]
fn a_pack_is_the_same_twice() {
    for ((kind, first), (_, second)) in kinds().into_iter().zip(kinds()) {
        assert_eq!(first.pack(), second.pack(), "{kind}");
    }
    println!("digest {:016x}", digest());
}

/// FNV-1a over all files of all kinds of job.
fn digest() -> u64 {
    let mut hash = 0xcbf2_9ce4_8422_2325_u64;
    for (_, job) in kinds() {
        for (name, bytes) in job.pack() {
            for byte in name.as_bytes().iter().chain(&bytes) {
                hash = (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3);
            }
        }
    }
    hash
}

#[test]
fn the_revision_follows_what_is_cut_and_nothing_else() {
    let revision = |job: &Sample| baywright::write::revision(&job.job());
    let plain = revision(&sample());
    assert!(plain.len() == 12 && plain.chars().all(|c| c.is_ascii_hexdigit()));
    let mut same = sample();
    same.design.title = "another title".to_owned();
    same.findings.clear();
    same.model.hardware.clear();
    assert_eq!(revision(&same), plain);
    let changes: [fn(&mut Sample); 7] = [
        |job| job.parts.parts[0].cuts[0].operation = baywright::flat::Operation::Pocket { depth: baywright::units::Mm(6.1) },
        |job| job.parts.parts[0].cuts[4].side = baywright::flat::Side::Up,
        |job| job.layout.sheets[0].placements[0].at.x += 0.01,
        |job| job.layout.sheets[1].placements[0].turn = baywright::nest::Turn::Half,
        |job| job.programs[0].rpm += 100.0,
        |job| job.design.boards[0].readings[1].0 += 0.1,
        |job| job.design.process.dxf_release_12 = true,
    ];
    for (i, change) in changes.iter().enumerate() {
        let mut other = sample();
        change(&mut other);
        assert_ne!(revision(&other), plain, "change {i}");
    }
    assert_ne!(revision(&sample().in_inches()), plain);
}

/// Puts a pack of each kind on disk, below the build's own folder for tests (`target/tmp/packs`), where the readers of
/// `tests/readers` can be tried on them.
#[test]
fn packs_lie_on_disk_as_they_were_written() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("packs");
    for (kind, job) in kinds() {
        for (name, bytes) in job.pack() {
            let path = folder.join(kind).join(&name);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(&path, &bytes).unwrap();
            assert_eq!(std::fs::read(&path).unwrap(), bytes, "{kind} {name}");
        }
    }
}

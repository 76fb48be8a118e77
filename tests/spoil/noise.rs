//! Files of good packs with bytes changed anyhow, many thousands of them: every reader ends in a reading or a fault, soon.

use super::pack::{Files, Pack};
use baywright::proof::{prove, read_dxf, read_gcode, read_svg};
use std::time::{Duration, Instant};

/// What readers look for, and numbers beyond any.
const LIKELY: [&str; 20] = [
    "-",
    ".",
    "0",
    "9",
    "99999999999999999999",
    "1e308",
    "\n",
    "(",
    ")",
    "%",
    "<",
    ">",
    "\"",
    "{",
    "]",
    "G2 ",
    "G83 ",
    " L9999999",
    "SECTION",
    "\u{0}",
];

/// No file may keep a reader busy for longer; nor a pack the proof.
const LONGEST: [Duration; 2] = [Duration::from_secs(2), Duration::from_secs(30)];

/// Changes a few places: other bytes, stretches taken out, copied or moved to elsewhere, words put in.
fn changed(pack: &mut Pack, bytes: &[u8]) -> Vec<u8> {
    let mut bytes = bytes.to_vec();
    for _ in 0..=pack.pick(6) {
        if bytes.is_empty() {
            break;
        }
        let at = pack.pick(bytes.len());
        let end = (at + pack.size(1.0, 3000.0) as usize).min(bytes.len());
        match pack.pick(6) {
            0 => bytes[at] = pack.pick(256) as u8,
            1 => drop(bytes.drain(at..end)),
            2 => {
                let copy = bytes[at..end].to_vec();
                let to = pack.pick(bytes.len());
                bytes.splice(to..to, copy);
            }
            3 => bytes.truncate(at),
            4 => bytes[at] ^= 1 << pack.pick(8),
            _ => {
                let word = LIKELY[pack.pick(LIKELY.len())];
                bytes.splice(at..at, word.bytes());
            }
        }
    }
    bytes
}

/// Reads so many changed files of each kind, and proves a fiftieth as many packs with one of them; tells the slowest of each.
pub(crate) fn run(packs: &[(&str, Files)], times: usize) {
    type Reader = fn(&[u8]) -> bool;
    let readers: [(&str, &str, Reader); 3] = [
        ("DXF", ".dxf", |bytes| read_dxf::read(bytes).is_ok()),
        ("SVG", ".svg", |bytes| read_svg::read(bytes).is_ok()),
        ("programs", "gcode/", |bytes| read_gcode::read(bytes).is_ok()),
    ];
    for (kind, of, read) in readers {
        let (mut slowest, mut good) = (Duration::ZERO, 0);
        for n in 0..times {
            let mut pack = Pack::of(&packs[n % packs.len()].1, n as u64 * 977 + 1);
            let Some(name) = pack.file(of) else { continue };
            let bytes = pack.files[&name].clone();
            let bytes = changed(&mut pack, &bytes);
            let started = Instant::now();
            good += usize::from(read(&bytes));
            slowest = slowest.max(started.elapsed());
        }
        println!("{kind}: {times} changed files, {good} read all the same, the slowest in {} ms", slowest.as_millis());
        assert!(slowest < LONGEST[0], "a file kept the reader busy");
    }
    let (mut slowest, mut passed) = (Duration::ZERO, 0);
    for n in 0..times / 50 {
        let mut pack = Pack::of(&packs[n % packs.len()].1, n as u64 * 977 + 1);
        let of = ["gcode/", ".dxf", ".svg", "job.json", ".csv"][pack.pick(5)];
        let Some(name) = pack.file(of) else { continue };
        let bytes = pack.files[&name].clone();
        let bytes = changed(&mut pack, &bytes);
        pack.files.insert(name, bytes);
        let started = Instant::now();
        let verdict = prove(&pack.files);
        passed += usize::from(verdict.passed);
        assert!(verdict.passed || !verdict.findings.is_empty());
        slowest = slowest.max(started.elapsed());
    }
    println!(
        "packs: {} with a changed file, {passed} pass all the same, the slowest in {} ms",
        times / 50,
        slowest.as_millis()
    );
    assert!(slowest < LONGEST[1], "a pack kept the proof busy");
}

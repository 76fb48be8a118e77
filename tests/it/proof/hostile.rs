//! Whatever the bytes, the proof ends in a verdict, soon, and does not pass what it could not read.

use super::sample::{job, pack, Flavour, PLAIN};
use baywright::proof::{prove, read_dxf, read_gcode, read_svg};
use proptest::prelude::{any, prop_assert, proptest, ProptestConfig};
use std::fmt::Write as _;
use std::time::{Duration, Instant};

const FILES: [&str; 7] = [
    "job.json",
    "parts/P-1.dxf",
    "parts/P-1.svg",
    "sheets/panel-01.dxf",
    "sheets/panel-01.svg",
    "gcode/panel-01-1-cutter-6.nc",
    "gcode/panel-01-2-cutter-6.nc",
];

/// Bytes that readers look for.
const LIKELY: &[u8] = b"0123456789-.GMXYZRF\n()\"<>[]{}";

/// Changes bytes here and there: other bytes, copied stretches, removed stretches, long numbers.
fn mutate(bytes: &mut Vec<u8>, changes: &[(u16, u8, u8)]) {
    for (place, kind, value) in changes {
        if bytes.is_empty() {
            return;
        }
        let at = usize::from(*place) * 7 % bytes.len();
        match kind % 5 {
            0 => bytes[at] = *value,
            1 => drop(bytes.drain(at..(at + usize::from(*value)).min(bytes.len()))),
            2 => {
                let copy = bytes[at..(at + usize::from(*value)).min(bytes.len())].to_vec();
                bytes.splice(at..at, copy);
            }
            3 => drop(bytes.splice(at..at, b"99999999999999999999".iter().copied())),
            _ => bytes[at] = LIKELY[usize::from(*value) % LIKELY.len()],
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn changed_bytes_end_in_a_verdict(
        file in 0..FILES.len(),
        inches in any::<bool>(),
        changes in proptest::collection::vec((any::<u16>(), any::<u8>(), any::<u8>()), 1..6),
    ) {
        let mut files = pack(Flavour { inches, ..PLAIN });
        let bytes = files.get_mut(FILES[file]).unwrap();
        mutate(bytes, &changes);
        let started = Instant::now();
        let verdict = prove(&files);
        prop_assert!(verdict.to_text().len() < 60_000);
        prop_assert!(!verdict.to_json().is_empty());
        prop_assert!(verdict.passed || !verdict.findings.is_empty());
        prop_assert!(started.elapsed() < Duration::from_secs(20), "took {:?}", started.elapsed());
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn readers_take_any_bytes(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        prop_assert!(read_dxf::read(&bytes).is_err());
        prop_assert!(read_svg::read(&bytes).is_err());
        prop_assert!(read_gcode::read(&bytes).is_err());
    }

    #[test]
    fn readers_take_changed_files(changes in proptest::collection::vec((any::<u16>(), any::<u8>(), any::<u8>()), 1..20)) {
        let files = sample_files();
        for (index, name) in FILES.iter().enumerate().skip(1) {
            let mut bytes = files[index].clone();
            mutate(&mut bytes, &changes);
            // A changed file may still be well formed; what counts is that a reader says one or the other.
            let ending = name.rsplit('.').next().unwrap();
            let read = match ending {
                "dxf" => read_dxf::read(&bytes).map(drop),
                "svg" => read_svg::read(&bytes).map(drop),
                _ => read_gcode::read(&bytes).map(drop),
            };
            if let Err(fault) = read {
                prop_assert!(!fault.message.is_empty() && fault.message.len() < 600);
            }
        }
    }
}

fn sample_files() -> &'static [Vec<u8>] {
    static FILES_ONCE: std::sync::OnceLock<Vec<Vec<u8>>> = std::sync::OnceLock::new();
    FILES_ONCE.get_or_init(|| {
        let files = pack(PLAIN);
        FILES.iter().map(|n| files[*n].clone()).collect()
    })
}

/// The pack with one file replaced does not pass, within the time.
#[track_caller]
fn refused(name: &str, bytes: Vec<u8>, seconds: u64) -> String {
    let mut files = pack(PLAIN);
    files.insert(name.to_owned(), bytes);
    let started = Instant::now();
    let verdict = prove(&files);
    assert!(!verdict.passed, "{}", verdict.to_text());
    assert!(started.elapsed() < Duration::from_secs(seconds), "took {:?}", started.elapsed());
    verdict.to_text()
}

#[test]
fn files_of_zeros_are_refused_by_their_size_or_first_byte() {
    for name in FILES {
        refused(name, vec![0; 65 << 20], 20);
    }
}

#[test]
fn deep_nesting_is_refused() {
    refused("parts/P-1.svg", "<g>".repeat(100_000).into_bytes(), 10);
    let svg = format!("<svg width=\"1mm\" height=\"1mm\" viewBox=\"0 0 1 1\">{}", "<g>".repeat(100_000));
    assert!(refused("parts/P-1.svg", svg.into_bytes(), 10).contains("nested deeper"));
    refused("job.json", "{\"a\":".repeat(100_000).into_bytes(), 10);
    refused("job.json", "[".repeat(100_000).into_bytes(), 10);
}

#[test]
fn entities_and_document_types_are_refused() {
    let svg = "<!DOCTYPE svg [<!ENTITY a \"aaaa\"><!ENTITY b \"&a;&a;&a;\">]><svg>&b;</svg>";
    assert!(refused("parts/P-1.svg", svg.into(), 10).contains("document type"));
    let svg = "<svg width=\"1mm\" height=\"1mm\" viewBox=\"0 0 1 1\"><desc>&b;</desc></svg>";
    assert!(refused("parts/P-1.svg", svg.into(), 10).contains("predefined"));
}

#[test]
fn repeats_and_pecks_without_end_are_refused() {
    let start = "G21 G17 G90 G94 G40 G49 G80 G54\nG0 Z20\nG0 X1 Y1\nF100 G98\n";
    for line in [
        "G81 X1 Y1 Z-1 R1 L999999",
        "G91 G81 X1 Y1 Z-1 R1 L99999",
        "G83 X1 Y1 Z-1 R1 Q0.000001",
        "G81 X1 Y1 Z-1 R1 L2000000000",
    ] {
        let mut text = start.to_owned();
        for _ in 0..50 {
            writeln!(text, "{line}").unwrap();
        }
        text.push_str("M30\n");
        refused("gcode/panel-01-2-cutter-6.nc", text.into_bytes(), 20);
    }
}

#[test]
fn scribbles_are_refused_in_time() {
    // Thousands of long strokes across one another at full depth: a polygon library's worst case.
    let mut text = "G21 G17 G90 G94 G40 G49 G80 G54\nG0 Z25\nG0 X1 Y1\nS18000 M3\nG4 P5\nG1 Z-0.3 F500\n".to_owned();
    let mut seed = 1_u64;
    for _ in 0..3000 {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        writeln!(text, "X{}.0 Y{}.0", (seed >> 33) % 600, (seed >> 45) % 400).unwrap();
    }
    text.push_str("G0 Z25\nM30\n");
    refused("gcode/panel-01-2-cutter-6.nc", text.into_bytes(), 60);
}

#[test]
fn lists_without_end_are_refused() {
    let many = |key: &str, copies: usize| {
        let mut data = job(PLAIN);
        let first = data[key][0].clone();
        data[key] = vec![first; copies].into();
        serde_json::to_vec(&data).unwrap()
    };
    refused("job.json", many("parts", 2_000), 20);
    refused("job.json", many("sheets", 20_000), 20);
    refused("job.json", many("programs", 20_000), 20);
    let mut data = job(PLAIN);
    let contour = data["parts"][0]["contours"][0].clone();
    data["parts"][0]["contours"].as_array_mut().unwrap().extend(vec![contour; 20_000]);
    refused("job.json", serde_json::to_vec(&data).unwrap(), 20);
    let mut data = job(PLAIN);
    let wide: Vec<[f64; 3]> = [[0.0, 0.0, 1.0], [90_000.0, 0.0, 1.0]].repeat(4_000);
    data["parts"][0]["contours"][7]["vertices"] = serde_json::json!(wide);
    refused("job.json", serde_json::to_vec(&data).unwrap(), 20);
}

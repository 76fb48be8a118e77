//! Strips of fixed width and free length: the classic sets of irregular pieces, and the planted shapes with their sheets end to end.

use baywright::nest::engine::{self, Settings, Strip, StripPiece};
use serde_json::Value;
use std::collections::BTreeMap;
use std::time::Instant;

/// Densities of a general-purpose library, measured at 60 s and one thread, in percent.
const LIBRARY: [(&str, f64); 7] = [
    ("albano", 87.8),
    ("jakobs1", 84.8),
    ("mao", 82.7),
    ("marques", 88.7),
    ("shapes0", 64.8),
    ("swim", 74.0),
    ("trousers", 89.2),
];

/// Runs every set of a folder whose name holds `only`.
pub(crate) fn run(folder: &str, work: u64, seed: u64, only: &str) {
    let records = std::fs::read_to_string(format!("{folder}/records.csv")).unwrap_or_default();
    let records: BTreeMap<&str, f64> = records
        .lines()
        .filter_map(|l| {
            let cells: Vec<&str> = l.split(',').collect();
            Some((cells[0], cells.get(4)?.parse().ok()?))
        })
        .collect();
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .unwrap_or_else(|e| panic!("{folder}: {e}"))
        .filter_map(|f| Some(f.ok()?.path()))
        .filter(|p| p.extension().is_some_and(|e| e == "json"))
        .collect();
    files.sort();
    println!("set        pieces   density %   record %   library %   seconds");
    for file in files {
        let name = file.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        if !name.contains(only) {
            continue;
        }
        let text = std::fs::read_to_string(&file).unwrap_or_else(|e| panic!("{}: {e}", file.display()));
        let set: Value = serde_json::from_str(&text).unwrap_or_else(|e| panic!("{}: {e}", file.display()));
        let (strip, area) = read(&set);
        let start = Instant::now();
        let laid = engine::in_strip(&strip, &Settings { work, seed, threads: 1, ask: None });
        let seconds = start.elapsed().as_secs_f64();
        let Some(laid) = laid else {
            println!("{name:<10} cannot be laid");
            continue;
        };
        let density = 100.0 * area / (laid.length as f64 * strip.width as f64);
        let known = |v: Option<f64>| v.map_or("-".to_owned(), |v| format!("{v:.2}"));
        println!(
            "{name:<10} {:>6} {density:>11.2} {:>10} {:>11} {seconds:>9.1}",
            laid.pieces.len(),
            known(records.get(name.trim_end_matches(".json")).copied()),
            known(LIBRARY.iter().find(|l| l.0 == name).map(|l| l.1)),
        );
    }
}

/// A set in whole numbers, and its pieces' area in them.
fn read(set: &Value) -> (Strip, f64) {
    let width = set["strip_height"].as_f64().expect("a strip's height");
    // As fine as fits a million steps across.
    let scale = 10_f64.powi((1e6 / width).log10().floor() as i32);
    let whole = |v: f64| (v * scale).round() as i64;
    let mut area = 0.0;
    let list = |v: &Value| v.as_array().cloned().unwrap_or_default();
    let pieces = list(&set["items"]).into_iter().map(|item| {
        let ring: Vec<[i64; 2]> = list(&item["shape"]["data"])
            .iter()
            .map(|p| [whole(p[0].as_f64().unwrap_or(0.0)), whole(p[1].as_f64().unwrap_or(0.0))])
            .collect();
        let count = item["demand"].as_u64().unwrap_or(1) as u32;
        let cross: i64 = ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum();
        area += cross.abs() as f64 / 2.0 * f64::from(count);
        let turns = list(&item["allowed_orientations"]);
        let quarters = turns.iter().map(|a| (a.as_f64().unwrap_or(0.0) / 90.0).round() as u8).collect();
        StripPiece { outline: vec![ring], quarters, count }
    });
    let pieces = pieces.collect();
    (Strip { width: whole(width), pieces }, area)
}

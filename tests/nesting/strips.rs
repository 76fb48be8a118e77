//! Strips of fixed width and free length: the classic sets of irregular pieces, and the planted shapes with their sheets end to end.

use crate::instances::{self, Instance};
use baywright::nest::check;
use baywright::nest::engine::{self, free_rectangles, CutRule, Packing, Settings, Strip, StripPiece, Turns};
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

/// The same library on planted shapes as strips: planted length over the length it found; it knows no openings.
const LIBRARY_PLANTED: [(&str, f64); 2] = [("p_012", 0.844), ("p_040", 0.841)];

/// Runs the sets of a folder, or the planted instances of a file, whose name holds `only`.
pub(crate) fn run(file: &str, work: u64, seed: u64, only: &str) {
    let settings = Settings { work, seed, threads: 1, ask: None };
    if std::path::Path::new(file).is_dir() {
        irregular(file, &settings, only);
        return;
    }
    println!("planted length over the length found: packed to the bound; as outlines; as outlines with openings closed");
    println!("name    planted mm   packed  outlines  closed  library   seconds");
    for instance in instances::read(file, false, CutRule::Free).iter().filter(|i| i.name.contains(only)) {
        planted(instance, &settings);
    }
}

/// A planted instance on one sheet as long as all its sheets, and as a strip that is as long as it comes out.
fn planted(instance: &Instance, settings: &Settings<'_>) {
    let start = Instant::now();
    let mut problem = instance.problem.clone();
    let (gap, [length, width]) = (problem.gap, problem.sheets[0].size);
    let sheets = instance.best.unwrap_or(1).cast_signed();
    let whole = sheets * (length + gap) - gap;
    problem.sheets[0].size[0] = whole;
    problem.sheets[0].count = Some(1);
    let packing = engine::pack(&problem, settings);
    let faults = check::packing(&problem, &packing);
    assert!(faults.is_empty(), "{}: {faults:?}", instance.name);
    let reach = |p: &Packing| p.sheets.iter().flat_map(|s| &s.spots).map(|s| s.at[0] + s.size[0]).max().unwrap_or(0);
    let packed = if packing.unplaced.is_empty() { ratio(whole, reach(&packing)) } else { "-".to_owned() };
    let outlines = |closed: bool| {
        // Grown by the gap to the right and upwards, so that pieces may touch.
        let piece = |k: usize| {
            let item = &problem.items[k];
            let [w, h] = item.size;
            let cover = problem.shapes.get(&k).map_or(vec![[0, 0, w, h]], |s| s.cover.clone());
            let inner = |r: &[i64; 4]| r[0] > 0 && r[1] > 0 && r[2] < w && r[3] < h;
            let open = !closed || !free_rectangles(item.size, &cover, 1).iter().all(inner);
            let cover = if open { cover } else { vec![[0, 0, w, h]] };
            let ring = |r: &[i64; 4]| {
                let [x0, y0, x1, y1] = [r[0], r[1], r[2] + gap, r[3] + gap];
                vec![[x0, y0], [x1, y0], [x1, y1], [x0, y1]]
            };
            let quarters: &[u8] = match (item.turns, cover.len()) {
                (Turns::Any, 1) => &[0, 1],
                (Turns::Any, _) => &[0, 1, 2, 3],
                (Turns::Fixed, 1) => &[0],
                (Turns::Fixed, _) => &[0, 2],
                (Turns::Quarter, _) => &[1, 3],
            };
            StripPiece { outline: cover.iter().map(ring).collect(), quarters: quarters.to_vec(), count: item.count }
        };
        let strip = Strip { width: width + gap, pieces: (0..problem.items.len()).map(piece).collect() };
        let laid = engine::in_strip(&strip, settings)?;
        let faults = check::strip(&strip, &laid);
        assert!(faults.is_empty(), "{}: {faults:?}", instance.name);
        Some(ratio(whole + gap, laid.length))
    };
    let (open, closed) = (outlines(false), outlines(true));
    println!(
        "{:<7} {:>10.1} {packed:>8} {:>9} {:>7} {:>8} {:>9.1}",
        instance.name,
        whole as f64 / 10.0,
        open.unwrap_or_default(),
        closed.unwrap_or_default(),
        LIBRARY_PLANTED.iter().find(|l| l.0 == instance.name).map_or("-".to_owned(), |l| format!("{:.3}", l.1)),
        start.elapsed().as_secs_f64()
    );
}

fn ratio(planted: i64, found: i64) -> String {
    format!("{:.3}", planted as f64 / found.max(1) as f64)
}

fn irregular(folder: &str, settings: &Settings<'_>, only: &str) {
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
        let laid = engine::in_strip(&strip, settings);
        let seconds = start.elapsed().as_secs_f64();
        let Some(laid) = laid else {
            println!("{name:<10} cannot be laid");
            continue;
        };
        let faults = check::strip(&strip, &laid);
        assert!(faults.is_empty(), "{name}: {faults:?}");
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

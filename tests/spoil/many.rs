//! What the proof costs on jobs of many sheets: one sample's pack, its sheets and programs repeated.

use super::pack::Files;
use serde_json::{json, Value};
use std::time::Instant;

/// The pack with all sheets, programs and copies so many times.
fn repeated(files: &Files, times: u64) -> Files {
    let mut files = files.clone();
    let mut job: Value = serde_json::from_slice(&files["job.json"]).expect("job.json");
    let quantities: Vec<(Value, u64)> = job["parts"]
        .as_array()
        .into_iter()
        .flatten()
        .map(|p| (p["id"].clone(), p["quantity"].as_u64().expect("a count")))
        .collect();
    let wanted = |part: &Value| quantities.iter().find(|(id, _)| id == part).map_or(0, |(_, n)| *n);
    for part in job["parts"].as_array_mut().into_iter().flatten() {
        part["quantity"] = json!(wanted(&part["id"]) * times);
    }
    let (sheets, programs) = (job["sheets"].clone(), job["programs"].clone());
    for turn in 1..times {
        let mut again = |name: &str| {
            let (folder, file) = name.split_once('/').expect("a folder");
            let copy = format!("{folder}/turn-{turn}-{file}");
            let bytes = files[name].clone();
            files.insert(copy.clone(), bytes);
            json!(copy)
        };
        for mut sheet in sheets.as_array().cloned().unwrap_or_default() {
            sheet["number"] = json!(sheet["number"].as_u64().expect("a number") + 100 * turn);
            for file in sheet["files"].as_array_mut().into_iter().flatten() {
                *file = again(file.as_str().expect("a name"));
            }
            for placed in sheet["placements"].as_array_mut().into_iter().flatten() {
                placed["copy"] = json!(placed["copy"].as_u64().expect("a copy") + turn * wanted(&placed["part"]));
            }
            job["sheets"].as_array_mut().expect("sheets").push(sheet);
        }
        for mut program in programs.as_array().cloned().unwrap_or_default() {
            program["sheet"] = json!(program["sheet"].as_u64().expect("a number") + 100 * turn);
            program["file"] = again(program["file"].as_str().expect("a name"));
            job["programs"].as_array_mut().expect("programs").push(program);
        }
    }
    files.insert("job.json".to_owned(), serde_json::to_vec(&job).expect("json"));
    files
}

/// Most memory this process has had, in MB, where the system tells.
fn peak_mb() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|l| l.strip_prefix("VmHWM:"))?;
    Some(line.trim().trim_end_matches(" kB").parse::<f64>().ok()? / 1024.0)
}

/// Prints time and memory by number of sheets, the pack's own files not taken off.
pub(crate) fn print(sample: &str, files: &Files) {
    println!("{:<16}{:>8}{:>12}{:>14}{:>12}", "pack", "sheets", "ms", "ms per sheet", "peak MB");
    let job: Value = serde_json::from_slice(&files["job.json"]).expect("job.json");
    let own = job["sheets"].as_array().map_or(1, Vec::len).max(1) as u64;
    for sheets in [1_u64, 10, 100] {
        let times = sheets.div_ceil(own);
        let many = repeated(files, times);
        let begun = Instant::now();
        let passed = baywright::proof::prove(&many).passed;
        let ms = begun.elapsed().as_secs_f64() * 1e3;
        assert!(passed, "{sample} {times} times over must pass");
        let count = own * times;
        let peak = peak_mb().map_or_else(|| "-".to_owned(), |mb| format!("{mb:.0}"));
        println!("{sample:<16}{count:>8}{ms:>12.1}{:>14.2}{peak:>12}", ms / count as f64);
    }
}

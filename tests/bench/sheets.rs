//! What programs and their proof cost on jobs of many sheets (one sample's sheets repeated), and how short the ways between
//! entries are.

use super::made::Made;
use super::travel;
use baywright::nest::Layout;
use baywright::write::Files;
use baywright::{proof, toolpath, write};
use serde_json::{json, Value};
use std::fs;
use std::path::Path;
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

/// The layout with all sheets so many times.
fn again(layout: &Layout, times: u64) -> Layout {
    let mut many = layout.clone();
    for turn in 1..times {
        many.sheets.extend(layout.sheets.iter().cloned().map(|mut sheet| {
            sheet.number += 100 * turn as u32;
            sheet
        }));
    }
    many
}

/// Prints times and memory by number of sheets for one project, and how its ways between entries compare with the least possible.
pub(crate) fn print(path: &Path) -> Option<()> {
    let made = Made::of(path)?;
    let Made { design, flat, layout, programs, .. } = &made;
    let files = write::pack(&made.job());
    let name = path.file_stem().expect("named").to_string_lossy();
    let own = layout.sheets.len().max(1) as u64;
    for sheets in [1_u64, 10, 100] {
        let times = sheets.div_ceil(own);
        let count = own * times;
        let (laid, many) = (again(layout, times), repeated(&files, times));
        let begun = Instant::now();
        let planned = toolpath::plan(design, flat, &laid).value.map_or(0, |programs| programs.len());
        let plan_ms = begun.elapsed().as_secs_f64() * 1e3;
        assert_eq!(planned as u64, programs.len() as u64 * times);
        let begun = Instant::now();
        assert!(proof::prove(&many).passed, "{name} {times} times over must pass");
        let proof_ms = begun.elapsed().as_secs_f64() * 1e3;
        let peak = peak_mb().map_or_else(|| "-".to_owned(), |mb| format!("{mb:.0}"));
        let each = |ms: f64| ms / count as f64;
        println!(
            "{name:<16}{count:>8}{plan_ms:>13.1}{:>11.2}{proof_ms:>13.1}{:>11.2}{peak:>10}",
            each(plan_ms),
            each(proof_ms)
        );
    }
    Some(())
}

/// The heading of what [`print`] prints.
pub(crate) fn heading() {
    println!("\nPrograms and their proof by number of sheets; the peak is of the whole process so far.");
    println!(
        "{:<16}{:>8}{:>13}{:>11}{:>13}{:>11}{:>10}",
        "project", "sheets", "toolpath ms", "per sheet", "proof ms", "per sheet", "peak MB"
    );
}

/// A board with so many holes, drilled: the way between them over the least possible.
pub(crate) fn holes(folder: &Path) {
    println!(
        "\nWay between the entries of a board's holes over a lower bound no way is under (Held and Karp's, by ascent)."
    );
    println!("{:<8}{:>12}{:>12}{:>10}{:>14}", "holes", "way m", "bound m", "ratio", "toolpath ms");
    for count in [40_u32, 200, 1000] {
        let path = folder.join(format!("{count}-holes.toml"));
        fs::write(&path, travel::board(count)).expect("write the project");
        let Some((entries, ms)) = entries(&path) else {
            println!("{count:<8} no programs");
            continue;
        };
        let way: f64 = entries.windows(2).map(|w| (w[1].0 - w[0].0).hypot(w[1].1 - w[0].1)).sum();
        let bound = travel::bound(&entries);
        println!("{count:<8}{:>12.3}{:>12.3}{:>10.4}{ms:>14.1}", way / 1e3, bound / 1e3, way / bound);
    }
}

/// Where the drill of a project's only sheet goes, in order, from the corner on; and how long the programs took.
fn entries(path: &Path) -> Option<(Vec<(f64, f64)>, f64)> {
    let Made { design, flat, layout, .. } = &Made::of(path)?;
    let begun = Instant::now();
    let programs = toolpath::plan(design, flat, layout).value?;
    let ms = begun.elapsed().as_secs_f64() * 1e3;
    let drilled = |b: &&toolpath::Block| b.work == toolpath::Work::Holes;
    let places = programs.first()?.blocks.iter().filter(drilled).map(|b| (b.start.x, b.start.y));
    Some((std::iter::once((0.0, 0.0)).chain(places).collect(), ms))
}

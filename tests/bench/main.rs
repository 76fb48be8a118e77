//! Times: programs and proof by number of sheets (`only=sheets` stops there), every stage on every sample and on a job of a thousand parts, and a whole `make` against a script that only writes.
#![allow(missing_docs, reason = "a bench")]

mod big_job;
mod dice;
#[path = "../support/made.rs"]
mod made;
mod script;
mod sheets;
mod stages;
mod travel;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;

/// Each figure is the best of so many runs, but for jobs that last.
const RUNS: usize = 5;
/// A job that takes longer than this is run once.
const LONG_S: f64 = 2.0;

fn main() {
    // `cargo test` builds and starts benches to see that they start; the figures of a debug build would mean nothing.
    if !std::env::args().any(|a| a == "--bench") {
        println!("run `cargo bench`");
        return;
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folder = tempfile::tempdir().expect("a temporary folder");
    sheets::heading();
    for name in ["first-drawer", "survey-van"] {
        if sheets::print(&root.join("samples").join(name).with_extension("toml")).is_none() {
            println!("{name:<16} has a stopper");
        }
    }
    sheets::holes(folder.path());
    if std::env::args().any(|a| a == "only=sheets") {
        return;
    }
    let big = folder.path().join("thousand-parts.toml");
    fs::write(&big, big_job::text()).expect("write the project");
    let mut projects: Vec<PathBuf> = ["first-drawer", "panels-only", "field-estate", "survey-van"]
        .iter()
        .map(|name| root.join("samples").join(name).with_extension("toml"))
        .collect();
    projects.push(big);

    println!("Times in ms, best of {RUNS} (of 1 where a run takes over {LONG_S} s); one thread for the stages.");
    print!("{:<16}{:>7}{:>7}", "project", "parts", "sheets");
    for name in stages::NAMES {
        print!("{name:>10}");
    }
    println!("{:>10}{:>10}", "all", "book kB");
    // What is wanted of the build book: survey-van under 200 ms; a thousand parts under 3 s and 30 MB.
    let mut jobs = Vec::new();
    for project in &projects {
        let name = project.file_stem().expect("named").to_string_lossy().into_owned();
        let mut best = stages::run(project);
        for _ in 1..if best.total() > LONG_S { 1 } else { RUNS } {
            best = best.best(&stages::run(project));
        }
        print!("{name:<16}{:>7}{:>7}", best.parts, best.sheets);
        for s in best.seconds {
            print!("{:>10.2}", s * 1e3);
        }
        println!(
            "{:>10.2}{:>10}{}",
            best.total() * 1e3,
            best.book / 1000,
            if best.stops == 0 { "" } else { "  (stopped: see `make`)" }
        );
        jobs.push((name, project, best));
    }

    let wall = folder.path().join("two-hundred-cells.toml");
    fs::write(&wall, dice::wall()).expect("write the project");
    let van = root.join("samples/survey-van.toml");
    println!("\nWhole `check` (its own process): survey-van {:.1} ms (under 50 is wanted), a wall of 200 drawers {:.0} ms (under 1000).",
        dice::check_ms(&van, RUNS), dice::check_ms(&wall, RUNS));
    let thrown = dice::throw(&van);
    println!(
        "Dice: 100,000 draws of {} sources for {} gaps in {:.2} s (under 1 is wanted); {:.3} to {:.3} of them likely (0.95 meant).",
        thrown.sources, thrown.gaps, thrown.seconds, thrown.inside.0, thrown.inside.1
    );

    println!("\nWhole `make` (its own process, from start to exit) against tests/bench/write_pack.py, which only writes.");
    let Some(python) = script::python(root) else { return };
    println!(
        "{:<16}{:>12}{:>14}{:>14}{:>10}{:>12}",
        "project", "make ms", "script ms", "its writing", "ratio", "ratio w.o. start"
    );
    for (n, (name, project, best)) in jobs.iter().enumerate() {
        let Some(job) = &best.job else {
            println!("{name:<16} no job.json: the design has a stopper");
            continue;
        };
        let job_file = folder.path().join(format!("{n}.json"));
        fs::write(&job_file, job).expect("write job.json");
        let runs = if best.total() > LONG_S { 1 } else { RUNS };
        let mut make = f64::INFINITY;
        let mut made = true;
        let (mut whole, mut writing) = (f64::INFINITY, f64::INFINITY);
        for _ in 0..runs {
            let begun = Instant::now();
            let status = Command::new(env!("CARGO_BIN_EXE_baywright"))
                .args(["make", "--json", "--out"])
                .arg(folder.path().join(format!("{n}-pack")))
                .arg(project)
                .stdout(Stdio::null())
                .stderr(Stdio::null())
                .status()
                .expect("run make");
            make = make.min(begun.elapsed().as_secs_f64());
            made &= status.success();
            let (all, only) = script::run(&python, root, &job_file, &folder.path().join(format!("{n}-script")));
            whole = whole.min(all);
            writing = writing.min(only);
        }
        println!(
            "{name:<16}{:>12.1}{:>14.1}{:>14.1}{:>10.3}{:>12.3}{}",
            make * 1e3,
            whole * 1e3,
            writing * 1e3,
            make / whole,
            make / writing,
            if made { "" } else { "  (make refused the pack after its proof)" }
        );
    }
}

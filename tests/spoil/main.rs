//! Good packs spoilt one way at a time, hundreds of times each: what is caught. `seeds=60` sets how often
//! each kind is tried, `only=DXF` tries the kinds with these words in their name; `noise=20000` reads so many files with bytes
//! changed anyhow instead.
#![allow(missing_docs, reason = "a bench")]

mod drawings;
mod held;
mod jobs;
mod kinds;
#[path = "../support/made.rs"]
mod made;
mod noise;
mod pack;
mod program;
mod programs;

use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

const SAMPLES: [&str; 6] =
    ["first-drawer", "panels-only", "field-estate", "survey-van", "shelves-on-both-faces", "cleats-in-a-frame"];
const SEEDS: u64 = 200;

fn main() {
    // `cargo test` builds and starts benches to see that they start; a share of this runs in the tests.
    if !std::env::args().any(|a| a == "--bench") {
        println!("run `cargo bench --bench spoil`");
        return;
    }
    let seeds = std::env::args().find_map(|a| a.strip_prefix("seeds=")?.parse().ok()).unwrap_or(SEEDS);
    let only = std::env::args().find_map(|a| Some(a.strip_prefix("only=")?.to_owned())).unwrap_or_default();
    let packs: Vec<(&str, pack::Files)> = SAMPLES.iter().filter_map(|s| Some((*s, pack::made(s)?))).collect();
    for (sample, files) in &packs {
        assert!(baywright::proof::prove(files).passed, "{sample} must pass before it is spoilt");
    }
    if let Some(times) = std::env::args().find_map(|a| a.strip_prefix("noise=")?.parse().ok()) {
        return noise::run(&packs, times);
    }
    println!("{:<34}{:>8}{:>10}{:>8}{:>8}{:>14}", "kind", "tried", "harmless", "caught", "missed", "false alarms");
    // A row is told as soon as its kind is done; every core takes the next kind.
    let (next, missed) = (AtomicUsize::new(0), AtomicUsize::new(0));
    let work = || {
        while let Some((name, _)) = kinds::KINDS.get(next.fetch_add(1, Ordering::Relaxed)) {
            if !name.contains(&only) {
                continue;
            }
            let row = kinds::table(&packs, seeds, name, |line| println!("{line}"))[name];
            // A kind that fits nowhere any more shows nothing.
            missed.fetch_add(row.missed + row.alarms + usize::from(row.tried == 0), Ordering::Relaxed);
            println!("{name:<34}{:>8}{:>10}{:>8}{:>8}{:>14}", row.tried, row.harmless, row.caught, row.missed, row.alarms);
        }
    };
    thread::scope(|scope| {
        for _ in 0..thread::available_parallelism().map_or(1, NonZeroUsize::get) {
            scope.spawn(work);
        }
    });
    let missed = missed.into_inner();
    assert_eq!(missed, 0, "spoilt packs were missed, good ones refused, or a kind fits nowhere");
}

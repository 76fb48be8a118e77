//! Runs packing instances through the public engine and prints totals against best known counts and bounds.
//!
//! `cargo bench --bench nesting -- FILE LEVEL VARIANT [EVERY] [each] [seed=N] [only=NAME] [fresh=N] [threads=N] [show=DIR]`; see
//! the README beside this file.

mod fresh;
mod fresh_shapes;
mod growth;
mod instances;
mod library;
mod show;
mod strips;

use baywright::nest::engine::{self, CutRule, Packing, Problem, Settings};
use baywright::nest::{check, Effort};
use instances::Instance;
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::time::Instant;

/// How each instance is run.
struct Manner {
    /// Work units; `None` for the general-purpose library.
    work: Option<u64>,
    seed: u64,
    threads: usize,
    /// Whether every instance gets a line of its own.
    each: bool,
    /// Where layouts are drawn.
    show: Option<PathBuf>,
}

#[derive(Default)]
struct Total {
    runs: u32,
    sheets: u64,
    cost: u64,
    bound: u64,
    best: Option<u64>,
    met: u32,
    area: f64,
    used: f64,
    seconds: f64,
}

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).filter(|a| a != "--bench").collect();
    if arguments.first().is_some_and(|word| word == "growth") {
        growth::run();
        return;
    }
    let [file, level, variant, rest @ ..] = arguments.as_slice() else {
        eprintln!("FILE LEVEL VARIANT [EVERY]: see tests/nesting/README.md");
        return;
    };
    let work = match level.as_str() {
        "draft" => Some(Effort::Draft.work()),
        "quick" => Some(Effort::Quick.work()),
        "thorough" => Some(Effort::Thorough.work()),
        "exhaustive" => Some(Effort::Exhaustive.work()),
        "library" => None,
        number => Some(number.parse().expect("a level or a number of work units")),
    };
    let turned = variant.starts_with("turned");
    let cut = match variant.rsplit('-').next() {
        Some("guillotine") => CutRule::Guillotine,
        Some("staged") => CutRule::Staged(4),
        _ => CutRule::Free,
    };
    let mut manner = Manner { work, seed: 1, threads: 1, each: false, show: None };
    let (mut every, mut only, mut copies) = (1, Vec::new(), 3);
    for word in rest {
        match word.split_once('=') {
            Some(("seed", n)) => manner.seed = n.parse().expect("a number"),
            Some(("threads", n)) => manner.threads = n.parse().expect("a number"),
            Some(("only", names)) => only = names.split(',').collect(),
            Some(("fresh", n)) => copies = n.parse().expect("a number"),
            Some(("show", folder)) => manner.show = Some(PathBuf::from(folder)),
            _ if word == "each" => manner.each = true,
            _ => every = word.parse().expect("a number"),
        }
    }
    if variant == "strip" {
        strips::run(file, manner.work.unwrap_or_default(), manner.seed, only.first().unwrap_or(&""));
        return;
    }
    let mut totals: BTreeMap<String, Total> = BTreeMap::new();
    // The search's seed is another than that of fresh instances.
    let (instances, seed) = match file.as_str() {
        "fresh" => (fresh::instances(manner.seed, copies, turned, cut), 1),
        "fresh-shapes" => (fresh_shapes::instances(manner.seed, copies), 1),
        _ => (instances::read(file, turned, cut), manner.seed),
    };
    manner.seed = seed;
    let wanted = |i: &&Instance| only.is_empty() || only.iter().any(|name| i.name.contains(name));
    for instance in instances.iter().filter(wanted).step_by(every) {
        one(instance, &manner, &mut totals);
    }
    println!("{file} {level} {variant}");
    println!("class          runs  sheets    cost   bound    best  at bound   filled   seconds");
    let mut all = Total { best: Some(0), ..Total::default() };
    for (class, t) in &totals {
        line(class, t);
        all.runs += t.runs;
        all.sheets += t.sheets;
        all.cost += t.cost;
        all.bound += t.bound;
        all.best = all.best.zip(t.best).map(|(a, b)| a + b);
        all.met += t.met;
        all.area += t.area;
        all.used += t.used;
        all.seconds += t.seconds;
    }
    line("all", &all);
}

fn one(instance: &Instance, manner: &Manner, totals: &mut BTreeMap<String, Total>) {
    let Manner { seed, threads, .. } = *manner;
    let clock = if threads > 1 { Clock(None, Instant::now()) } else { Clock::start() };
    let packing = match manner.work {
        Some(work) => engine::pack(&instance.problem, &Settings { work, seed, threads, ask: None }),
        None => match library::pack(&instance.problem) {
            Some(packing) => packing,
            None => return,
        },
    };
    let seconds = clock.seconds();
    let faults = check::packing(&instance.problem, &packing);
    assert!(faults.is_empty(), "{}: {faults:?}", instance.name);
    if let Some(folder) = &manner.show {
        show::write(folder, &instance.name, &instance.problem, &packing);
    }
    let (area, used) = areas(&instance.problem, &packing);
    let short = packing.unplaced.iter().map(|(_, n)| n).sum::<u32>();
    let below = instance.best.is_some_and(|b| (packing.sheets.len() as u64) < b);
    let above = instance.best.is_some_and(|b| (packing.sheets.len() as u64) > b);
    let open = !packing.optimal || short > 0;
    if manner.each || below || short > 0 || open && (above || instance.best.is_none()) {
        println!(
            "{}: {} sheets, cost {}, bound {}, filled {:.2} %{}{} in {seconds:.2} s",
            instance.name,
            packing.sheets.len(),
            packing.cost,
            packing.bound,
            100.0 * used / area,
            if short > 0 { format!(", {short} pieces without a place") } else { String::new() },
            match instance.best {
                Some(_) if below => ", below the best known".to_owned(),
                Some(best) if above => format!(", best known {best}"),
                _ => String::new(),
            },
        );
    }
    let t = totals.entry(instance.class.clone()).or_insert_with(|| Total { best: Some(0), ..Total::default() });
    t.runs += 1;
    t.sheets += packing.sheets.len() as u64;
    t.cost += packing.cost;
    t.bound += packing.bound;
    t.best = t.best.zip(instance.best).map(|(a, b)| a + b);
    t.met += u32::from(packing.optimal);
    t.area += area;
    t.used += used;
    t.seconds += seconds;
}

/// Processor seconds of this thread where the system tells them, else seconds by the clock: other programs do not count.
struct Clock(Option<f64>, Instant);

impl Clock {
    fn start() -> Self {
        Self(Self::spent(), Instant::now())
    }

    fn spent() -> Option<f64> {
        let text = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
        text.split(' ').next()?.parse::<f64>().ok().map(|nanoseconds| nanoseconds * 1e-9)
    }

    fn seconds(&self) -> f64 {
        let spent = self.0.zip(Self::spent()).map(|(before, now)| now - before);
        spent.unwrap_or_else(|| self.1.elapsed().as_secs_f64())
    }
}

/// Area of the sheets in use and of the pieces on them.
fn areas(problem: &Problem, packing: &Packing) -> (f64, f64) {
    let of = |s: [i64; 2]| s[0] as f64 * s[1] as f64;
    let sheets = packing.sheets.iter().map(|s| of(problem.sheets[s.kind].size)).sum();
    let whole = packing.sheets.iter().flat_map(|s| &s.spots).map(|p| of(p.size)).sum::<f64>();
    // What shapes leave open is no piece's.
    let open = problem.shapes.iter().map(|(k, s)| {
        let item = &problem.items[*k];
        f64::from(item.count) * (of(item.size) - fresh_shapes::covered_area(item.size, &s.cover))
    });
    let pieces = whole - open.sum::<f64>();
    (sheets, pieces)
}

fn line(class: &str, t: &Total) {
    let best = t.best.map_or("-".to_owned(), |b| b.to_string());
    println!(
        "{class:<14} {:>4} {:>7} {:>7} {:>7} {best:>7} {:>9} {:>7.2}% {:>9.2}",
        t.runs,
        t.sheets,
        t.cost,
        t.bound,
        t.met,
        100.0 * t.used / t.area.max(1.0),
        t.seconds
    );
}

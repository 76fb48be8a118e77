//! How the cost of the quick level grows with the number of panels: jobs of a workshop's sizes, from 100 to 10,000 panels.

use crate::Clock;
use baywright::nest::engine::{self, CutRule, Item, Problem, Settings, SheetKind, Turns};
use baywright::nest::{check, Effort};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// Panels of a job.
const COUNTS: [usize; 8] = [60, 100, 200, 500, 1000, 2000, 5000, 10_000];

/// Runs the jobs at each level up to the quick one and both ways to cut, prints a table, and writes the plot of the quick level's
/// free layouts beside this file.
pub(crate) fn run() {
    for (effort, cut) in
        [Effort::Draft, Effort::Quick].into_iter().flat_map(|e| [CutRule::Guillotine, CutRule::Free].map(|c| (e, c)))
    {
        println!("{effort:?} {cut:?}\npanels  sheets   bound  seconds  memory MB");
        let mut points = Vec::new();
        for n in COUNTS {
            let problem = job(n, cut);
            let clock = Clock::start();
            let packing = engine::pack(&problem, &Settings { work: effort.work(), seed: 1, threads: 1, ask: None });
            let seconds = clock.seconds();
            let faults = check::packing(&problem, &packing);
            assert!(faults.is_empty(), "{n}: {faults:?}");
            println!("{n:>6} {:>7} {:>7} {seconds:>8.3} {:>10}", packing.sheets.len(), packing.bound, memory_mb());
            if n >= 100 {
                points.push((n as f64, seconds));
            }
        }
        let slope = slope(&points);
        println!("seconds grow as panels to the power of {slope:.2}");
        if (effort, cut) == (Effort::Quick, CutRule::Free) {
            let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/nesting/growth.svg");
            std::fs::write(&path, plot(&points, slope)).expect("write the plot");
        }
    }
}

/// A job of `n` panels in a hundred sizes of a workshop, in hundredths of a millimetre.
fn job(n: usize, cut: CutRule) -> Problem {
    let mut state = 0x2545_f491_4f6c_dd1d_u64;
    let mut within = |low: i64, high: i64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + ((state >> 33) % (high - low + 1) as u64).cast_signed()
    };
    let mut items: Vec<Item> = Vec::new();
    let mut left = n;
    // The number of sizes grows with the job, up to half of it.
    while left > 0 {
        let count = (within(1, 4) as usize).min(left);
        let turns = if within(0, 2) == 0 { Turns::Any } else { Turns::Fixed };
        items.push(Item { size: [within(8_000, 110_000), within(4_000, 60_000)], turns, count: count as u32 });
        left -= count;
    }
    let sheets = vec![SheetKind { size: [248_000, 123_000], count: None, cost: 1 }];
    Problem { items, shapes: BTreeMap::new(), defects: BTreeMap::new(), sheets, gap: 1000, cut }
}

/// Least squares of the logarithms.
fn slope(points: &[(f64, f64)]) -> f64 {
    let logs: Vec<(f64, f64)> = points.iter().map(|(n, s)| (n.ln(), s.max(1e-4).ln())).collect();
    let mean = |f: fn(&(f64, f64)) -> f64| logs.iter().map(f).sum::<f64>() / logs.len() as f64;
    let (mx, my) = (mean(|p| p.0), mean(|p| p.1));
    let over: f64 = logs.iter().map(|p| (p.0 - mx) * (p.1 - my)).sum();
    over / logs.iter().map(|p| (p.0 - mx) * (p.0 - mx)).sum::<f64>()
}

/// The most memory this process ever held, in MB, where the system tells.
fn memory_mb() -> String {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|l| l.strip_prefix("VmHWM:"));
    let kb = line.and_then(|l| l.trim().trim_end_matches("kB").trim().parse::<u64>().ok());
    kb.map_or_else(|| "-".to_owned(), |kb| (kb / 1024).to_string())
}

/// Both axes in powers of ten; lines of slope 1 and 1.5 for comparison.
fn plot(points: &[(f64, f64)], slope: f64) -> String {
    let x = |n: f64| 60.0 + (n.log10() - 2.0) * 180.0;
    let y = |s: f64| 220.0 - (s.max(1e-3).log10() + 2.0) * 55.0;
    let mut out = String::from(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 460 260\" font-family=\"sans-serif\" font-size=\"11\">\n\
         <rect width=\"460\" height=\"260\" fill=\"#fdfcf9\"/>\n",
    );
    for n in [100.0, 1000.0, 10_000.0] {
        let _ = writeln!(
            out,
            "<path d=\"M{0} 20V220\" stroke=\"#ddd\"/><text x=\"{0}\" y=\"236\" text-anchor=\"middle\">{n}</text>",
            x(n)
        );
    }
    for s in [0.01, 0.1, 1.0, 10.0] {
        let _ = writeln!(
            out,
            "<path d=\"M60 {0}H420\" stroke=\"#ddd\"/><text x=\"54\" y=\"{1}\" text-anchor=\"end\">{s} s</text>",
            y(s),
            y(s) + 4.0
        );
    }
    let (n0, s0) = points[0];
    for power in [1.0, 1.5] {
        let end = s0 * (10_000.0_f64 / n0).powf(power);
        let _ =
            writeln!(
            out,
            "<path d=\"M{} {}L{} {}\" stroke=\"#8d867b\" stroke-dasharray=\"4 4\"/><text x=\"{}\" y=\"{}\">n^{power}</text>",
            x(n0), y(s0), x(10_000.0), y(end), x(10_000.0) + 3.0, y(end)
        );
    }
    let line: Vec<String> = points.iter().map(|(n, s)| format!("{:.1} {:.1}", x(*n), y(*s))).collect();
    let _ = writeln!(out, "<path d=\"M{}\" fill=\"none\" stroke=\"#1b4f72\" stroke-width=\"2\"/>", line.join("L"));
    for (n, s) in points {
        let _ = writeln!(out, "<circle cx=\"{:.1}\" cy=\"{:.1}\" r=\"3\" fill=\"#1b4f72\"/>", x(*n), y(*s));
    }
    let _ = writeln!(
        out,
        "<text x=\"240\" y=\"254\" text-anchor=\"middle\">panels; seconds at the quick level, n^{slope:.2}</text>\n</svg>"
    );
    out
}

//! `check` against its bounds: how long it takes, and the gap model thrown by dice.

use baywright::dim::Source;
use baywright::fit::LedgerLine;
use baywright::run::derive;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

/// Draws of every source at once.
const DRAWS: usize = 100_000;
/// Columns and rows of the wall of drawers.
const WALL: (usize, usize) = (10, 20);

/// A wall of two hundred cells, a drawer in each.
pub(crate) fn wall() -> String {
    let mut text = String::from(
        "format = 1\ntitle = \"Two hundred cells\"\nunits = \"mm\"\n[bay]\nwidth = 3000\ndepth = 2500\nheight = 2400\n\
         opening = { width = 2900, height = 2300, sill = 0, left = 50 }\ndoor = [[0, 10], [2300, 20]]\n\
         [boards.ply]\nprofile = \"birch-ply-12\"\nreadings = [12, 12, 12, 12]\n\
         [[carcass]]\nname = \"wall\"\nat = [250, 60, 0]\nwidth = 2520\ndepth = 500\nheight = 2200\nboard = \"ply\"\njoint = \"butt\"\n",
    );
    for column in 0..WALL.0 {
        let _ = writeln!(text, "[[carcass.column]]\nname = \"c{column}\"");
        for row in 0..WALL.1 {
            let shelf = if row == 0 { "" } else { "shelf = \"ply\"\n" };
            let _ = writeln!(
                text,
                "[[carcass.column.cell]]\n{shelf}drawer = {{ slide = \"side-mount-400\", gap_under = 4, gap_over = 4 }}"
            );
        }
    }
    text
}

/// Milliseconds of a whole `check` in its own process, best of some runs.
pub(crate) fn check_ms(project: &Path, runs: usize) -> f64 {
    (0..runs)
        .map(|_| {
            let begun = Instant::now();
            // A project with a caution or a stopper is judged all the same.
            let _ = Command::new(env!("CARGO_BIN_EXE_baywright"))
                .arg("check")
                .arg(project)
                .stdout(Stdio::null())
                .stderr(Stdio::null())
                .status()
                .expect("run check");
            begun.elapsed().as_secs_f64() * 1e3
        })
        .fold(f64::INFINITY, f64::min)
}

/// What the dice said of a project's gaps.
pub(crate) struct Thrown {
    pub(crate) gaps: usize,
    pub(crate) sources: usize,
    pub(crate) seconds: f64,
    /// Least and largest share of draws inside the likely range, over gaps that can move; 0.95 is meant.
    pub(crate) inside: (f64, f64),
}

/// Throws every source of a project's ledger, each normal with its limits as 95 % range, and counts how often each gap stays likely.
pub(crate) fn throw(project: &Path) -> Thrown {
    let ledger = derive(project, None).expect("read").ledger.expect("judged");
    let lines: Vec<&LedgerLine> = ledger.lines.iter().filter(|l| !l.contributors.is_empty()).collect();
    let mut sources: BTreeMap<&str, (usize, &Source)> = BTreeMap::new();
    for c in lines.iter().flat_map(|l| &l.contributors) {
        let next = sources.len();
        sources.entry(&c.source.key).or_insert((next, &c.source));
    }
    let mut list: Vec<(usize, &Source)> = sources.values().copied().collect();
    list.sort_by_key(|(i, _)| *i);
    let forms: Vec<Vec<(usize, f64)>> = lines
        .iter()
        .map(|l| l.contributors.iter().map(|c| (sources[c.source.key.as_str()].0, c.sensitivity)).collect())
        .collect();
    let begun = Instant::now();
    let mut dice = Dice(1);
    let mut off = vec![0.0; list.len()];
    let mut inside = vec![0usize; lines.len()];
    for _ in 0..DRAWS {
        for (i, source) in &list {
            let (minus, plus) = (source.minus.0, source.plus.0);
            off[*i] = f64::midpoint(plus, -minus) + dice.normal() * (plus + minus) / 2.0 / 1.96;
        }
        for (n, (line, form)) in lines.iter().zip(&forms).enumerate() {
            let gap = line.nominal.0 + form.iter().map(|(i, k)| off[*i] * k).sum::<f64>();
            inside[n] += usize::from(gap >= line.likely.min.0 && gap <= line.likely.max.0);
        }
    }
    let share = |n: &usize| *n as f64 / DRAWS as f64;
    Thrown {
        gaps: lines.len(),
        sources: list.len(),
        seconds: begun.elapsed().as_secs_f64(),
        inside: (inside.iter().map(share).fold(1.0, f64::min), inside.iter().map(share).fold(0.0, f64::max)),
    }
}

/// A plain linear congruential generator (Knuth's MMIX constants, from memory), made normal by the polar method.
struct Dice(u64);

impl Dice {
    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        loop {
            let (x, y) = (self.unit() * 2.0 - 1.0, self.unit() * 2.0 - 1.0);
            let s = x * x + y * y;
            if s > 0.0 && s < 1.0 {
                return x * (-2.0 * s.ln() / s).sqrt();
            }
        }
    }
}

//! The ledger, the ways of what moves and the loading as text, for a terminal 100 columns wide: worst first, like lines as one.

use crate::fit::{Ledger, LedgerLine, LoadPlan, Verdict, Way};
use crate::units::{decimal, Mm};
use std::fmt::Write as _;

/// Columns of the terminal.
const WIDE: usize = 100;
/// Where the names begin.
const NAMES: usize = 50;
/// Lines that fit which are shown; the rest have the most room.
const SHOWN_FITS: usize = 16;

/// The ledger, worst first; like lines folded into one, and the roomiest left out.
pub(super) fn table(ledger: &Ledger) -> String {
    if ledger.lines.is_empty() {
        return String::new();
    }
    let groups = folded(&ledger.lines);
    let mut text = format!("{:<10}{:>8}  {:<17}{:<13}{}\n", "verdict", "nominal", "likely (95 %)", "must be", "gap");
    let (mut fits, mut left_out) = (0, 0);
    for group in &groups {
        let line = group.line;
        if line.verdict == Verdict::Fits {
            fits += 1;
            if fits > SHOWN_FITS {
                left_out += group.count;
                continue;
            }
        }
        row(&mut text, line, &group.name());
    }
    if left_out > 0 {
        let _ = writeln!(text, "{:10}and {left_out} more that fit, with more room; `--json` lists all", "");
    }
    text.push_str("(millimetres)\n\n");
    text
}

fn row(text: &mut String, line: &LedgerLine, name: &str) {
    let must = match (line.required.min.0.is_finite(), line.required.max.0.is_finite()) {
        (true, true) => range(line.required.min, line.required.max),
        (true, false) => format!(">= {}", line.required.min),
        (false, true) => format!("<= {}", line.required.max),
        (false, false) => "-".into(),
    };
    let head = format!(
        "{:<10}{:>8}  {:<17}{:<13}",
        line.verdict.word(),
        decimal(line.nominal.0, 2),
        range(line.likely.min, line.likely.max),
        must
    );
    wrapped(text, &head, name);
    if line.verdict == Verdict::Fits {
        return;
    }
    let worst = format!("worst case {}", range(line.worst.min, line.worst.max));
    let measure = line.contributors.first().map_or_else(String::new, |first| {
        format!("; measure this to halve it: {} ({:.0} % of the spread)", first.source.label, first.share * 100.0)
    });
    wrapped(text, &format!("{:10}", ""), &format!("{worst}{measure}"));
}

fn range(min: Mm, max: Mm) -> String {
    format!("{}..{}", decimal(min.0, 2), decimal(max.0, 2))
}

/// A head and words after it, broken so that no line is wider than the terminal.
fn wrapped(text: &mut String, head: &str, words: &str) {
    let indent = head.chars().count().min(NAMES);
    let mut line = head.to_owned();
    let mut used = head.chars().count();
    let mut first = true;
    for word in words.split(' ') {
        let long = word.chars().count() + usize::from(!first);
        if !first && used + long > WIDE {
            let _ = writeln!(text, "{line}");
            line = " ".repeat(indent + 2);
            used = indent + 2;
            first = true;
        }
        if !first {
            line.push(' ');
        }
        line.push_str(word);
        used += word.chars().count() + usize::from(!first);
        first = false;
    }
    let _ = writeln!(text, "{line}");
}

/// Any text with lines broken to the terminal's width.
pub(super) fn within(text: &str) -> String {
    let mut out = String::new();
    for line in text.lines() {
        // Figures at the start keep their columns.
        let head = line.len()
            - line.trim_start_matches([' ', '.', '-', '+', '0', '1', '2', '3', '4', '5', '6', '7', '8', '9']).len();
        wrapped(&mut out, &line[..head], &line[head..]);
    }
    out
}

/// Lines that differ by nothing but left and right, upper and lower, or a number.
struct Group<'l> {
    line: &'l LedgerLine,
    names: Vec<Vec<&'l str>>,
    count: usize,
}

impl Group<'_> {
    /// The names as one: `lower/upper left/right drawer: side space left/right`.
    fn name(&self) -> String {
        let mut words = Vec::new();
        for i in 0..self.names[0].len() {
            let mut seen: Vec<&str> = Vec::new();
            for name in &self.names {
                if !seen.contains(&name[i]) {
                    seen.push(name[i]);
                }
            }
            // A long row of numbers says no more than how many.
            words.push(if seen.len() > 4 { format!("{}..{}", seen[0], seen[seen.len() - 1]) } else { seen.join("/") });
        }
        let times = if self.count > 1 { format!(" ({} alike)", self.count) } else { String::new() };
        words.join(" ") + &times
    }
}

fn folded(lines: &[LedgerLine]) -> Vec<Group<'_>> {
    let mut groups: Vec<Group<'_>> = Vec::new();
    for line in lines {
        let name: Vec<&str> = line.gap.split(' ').collect();
        match groups.iter_mut().find(|g| alike(g.line, line) && same_place(&g.names[0], &name)) {
            Some(group) => {
                group.names.push(name);
                group.count += 1;
            }
            None => groups.push(Group { line, names: vec![name], count: 1 }),
        }
    }
    groups
}

/// Whether two lines print the same figures.
fn alike(a: &LedgerLine, b: &LedgerLine) -> bool {
    let shown = |l: &LedgerLine| {
        [l.nominal, l.likely.min, l.likely.max, l.worst.min, l.worst.max, l.required.min, l.required.max]
            .map(|mm| decimal(mm.0, 2))
    };
    a.verdict == b.verdict && shown(a) == shown(b)
}

/// Whether two names differ only by words of place.
fn same_place(a: &[&str], b: &[&str]) -> bool {
    let place = |word: &str| {
        let word = word.trim_end_matches([':', ',']);
        ["left", "right", "upper", "lower", "middle"].contains(&word) || word.chars().all(|c| c.is_ascii_digit())
    };
    a.len() == b.len() && a.iter().zip(b).all(|(x, y)| x == y || (place(x) && place(y)))
}

/// What moves, the tightest first.
pub(super) fn ways(ways: &[Way]) -> String {
    if ways.is_empty() {
        return String::new();
    }
    let mut text = format!("{:>8}{:>10}{:>11}  {}\n", "travel", "tightest", "at travel", "moves, and what it passes there");
    for way in ways {
        let (air, at) = if way.air.0.is_finite() {
            (decimal(way.air.0, 1), decimal(way.at.0, 0))
        } else {
            ("free".to_owned(), "-".to_owned())
        };
        let nearest = match &way.nearest {
            Some(name) => format!("{}: {name}, {}", way.name, way.side),
            None => way.name.clone(),
        };
        let needs = if way.needs.is_empty() { String::new() } else { format!("; {}", way.needs.join("; ")) };
        wrapped(&mut text, &format!("{:>8}{air:>10}{at:>11}  ", decimal(way.travel.0, 0)), &format!("{nearest}{needs}"));
    }
    text.push('\n');
    text
}

/// How the units get in, in order.
pub(super) fn loading(loads: &[LoadPlan]) -> String {
    if loads.is_empty() {
        return String::new();
    }
    let mut text = String::from("Loading, in order, drawers out:\n");
    for (i, load) in loads.iter().enumerate() {
        let how = if load.passes { load.moves.join(", then ") } else { "no way in one piece".to_owned() };
        let size = load.size.map(|mm| decimal(mm.0, 0)).join(" x ");
        wrapped(&mut text, &format!("  {}. ", i + 1), &format!("{} ({size}): {how}", load.unit));
    }
    text.push('\n');
    text
}

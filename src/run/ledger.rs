//! The ledger, the ways of what moves and the loading as text, for a terminal 100 columns wide: worst first, like lines as one.

use crate::fit::{Ledger, LedgerLine, LoadPlan, Verdict, Way};
use crate::units::{decimal, Mm, Unit};
use std::fmt::Write as _;

/// Columns of the terminal.
const WIDE: usize = 100;
/// Where the names begin.
const NAMES: usize = 52;
/// Lines that fit which are shown; the rest have the most room.
const SHOWN_FITS: usize = 16;

/// Ways that are shown; the rest have the most room.
const SHOWN_WAYS: usize = 12;

/// The ledger, worst first; like lines folded into one, and the roomiest left out.
pub(super) fn table(ledger: &Ledger, unit: Unit) -> String {
    if ledger.lines.is_empty() {
        return String::new();
    }
    let rows: Vec<(String, &str)> = ledger.lines.iter().map(|l| (figures(l, unit), l.gap.as_str())).collect();
    let groups = fold(&rows);
    let mut text = format!("{:<10}{:>8}  {:<17}{:<15}{}\n", "verdict", "nominal", "likely (95 %)", "must be", "gap");
    let (mut fits, mut left_out) = (0, 0);
    for group in &groups {
        let line = &ledger.lines[group.first];
        if line.verdict == Verdict::Fits {
            fits += 1;
            if fits > SHOWN_FITS {
                left_out += group.count;
                continue;
            }
        }
        row(&mut text, line, &group.name, unit);
    }
    if left_out > 0 {
        let _ = writeln!(text, "{:10}and {left_out} more that fit, with more room; `--json` lists all", "");
    }
    text.push_str(match unit {
        Unit::Mm => "(millimetres)\n\n",
        Unit::Inch => "(inches; findings and `--json` in millimetres)\n\n",
    });
    text
}

/// A length in the maker's unit: hundredths of a millimetre, thousandths of an inch.
fn figure(length: Mm, unit: Unit) -> String {
    let places = match unit {
        Unit::Mm => 2,
        Unit::Inch => 3,
    };
    decimal(unit.count(length), places)
}

fn row(text: &mut String, line: &LedgerLine, name: &str, unit: Unit) {
    let must = match (line.required.min.0.is_finite(), line.required.max.0.is_finite()) {
        (true, true) => range(line.required.min, line.required.max, unit),
        (true, false) => format!(">= {}", figure(line.required.min, unit)),
        (false, true) => format!("<= {}", figure(line.required.max, unit)),
        (false, false) => "-".into(),
    };
    let head = format!(
        "{:<10}{:>8}  {:<17}{:<15}",
        line.verdict.word(),
        figure(line.nominal, unit),
        range(line.likely.min, line.likely.max, unit),
        must
    );
    wrapped(text, &head, name);
    if line.verdict == Verdict::Fits {
        return;
    }
    let worst = format!("worst case {}", range(line.worst.min, line.worst.max, unit));
    let measure = line.contributors.first().map_or_else(String::new, |first| {
        format!("; measure this to halve it: {} ({:.0} % of the spread)", first.source.label, first.share * 100.0)
    });
    wrapped(text, &format!("{:10}", ""), &format!("{worst}{measure}"));
}

fn range(min: Mm, max: Mm, unit: Unit) -> String {
    format!("{}..{}", figure(min, unit), figure(max, unit))
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

/// Lines that print the same figures and differ by nothing but left and right, upper and lower, or a number.
pub(super) struct Folded {
    /// The first of them.
    pub(super) first: usize,
    /// Their names as one: `lower/upper left/right drawer: side space left/right (8 alike)`.
    pub(super) name: String,
    /// How many.
    pub(super) count: usize,
}

/// Folds lines, each a text of its figures and its name.
pub(super) fn fold(rows: &[(String, &str)]) -> Vec<Folded> {
    struct Group<'r> {
        first: usize,
        names: Vec<Vec<&'r str>>,
    }
    let mut groups: Vec<Group<'_>> = Vec::new();
    for (i, (key, name)) in rows.iter().enumerate() {
        let words: Vec<&str> = name.split(' ').collect();
        match groups.iter_mut().find(|g| rows[g.first].0 == *key && same_place(&g.names[0], &words)) {
            Some(group) => group.names.push(words),
            None => groups.push(Group { first: i, names: vec![words] }),
        }
    }
    groups.into_iter().map(|g| Folded { first: g.first, name: as_one(&g.names), count: g.names.len() }).collect()
}

fn as_one(names: &[Vec<&str>]) -> String {
    let mut words = Vec::new();
    for i in 0..names[0].len() {
        let mut seen: Vec<&str> = Vec::new();
        for name in names {
            if !seen.contains(&name[i]) {
                seen.push(name[i]);
            }
        }
        // A long row of numbers says no more than from where to where.
        words.push(if seen.len() > 4 { format!("{}..{}", seen[0], seen[seen.len() - 1]) } else { seen.join("/") });
    }
    let times = if names.len() > 1 { format!(" ({} alike)", names.len()) } else { String::new() };
    words.join(" ") + &times
}

/// The figures of a line as they are printed.
fn figures(line: &LedgerLine, unit: Unit) -> String {
    let shown = [
        line.nominal,
        line.likely.min,
        line.likely.max,
        line.worst.min,
        line.worst.max,
        line.required.min,
        line.required.max,
    ]
    .map(|mm| if mm.0.is_finite() { figure(mm, unit) } else { "-".to_owned() });
    format!("{} {}", line.verdict.word(), shown.join(" "))
}

/// Whether two names differ only by words of place.
fn same_place(a: &[&str], b: &[&str]) -> bool {
    let bare = |word: &str| word.trim_end_matches([':', ',', ';']).to_owned();
    let place = |word: &str| ["left", "right", "upper", "lower", "middle"].contains(&bare(word).as_str());
    let stem = |word: &str| bare(word).trim_end_matches(|c: char| c.is_ascii_digit()).to_owned();
    let numbered = |word: &str| bare(word).ends_with(|c: char| c.is_ascii_digit());
    a.len() == b.len()
        && a.iter()
            .zip(b)
            .all(|(x, y)| x == y || (place(x) && place(y)) || (numbered(x) && numbered(y) && stem(x) == stem(y)))
}

/// What moves, the tightest first.
pub(super) fn ways(ways: &[Way], unit: Unit) -> String {
    if ways.is_empty() {
        return String::new();
    }
    let mut text = format!("{:>8}{:>10}{:>11}  {}\n", "travel", "tightest", "at travel", "moves, and what it passes there");
    let rows: Vec<(String, String)> = ways.iter().map(|way| way_row(way, unit)).collect();
    let rows: Vec<(String, &str)> = rows.iter().map(|(head, words)| (head.clone(), words.as_str())).collect();
    let groups = fold(&rows);
    for group in groups.iter().take(SHOWN_WAYS) {
        wrapped(&mut text, &rows[group.first].0, &group.name);
    }
    let more: usize = groups.iter().skip(SHOWN_WAYS).map(|g| g.count).sum();
    if more > 0 {
        let _ = writeln!(text, "{:31}and {more} more with more room; `--json` lists all", "");
    }
    text.push('\n');
    text
}

fn way_row(way: &Way, unit: Unit) -> (String, String) {
    let degrees = |angle: f64| format!("{} deg", decimal(angle.to_degrees(), 0));
    let length = |mm: Mm| match unit {
        Unit::Mm => decimal(mm.0, 0),
        Unit::Inch => decimal(unit.count(mm), 2),
    };
    let (travel, at) = match way.turned {
        Some([whole, at]) => (degrees(whole), degrees(at)),
        None => (length(way.travel), length(way.at)),
    };
    let (air, at) = if way.air.0.is_finite() { (figure(way.air, unit), at) } else { ("free".to_owned(), "-".to_owned()) };
    let nearest = match &way.nearest {
        Some(name) => format!("{}: {name}, {}", way.name, way.side),
        None => way.name.clone(),
    };
    let needs = if way.needs.is_empty() { String::new() } else { format!("; {}", way.needs.join("; ")) };
    (format!("{travel:>8}{air:>10}{at:>11}  "), format!("{nearest}{needs}"))
}

/// How the units get in, in order.
pub(super) fn loading(loads: &[LoadPlan], unit: Unit) -> String {
    if loads.is_empty() {
        return String::new();
    }
    let mut text = String::from("Loading, in order, drawers out:\n");
    for (i, load) in loads.iter().enumerate() {
        let how = if load.passes { load.moves.join(", then ") } else { "no way in one piece".to_owned() };
        let places = match unit {
            Unit::Mm => 0,
            Unit::Inch => 1,
        };
        let size = load.size.map(|mm| decimal(unit.count(mm), places)).join(" x ");
        let words = format!("{} ({size} {}): {how}", load.unit, unit.symbol());
        wrapped(&mut text, &format!("  {}. ", i + 1), &words);
    }
    text.push('\n');
    text
}

//! `check`: derive, judge, print; write nothing.

use super::screen::{counted, tally, Screen};
use super::{derive, Outcome, Trouble};
use crate::cli::{Common, ProjectArg};
use crate::diag::render;
use crate::fit::{Ledger, LedgerLine, Verdict};
use crate::units::{decimal, Mm};
use serde_json::{json, Value};
use std::fmt::Write as _;

pub(super) fn run(args: &ProjectArg, common: &Common, screen: &Screen) -> Result<Outcome, Trouble> {
    let derived = derive(&args.project, common.profiles.as_deref())?;
    if screen.json {
        let ledger: Vec<Value> = derived.ledger.iter().flat_map(|l| &l.lines).map(as_data).collect();
        Screen::data(&json!({ "findings": render::json(&derived.findings, &derived.texts), "ledger": ledger }))?;
    } else {
        screen.findings(&derived.findings, &derived.texts);
        if let Some(ledger) = &derived.ledger {
            Screen::print(&table(ledger))?;
        }
        let panels = derived.model.as_ref().map_or(0, |m| m.panels.len());
        Screen::print(&format!("{}; {}\n", counted(panels, "panel"), tally(&derived.findings)))?;
    }
    Ok(if derived.has_stop() { Outcome::Stopped } else { Outcome::Fine })
}

/// The ledger as a table, worst first; the names stand last, so that long ones break without spoiling the columns.
fn table(ledger: &Ledger) -> String {
    if ledger.lines.is_empty() {
        return String::new();
    }
    let mut text =
        format!("{:<9}{:>8}  {:<15}{:<15}{:<13}{}\n", "verdict", "nominal", "likely (95 %)", "worst case", "must be", "gap");
    for line in &ledger.lines {
        let range = |min: Mm, max: Mm| format!("{}..{}", decimal(min.0, 2), decimal(max.0, 2));
        let must = match (line.required.min.0.is_finite(), line.required.max.0.is_finite()) {
            (true, true) => range(line.required.min, line.required.max),
            (true, false) => format!(">= {}", line.required.min),
            (false, true) => format!("<= {}", line.required.max),
            (false, false) => "-".into(),
        };
        let _ = writeln!(
            text,
            "{:<9}{:>8}  {:<15}{:<15}{:<13}{}",
            line.verdict.word(),
            decimal(line.nominal.0, 2),
            range(line.likely.min, line.likely.max),
            range(line.worst.min, line.worst.max),
            must,
            line.gap,
        );
        if line.verdict != Verdict::Fits {
            if let Some(first) = line.contributors.first() {
                let share = first.share * 100.0;
                let _ = writeln!(text, "{:9}measure {} to narrow it ({share:.0} % of the spread)", "", first.source.label);
            }
        }
    }
    text.push_str("(millimetres)\n");
    text
}

fn as_data(line: &LedgerLine) -> Value {
    let finite = |x: Mm| if x.0.is_finite() { json!(x.0) } else { Value::Null };
    json!({
        "gap": line.gap,
        "nominal_mm": line.nominal,
        "worst_min_mm": line.worst.min, "worst_max_mm": line.worst.max,
        "rss_min_mm": line.likely.min, "rss_max_mm": line.likely.max,
        "required_min_mm": finite(line.required.min), "required_max_mm": finite(line.required.max),
        "source": line.source,
        "verdict": line.verdict.word(),
        "contributors": line.contributors.iter().map(|c| json!({
            "source": c.source.label, "sensitivity": c.sensitivity, "reach_mm": c.reach, "share": c.share,
        })).collect::<Vec<_>>(),
    })
}

//! `check --with`: the same project with boards of another thickness, and what that changes.

use super::derive::Derived;
use super::ledger;
use super::screen::{counted, tally, Screen};
use super::{Outcome, Trouble};
use crate::cli::OtherBoard;
use crate::diag::render;
use crate::fit::Verdict;
use crate::flat::{self, FlatPart, Operation};
use crate::geom::tolerance::SAME_CUT;
use crate::geom::Contour;
use crate::units::{decimal, Mm};
use serde_json::json;
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// A size or gap that moves by less than this is not worth a line: a tenth of what a saw holds.
const NO_CHANGE: Mm = Mm(0.01);

/// Prints what changes from one derivation to another.
pub(super) fn compare(
    before: &Derived,
    after: &Derived,
    boards: &[OtherBoard],
    screen: &Screen,
) -> Result<Outcome, Trouble> {
    let outcome = if after.has_stop() { Outcome::Stopped } else { Outcome::Fine };
    let sizes = sizes(before, after);
    let gaps = gaps(before, after);
    let parts = parts(before, after);
    if screen.json {
        Screen::data(&json!({
            "with": boards.iter().map(|b| json!({ "board": b.name, "thickness": b.thickness })).collect::<Vec<_>>(),
            "findings": render::json(&after.findings, &after.texts),
            "sizes": sizes.iter().map(|c| json!({ "name": c.name, "from_mm": c.from, "to_mm": c.to })).collect::<Vec<_>>(),
            "gaps": gaps.iter().map(|(c, from, to)| json!({
                "name": c.name, "from_mm": c.from, "to_mm": c.to, "from": from.word(), "to": to.word(),
            })).collect::<Vec<_>>(),
            "parts_that_serve": parts.serve, "parts_to_cut_anew": parts.anew,
        }))?;
        return Ok(outcome);
    }
    screen.findings(&after.findings, &after.texts);
    let mut text = String::new();
    let with: Vec<String> = boards.iter().map(|b| format!("{} {}", b.name, b.thickness)).collect();
    let _ = writeln!(text, "With {}:\n", with.join(", "));
    let _ = writeln!(text, "{:>10}{:>10}{:>9}  size", "from", "to", "by");
    for line in lines(sizes.iter().map(|c| (c.columns(), c.name.clone()))) {
        let _ = writeln!(text, "{line}");
    }
    let _ = writeln!(text, "\n{:>10}{:>10}{:>9}  gap", "from", "to", "by");
    let verdict = |from: &Verdict, to: &Verdict| {
        if from == to {
            from.word().to_owned()
        } else {
            format!("{} -> {}", from.word(), to.word())
        }
    };
    for line in lines(gaps.iter().map(|(c, from, to)| (c.columns(), format!("{}: {}", verdict(from, to), c.name)))) {
        let _ = writeln!(text, "{line}");
    }
    let _ = writeln!(text, "\nCut already and still of use: {}", list(&parts.serve));
    let _ = writeln!(text, "To be cut anew: {}", list(&parts.anew));
    let _ = writeln!(
        text,
        "{}, {} moved; {} to cut anew; {}",
        counted(sizes.len(), "size"),
        counted(gaps.len(), "gap"),
        counted(parts.anew.len(), "part"),
        tally(&after.findings)
    );
    Screen::print(&ledger::within(&text))?;
    Ok(outcome)
}

/// Figures and names, like ones folded.
fn lines(rows: impl Iterator<Item = (String, String)>) -> Vec<String> {
    let rows: Vec<(String, String)> = rows.collect();
    let short: Vec<(String, &str)> = rows.iter().map(|(figures, name)| (figures.clone(), name.as_str())).collect();
    ledger::fold(&short).into_iter().map(|f| format!("{}{}", rows[f.first].0, f.name)).collect()
}

fn list(names: &[String]) -> String {
    if names.is_empty() {
        "none".to_owned()
    } else {
        names.join(", ")
    }
}

/// A length before and after.
struct Change {
    name: String,
    from: Mm,
    to: Mm,
}

impl Change {
    fn columns(&self) -> String {
        let by = self.to - self.from;
        let sign = if by > Mm::ZERO { "+" } else { "" };
        let by = format!("{sign}{}", decimal(by.0, 2));
        format!("{:>10}{:>10}{by:>9}  ", decimal(self.from.0, 2), decimal(self.to.0, 2))
    }
}

/// Named sizes that move, in order of derivation.
fn sizes(before: &Derived, after: &Derived) -> Vec<Change> {
    let all = |d: &Derived| -> Vec<(String, Mm)> {
        d.model
            .iter()
            .flat_map(|m| {
                let panels = m.panels.iter().flat_map(|p| [&p.length, &p.width]);
                panels.chain(&m.sizes).filter_map(|s| Some((s.name()?.to_owned(), s.nominal()))).collect::<Vec<_>>()
            })
            .collect()
    };
    let then: BTreeMap<String, Mm> = all(after).into_iter().collect();
    let mut told: Vec<String> = Vec::new();
    all(before)
        .into_iter()
        .filter_map(|(name, from)| {
            let to = *then.get(&name)?;
            let new = (to - from).abs() > NO_CHANGE && !told.contains(&name);
            new.then(|| {
                told.push(name.clone());
                Change { name, from, to }
            })
        })
        .collect()
}

/// Gaps that move or are judged otherwise, worst after the change first.
fn gaps(before: &Derived, after: &Derived) -> Vec<(Change, Verdict, Verdict)> {
    let lines = |d: &'_ Derived| -> BTreeMap<String, (Mm, Verdict)> {
        d.ledger.iter().flat_map(|l| &l.lines).map(|l| (l.gap.clone(), (l.nominal, l.verdict))).collect()
    };
    let first = lines(before);
    let mut list: Vec<(Change, Verdict, Verdict)> = after
        .ledger
        .iter()
        .flat_map(|l| &l.lines)
        .filter_map(|line| {
            let (from, was) = *first.get(&line.gap)?;
            let moved = (line.nominal - from).abs() > NO_CHANGE || was != line.verdict;
            moved.then(|| (Change { name: line.gap.clone(), from, to: line.nominal }, was, line.verdict))
        })
        .collect();
    list.sort_by_key(|(_, _, after)| *after);
    list
}

/// Parts by what becomes of those already cut.
#[derive(Default)]
struct Parts {
    serve: Vec<String>,
    anew: Vec<String>,
}

fn parts(before: &Derived, after: &Derived) -> Parts {
    let flat = |d: &Derived| -> Vec<FlatPart> {
        let both = d.design.as_ref().zip(d.model.as_ref());
        both.and_then(|(design, model)| flat::flatten(design, model).value).map(|f| f.parts).unwrap_or_default()
    };
    let (old, new) = (flat(before), flat(after));
    let mut parts = Parts::default();
    for part in &new {
        let name = format!("{} {}", part.id, part.name);
        // A panel of another thickness is another panel, whatever its outline.
        let serves = old.iter().any(|o| same(o, part) && (o.thickness - part.thickness).abs() <= NO_CHANGE);
        if serves {
            parts.serve.push(name);
        } else {
            parts.anew.push(name);
        }
    }
    parts
}

/// Whether two parts of the same board are cut the same.
fn same(a: &FlatPart, b: &FlatPart) -> bool {
    let cut = |x: &crate::flat::FlatCut, y: &crate::flat::FlatCut| {
        x.side == y.side && same_operation(x.operation, y.operation) && same_contour(&x.contour, &y.contour)
    };
    a.board == b.board
        && a.hand == b.hand
        && cut(&a.outline, &b.outline)
        && a.cuts.len() == b.cuts.len()
        && a.cuts.iter().zip(&b.cuts).all(|(x, y)| cut(x, y))
}

fn same_operation(a: Operation, b: Operation) -> bool {
    let near = |x: Mm, y: Mm| (x - y).abs() <= Mm(SAME_CUT);
    match (a, b) {
        (Operation::Pocket { depth: x }, Operation::Pocket { depth: y })
        | (Operation::Countersink { diameter: x, .. }, Operation::Countersink { diameter: y, .. }) => near(x, y),
        (Operation::Drill { diameter: x, depth: d, .. }, Operation::Drill { diameter: y, depth: e, .. }) => {
            near(x, y) && d.is_some() == e.is_some() && d.zip(e).is_none_or(|(d, e)| near(d, e))
        }
        _ => std::mem::discriminant(&a) == std::mem::discriminant(&b),
    }
}

/// The same vertices, as near as no assembly can tell.
fn same_contour(a: &Contour, b: &Contour) -> bool {
    let (p, q) = (a.vertices(), b.vertices());
    p.len() == q.len()
        && p.iter().zip(&q).all(|(x, y)| (x.x - y.x).hypot(x.y - y.y) <= SAME_CUT && (x.bulge - y.bulge).abs() <= SAME_CUT)
}

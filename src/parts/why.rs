//! Where a size comes from: the derivation of a `Dim` as a tree of lines, down to tape readings, boards and chosen numbers.

use super::builder::{nearest, same_name};
use super::Model;
use crate::diag::{Place, Texts};
use crate::dim::{Dim, Sign, SourceKind, Step};
use crate::geom::tolerance;
use crate::units::Mm;
use serde::Serialize;
use std::fmt::Write as _;

/// One line of an explanation, with the lines below it.
#[derive(Clone, Debug, Serialize)]
pub struct Reason {
    /// What it is: a size's name, a source, or the number's meaning.
    pub what: String,
    /// Its value.
    pub value_mm: Mm,
    /// How it follows from the lines below: `a - 2 x b`, or where a source comes from.
    pub how: String,
    /// Where in the project file a source was written: file, line.
    pub place: Option<(String, usize)>,
    /// What it follows from.
    pub from: Vec<Reason>,
}

/// The sizes asked for: every size of a panel when `query` names a panel or its id, else the size of that name.
///
/// # Errors
/// The nearest names when nothing fits.
pub fn find(model: &Model, query: &str) -> Result<Vec<Dim>, Vec<String>> {
    let panel = model.panels.iter().find(|p| same_name(&p.name, query) || p.id.eq_ignore_ascii_case(query));
    if let Some(panel) = panel {
        return Ok(vec![panel.length.clone(), panel.width.clone(), panel.thickness.clone()]);
    }
    let sizes: Vec<Dim> = model.sizes.iter().filter(|d| d.name().is_some_and(|n| same_name(n, query))).cloned().collect();
    if !sizes.is_empty() {
        return Ok(sizes);
    }
    if let Some(gap) = model.gaps.iter().find(|g| same_name(&g.name, query)) {
        return Ok(vec![gap.gap.named(gap.name.clone())]);
    }
    let mut names: Vec<String> = model.panels.iter().map(|p| p.name.clone()).collect();
    names.extend(model.sizes.iter().filter_map(|d| d.name().map(str::to_owned)));
    let mut close: Vec<String> = Vec::new();
    while close.len() < 3 {
        let Some(name) = nearest(query, &names).map(str::to_owned) else { break };
        names.retain(|n| *n != name);
        close.push(name);
    }
    Err(close)
}

/// Explains a size.
#[must_use]
pub fn explain(dim: &Dim, texts: &Texts) -> Reason {
    let what = dim.name().map_or_else(|| describe(dim), str::to_owned);
    let value_mm = dim.nominal();
    let plain = |how: String, from: Vec<Reason>| Reason { what: what.clone(), value_mm, how, place: None, from };
    match dim.step() {
        Step::Source(source) => {
            let place = source.span.map(|s| texts.place(s)).map(|Place { file, line, .. }| (file, line));
            let label = if what == source.label { String::new() } else { format!("{}, ", source.label) };
            let how = format!("{label}{}{}; {}", kind(source.kind), spread(source.minus, source.plus), source.basis);
            Reason { what, value_mm, how, place, from: Vec::new() }
        }
        Step::Number(reason) => {
            let how = if *reason == what { String::new() } else { reason.clone() };
            plain(how, Vec::new())
        }
        Step::Sum(_) | Step::Times(..) => {
            if let Some(only) = same_as(dim) {
                // The same length under another name: what it is made of is said once.
                let inner = explain(only, texts);
                let how = if inner.what == what || only.name().is_none() {
                    inner.how
                } else if inner.how.is_empty() {
                    inner.what
                } else {
                    format!("{}: {}", inner.what, inner.how)
                };
                return Reason { what, value_mm, how, place: inner.place, from: inner.from };
            }
            plain(formula(dim), parts(dim, texts))
        }
        Step::Least(dims, ruling) => {
            plain(rules("the least", dims, *ruling), dims.iter().map(|d| explain(d, texts)).collect())
        }
        Step::Most(dims, ruling) => {
            plain(rules("the largest", dims, *ruling), dims.iter().map(|d| explain(d, texts)).collect())
        }
        Step::Pinned { by, derived } => plain(
            format!("pinned by you; without the pin it would be {} mm", derived.nominal()),
            vec![explain(by, texts), explain(derived, texts)],
        ),
    }
}

fn rules(which: &str, dims: &[Dim], ruling: usize) -> String {
    format!("{which} of {}: {} rules", dims.len(), describe(&dims[ruling]))
}

fn kind(kind: SourceKind) -> &'static str {
    match kind {
        SourceKind::Chosen => "chosen by you",
        SourceKind::Reading => "read from the tape",
        SourceKind::Board => "thickness of the board",
        SourceKind::Sheet => "thickness of this sheet",
        SourceKind::Cut => "how far the cut may be off",
        SourceKind::Hardware => "bought part",
        SourceKind::Assumed => "assumed",
    }
}

/// How far a source may be off, in brackets.
fn spread(minus: Mm, plus: Mm) -> String {
    if plus == Mm::ZERO && minus == Mm::ZERO {
        String::new()
    } else if plus == minus {
        format!(" (give or take {plus} mm)")
    } else {
        format!(" ({minus} mm less to {plus} mm more)")
    }
}

/// The one length a sum or product amounts to, when there is only one.
fn same_as(dim: &Dim) -> Option<&Dim> {
    match dim.step() {
        Step::Times(factor, inner) if (factor - 1.0).abs() < f64::EPSILON => Some(inner),
        Step::Sum(terms) => {
            let mut shown = terms.iter().filter(|(_, d)| !is_zero(d));
            match (shown.next(), shown.next()) {
                (Some((Sign::Plus, only)), None) => Some(only),
                _ => None,
            }
        }
        _ => None,
    }
}

/// What a sum or product is made of: each named length or source once, formulas without a name looked through.
fn parts(dim: &Dim, texts: &Texts) -> Vec<Reason> {
    let mut list: Vec<Reason> = Vec::new();
    let mut add = |d: &Dim| {
        let through = d.name().is_none() && matches!(d.step(), Step::Sum(_) | Step::Times(..));
        for reason in if through { parts(d, texts) } else { vec![explain(d, texts)] } {
            if !list.iter().any(|r| r.what == reason.what && r.value_mm == reason.value_mm) {
                list.push(reason);
            }
        }
    };
    match dim.step() {
        Step::Sum(terms) => terms.iter().filter(|(_, d)| !is_zero(d)).for_each(|(_, d)| add(d)),
        Step::Times(_, inner) => add(inner),
        _ => add(dim),
    }
    list
}

/// A sum or product in words: `a - 2 x b`, equal terms counted.
fn formula(dim: &Dim) -> String {
    match dim.step() {
        Step::Times(factor, inner) => product(*factor, inner),
        Step::Sum(terms) => {
            let mut counted: Vec<(f64, String)> = Vec::new();
            for (sign, d) in terms.iter().filter(|(_, d)| !is_zero(d)) {
                let one = if *sign == Sign::Plus { 1.0 } else { -1.0 };
                let text = describe(d);
                match counted.iter_mut().find(|(count, t)| *t == text && *count * one > 0.0) {
                    Some((count, _)) => *count += one,
                    None => counted.push((one, text)),
                }
            }
            let words: Vec<String> = counted
                .iter()
                .enumerate()
                .map(|(i, (count, text))| {
                    let sign = match (i, *count > 0.0) {
                        (0, true) => "",
                        (_, true) => "+ ",
                        (_, false) => "- ",
                    };
                    let many = count.abs();
                    if many > 1.0 {
                        format!("{sign}{many} x {text}")
                    } else {
                        format!("{sign}{text}")
                    }
                })
                .collect();
            words.join(" ")
        }
        _ => describe(dim),
    }
}

/// A factor times a length, as people say it: `half of (a - b)`, `2 x a`.
fn product(factor: f64, inner: &Dim) -> String {
    for (value, text) in [(0.5, "half of"), (1.0 / 3.0, "a third of"), (2.0 / 3.0, "two thirds of"), (0.25, "a quarter of")]
    {
        if (factor - value).abs() < tolerance::SAME_FACTOR {
            return format!("{text} {}", describe(inner));
        }
    }
    format!("{} x {}", crate::units::decimal(factor, 4), describe(inner))
}

/// An explanation as indented lines.
#[must_use]
pub fn lines(reason: &Reason) -> String {
    let mut text = String::new();
    write_lines(reason, 0, &mut text);
    text
}

fn write_lines(reason: &Reason, depth: usize, text: &mut String) {
    let place = reason.place.as_ref().map_or_else(String::new, |(file, line)| format!("  [{file}:{line}]"));
    let how = if reason.how.is_empty() { String::new() } else { format!("  = {}", reason.how) };
    let _ = writeln!(text, "{}{}: {} mm{how}{place}", "  ".repeat(depth), reason.what, reason.value_mm);
    for below in &reason.from {
        write_lines(below, depth + 1, text);
    }
}

fn is_zero(dim: &Dim) -> bool {
    dim.nominal() == Mm::ZERO && dim.form().is_empty()
}

/// A short name for a length inside a formula.
fn describe(dim: &Dim) -> String {
    if let Some(name) = dim.name() {
        return name.to_owned();
    }
    if let Some(only) = same_as(dim) {
        return describe(only);
    }
    match dim.step() {
        Step::Source(source) => source.label.clone(),
        Step::Number(reason) => reason.clone(),
        Step::Times(..) => formula(dim),
        Step::Sum(_) => {
            let text = formula(dim);
            let several = text.contains(" + ") || text.contains(" - ");
            if several {
                format!("({text})")
            } else {
                text
            }
        }
        Step::Least(dims, i) | Step::Most(dims, i) => describe(&dims[*i]),
        Step::Pinned { by, .. } => describe(by),
    }
}

//! Where a size comes from: the derivation of a `Dim` as a tree of lines, down to tape readings, boards and chosen numbers.

use super::builder::{nearest, same_name};
use super::Model;
use crate::diag::{Place, Texts};
use crate::dim::{Dim, Sign, SourceKind, Step};
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
            let spread = if source.plus == Mm::ZERO && source.minus == Mm::ZERO {
                String::new()
            } else {
                format!(" (-{} +{} mm)", source.minus, source.plus)
            };
            let kind = match source.kind {
                SourceKind::Chosen => "chosen",
                SourceKind::Reading => "read from the tape",
                SourceKind::Board => "board",
                SourceKind::Sheet => "sheet",
                SourceKind::Cut => "cut",
                SourceKind::Hardware => "bought part",
                SourceKind::Assumed => "assumed",
            };
            let label = if what == source.label { String::new() } else { format!("{}, ", source.label) };
            Reason { what, value_mm, how: format!("{label}{kind}{spread}; {}", source.basis), place, from: Vec::new() }
        }
        Step::Number(reason) => {
            let how = if *reason == what { String::new() } else { reason.clone() };
            plain(how, Vec::new())
        }
        Step::Sum(terms) => {
            let shown: Vec<(Sign, &Dim)> = terms.iter().map(|(s, d)| (*s, d)).filter(|(_, d)| !is_zero(d)).collect();
            if let [(Sign::Plus, only)] = shown[..] {
                let inner = explain(only, texts);
                return plain(format!("is {}", inner.what), vec![inner]);
            }
            let formula = shown.iter().enumerate().map(|(i, (sign, dim))| term(i, *sign, dim)).collect::<Vec<_>>().join(" ");
            plain(formula, shown.iter().map(|(_, d)| explain(d, texts)).collect())
        }
        Step::Times(factor, inner) => {
            plain(format!("{} x {}", fraction(*factor), describe(inner)), vec![explain(inner, texts)])
        }
        Step::Least(dims, ruling) => plain(
            format!("the least of {}: {} rules", dims.len(), describe(&dims[*ruling])),
            dims.iter().map(|d| explain(d, texts)).collect(),
        ),
        Step::Most(dims, ruling) => plain(
            format!("the largest of {}: {} rules", dims.len(), describe(&dims[*ruling])),
            dims.iter().map(|d| explain(d, texts)).collect(),
        ),
        Step::Pinned { by, derived } => plain(
            format!("pinned; derived it would be {} mm", derived.nominal()),
            vec![explain(by, texts), explain(derived, texts)],
        ),
    }
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

fn term(index: usize, sign: Sign, dim: &Dim) -> String {
    let sign = match (index, sign) {
        (0, Sign::Plus) => "",
        (_, Sign::Plus) => "+ ",
        (_, Sign::Minus) => "- ",
    };
    format!("{sign}{}", describe(dim))
}

/// A short name for a length inside a formula.
fn describe(dim: &Dim) -> String {
    if let Some(name) = dim.name() {
        return name.to_owned();
    }
    match dim.step() {
        Step::Source(source) => source.label.clone(),
        Step::Number(reason) => reason.clone(),
        Step::Times(factor, inner) => format!("{} x {}", fraction(*factor), describe(inner)),
        Step::Sum(terms) => {
            let inner: Vec<String> =
                terms.iter().filter(|(_, d)| !is_zero(d)).enumerate().map(|(i, (sign, d))| term(i, *sign, d)).collect();
            format!("({})", inner.join(" "))
        }
        Step::Least(dims, i) | Step::Most(dims, i) => describe(&dims[*i]),
        Step::Pinned { by, .. } => describe(by),
    }
}

/// A factor as people say it.
fn fraction(factor: f64) -> String {
    for (value, text) in [(0.5, "half of"), (1.0 / 3.0, "a third of"), (0.25, "a quarter of")] {
        if (factor - value).abs() < 1e-12 {
            return text.to_owned();
        }
    }
    crate::units::decimal(factor, 4)
}

//! The gap ledger and the findings, worst first, with a small drawing of each gap in question.

use super::assembly::picture::{hull, nearest};
use super::canvas::{Anchor, Canvas, Room, Words};
use super::page::{wide, Chapter};
use super::solid::{Look, Scene, View};
use super::Book;
use crate::diag::{Finding, Severity};
use crate::dim::Range;
use crate::fit::{LedgerLine, Verdict};
use crate::parts::PanelId;
use crate::units::decimal;
use maud::{html, Markup};
use std::collections::BTreeMap;

pub(super) fn chapter(book: &Book) -> Chapter {
    let lines = &book.job.ledger.lines;
    let count = |v: Verdict| lines.iter().filter(|l| l.verdict == v).count();
    let body = html! {
        p {
            (lines.len()) " gaps: " (count(Verdict::Fails)) " fail, " (count(Verdict::Doubtful)) " doubtful, " (count(Verdict::Tight)) " tight, " (count(Verdict::Fits)) " fit. "
            "A gap " strong { "fits" } " when even the worst of all boards, readings and cuts together leaves it inside what it must be; it is " strong { "tight" }
            " when only that worst takes it out, " strong { "doubtful" } " when the likely range (95 %) does, and it " strong { "fails" } " when it is out at its nominal."
        }
        @for line in lines.iter().filter(|l| l.verdict != Verdict::Fits) { (in_question(book, line)) }
        @if !lines.is_empty() { h3 { "All gaps, the tightest first" } (ledger(book, lines)) }
        h3 id="findings" { "Findings" }
        (findings(book))
    };
    Chapter { anchor: "gaps", title: "Gaps and findings", body }
}

/// A gap that may not hold: where it is, how it stands, what to do.
fn in_question(book: &Book, line: &LedgerLine) -> Markup {
    let l = book.lengths;
    let found = book.job.findings.iter().find(|f| f.message.starts_with(&line.gap));
    html! {
        article.card {
            h3 { (line.gap) ": " (line.verdict.word()) }
            p { "Nominal " strong { (l.said(line.nominal)) } ", likely " (range(book, line.likely)) ", at the worst " (range(book, line.worst)) "; it must be " (window(book, line.required)) " (" (line.source) ")." }
            figure { (scale(line)) }
            @if let Some(f) = found {
                @if let Some(picture) = where_it_is(book, line, f) { figure { (picture) figcaption { "Where it is: the parts on both sides, tinted." } } }
                p { strong { "Do: " } (book.links.words(&f.remedy)) "." }
            }
            @if !line.contributors.is_empty() {
                p { "What moves it: "
                    @for (i, c) in line.contributors.iter().take(4).enumerate() { @if i > 0 { "; " } (c.source.label) " " (decimal(c.share * 100.0, 0)) " %" }
                "." }
            }
        }
    }
}

fn range(book: &Book, r: Range) -> String {
    format!("{} to {}", book.lengths.bare(r.min), book.lengths.bare(r.max))
}

fn window(book: &Book, r: Range) -> String {
    let l = book.lengths;
    if r.max.0.is_infinite() {
        format!("at least {}", l.said(r.min))
    } else if r.min.0.is_infinite() {
        format!("at most {}", l.said(r.max))
    } else {
        format!("{} to {}", l.bare(r.min), l.said(r.max))
    }
}

/// The window a gap must lie in, its worst and likely range, and its nominal, on one line to scale.
fn scale(line: &LedgerLine) -> Markup {
    let ends = [line.worst.min.0, line.worst.max.0, line.required.min.0, line.required.max.0, line.nominal.0];
    let finite = || ends.into_iter().filter(|x| x.is_finite());
    let (low, high) = (finite().fold(f64::INFINITY, f64::min), finite().fold(f64::NEG_INFINITY, f64::max));
    let pad = ((high - low) * 0.15).max(0.2);
    let (from, to) = (low - pad, high + pad);
    let (width, left) = (110.0, 22.0);
    let x = |v: f64| left + (v.clamp(from, to) - from) / (to - from) * (width - left - 2.0);
    let mut canvas = Canvas::new(width, 26.0);
    let rows = [
        ("must be", line.required, 2.0, "may"),
        ("worst", line.worst, 9.0, "worst"),
        ("likely", line.likely, 16.0, "likely"),
    ];
    for (name, r, y, class) in rows {
        canvas.words(&Words::new(name, [0.0, y + 3.7]));
        canvas.rect(class, Room([x(r.min.0), y, x(r.max.0).max(x(r.min.0) + 0.4), y + 4.4]));
    }
    let at = x(line.nominal.0);
    canvas.line("nominal", [at, 1.0], [at, 21.5]);
    let text = decimal(line.nominal.0, 2);
    let words = Words::new(&text, [at, 24.7]).anchor(Anchor::Middle);
    let half = words.length() / 2.0;
    canvas.words(&Words { at: [at.clamp(half, width - half), 24.7], ..words });
    let shows = format!(
        "{}: nominal {}, likely {} to {}, worst {} to {} mm, against what it must be",
        line.gap, line.nominal, line.likely.min, line.likely.max, line.worst.min, line.worst.max
    );
    canvas.finish("small", &shows)
}

/// The unit with the gap's parts tinted.
fn where_it_is(book: &Book, line: &LedgerLine, found: &Finding) -> Option<Markup> {
    let panels = &book.job.model.panels;
    let named: Vec<PanelId> = (0..panels.len())
        .map(PanelId)
        .filter(|id| {
            let p = &panels[id.0];
            p.frame.is_some() && found.parts.iter().any(|n| *n == p.id || *n == p.name || *n == p.unit)
        })
        .collect();
    let around = hull(book, &named)?;
    let rest: Vec<PanelId> = (0..panels.len()).map(PanelId).filter(|id| !named.contains(id)).collect();
    let mut bodies = book.unit.nameless(book.job, &nearest(book, &rest, &around), Look::Plain, [0.0; 3]);
    bodies.extend(book.unit.nameless(book.job, &named, Look::New, [0.0; 3]));
    let shows = format!("Where {} is: {} tinted", line.gap, found.parts.join(", "));
    Some(Scene { bodies, ways: Vec::new(), view: View::USUAL }.draw(95.0, 70.0, &shows))
}

/// All gaps; those with the same figures about the same thing are one line.
fn ledger(book: &Book, lines: &[LedgerLine]) -> Markup {
    let mut alike: Vec<(String, Vec<&LedgerLine>)> = Vec::new();
    let mut at: BTreeMap<String, usize> = BTreeMap::new();
    for line in lines {
        let about = line.gap.split_once(": ").map_or(line.gap.as_str(), |(_, about)| about);
        let figures =
            [line.nominal, line.worst.min, line.worst.max, line.required.min, line.required.max].map(|x| decimal(x.0, 2));
        let about: String = about.split(' ').filter(|w| !matches!(*w, "left" | "right")).collect::<Vec<_>>().join(" ");
        let key = format!("{} {} {}", line.verdict.word(), figures.join(" "), about);
        if let Some(i) = at.get(&key) {
            alike[*i].1.push(line);
        } else {
            at.insert(key, alike.len());
            alike.push((about, vec![line]));
        }
    }
    let table = html! {
        table {
            thead { tr { th { "Gap" } th.n { "Nominal" } th.n { "Likely" } th.n { "Worst" } th { "Must be" } th { "Verdict" } } }
            tbody {
                @for (_, list) in &alike {
                    @let line = list[0];
                    tr {
                        th scope="row" {
                            (line.gap)
                            @if list.len() > 1 { br; "alike: " @for (i, other) in list[1..].iter().enumerate() { @if i > 0 { "; " } (other.gap) } }
                        }
                        td.n { (book.lengths.bare(line.nominal)) }
                        td.n { (range(book, line.likely)) }
                        td.n { (range(book, line.worst)) }
                        td { (window(book, line.required)) }
                        td { @if line.verdict == Verdict::Fits { (line.verdict.word()) } @else { strong { (line.verdict.word()) } } }
                    }
                }
            }
        }
    };
    wide("All gaps", &table)
}

/// Findings by kind, the gravest first.
fn findings(book: &Book) -> Markup {
    let mut list: Vec<&Finding> = book.job.findings.iter().collect();
    list.sort_by_key(|f| f.severity);
    let mut kinds: Vec<(Severity, &'static str, &'static str, Vec<&Finding>)> = Vec::new();
    for f in list {
        match kinds.iter_mut().find(|(s, code, _, _)| *s == f.severity && *code == f.code.id) {
            Some((_, _, _, all)) => all.push(f),
            None => kinds.push((f.severity, f.code.id, f.code.about, vec![f])),
        }
    }
    html! {
        @if kinds.is_empty() { p { "None." } }
        @for (severity, code, about, all) in &kinds {
            div.finding {
                h4 { (word(*severity)) ": " (about) " " code { (code) } }
                ul {
                    @for f in all {
                        li {
                            (book.links.words(&f.message)) "."
                            @if !f.remedy.is_empty() { " Do: " (book.links.words(&f.remedy)) "." }
                            @if let Some(limit) = &f.limit { " (Against: " (book.links.words(limit)) ".)" }
                        }
                    }
                }
            }
        }
    }
}

fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Stop => "Stopper",
        Severity::Caution => "Caution",
        Severity::Note => "Note",
    }
}

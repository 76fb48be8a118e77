//! Findings as text for a terminal, and as data.

use super::{FileId, Finding, Severity, Span, Texts};
use annotate_snippets::{AnnotationKind, Element, Group, Level, Renderer, Snippet};
use serde_json::{json, Value};
use std::ops::Range;

/// Lines are kept to this many columns where the maker's own line is longer.
const COLUMNS: usize = 100;
/// So many findings that differ only in figures and parts are folded into one.
const FOLD_FROM: usize = 3;
/// So many folded findings are named by their message; the rest are counted.
const NAMED: usize = 5;

/// All findings as text, stops first, each with file, line, column, the line itself, a caret and what to do.
///
/// Findings that share code, place and (but for its figures) remedy are folded into the first of them, which then names all their
/// parts; [`json()`] gives each.
#[must_use]
pub fn text(findings: &[Finding], texts: &Texts, colour: bool) -> String {
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() }.term_width(COLUMNS);
    let mut out = String::new();
    for alike in folded(&ordered(findings)) {
        let parts = all_parts(&alike);
        let more: Vec<String> = match alike.len() - 1 {
            0 => Vec::new(),
            more if more <= NAMED => alike[1..].iter().map(|f| f.message.clone()).collect(),
            more => alike[1..NAMED]
                .iter()
                .map(|f| f.message.clone())
                .chain([format!("and {} more like it; --json gives each", more - NAMED + 1)])
                .collect(),
        };
        out.push_str(&renderer.render(&[group(alike[0], &parts, &more, texts)]));
        out.push_str("\n\n");
    }
    out
}

/// The findings in lists of those that are alike, in order of the first of each.
fn folded<'a>(findings: &[&'a Finding]) -> Vec<Vec<&'a Finding>> {
    let mut lists: Vec<(String, Vec<&Finding>)> = Vec::new();
    for finding in findings {
        let words: String = finding.remedy.chars().filter(|c| !c.is_ascii_digit() && *c != '.').collect();
        match lists.iter_mut().find(|(w, list)| {
            let first = list[0];
            *w == words
                && first.code == finding.code
                && first.severity == finding.severity
                && first.span == finding.span
                && first.limit == finding.limit
        }) {
            Some((_, list)) => list.push(finding),
            None => lists.push((words, vec![finding])),
        }
    }
    let apart = |(_, list): (String, Vec<&'a Finding>)| {
        if list.len() < FOLD_FROM {
            list.into_iter().map(|f| vec![f]).collect()
        } else {
            vec![list]
        }
    };
    lists.into_iter().flat_map(apart).collect()
}

/// Every part named by any of the findings, once.
fn all_parts(findings: &[&Finding]) -> String {
    let mut parts: Vec<&str> = Vec::new();
    for part in findings.iter().flat_map(|f| &f.parts) {
        if !parts.contains(&part.as_str()) {
            parts.push(part);
        }
    }
    parts.join(", ")
}

/// All findings as data, stops first: `code`, `severity`, `message`, `limit`, `parts`, `place` (file, line, column), `remedy`.
#[must_use]
pub fn json(findings: &[Finding], texts: &Texts) -> Value {
    ordered(findings)
        .into_iter()
        .map(|finding| {
            let place = finding.span.filter(|span| known(texts, span.file)).map(|span| {
                let place = texts.place(span);
                json!({ "file": place.file, "line": place.line, "column": place.column })
            });
            json!({
                "code": finding.code.id,
                "severity": finding.severity,
                "message": finding.message,
                "limit": finding.limit,
                "parts": finding.parts,
                "place": place,
                "remedy": finding.remedy,
            })
        })
        .collect()
}

/// Stops, then cautions, then notes; each in the order given.
fn ordered(findings: &[Finding]) -> Vec<&Finding> {
    let mut list: Vec<&Finding> = findings.iter().collect();
    list.sort_by_key(|finding| finding.severity);
    list
}

fn group<'a>(finding: &'a Finding, parts: &'a str, more: &'a [String], texts: &'a Texts) -> Group<'a> {
    let level = match finding.severity {
        Severity::Stop => Level::ERROR.with_name("stop"),
        Severity::Caution => Level::WARNING.with_name("caution"),
        Severity::Note => Level::NOTE,
    };
    let mut elements: Vec<Element<'a>> = Vec::new();
    if let Some(span) = finding.span.filter(|span| known(texts, span.file)) {
        elements.push(
            Snippet::source(texts.text(span.file))
                .path(texts.name(span.file))
                .annotation(AnnotationKind::Primary.span(first_line(texts, span)))
                .into(),
        );
    }
    for other in more {
        elements.push(Level::NOTE.with_name("also").message(other.as_str()).into());
    }
    if !parts.is_empty() {
        elements.push(Level::NOTE.with_name("parts").message(parts).into());
    }
    if let Some(limit) = &finding.limit {
        elements.push(Level::NOTE.with_name("limit").message(limit.as_str()).into());
    }
    if !finding.remedy.is_empty() {
        elements.push(Level::HELP.with_name("remedy").message(finding.remedy.as_str()).into());
    }
    level.primary_title(finding.message.as_str()).id(finding.code.id).elements(elements)
}

fn known(texts: &Texts, file: FileId) -> bool {
    !texts.name(file).is_empty()
}

/// The part of a span that lies on its first line, on character boundaries of the text.
fn first_line(texts: &Texts, span: Span) -> Range<usize> {
    let text = texts.text(span.file);
    let boundary = |mut at: usize| {
        at = at.min(text.len());
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let start = boundary(span.start);
    let end = boundary(span.end).max(start);
    let line = text[start..end].find(['\n', '\r']).unwrap_or(end - start);
    start..start + line
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::Code;

    const WIDE: Code = Code::new("too-wide", "A part is wider than its room.");
    const ODD: Code = Code::new("odd", "Something odd.");

    fn sample() -> (Texts, Vec<Finding>) {
        let mut texts = Texts::default();
        let file = texts.add("van.toml", "title = \"é van\"\nwidth = 920\nheight = 12\n");
        let findings = vec![
            Finding::note(ODD, "no place for this one").remedy("nothing to do"),
            Finding::stop(WIDE, "the width is 920 mm")
                .at(Span { file, start: 25, end: 28 })
                .limit("900 mm, the opening")
                .part("lower")
                .remedy("take 20 mm off"),
        ];
        (texts, findings)
    }

    #[test]
    fn a_stop_comes_first_with_line_column_caret_limit_and_remedy() {
        let (texts, findings) = sample();
        let out = text(&findings, &texts, false);
        for wanted in [
            "stop[too-wide]: the width is 920 mm",
            "van.toml:2:9",
            "width = 920",
            "^^^",
            "limit: 900 mm, the opening",
            "remedy: take 20 mm off",
            "note[odd]",
        ] {
            assert!(out.contains(wanted), "{wanted} in\n{out}");
        }
        assert!(out.find("stop[").expect("stop") < out.find("note[odd]").expect("note"));
        assert!(!out.contains('\u{1b}'));
        assert!(text(&findings, &texts, true).contains('\u{1b}'));
    }

    #[test]
    fn many_alike_are_folded_into_one_that_names_all_parts_and_counts_the_rest() {
        let (texts, _) = sample();
        let thin = |n: usize| {
            Finding::caution(ODD, format!("{n}.5 mm of wood at hole {n}"))
                .part(format!("P-{n}"))
                .part("upright")
                .remedy(format!("move it {}.25 mm", 9 - n))
        };
        let many: Vec<Finding> = (1..=8).map(thin).collect();
        let out = text(&many, &texts, false);
        assert_eq!(out.matches("caution[odd]").count(), 1, "{out}");
        assert!(out.contains("parts: P-1, upright, P-2, P-3, P-4, P-5, P-6, P-7, P-8"), "{out}");
        assert!(out.contains("also: 2.5 mm of wood at hole 2") && out.contains("also: and 3 more like it"), "{out}");
        assert_eq!(json(&many, &texts).as_array().map(Vec::len), Some(8));
        // Five alike are all told; two are too few to fold; another remedy, place or weight is another finding.
        assert!(!text(&many[..5], &texts, false).contains("more like it"));
        assert_eq!(text(&many[..2], &texts, false).matches("caution[odd]").count(), 2);
        let mut apart = many[..3].to_vec();
        apart[0].remedy = "turn it round".into();
        apart[1].severity = Severity::Note;
        assert_eq!(text(&apart, &texts, false).matches("[odd]").count(), 3);
    }

    #[test]
    fn data_holds_the_same() {
        let (texts, findings) = sample();
        let data = json(&findings, &texts);
        assert_eq!(data[0]["code"], "too-wide");
        assert_eq!(data[0]["severity"], "stop");
        assert_eq!(data[0]["place"]["line"], 2);
        assert_eq!(data[0]["place"]["column"], 9);
        assert_eq!(data[0]["parts"][0], "lower");
        assert!(data[1]["place"].is_null());
    }

    #[test]
    fn a_span_that_fits_nothing_does_no_harm() {
        let (texts, _) = sample();
        let spans = [(FileId(0), 11, 12), (FileId(0), 900, 1000), (FileId(0), 20, 3), (FileId(0), 0, 40), (FileId(7), 0, 1)];
        for (file, start, end) in spans {
            let findings = [Finding::caution(ODD, "odd \u{1b}[31m text").at(Span { file, start, end })];
            let out = text(&findings, &texts, false);
            assert!(out.contains("caution[odd]") && !out.contains('\u{1b}'), "{out}");
            assert!(json(&findings, &texts).is_array());
        }
    }
}

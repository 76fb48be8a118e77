//! Findings as text for a terminal, and as data.

use super::{FileId, Finding, Severity, Span, Texts};
use annotate_snippets::{AnnotationKind, Element, Group, Level, Renderer, Snippet};
use serde_json::{json, Value};
use std::ops::Range;

/// All findings as text, stops first, each with file, line, column, the line itself, a caret and what to do.
#[must_use]
pub fn text(findings: &[Finding], texts: &Texts, colour: bool) -> String {
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
    let mut out = String::new();
    for finding in ordered(findings) {
        out.push_str(&renderer.render(&[group(finding, texts)]));
        out.push_str("\n\n");
    }
    out
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

fn group<'a>(finding: &'a Finding, texts: &'a Texts) -> Group<'a> {
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
    if !finding.parts.is_empty() {
        elements.push(Level::NOTE.with_name("parts").message(finding.parts.join(", ")).into());
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

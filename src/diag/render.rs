//! Findings as text for a terminal, and as data.

use super::{Finding, Texts};

/// All findings as text, each with file, line, column, the line itself, a caret and what to do.
#[must_use]
pub fn text(findings: &[Finding], texts: &Texts, colour: bool) -> String {
    let _ = (findings, texts, colour);
    String::new()
}

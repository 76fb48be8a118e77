//! One thing found, and a stage's result together with all it found.

use super::Span;
use serde::Serialize;

/// A stable name for one kind of finding, with what it means.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Code {
    /// Lower-case words joined by hyphens; never changes once released.
    pub id: &'static str,
    /// One sentence: what is wrong when this is found, and why it matters.
    pub about: &'static str,
    /// Whether a maker may overrule a stopper of this kind with a reason: it is a judgement, and what it judges can be cut
    /// all the same. Anything else that stops would leave something out of the pack.
    pub overridable: bool,
}

impl Code {
    /// Declares a code. Add it to its stage's `ALL` list as well.
    #[must_use]
    pub const fn new(id: &'static str, about: &'static str) -> Self {
        Self { id, about, overridable: false }
    }

    /// A code whose stoppers a maker may overrule with a reason.
    #[must_use]
    pub const fn judgement(id: &'static str, about: &'static str) -> Self {
        Self { id, about, overridable: true }
    }
}

/// How much a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Blocks the pack.
    Stop,
    /// Worth a look before cutting.
    Caution,
    /// For information: an assumption made, a check left out.
    Note,
}

/// Something a stage found.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Which kind.
    pub code: Code,
    /// How much it weighs.
    pub severity: Severity,
    /// What is the matter, with the number in it; one sentence without a final stop.
    pub message: String,
    /// What the number is held against, and the source of that limit.
    pub limit: Option<String>,
    /// The parts concerned, by id or name.
    pub parts: Vec<String>,
    /// Where in the maker's file.
    pub span: Option<Span>,
    /// The smallest change that would clear it.
    pub remedy: String,
}

impl Finding {
    /// A finding that blocks the pack.
    #[must_use]
    pub fn stop(code: Code, message: impl Into<String>) -> Self {
        Self::new(Severity::Stop, code, message)
    }

    /// A finding worth a look.
    #[must_use]
    pub fn caution(code: Code, message: impl Into<String>) -> Self {
        Self::new(Severity::Caution, code, message)
    }

    /// A finding for information.
    #[must_use]
    pub fn note(code: Code, message: impl Into<String>) -> Self {
        Self::new(Severity::Note, code, message)
    }

    fn new(severity: Severity, code: Code, message: impl Into<String>) -> Self {
        Self { code, severity, message: message.into(), limit: None, parts: Vec::new(), span: None, remedy: String::new() }
    }

    /// Points at a place in the maker's file; `None` leaves it without.
    #[must_use]
    pub fn at(mut self, span: impl Into<Option<Span>>) -> Self {
        self.span = span.into();
        self
    }

    /// Says what to do.
    #[must_use]
    pub fn remedy(mut self, remedy: impl Into<String>) -> Self {
        self.remedy = remedy.into();
        self
    }

    /// Says what the number is held against, with its source.
    #[must_use]
    pub fn limit(mut self, limit: impl Into<String>) -> Self {
        self.limit = Some(limit.into());
        self
    }

    /// Names a part concerned.
    #[must_use]
    pub fn part(mut self, part: impl Into<String>) -> Self {
        self.parts.push(part.into());
        self
    }
}

/// A stage's value, if there is a usable one, and everything it found.
#[derive(Clone, Debug)]
pub struct Checked<T> {
    /// The value; `None` when later stages could do nothing sensible with it.
    pub value: Option<T>,
    /// All findings, in the order of the maker's file where that makes sense.
    pub findings: Vec<Finding>,
}

impl<T> Checked<T> {
    /// A value with what was found on the way.
    #[must_use]
    pub fn new(value: T, findings: Vec<Finding>) -> Self {
        Self { value: Some(value), findings }
    }

    /// No value, only findings.
    #[must_use]
    pub fn failed(findings: Vec<Finding>) -> Self {
        Self { value: None, findings }
    }

    /// Moves the findings to `all` and gives the value on.
    pub fn into(self, all: &mut Vec<Finding>) -> Option<T> {
        all.extend(self.findings);
        self.value
    }

    /// Whether anything found blocks the pack.
    #[must_use]
    pub fn has_stop(&self) -> bool {
        has_stop(&self.findings)
    }
}

/// Whether any of these findings blocks the pack.
#[must_use]
pub fn has_stop(findings: &[Finding]) -> bool {
    findings.iter().any(|f| f.severity == Severity::Stop)
}

//! A profile file being read: where findings about it go and where they point.

use crate::diag::{FileId, Finding, Span};
use std::cell::RefCell;
use std::ops::Range;

/// A profile file being read, with what was found in it.
pub(super) struct File<'a> {
    /// Where findings point; `None` for a built-in file, whose findings name it instead.
    pub(super) id: Option<FileId>,
    /// Its name.
    pub(super) name: &'a str,
    /// What was found.
    pub(super) findings: RefCell<Vec<Finding>>,
}

impl File<'_> {
    /// A place in this file.
    pub(super) fn span(&self, range: Range<usize>) -> Option<Span> {
        self.id.map(|file| Span { file, start: range.start, end: range.end })
    }

    /// Keeps a finding.
    pub(super) fn add(&self, finding: Finding) {
        let named = match self.id {
            Some(_) => finding,
            None => Finding { message: format!("{}: {}", self.name, finding.message), ..finding },
        };
        self.findings.borrow_mut().push(named);
    }
}

/// A name another profile must have, with where it is written.
pub(super) struct Reference {
    /// The id asked for.
    pub(super) id: String,
    /// Where.
    pub(super) at: Range<usize>,
}

/// What sign a length may have.
#[derive(Clone, Copy)]
pub(super) enum Sign {
    /// More than nothing.
    Positive,
    /// Nothing or more.
    NotNegative,
    /// Any.
    Any,
}

impl Sign {
    /// Whether a value has the sign.
    pub(super) fn allows(self, value: f64) -> bool {
        match self {
            Self::Positive => value > 0.0,
            Self::NotNegative => value >= 0.0,
            Self::Any => true,
        }
    }

    /// In words.
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Positive => "more than 0",
            Self::NotNegative => "0 or more",
            Self::Any => "any number",
        }
    }
}

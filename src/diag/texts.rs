//! The maker's files, kept so that findings can point into them.

use std::sync::Arc;

/// Which of the maker's files.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct FileId(pub usize);

/// A stretch of one of the maker's files, in bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Span {
    /// The file.
    pub file: FileId,
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

/// A place as people say it: file, line and column, both counted from one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// The file's name as the maker gave it.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

/// The maker's files, by [`FileId`].
#[derive(Clone, Debug, Default)]
pub struct Texts {
    files: Vec<(String, Arc<str>)>,
}

impl Texts {
    /// Keeps a file; `name` is how messages call it.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<Arc<str>>) -> FileId {
        self.files.push((name.into(), text.into()));
        FileId(self.files.len() - 1)
    }

    /// A file's name.
    #[must_use]
    pub fn name(&self, id: FileId) -> &str {
        self.files.get(id.0).map_or("", |(name, _)| name)
    }

    /// A file's text.
    #[must_use]
    pub fn text(&self, id: FileId) -> &str {
        self.files.get(id.0).map_or("", |(_, text)| text)
    }

    /// Line and column of a span's start.
    #[must_use]
    pub fn place(&self, span: Span) -> Place {
        let text = self.text(span.file);
        let mut start = span.start.min(text.len());
        while !text.is_char_boundary(start) {
            start -= 1;
        }
        let before = &text[..start];
        let line_start = before.rfind('\n').map_or(0, |i| i + 1);
        Place {
            file: self.name(span.file).to_owned(),
            line: before.matches('\n').count() + 1,
            column: before[line_start..].chars().count() + 1,
        }
    }
}

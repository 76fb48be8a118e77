//! What a reader could not accept, with its place.

/// A fault in one file: the line (from 1; 0 for the file as a whole) and what is wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Line, from 1; 0 when it concerns the whole file.
    pub line: usize,
    /// What is wrong, without a final stop.
    pub message: String,
}

impl Fault {
    /// A fault on a line.
    #[must_use]
    pub fn on(line: usize, message: impl Into<String>) -> Self {
        Self { line, message: message.into() }
    }

    /// A fault of the file as a whole.
    #[must_use]
    pub fn whole(message: impl Into<String>) -> Self {
        Self::on(0, message)
    }
}

/// A stretch of a file's text made fit for a message: printable ASCII only, at most 40 characters.
pub(super) fn quoted(text: &str) -> String {
    let mut out: String = text.chars().take(40).map(|c| if c.is_ascii_graphic() || c == ' ' { c } else { '?' }).collect();
    if text.chars().count() > 40 {
        out.push_str("...");
    }
    format!("\"{out}\"")
}

/// Line of a byte, from 1.
pub(super) fn line_at(bytes: &[u8], at: usize) -> usize {
    bytes[..at].split(|b| *b == b'\n').count()
}

/// The text of a file that may hold only printable ASCII, tabs and line ends.
pub(super) fn ascii(bytes: &[u8]) -> Result<&str, Fault> {
    if bytes.len() > super::limits::FILE_BYTES {
        return Err(Fault::whole(format!(
            "the file has {} bytes, more than the {} read at all",
            bytes.len(),
            super::limits::FILE_BYTES
        )));
    }
    if let Some(at) = bytes.iter().position(|b| !matches!(b, b' '..=b'~' | b'\t' | b'\n' | b'\r')) {
        let line = line_at(bytes, at);
        return Err(Fault::on(line, format!("byte {:#04x} is not plain ASCII text", bytes[at])));
    }
    std::str::from_utf8(bytes).map_err(|_| Fault::whole("the file is not text"))
}

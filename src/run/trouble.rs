//! Trouble with files and usage: what stops a command before or after the stages.

use std::fmt;
use std::io;
use std::path::Path;

/// Something outside the design went wrong; exit code 2.
#[derive(Debug)]
pub struct Trouble {
    message: String,
    remedy: String,
}

impl Trouble {
    /// With what to do about it.
    pub fn new(message: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { message: message.into(), remedy: remedy.into() }
    }

    /// With what led there.
    pub(super) fn because(self, reason: &str) -> Self {
        Self { message: format!("{} ({reason})", self.message), ..self }
    }

    /// A file or folder that could not be used.
    pub(super) fn file(doing: &str, path: &Path, error: &io::Error) -> Self {
        let remedy = match error.kind() {
            io::ErrorKind::NotFound => "check the name; paths are taken from the current folder",
            io::ErrorKind::PermissionDenied => "choose a place you may write to, or change its permissions",
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded | io::ErrorKind::FileTooLarge => {
                "make room on the disk and run again; nothing was changed"
            }
            io::ErrorKind::IsADirectory => "name a file, not a folder",
            io::ErrorKind::InvalidData => "the file must be plain UTF-8 text",
            io::ErrorKind::ReadOnlyFilesystem => "choose a place that can be written to",
            _ => "nothing was changed; mend this and run again",
        };
        Self::new(format!("cannot {doing} {}: {}", path.display(), plain(error)), remedy)
    }

    /// Standard output could not be written.
    pub(super) fn output(error: &io::Error) -> Self {
        Self::new(format!("cannot print: {}", plain(error)), "give the output somewhere to go")
    }
}

/// The system's words without its number.
fn plain(error: &io::Error) -> String {
    let text = error.to_string();
    text.split(" (os error").next().unwrap_or(&text).to_lowercase()
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}\n  do: {}", self.message, self.remedy)
    }
}

impl std::error::Error for Trouble {}

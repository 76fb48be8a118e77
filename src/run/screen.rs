//! What the person sees: standard output for results, standard error for findings and trouble.

use super::{Outcome, Trouble};
use crate::cli::{Colour, Common};
use crate::diag::{render, Finding, Severity, Texts};
use serde_json::Value;
use std::io::{self, IsTerminal, Write};

/// Where to print, and how.
pub(super) struct Screen {
    pub(super) json: bool,
    colour: bool,
}

impl Screen {
    pub(super) fn new(common: &Common) -> Self {
        let colour = match common.colour {
            Colour::Always => true,
            Colour::Never => false,
            Colour::Auto => io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none(),
        };
        Self { json: common.json, colour: colour && !common.json }
    }

    /// Whether a person watches both ends.
    pub(super) fn is_dialogue() -> bool {
        io::stdin().is_terminal() && io::stderr().is_terminal()
    }

    /// Prints a result.
    pub(super) fn print(text: &str) -> Result<Outcome, Trouble> {
        Self::bytes(text.as_bytes())
    }

    /// Prints bytes as they are. A reader that has gone away (`| head`) is not an error.
    pub(super) fn bytes(bytes: &[u8]) -> Result<Outcome, Trouble> {
        let mut out = io::stdout().lock();
        match out.write_all(bytes).and_then(|()| out.flush()) {
            Err(e) if e.kind() != io::ErrorKind::BrokenPipe => Err(Trouble::output(&e)),
            _ => Ok(Outcome::Fine),
        }
    }

    /// Prints data.
    pub(super) fn data(value: &Value) -> Result<Outcome, Trouble> {
        Self::print(&format!("{value:#}\n"))
    }

    /// Says something on the way, to the person only.
    pub(super) fn say(&self, text: &str) {
        if !self.json {
            // Losing a remark must not lose the work.
            let _ = writeln!(io::stderr().lock(), "{text}");
        }
    }

    /// Asks a question; an empty answer takes the usual one.
    pub(super) fn ask(question: &str, usual: &str) -> Result<String, Trouble> {
        let mut err = io::stderr().lock();
        let asked = write!(err, "{question} [{usual}] ").and_then(|()| err.flush());
        let mut answer = String::new();
        asked.and_then(|()| io::stdin().read_line(&mut answer)).map_err(|e| Trouble::output(&e))?;
        let answer = answer.trim();
        Ok(if answer.is_empty() { usual.to_owned() } else { answer.to_owned() })
    }

    /// Prints findings as text to standard error.
    pub(super) fn findings(&self, findings: &[Finding], texts: &Texts) {
        if !findings.is_empty() && !self.json {
            self.say(&render::text(findings, texts, self.colour));
        }
    }

    pub(super) fn trouble(&self, trouble: &Trouble) {
        let text = if self.json {
            format!("{:#}", serde_json::json!({ "trouble": trouble.to_string() }))
        } else {
            format!("baywright: {trouble}")
        };
        let _ = writeln!(io::stderr().lock(), "{text}");
    }
}

/// `3 stoppers, 1 caution, 5 notes`.
pub(super) fn tally(findings: &[Finding]) -> String {
    let count = |severity| findings.iter().filter(|f| f.severity == severity).count();
    [(Severity::Stop, "stopper"), (Severity::Caution, "caution"), (Severity::Note, "note")]
        .map(|(severity, word)| counted(count(severity), word))
        .join(", ")
}

/// `1 sheet`, `2 sheets`.
pub(super) fn counted(n: usize, word: &str) -> String {
    format!("{n} {word}{}", if n == 1 { "" } else { "s" })
}

//! Lines of a program: numbers, comments, line numbers and line ends.

use crate::shop::Dialect;

/// Most characters on a line (NISTIR 6556, 3.3).
const LINE_MOST: usize = 256;
/// Largest line number (NISTIR 6556, 3.3.1).
const NUMBER_MOST: u32 = 99_999;

/// The text of a file while it is written.
pub(super) struct Text {
    lines: Vec<String>,
    step: Option<u32>,
    number: u32,
    crlf: bool,
    percent: bool,
}

impl Text {
    pub(super) fn new(dialect: &Dialect) -> Self {
        Self { lines: Vec::new(), step: dialect.line_numbers, number: 0, crlf: dialect.crlf, percent: dialect.percent }
    }

    /// The line that is written next, from 1.
    pub(super) fn next_line(&self) -> usize {
        self.lines.len() + 1
    }

    /// A percent line, where the dialect has them.
    pub(super) fn percent(&mut self) {
        if self.percent {
            self.lines.push("%".to_owned());
        }
    }

    /// Words of one line, numbered where the dialect says so.
    pub(super) fn line(&mut self, words: &[String]) {
        let body = words.join(" ");
        let line = match self.step {
            None => body,
            Some(step) => {
                let step = step.clamp(1, NUMBER_MOST);
                // Numbers may repeat (NISTIR 6556, 3.3.1), but may not have six digits.
                self.number = if self.number + step > NUMBER_MOST { step } else { self.number + step };
                format!("N{} {body}", self.number)
            }
        };
        self.lines.push(line);
    }

    /// A comment: ASCII, no inner parentheses, cut into as many lines as it needs.
    pub(super) fn comment(&mut self, words: &str) {
        let plain: Vec<char> = words.chars().map(plain).collect();
        for piece in plain.chunks(LINE_MOST - 2) {
            self.lines.push(format!("({})", piece.iter().collect::<String>()));
        }
    }

    pub(super) fn into_bytes(self) -> Vec<u8> {
        let end = if self.crlf { "\r\n" } else { "\n" };
        let mut all = self.lines.join(end);
        all.push_str(end);
        all.into_bytes()
    }
}

fn plain(c: char) -> char {
    match c {
        '(' | '{' => '[',
        ')' | '}' => ']',
        ' '..='~' => c,
        '\u{d7}' => 'x',
        '\u{2013}' | '\u{2014}' | '\u{2212}' => '-',
        _ if c.is_whitespace() || c.is_control() => ' ',
        _ => '?',
    }
}

/// A count of the last decimal as a number with that many decimals, at least one, never `-0.0`.
pub(super) fn fixed(counts: i64, decimals: usize) -> String {
    let sign = if counts < 0 { "-" } else { "" };
    let (size, ten) = (counts.unsigned_abs(), 10_u64.pow(decimals as u32));
    if decimals == 0 {
        return format!("{sign}{size}.0");
    }
    format!("{sign}{}.{:0decimals$}", size / ten, size % ten)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_keep_their_decimals_and_never_minus_nought() {
        for (counts, decimals, text) in [
            (0, 3, "0.000"),
            (-1, 3, "-0.001"),
            (1_234_567, 4, "123.4567"),
            (-5_000, 3, "-5.000"),
            (12, 0, "12.0"),
            (7, 1, "0.7"),
        ] {
            assert_eq!(fixed(counts, decimals), text);
        }
    }
}

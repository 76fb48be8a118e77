//! A leaf of paper at true size, and what every leaf carries: what it is, the revision, and 100 mm check lines both ways.
//!
//! Coordinates are millimetres from the leaf's upper left corner, x right, y down. A leaf fits on A4 and on Letter with the same
//! figures: 180 by 245 mm inside the margins of both.

use crate::write::book::metrics;

/// Width of a leaf.
pub(super) const WIDTH: f64 = 180.0;
/// Height of a leaf.
pub(super) const HEIGHT: f64 = 245.0;
/// Length of a check line. A tenth of a millimetre on it is a thousandth.
pub(super) const CHECK: f64 = 100.0;
/// What a template may take of a leaf: left, top, right, bottom.
pub(super) const FIELD: [f64; 4] = [2.0, 16.0, 166.0, 226.0];
/// Size of the type: 10 pt.
pub(super) const TYPE: f64 = 3.53;

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Pen {
    /// What is cut, drilled or measured.
    Firm,
    /// Helping lines.
    Fine,
    /// Where paper is cut.
    Dashed,
}

/// One thing on a leaf.
#[derive(Clone, Debug)]
pub(super) enum Item {
    /// A straight line.
    Line { pen: Pen, from: [f64; 2], to: [f64; 2] },
    /// A circle.
    Circle { centre: [f64; 2], radius: f64 },
    /// Words on a baseline.
    Words { text: String, at: [f64; 2], size: f64, bold: bool },
}

/// One leaf.
#[derive(Clone, Debug)]
pub(super) struct Leaf {
    /// What it is, for its head and for those who cannot see it.
    pub(super) title: String,
    pub(super) items: Vec<Item>,
}

impl Leaf {
    /// A leaf with its head and its check lines.
    pub(super) fn new(title: &str, revision: &str) -> Self {
        let mut leaf = Self { title: title.to_owned(), items: Vec::new() };
        let lines = wrapped(title, 1.2 * TYPE, true, WIDTH - 4.0, 1);
        leaf.words(lines.first().map_or("", String::as_str), [2.0, 5.0], 1.2 * TYPE, true);
        let note = format!("Print at 100 %, not \"fit to page\". Check both 100 mm lines first. Revision {revision}");
        leaf.words(&note, [2.0, 10.5], TYPE, false);
        let (x, y) = (30.0, HEIGHT - 6.0);
        leaf.line(Pen::Firm, [x, y], [x + CHECK, y]);
        leaf.line(Pen::Firm, [x, y - 2.0], [x, y + 2.0]);
        leaf.line(Pen::Firm, [x + CHECK, y - 2.0], [x + CHECK, y + 2.0]);
        leaf.words("100 mm", [x + CHECK + 3.0, y + 1.2], TYPE, false);
        let (x, y) = (WIDTH - 5.0, 60.0);
        leaf.line(Pen::Firm, [x, y], [x, y + CHECK]);
        leaf.line(Pen::Firm, [x - 2.0, y], [x + 2.0, y]);
        leaf.line(Pen::Firm, [x - 2.0, y + CHECK], [x + 2.0, y + CHECK]);
        leaf.words("100", [x - 4.5, y + CHECK + 6.5], TYPE, false);
        leaf.words("mm", [x - 4.5, y + CHECK + 10.8], TYPE, false);
        leaf
    }

    pub(super) fn line(&mut self, pen: Pen, from: [f64; 2], to: [f64; 2]) {
        self.items.push(Item::Line { pen, from, to });
    }

    pub(super) fn rect(&mut self, pen: Pen, [x0, y0, x1, y1]: [f64; 4]) {
        for (from, to) in [([x0, y0], [x1, y0]), ([x1, y0], [x1, y1]), ([x1, y1], [x0, y1]), ([x0, y1], [x0, y0])] {
            self.line(pen, from, to);
        }
    }

    pub(super) fn circle(&mut self, centre: [f64; 2], radius: f64) {
        self.items.push(Item::Circle { centre, radius });
    }

    /// A cross on a point.
    pub(super) fn cross(&mut self, pen: Pen, [x, y]: [f64; 2], reach: f64) {
        self.line(pen, [x - reach, y], [x + reach, y]);
        self.line(pen, [x, y - reach], [x, y + reach]);
    }

    pub(super) fn words(&mut self, text: &str, at: [f64; 2], size: f64, bold: bool) {
        self.items.push(Item::Words { text: text.to_owned(), at, size, bold });
    }
}

/// Words broken into lines no longer than a width; what does not go into so many lines ends in three dots.
pub(super) fn wrapped(text: &str, size: f64, bold: bool, width: f64, most: usize) -> Vec<String> {
    let long = |t: &str| metrics::width(t, size, bold) > width;
    let mut lines: Vec<String> = vec![String::new()];
    for word in text.split_whitespace() {
        let last = lines.last_mut().expect("there is always a last line");
        let longer = if last.is_empty() { word.to_owned() } else { format!("{last} {word}") };
        if long(&longer) && !last.is_empty() {
            lines.push(word.to_owned());
        } else {
            *last = longer;
        }
    }
    let cut = lines.len() > most;
    lines.truncate(most);
    let count = lines.len();
    for (i, line) in lines.iter_mut().enumerate() {
        let dots = if cut && i + 1 == count { "..." } else { "" };
        if !long(&format!("{line}{dots}")) {
            line.push_str(dots);
            continue;
        }
        while !line.is_empty() && long(&format!("{line}...")) {
            line.pop();
        }
        line.push_str("...");
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_break_between_words_and_never_run_over() {
        let lines = wrapped("upper left drawer right side with a name that goes on", TYPE, false, 30.0, 2);
        assert_eq!(lines.len(), 2);
        assert!(lines[1].ends_with("..."));
        for line in &lines {
            assert!(metrics::width(line, TYPE, false) <= 30.0, "{line}");
        }
        assert_eq!(wrapped("short", TYPE, false, 30.0, 2), ["short"]);
        assert!(metrics::width(&wrapped(&"x".repeat(200), TYPE, true, 30.0, 1)[0], TYPE, true) <= 30.0);
    }

    #[test]
    fn a_leaf_fits_on_both_papers() {
        // A4 is 210 x 297 mm (ISO 216), Letter 8 1/2 x 11 in (ANSI Y14.1).
        for [w, h] in [[210.0, 297.0], [215.9, 279.4]] {
            assert!(WIDTH + 2.0 * 13.0 <= w && HEIGHT + 14.0 + 16.0 <= h);
        }
    }
}

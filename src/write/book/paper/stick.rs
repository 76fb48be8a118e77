//! Sticks: long strips with marks along them, cut into pieces that are laid end to end.

use super::leaf::{wrapped, Leaf, Pen, FIELD, TYPE};
use crate::units::decimal;
use crate::write::book::metrics;

/// Longest piece on a leaf.
const PIECE: f64 = 150.0;
/// Where a piece begins on the leaf.
const LEFT: f64 = FIELD[0] + 6.0;
/// From one piece to the next, down the leaf.
const BETWEEN: f64 = 3.5;
/// Height of the words over a piece.
const HEAD: f64 = 1.4 * TYPE;
/// Height of a row of figures under a piece.
const ROW: f64 = 1.25 * TYPE;

/// One mark along a stick.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Mark {
    /// From the stick's start.
    pub(super) at: f64,
    /// What stands there.
    pub(super) text: String,
    /// Whether it is a point to drill, in the middle of the strip; else a line across it.
    pub(super) point: bool,
}

/// A strip.
#[derive(Clone, Debug)]
pub(super) struct Stick {
    pub(super) title: String,
    pub(super) length: f64,
    /// Height of the strip.
    pub(super) height: f64,
    pub(super) marks: Vec<Mark>,
}

/// A piece of a stick, with its figures laid out under it.
struct Piece<'s> {
    stick: &'s Stick,
    index: usize,
    of: usize,
    /// Marks on it, from right to left, each with where its words begin and in which row.
    marks: Vec<(&'s Mark, String, f64, usize)>,
}

impl<'s> Piece<'s> {
    fn new(stick: &'s Stick, index: usize, of: usize) -> Self {
        let (from, to) = (index as f64 * PIECE, (index as f64 + 1.0) * PIECE);
        let mut marks = Vec::new();
        // From right to left, and down a row where words would touch: so no lead line crosses the words of another.
        let mut starts: Vec<f64> = Vec::new();
        for mark in stick.marks.iter().rev().filter(|m| m.at >= from && (m.at < to || index + 1 == of)) {
            let text =
                if mark.text.is_empty() { decimal(mark.at, 1) } else { format!("{} {}", decimal(mark.at, 1), mark.text) };
            let long = metrics::width(&text, TYPE, false);
            let start = (LEFT + mark.at - from + 0.6).min(FIELD[2] - long).max(FIELD[0]);
            let row = starts.iter().position(|s| start + long + 1.5 < *s).unwrap_or(starts.len());
            if row == starts.len() {
                starts.push(start);
            } else {
                starts[row] = start;
            }
            marks.push((mark, text, start, row));
        }
        Self { stick, index, of, marks }
    }

    fn rows(&self) -> usize {
        self.marks.iter().map(|(_, _, _, row)| row + 1).max().unwrap_or(0)
    }

    fn height(&self) -> f64 {
        HEAD + self.stick.height + 1.0 + self.rows() as f64 * ROW + BETWEEN
    }
}

/// Sticks on leaves, as many pieces on each as it holds.
pub(super) fn leaves(title: &str, sticks: &[Stick], revision: &str) -> Vec<Leaf> {
    let mut list: Vec<Leaf> = Vec::new();
    let mut y = f64::INFINITY;
    for stick in sticks {
        let of = ((stick.length / PIECE).ceil() as usize).max(1);
        for piece in (0..of).map(|index| Piece::new(stick, index, of)) {
            if y + piece.height() > FIELD[3] {
                list.push(Leaf::new(title, revision));
                y = FIELD[1];
            }
            let Some(leaf) = list.last_mut() else { continue };
            draw(leaf, &piece, y);
            y += piece.height();
        }
    }
    list
}

fn draw(leaf: &mut Leaf, piece: &Piece, top: f64) {
    let Piece { stick, index, of, .. } = *piece;
    let from = index as f64 * PIECE;
    let to = (from + PIECE).min(stick.length);
    let title = if of > 1 { format!("piece {} of {of}: {}", index + 1, stick.title) } else { stick.title.clone() };
    let words = wrapped(&title, TYPE, true, FIELD[2] - LEFT, 1);
    leaf.words(words.first().map_or("", String::as_str), [LEFT, top + TYPE], TYPE, true);
    let (y0, y1) = (top + HEAD, top + HEAD + stick.height);
    let (x0, x1) = (LEFT, LEFT + to - from);
    leaf.rect(Pen::Firm, [x0, y0, x1, y1]);
    let middle = f64::midpoint(y0, y1);
    leaf.line(Pen::Fine, [x0, middle], [x1, middle]);
    // Joints carry the same letter on both pieces.
    for (k, x) in [(index, x0), (index + 1, x1)] {
        if k > 0 && k < of {
            let letter = char::from(b'A' + ((k - 1) % 26) as u8).to_string();
            leaf.circle([x, middle], 1.5);
            leaf.words(&letter, [if k == index { x - 4.0 } else { x + 1.8 }, middle - 1.8], TYPE, false);
        }
    }
    for (mark, text, start, row) in &piece.marks {
        let x = LEFT + mark.at - from;
        if mark.point {
            leaf.cross(Pen::Firm, [x, middle], (stick.height / 2.0).min(3.0));
        } else {
            leaf.line(Pen::Firm, [x, y0], [x, y1]);
        }
        let y = y1 + 1.0 + (*row as f64 + 1.0) * ROW;
        leaf.line(Pen::Fine, [x, y1], [x, y]);
        leaf.words(text, [*start, y - 0.8], TYPE, false);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::write::book::paper::leaf::Item;

    #[test]
    fn every_mark_of_a_long_stick_is_on_one_piece() {
        let marks = (0..=10).map(|i| Mark { at: f64::from(i) * 100.0, text: String::new(), point: true }).collect();
        let stick = Stick { title: "stick".into(), length: 1000.0, height: 15.0, marks };
        let found = leaves("sticks", &[stick], "r");
        let count = |wanted: &str| {
            found.iter().flat_map(|l| &l.items).filter(|i| matches!(i, Item::Words { text, .. } if text == wanted)).count()
        };
        for i in 0..=10 {
            // The check lines' words are apart: "100 mm" and "100".
            let more = if i == 1 { found.len() } else { 0 };
            assert_eq!(count(&(i * 100).to_string()), 1 + more, "{i}");
        }
    }
}

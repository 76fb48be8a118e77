//! How wide words are in the book's pictures and on its paper: the widths of Helvetica, which every reader of PDF has built in.
//!
//! Pictures carry the width beside the words (`textLength`), so that another typeface is drawn as wide as planned here.

/// Widths of the characters from space to tilde in thousandths of the type's size: Helvetica of the PDF standard's 14 typefaces
/// (Adobe Core 14 AFM; from memory).
const PLAIN: [u16; 95] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556, 556,
    556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556,
    556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];
/// Any other character.
const OTHER: u16 = 700;
/// How much wider bold letters may be. Common practice, no source.
const BOLD: f64 = 1.08;

/// Height of the type over its baseline and below it, in sizes of the type: capitals and digits reach 0.72, descenders 0.21.
pub(super) const OVER: f64 = 0.74;
/// Below the baseline.
pub(super) const UNDER: f64 = 0.22;

/// Width of words at a size of type, in the unit of the size.
pub(super) fn width(words: &str, size: f64, bold: bool) -> f64 {
    let sum: u32 = words.chars().map(|c| u32::from(of(c))).sum();
    f64::from(sum) / 1000.0 * size * if bold { BOLD } else { 1.0 }
}

fn of(c: char) -> u16 {
    (c as usize).checked_sub(32).and_then(|i| PLAIN.get(i)).copied().unwrap_or(OTHER)
}

#[cfg(test)]
mod tests {
    use super::width;

    #[test]
    fn digits_are_all_alike_and_words_grow_with_their_letters() {
        assert!((width("1000", 10.0, false) - 22.24).abs() < 1e-9);
        assert_eq!(width("1", 3.5, false), width("8", 3.5, false));
        assert!(width("LO-1-001", 10.0, true) > width("LO-1-001", 10.0, false));
        assert_eq!(width("", 3.5, false), 0.0);
    }
}

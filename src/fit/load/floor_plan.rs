//! A place's arrangement drawn with letters, seen from above: the opening below, the far end above.

use super::stow::Stowed;

/// Characters across the widest side of a drawing.
const ACROSS: f64 = 44.0;
/// A character is about twice as high as it is wide.
const ASPECT: f64 = 2.0;

/// The drawing's lines; letter `a` is the first thing of the list.
pub(super) fn drawn(stowed: &Stowed) -> Vec<String> {
    let (w, d) = (stowed.room[0].0, stowed.room[1].0);
    if !(w > 0.0 && d > 0.0) {
        return Vec::new();
    }
    let step = w.max(d) / ACROSS;
    let (columns, rows) = ((w / step).round().max(1.0) as usize, (d / step / ASPECT).round().max(1.0) as usize);
    let letter = |x: f64, y: f64| {
        let inside = |k: usize, at: f64, s: &super::Standing| {
            let from = (s.at[k] - stowed.corner[k]).0;
            at >= from && at < from + s.size[k].0
        };
        let found = stowed.standing.iter().position(|s| inside(0, x, s) && inside(1, y, s));
        found.map_or('.', |i| char::from(b'a' + (i % 26) as u8))
    };
    let middle = |i: usize, count: usize, size: f64| (i as f64 + 0.5) / count as f64 * size;
    let row = |k: usize| (0..columns).map(|i| letter(middle(i, columns, w), middle(k, rows, d))).collect::<String>();
    (0..rows).rev().map(|k| format!("  |{}|", row(k))).collect()
}

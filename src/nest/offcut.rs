//! What is left of a sheet in one rectangle.

use crate::geom::Rect;
use crate::units::Mm;

/// Shorter sides are not worth keeping (common practice, no source).
pub(super) const LEAST_SIDE: Mm = Mm(300.0);

/// The largest rectangle of the sheet that keeps the gap from every part, in the sheet frame, in mm; it may reach the
/// sheet's edges. `None` when a side is under [`LEAST_SIDE`].
pub(super) fn largest(length: Mm, width: Mm, parts: &[Rect], gap: Mm) -> Option<Rect> {
    let grown: Vec<Rect> = parts.iter().map(|r| r.inflate(gap.0, gap.0)).collect();
    let sheet = Rect::new(0.0, 0.0, length.0, width.0);
    let mut lefts: Vec<f64> = std::iter::once(0.0).chain(grown.iter().map(|r| r.x1)).filter(|x| *x < length.0).collect();
    lefts.sort_by(f64::total_cmp);
    lefts.dedup();
    let mut best: Option<Rect> = None;
    // From each possible left edge sweep to the right: the free heights beside it can only get fewer.
    for left in lefts {
        let mut right_of: Vec<&Rect> =
            grown.iter().filter(|r| r.x1 > left && r.y1 > sheet.y0 && r.y0 < sheet.y1 && r.x0 < sheet.x1).collect();
        right_of.sort_by(|a, b| a.x0.total_cmp(&b.x0));
        let mut bands = vec![(sheet.y0, sheet.y1)];
        let mut next = 0;
        while !bands.is_empty() {
            while next < right_of.len() && right_of[next].x0 <= left {
                bands = without(&bands, right_of[next]);
                next += 1;
            }
            let stop = right_of.get(next).map_or(sheet.x1, |r| r.x0);
            for &(y0, y1) in &bands {
                let r = Rect::new(left, y0, stop, y1);
                let fits = r.width() >= LEAST_SIDE.0 && r.height() >= LEAST_SIDE.0;
                if fits && best.is_none_or(|b| r.area() > b.area()) {
                    best = Some(r);
                }
            }
            match right_of.get(next) {
                Some(r) => bands = without(&bands, r),
                None => break,
            }
            next += 1;
        }
    }
    best
}

/// Bands of free height without a part's own, narrow ones dropped.
fn without(bands: &[(f64, f64)], part: &Rect) -> Vec<(f64, f64)> {
    bands
        .iter()
        .flat_map(|&(y0, y1)| {
            if part.y1 <= y0 || part.y0 >= y1 {
                [Some((y0, y1)), None]
            } else {
                [(part.y0 > y0).then_some((y0, part.y0)), (part.y1 < y1).then_some((part.y1, y1))]
            }
        })
        .flatten()
        .filter(|(y0, y1)| y1 - y0 >= LEAST_SIDE.0)
        .collect()
}

//! Where a part's id is written on a sheet map: as large as fits inside the part, clear of its openings.

use super::drawing::{Cut, Shape};
use super::layer::Layer;
use crate::flat::Operation;
use crate::geom::{Contour, Point, Rect};

/// Mean advance of a plain sans-serif capital or digit, in heights of the type (common practice, no source).
const ADVANCE: f64 = 0.64;
/// Largest type, in mm: readable on a printed map, still plain beside the part.
const LARGEST: f64 = 48.0;
/// Smallest type worth trying, in mm.
const SMALLEST: f64 = 3.0;
/// Share of a part's narrow side that the type may take.
const SHARE: f64 = 0.5;

/// Words in a part.
#[derive(Clone, Debug)]
pub struct Label {
    /// The words.
    pub text: String,
    /// Middle of the words, in the drawing's frame.
    pub centre: Point,
    /// Size of the type in mm.
    pub size: f64,
    /// Written upwards instead of to the right.
    pub upright: bool,
}

/// Fits words into the part whose cuts are given. `None` only when it has no outline.
pub(super) fn fit(text: &str, cuts: &[Cut]) -> Option<Label> {
    let outline = cuts.iter().find_map(|cut| match (&cut.layer, &cut.shape) {
        (Layer::Cut { operation: Operation::ThroughOutside, .. }, Shape::Contour(c)) => Some(c),
        _ => None,
    })?;
    let avoid: Vec<Rect> =
        cuts.iter().filter(|cut| cut.layer.rank() != OUTLINE_RANK).map(|cut| cut.shape.bounds()).collect();
    let bounds = outline.bounds();
    let length = ADVANCE * text.chars().count().max(1) as f64;
    let cap = |upright: bool| {
        let (along, across) = if upright { (bounds.height(), bounds.width()) } else { (bounds.width(), bounds.height()) };
        (0.9 * along / length).min(SHARE * across).min(LARGEST)
    };
    let mut best =
        Label { text: text.to_owned(), centre: bounds.center(), size: 0.0, upright: cap(true) > 1.5 * cap(false) };
    // Words across first; upright ones must be clearly larger to be worth turning the head for.
    for (upright, handicap) in [(false, 1.0), (true, 1.5)] {
        for centre in places(bounds) {
            let mut size = cap(upright);
            while size > best.size * handicap && size > SMALLEST {
                let (w, h) = if upright { (size, length * size) } else { (length * size, size) };
                let words = Rect::from_center_size(centre, (w, h));
                if is_free(words, outline, &avoid) {
                    best = Label { centre, size, upright, ..best };
                    break;
                }
                size *= 0.85;
            }
        }
    }
    if best.size == 0.0 {
        best.size = cap(best.upright).max(SMALLEST);
    }
    Some(best)
}

/// Rank of an outline's layer.
const OUTLINE_RANK: u32 = 6;

/// Places to try: the middle first, then a grid over the part.
fn places(bounds: Rect) -> impl Iterator<Item = Point> {
    const STEPS: i32 = 7;
    let at = move |i: i32, n: f64, low: f64| low + n * f64::from(2 * i + 1) / f64::from(2 * STEPS);
    let grid = (0..STEPS * STEPS)
        .map(move |k| Point::new(at(k % STEPS, bounds.width(), bounds.x0), at(k / STEPS, bounds.height(), bounds.y0)));
    std::iter::once(bounds.center()).chain(grid)
}

/// Whether a rectangle lies in the outline and off all cuts.
fn is_free(words: Rect, outline: &Contour, avoid: &[Rect]) -> bool {
    let c = words.center();
    let xs = [words.x0, c.x, words.x1];
    avoid.iter().all(|r| r.x1 < words.x0 || r.x0 > words.x1 || r.y1 < words.y0 || r.y0 > words.y1)
        && xs.iter().all(|x| [words.y0, c.y, words.y1].iter().all(|y| outline.contains(Point::new(*x, *y))))
}

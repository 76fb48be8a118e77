//! Where a part's id is written on a sheet map: as large as fits inside the part, clear of its openings.

use super::drawing::{Cut, Shape};
use super::layer::Layer;
use crate::flat::Operation;
use crate::geom::{Contour, Point, Rect};

/// Mean advance of a plain sans-serif capital or digit, in heights of the type (common practice, no source).
const ADVANCE: f64 = 0.64;
/// Largest type, in mm: readable on a printed map, still plain beside the part.
const LARGEST: f64 = 40.0;
/// Smallest type worth trying, in mm.
const SMALLEST: f64 = 3.0;
/// Share of a part's narrow side that the type may take.
const SHARE: f64 = 0.4;

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
    let is_outline = |cut: &&Cut| matches!(cut.layer, Layer::Cut { operation: Operation::ThroughOutside, .. });
    let outline = cuts.iter().filter(is_outline).find_map(|cut| match &cut.shape {
        Shape::Contour(c) => Some(c),
        Shape::Circle { .. } => None,
    })?;
    let avoid: Vec<Rect> = cuts.iter().filter(|cut| !is_outline(cut)).map(|cut| cut.shape.bounds()).collect();
    let bounds = outline.bounds();
    let length = ADVANCE * text.chars().count().max(1) as f64;
    let cap = |upright: bool| {
        let (along, across) = if upright { (bounds.height(), bounds.width()) } else { (bounds.width(), bounds.height()) };
        (0.9 * along / length).min(SHARE * across).min(LARGEST)
    };
    let mut best =
        Label { text: text.to_owned(), centre: bounds.center(), size: 0.0, upright: cap(true) > UPRIGHT * cap(false) };
    let mut best_score = 0.0;
    for (upright, worth) in [(false, 1.0), (true, 1.0 / UPRIGHT)] {
        for centre in places(bounds) {
            let away = (centre - bounds.center()).hypot() / bounds.width().hypot(bounds.height());
            let worth = worth * (1.0 - MIDDLE * away);
            let mut size = cap(upright);
            while size * worth > best_score && size > SMALLEST {
                if is_free(room(centre, size, length, upright), outline, &avoid) {
                    best = Label { centre, size, upright, ..best };
                    best_score = size * worth;
                    break;
                }
                size *= 0.85;
            }
        }
    }
    if best_score == 0.0 {
        best.size = cap(best.upright).max(SMALLEST);
    }
    Some(best)
}

/// How much larger upright words must be to be worth turning the head for.
const UPRIGHT: f64 = 1.5;
/// How much of its worth a place loses a whole diagonal away from the middle.
const MIDDLE: f64 = 1.2;
/// Where the room for words and the sign for the grain ends beside the words' middle, in sizes of the type: over and under.
const ROOM: (f64, f64) = (0.6, 1.35);

/// The rectangle that words and the sign for the grain take.
fn room(centre: Point, size: f64, length: f64, upright: bool) -> Rect {
    let (half, over, under) = (length * size / 2.0, ROOM.0 * size, ROOM.1 * size);
    if upright {
        Rect::new(centre.x - over, centre.y - half, centre.x + under, centre.y + half)
    } else {
        Rect::new(centre.x - half, centre.y - under, centre.x + half, centre.y + over)
    }
}

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

//! Where a body's id is written on what is seen of it.

use crate::write::book::canvas::{Anchor, Canvas, Room, Words};

/// Places tried across a piece, each way.
const STEPS: usize = 9;

/// A seen piece in the picture's own millimetres: its rings, the largest first.
pub(super) struct Shown {
    pub(super) rings: Vec<Vec<[f64; 2]>>,
}

impl Shown {
    fn bounds(&self) -> Room {
        let mut b = [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY];
        for [x, y] in self.rings.iter().flatten() {
            b = [b[0].min(*x), b[1].min(*y), b[2].max(*x), b[3].max(*y)];
        }
        Room(b)
    }

    /// Whether a rectangle lies inside, off every edge.
    fn holds(&self, room: &Room) -> bool {
        let [x0, y0, x1, y1] = room.0;
        let crossed = |a: [f64; 2], b: [f64; 2]| {
            // Liang and Barsky's test of a segment against a rectangle (1984).
            let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
            let (mut from, mut to) = (0.0_f64, 1.0_f64);
            for (p, q) in [(-dx, a[0] - x0), (dx, x1 - a[0]), (-dy, a[1] - y0), (dy, y1 - a[1])] {
                if p == 0.0 {
                    if q < 0.0 {
                        return false;
                    }
                } else if p < 0.0 {
                    from = from.max(q / p);
                } else {
                    to = to.min(q / p);
                }
            }
            from <= to
        };
        let edges = || self.rings.iter().flat_map(|r| (0..r.len()).map(move |i| (r[i], r[(i + 1) % r.len()])));
        if edges().any(|(a, b)| crossed(a, b)) {
            return false;
        }
        // Even-odd count of edges to the right of its middle.
        let (cx, cy) = (f64::midpoint(x0, x1), f64::midpoint(y0, y1));
        let right = |(a, b): &([f64; 2], [f64; 2])| {
            (a[1] > cy) != (b[1] > cy) && cx < a[0] + (cy - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
        };
        edges().filter(right).count() % 2 == 1
    }

    /// A point inside, the one with most room round it among those tried.
    pub(super) fn middle(&self) -> Option<[f64; 2]> {
        let spot = |half: f64| self.places().find(|[x, y]| self.holds(&Room([x - half, y - half, x + half, y + half])));
        [3.0, 1.5, 0.7, 0.3, 0.05].into_iter().find_map(spot)
    }

    fn places(&self) -> impl Iterator<Item = [f64; 2]> {
        let [x0, y0, x1, y1] = self.bounds().0;
        let at = |k: usize, a: f64, b: f64| a + (b - a) * (2 * k + 1) as f64 / (2 * STEPS) as f64;
        let middle = STEPS / 2;
        // From the middle outwards.
        let mut order: Vec<(usize, usize)> = (0..STEPS * STEPS).map(|k| (k % STEPS, k / STEPS)).collect();
        order.sort_by_key(|(i, j)| i.abs_diff(middle).pow(2) + j.abs_diff(middle).pow(2));
        order.into_iter().map(move |(i, j)| [at(i, x0, x1), at(j, y0, y1)])
    }

    /// Writes words inside if there is room, off all other words.
    pub(super) fn write(&self, canvas: &mut Canvas, words: &Words<'_>) -> bool {
        let places: Vec<[f64; 2]> = self.places().collect();
        for upright in [false, true] {
            for at in &places {
                let mut words = Words { at: *at, anchor: Anchor::Middle, upright, ..*words };
                let half = 0.25 * words.size;
                words.at = if upright { [at[0] + half, at[1]] } else { [at[0], at[1] + half] };
                if self.holds(&words.room()) && canvas.words_if_free(&words) {
                    return true;
                }
            }
        }
        false
    }
}

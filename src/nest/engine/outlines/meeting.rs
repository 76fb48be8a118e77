//! How two pieces overlap, by where the one lies from the other.

use super::convex::{sum, turned, Corner};
use std::cell::OnceCell;

/// A piece turned one way: convex parts with the lower left corner of all at the origin.
#[derive(Clone, Debug)]
pub(super) struct Form {
    pub(super) quarters: u8,
    pub(super) size: Corner,
    parts: Vec<Vec<Corner>>,
}

impl Form {
    pub(super) fn new(parts: &[Vec<Corner>], quarters: u8) -> Self {
        let turned: Vec<Vec<Corner>> =
            parts.iter().map(|part| part.iter().map(|&p| turned(p, quarters)).collect()).collect();
        let end = |d: usize, least: bool| {
            let all = turned.iter().flatten().map(|p| p[d]);
            if least { all.min() } else { all.max() }.unwrap_or(0)
        };
        let low = [end(0, true), end(1, true)];
        let size = [end(0, false) - low[0], end(1, false) - low[1]];
        let parts = turned.iter().map(|part| part.iter().map(|p| [p[0] - low[0], p[1] - low[1]]).collect()).collect();
        Self { quarters, size, parts }
    }
}

/// An edge of a convex polygon, and its line: positive on the polygon's side. All whole numbers below 2^53, so that sums and
/// products of coordinates are exact.
#[derive(Clone, Copy, Debug)]
struct Edge {
    from: Corner,
    to: Corner,
    normal: [f64; 2],
    offset: f64,
    by_length: f64,
}

/// A convex polygon: where the other piece's corner must not lie.
#[derive(Debug)]
pub(super) struct Area {
    pub(super) low: Corner,
    pub(super) high: Corner,
    edges: Vec<Edge>,
}

impl Area {
    fn new(ring: &[Corner]) -> Self {
        let end = |d: usize, least: bool| {
            let all = ring.iter().map(|p| p[d]);
            if least { all.min() } else { all.max() }.unwrap_or(0)
        };
        let edges = ring.iter().zip(ring.iter().cycle().skip(1)).map(|(&from, &to)| {
            let (dx, dy) = ((to[0] - from[0]) as f64, (to[1] - from[1]) as f64);
            let normal = [-dy, dx];
            let offset = normal[0] * from[0] as f64 + normal[1] * from[1] as f64;
            Edge { from, to, normal, offset, by_length: 1.0 / dx.hypot(dy).max(1.0) }
        });
        Self { low: [end(0, true), end(1, true)], high: [end(0, false), end(1, false)], edges: edges.collect() }
    }

    /// How deep a point lies inside; 0 on the border and outside.
    fn depth(&self, p: Corner) -> f64 {
        if (0..2).any(|d| p[d] <= self.low[d] || p[d] >= self.high[d]) {
            return 0.0;
        }
        let (x, y) = (p[0] as f64, p[1] as f64);
        let mut least = f64::INFINITY;
        for e in &self.edges {
            let side = e.normal[0] * x + e.normal[1] * y - e.offset;
            if side <= 0.0 {
                return 0.0;
            }
            least = least.min(side * e.by_length);
        }
        least
    }

    /// The stretch strictly between which a level (axis 0) or upright (axis 1) line at `t` runs inside, outwards to whole numbers.
    pub(super) fn stretch(&self, axis: usize, t: i64) -> Option<(i64, i64)> {
        let across = 1 - axis;
        if t <= self.low[across] || t >= self.high[across] {
            return None;
        }
        let (mut low, mut high) = (i64::MAX, i64::MIN);
        for e in &self.edges {
            let (a, b) = (e.from[across], e.to[across]);
            if a == b || t < a.min(b) || t > a.max(b) {
                continue;
            }
            let (floor, ceil) = whole((t - a) * (e.to[axis] - e.from[axis]), b - a);
            low = low.min(e.from[axis] + floor);
            high = high.max(e.from[axis] + ceil);
        }
        (low < high).then_some((low, high))
    }
}

/// A quotient rounded down and up. The guess is put right exactly: much faster than to divide whole numbers.
fn whole(num: i64, den: i64) -> (i64, i64) {
    let (num, den) = if den < 0 { (-num, -den) } else { (num, den) };
    let mut floor = (num as f64 / den as f64) as i64;
    while floor * den > num {
        floor -= 1;
    }
    while (floor + 1) * den <= num {
        floor += 1;
    }
    (floor, floor + i64::from(floor * den != num))
}

/// All places of a second piece where it overlaps a first.
#[derive(Debug)]
pub(super) struct Meeting {
    pub(super) areas: Vec<Area>,
}

impl Meeting {
    fn new(first: &Form, second: &Form) -> Self {
        let areas: Vec<Area> = first.parts.iter().flat_map(|a| second.parts.iter().map(|b| Area::new(&sum(a, b)))).collect();
        Self { areas }
    }

    /// How deep they overlap when the second lies at `d` from the first; 0 when they are apart or touch.
    fn depth(&self, d: Corner) -> f64 {
        self.areas.iter().map(|a| a.depth(d)).fold(0.0, f64::max)
    }
}

/// All forms of all pieces, and how each two meet, worked out when first asked for.
#[derive(Debug)]
pub(super) struct Meetings {
    pub(super) forms: Vec<Form>,
    /// Their sizes, close together in memory.
    sizes: Vec<Corner>,
    known: Vec<OnceCell<Meeting>>,
}

impl Meetings {
    pub(super) fn new(forms: Vec<Form>) -> Self {
        let known = (0..forms.len() * forms.len()).map(|_| OnceCell::new()).collect();
        let sizes = forms.iter().map(|f| f.size).collect();
        Self { forms, sizes, known }
    }

    pub(super) fn of(&self, first: usize, second: usize) -> &Meeting {
        self.known[first * self.forms.len() + second].get_or_init(|| Meeting::new(&self.forms[first], &self.forms[second]))
    }

    /// How deep two overlap when the second lies at `d` from the first; 0 when they are apart or touch.
    pub(super) fn depth(&self, first: usize, second: usize, d: Corner) -> f64 {
        let (a, b) = (self.sizes[first], self.sizes[second]);
        if d[0] >= a[0] || d[1] >= a[1] || d[0] <= -b[0] || d[1] <= -b[1] {
            return 0.0;
        }
        self.of(first, second).depth(d)
    }

    /// How the second meets the first on a level (axis 0) or upright line at `t` from the first's corner, if it does.
    pub(super) fn on_line(&self, first: usize, second: usize, axis: usize, t: i64) -> Option<&Meeting> {
        let across = 1 - axis;
        let meets = t < self.sizes[first][across] && t > -self.sizes[second][across];
        meets.then(|| self.of(first, second))
    }
}

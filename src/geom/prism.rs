//! Solids with one outline all the way along an axis of the bay: wheel arches, trims and seat backs as they are traced. All in mm.

use super::{tolerance, Box3, Contour, Point, Point3};

/// An outline carried straight along one axis of the bay.
///
/// Its points lie in the plane of the other two axes, in their order: y and z along x, x and z along y, x and y along z.
#[derive(Clone, Debug)]
pub struct Prism {
    across: usize,
    from: f64,
    to: f64,
    outline: Vec<Point>,
}

impl Prism {
    /// From a closed outline, its arcs copied as chords that bow by [`tolerance::TRACE_CHORD`] at most, and its two ends on the axis
    /// it runs along (0 for x, 1 for y, 2 for z).
    #[must_use]
    pub fn new(outline: &Contour, across: usize, from: f64, to: f64) -> Self {
        let outline = outline.flattened(tolerance::TRACE_CHORD);
        Self { across: across.min(2), from: from.min(to), to: from.max(to), outline }
    }

    /// The same in another scale, about the origin.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Self {
        let outline = self.outline.iter().map(|p| Point::new(p.x * factor, p.y * factor)).collect();
        Self { across: self.across, from: self.from * factor, to: self.to * factor, outline }
    }

    /// Its outline in x and z when it runs along y; `None` for one that runs another way.
    #[must_use]
    pub fn section_xz(&self) -> Option<Vec<Point>> {
        (self.across == 1).then(|| self.outline.clone())
    }

    /// The two axes of the outline's plane, in order.
    fn plane(&self) -> [usize; 2] {
        match self.across {
            0 => [1, 2],
            1 => [0, 2],
            _ => [0, 1],
        }
    }

    /// The box round it.
    #[must_use]
    pub fn bounds(&self) -> Box3 {
        let reach = |k: usize| {
            let on = self.outline.iter().map(|p| [p.x, p.y][k]);
            (on.clone().fold(f64::INFINITY, f64::min), on.fold(f64::NEG_INFINITY, f64::max))
        };
        self.placed(reach(0), reach(1))
    }

    /// A box from two ranges in the outline's plane.
    fn placed(&self, a: (f64, f64), b: (f64, f64)) -> Box3 {
        let (mut min, mut max) = ([self.from; 3], [self.to; 3]);
        for (axis, (low, high)) in self.plane().into_iter().zip([a, b]) {
            (min[axis], max[axis]) = (low, high);
        }
        Box3 { min: Point3::new(min[0], min[1], min[2]), max: Point3::new(max[0], max[1], max[2]) }
    }

    /// Boxes that cover it, `most` of them at most: never smaller than it, larger by as little as so many allow.
    #[must_use]
    pub fn cover(&self, most: usize) -> Vec<Box3> {
        let [a, b] = self.plane();
        let whole = self.bounds();
        let (low, high) = (whole.min.to_array()[a], whole.max.to_array()[a]);
        let count = (((high - low) / tolerance::TRACE_STEP).ceil() as usize).max(1);
        let mut list: Vec<Box3> = (0..count)
            .filter_map(|i| {
                let step = (high - low) / count as f64;
                let slab = (low + step * i as f64, low + step * (i + 1) as f64);
                Some(self.placed(slab, self.reach_within(0, slab)?))
            })
            .collect();
        let area = |s: &Box3| {
            let (min, max) = (s.min.to_array(), s.max.to_array());
            (max[a] - min[a]) * (max[b] - min[b])
        };
        while list.len() > most.max(1) {
            let grown = |i: usize| area(&list[i].around(&list[i + 1])) - area(&list[i]) - area(&list[i + 1]);
            let Some(least) = (0..list.len() - 1).min_by(|x, y| grown(*x).total_cmp(&grown(*y))) else { break };
            let next = list.remove(least + 1);
            list[least] = list[least].around(&next);
        }
        list
    }

    /// How far the outline reaches on the other axis of its plane between two values of axis `k` (0 or 1); `None` when it has
    /// nothing there.
    fn reach_within(&self, k: usize, (low, high): (f64, f64)) -> Option<(f64, f64)> {
        let mut reach: Option<(f64, f64)> = None;
        let mut take = |x: f64| reach = Some(reach.map_or((x, x), |(a, b)| (a.min(x), b.max(x))));
        for (i, p) in self.outline.iter().enumerate() {
            let q = self.outline[(i + 1) % self.outline.len()];
            let (p, q) = ([p.x, p.y], [q.x, q.y]);
            let (from, to) = (p[k].min(q[k]).max(low), p[k].max(q[k]).min(high));
            if from > to {
                continue;
            }
            let along = |x: f64| {
                let run = q[k] - p[k];
                p[1 - k] + (q[1 - k] - p[1 - k]) * if run == 0.0 { 0.0 } else { (x - p[k]) / run }
            };
            take(along(from));
            take(along(to));
            if p[k] == q[k] {
                take(q[1 - k]);
            }
        }
        reach
    }

    /// Air between it and a box, measured straight across; negative by the shortest straight way out when they overlap.
    #[must_use]
    pub fn air(&self, solid: &Box3) -> f64 {
        let (min, max) = (solid.min.to_array(), solid.max.to_array());
        let along = (min[self.across] - self.to).max(self.from - max[self.across]);
        let [a, b] = self.plane();
        let (x, y) = ((min[a], max[a]), (min[b], max[b]));
        let beside = self.air_in_plane(x, y);
        match (along > 0.0, beside > 0.0) {
            (true, true) => along.hypot(beside),
            _ => along.max(beside),
        }
    }

    /// The same in the outline's plane, for a rectangle.
    fn air_in_plane(&self, x: (f64, f64), y: (f64, f64)) -> f64 {
        let sides = || self.outline.iter().zip(self.outline.iter().cycle().skip(1)).map(|(p, q)| ([p.x, p.y], [q.x, q.y]));
        let apart = sides().map(|(p, q)| segment_to_rectangle(p, q, x, y)).fold(f64::INFINITY, f64::min);
        let middle = [f64::midpoint(x.0, x.1), f64::midpoint(y.0, y.1)];
        // A ray to the right crosses the outline an odd number of times from inside.
        let inside = sides()
            .filter(|(p, q)| (p[1] > middle[1]) != (q[1] > middle[1]))
            .filter(|(p, q)| p[0] + (q[0] - p[0]) * (middle[1] - p[1]) / (q[1] - p[1]) > middle[0])
            .count()
            % 2
            == 1;
        if apart > 0.0 && !inside {
            return apart;
        }
        let ways_out = [(1, y, x), (0, x, y)].into_iter().filter_map(|(k, band, mine)| {
            let (low, high) = self.reach_within(k, band)?;
            Some((mine.0 - high).max(low - mine.1))
        });
        ways_out.fold(f64::NEG_INFINITY, f64::max).min(0.0)
    }
}

/// Distance of a straight segment from a rectangle; zero when they touch.
fn segment_to_rectangle(p: [f64; 2], q: [f64; 2], x: (f64, f64), y: (f64, f64)) -> f64 {
    let to_rectangle = |s: [f64; 2]| {
        let dx = (x.0 - s[0]).max(s[0] - x.1).max(0.0);
        let dy = (y.0 - s[1]).max(s[1] - y.1).max(0.0);
        dx.hypot(dy)
    };
    if crosses(p, q, x, y) {
        return 0.0;
    }
    let to_segment = |c: [f64; 2]| {
        let (dx, dy) = (q[0] - p[0], q[1] - p[1]);
        let square = dx * dx + dy * dy;
        let t = if square == 0.0 { 0.0 } else { (((c[0] - p[0]) * dx + (c[1] - p[1]) * dy) / square).clamp(0.0, 1.0) };
        (c[0] - p[0] - dx * t).hypot(c[1] - p[1] - dy * t)
    };
    let corners = [[x.0, y.0], [x.1, y.0], [x.1, y.1], [x.0, y.1]];
    corners.into_iter().map(to_segment).chain([to_rectangle(p), to_rectangle(q)]).fold(f64::INFINITY, f64::min)
}

/// Whether a segment has a point inside a rectangle: what is left of it after its four sides have been cut off.
fn crosses(p: [f64; 2], q: [f64; 2], x: (f64, f64), y: (f64, f64)) -> bool {
    let (mut from, mut to) = (0.0f64, 1.0f64);
    for (s, e, (low, high)) in [(p[0], q[0], x), (p[1], q[1], y)] {
        let run = e - s;
        if run == 0.0 {
            if s < low || s > high {
                return false;
            }
            continue;
        }
        let (t, u) = ((low - s) / run, (high - s) / run);
        from = from.max(t.min(u));
        to = to.min(t.max(u));
    }
    from <= to
}

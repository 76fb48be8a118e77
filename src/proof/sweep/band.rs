//! Where a cutter can run beside an outline: the finished edge, a tolerance out, as far as a cutter of one radius reaches it.

use super::probe::Opening;
use crate::proof::job::{Operation, Part};
use crate::proof::limits;
use crate::proof::shape::{Bounds, Pt};

/// Chord error of an outline here: the finer, the nearer to a round relief just wide enough for the cutter.
const CHORD: f64 = 0.002;
/// How much nearer than its radius a cutter's centre may come to the outline's chords.
const ROOM: f64 = 0.03;

/// What a cutter of one radius must open beside a part; the same for all copies.
#[derive(Clone, Debug)]
pub(super) struct Band {
    pub(super) radius: f64,
    /// In order round the part, each with the direction out of the part.
    pub(super) lines: Vec<Line>,
    /// Length of the outline.
    pub(super) around: f64,
}

/// A straight stretch beside the outline.
#[derive(Clone, Copy, Debug)]
pub(super) struct Line {
    pub(super) a: Pt,
    pub(super) b: Pt,
    /// Of length one.
    pub(super) out: Pt,
    /// Where `a` is, along the outline.
    pub(super) place: f64,
}

impl Line {
    pub(super) fn length(&self) -> f64 {
        self.a.distance(self.b)
    }

    /// By how much the way turns away from the part from this stretch to the next, in radians; negative at a hollow.
    pub(super) fn bend(&self, next: &Self) -> f64 {
        let cross = |p: Pt, q: Pt| p.x * q.y - p.y * q.x;
        let along = Pt::new(self.b.x - self.a.x, self.b.y - self.a.y);
        let turn = cross(self.out, next.out).atan2(self.out.x * next.out.x + self.out.y * next.out.y);
        if cross(along, self.out) < 0.0 {
            turn
        } else {
            -turn
        }
    }

    /// The same stretch further out.
    pub(super) fn moved(&self, by: f64) -> (Pt, Pt) {
        let to = |p: Pt| Pt::new(p.x + self.out.x * by, p.y + self.out.y * by);
        (to(self.a), to(self.b))
    }
}

impl Band {
    pub(super) fn of(part: &Part, radius: f64) -> Self {
        let mut edges: Vec<Line> = Vec::new();
        let mut around = 0.0;
        for contour in part.contours.iter().filter(|c| c.operation == Operation::ThroughOutside) {
            let points = contour.ring.flattened_to(CHORD);
            let turn = if contour.ring.area() < 0.0 { -1.0 } else { 1.0 };
            for (k, a) in points.iter().enumerate() {
                let b = points[(k + 1) % points.len()];
                let length = a.distance(b);
                if length > 0.0 {
                    let out = Pt::new((b.y - a.y) / length * turn, (a.x - b.x) / length * turn);
                    edges.push(Line { a: *a, b, out, place: around });
                    around += length;
                }
            }
        }
        let centre = (radius - ROOM).max(limits::CUT);
        let taken = Opening::around(edges.iter().map(|e| (e.a, e.b)), centre - limits::SAME_POINT);
        let (mut lines, mut spare, mut free) = (Vec::new(), Vec::new(), Vec::new());
        for edge in &edges {
            free.clear();
            let (a, b) = edge.moved(centre);
            taken.gaps(a, b, &mut spare, &mut free);
            for (a, b) in &free {
                let back = Line { a: *a, b: *b, ..*edge };
                let (a, b) = back.moved(limits::CUT - centre);
                let place = edge.place + a.distance(edge.moved(limits::CUT).0);
                lines.push(Line { a, b, place, ..*edge });
            }
        }
        Self { radius, lines, around }
    }

    /// What an opening leaves of the lines, on the sheet.
    pub(super) fn left(&self, opening: &Opening, sheet: Bounds) -> Vec<Line> {
        left(&self.lines, opening, sheet)
    }
}

/// What an opening leaves of lines, on the sheet.
pub(super) fn left(lines: &[Line], opening: &Opening, sheet: Bounds) -> Vec<Line> {
    let (mut left, mut spare, mut gaps) = (Vec::new(), Vec::new(), Vec::new());
    for line in lines {
        gaps.clear();
        opening.gaps(line.a, line.b, &mut spare, &mut gaps);
        let kept = gaps.iter().filter_map(|(a, b)| clipped(sheet, *a, *b));
        left.extend(kept.map(|(a, b)| Line { a, b, place: line.place + line.a.distance(a), ..*line }));
    }
    left
}

/// The stretch of a line that lies on the sheet.
fn clipped(sheet: Bounds, a: Pt, b: Pt) -> Option<(Pt, Pt)> {
    if sheet.holds(a) && sheet.holds(b) {
        return Some((a, b));
    }
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (p, q, low, high) in [(a.x, b.x, sheet.min.x, sheet.max.x), (a.y, b.y, sheet.min.y, sheet.max.y)] {
        if (q - p).abs() < limits::SAME_POINT {
            if p < low || p > high {
                return None;
            }
            continue;
        }
        let (s, t) = ((low - p) / (q - p), (high - p) / (q - p));
        from = from.max(s.min(t));
        to = to.min(s.max(t));
    }
    let at = |share: f64| Pt::new(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share);
    (from < to).then(|| (at(from), at(to)))
}

//! What surrounds a cut on the sheet: edges that must not be touched, and stretches that must stay free of marks.

use super::path::{Path, Seg};
use crate::geom::tolerance;
use crate::geom::{Contour, Point, Rect, Vec2, Vertex};
use crate::shop::HoldDown;

/// How many pieces an arc is looked at in, to see which of it lies beside a clean stretch.
const ARC_PIECES: u32 = 8;

/// Surroundings of one cut along a way, program frame.
#[derive(Debug)]
pub(super) struct Room {
    /// Finished edges, this cut's own included, from which the tool centre must keep its radius, with their bounds.
    edges: Vec<(Rect, Seg)>,
    /// Where those of other parts begin among them.
    others: usize,
    /// Radius of the cutter.
    pub(super) radius: f64,
    /// The sheet.
    sheet: Rect,
    /// Stretches of the way, from and to, beside which no tab, entry or exit mark may come; in order, apart.
    clean: Vec<(f64, f64)>,
    /// Length of the way.
    around: f64,
    /// Which side of the way is waste: 1 left, -1 right.
    waste: f64,
    /// Leads of other cuts near it, with their cutters' radii.
    leads: Vec<(Seg, f64)>,
    /// Whether the waste round it comes loose in the end: its part lies in another's opening.
    pub(super) hangs: bool,
}

/// How far from a way anything matters to it: for leads, and for what stands behind a tab.
pub(super) fn reach(radius: f64, hold_down: &HoldDown) -> f64 {
    let tab = match hold_down {
        HoldDown::Tabs { length, .. } => length.0,
        HoldDown::Skin { .. } => 0.0,
    };
    4.0 * radius + tab / 2.0
}

impl Room {
    /// Round a way: edges near it, its own part's and other parts', the sheet, and where no mark may come.
    pub(super) fn new(
        path: &Path,
        [own, others]: [&[Contour]; 2],
        clean: &[Rect],
        sheet: Rect,
        radius: f64,
        waste: f64,
    ) -> Self {
        let segs = |(v, to): (Vertex, Point)| {
            let seg = Seg { from: Point::new(v.x, v.y), to, bulge: v.bulge };
            (seg.bounds(), seg)
        };
        let mut edges: Vec<(Rect, Seg)> = own.iter().flat_map(Contour::segments).map(segs).collect();
        let first = edges.len();
        edges.extend(others.iter().flat_map(Contour::segments).map(segs));
        Self {
            edges,
            others: first,
            radius,
            sheet,
            clean: clean_stretches(path, clean, radius, waste),
            around: path.length(),
            waste,
            leads: Vec::new(),
            hangs: false,
        }
    }

    /// The same, with leads of other cuts near it, and whether the waste it lies in comes loose.
    pub(super) fn beside(self, leads: Vec<(Seg, f64)>, hangs: bool) -> Self {
        Self { leads, hangs, ..self }
    }

    /// Whether no lead of another cut takes anything of a tab of a length whose middle the tool centre passes at a point.
    pub(super) fn whole(&self, middle: Point, length: f64) -> bool {
        self.leads.iter().all(|(lead, r)| lead.distance_to(middle) >= r + self.radius + length / 2.0)
    }

    /// Whether such a tab holds on to something to the end: behind it stays wood for half its length, on the sheet and when the
    /// parts beside are cut out.
    pub(super) fn stands(&self, middle: Point, length: f64) -> bool {
        let behind = self.radius + length / 2.0 - tolerance::SAME_POINT;
        let reach = 2.0 * self.radius + behind;
        let near = Rect::from_points(middle, middle).inflate(reach, reach);
        let mut beside = self.edges[self.others..].iter().filter(|(b, _)| meets(*b, near));
        self.sheet.inflate(-behind, -behind).contains(middle) && beside.all(|(_, edge)| edge.distance_to(middle) >= reach)
    }

    /// Whether the edge beside a place may carry a mark.
    pub(super) fn markable(&self, place: f64) -> bool {
        self.markable_along(place, place)
    }

    /// Whether the edge beside all of a stretch of the way may carry a mark.
    pub(super) fn markable_along(&self, from: f64, to: f64) -> bool {
        let start = from.rem_euclid(self.around);
        let free = |a: f64, b: f64| {
            let next = self.clean.partition_point(|(_, end)| *end < a);
            self.clean.get(next).is_none_or(|(begin, _)| *begin > b)
        };
        let end = start + (to - from);
        free(start, end) && (end <= self.around || free(0.0, end - self.around))
    }

    /// The quarter arc that comes in from waste and meets the way at a place going along it, when there is room.
    pub(super) fn lead_in(&self, path: &Path, place: f64) -> Option<Seg> {
        let (p, way) = (path.at(place), path.direction(place));
        let side = Vec2::new(-way.y, way.x) * self.waste;
        [1.0, 0.5].iter().map(|f| f * self.radius).find_map(|r| {
            let seg = Seg { from: p + (side - way) * r, to: p, bulge: quarter(self.waste) };
            self.free(&seg).then_some(seg)
        })
    }

    /// The quarter arc that leaves the way at a place into waste, when there is room.
    pub(super) fn lead_out(&self, path: &Path, place: f64) -> Option<Seg> {
        let (p, way) = (path.at(place), path.direction(place));
        let side = Vec2::new(-way.y, way.x) * self.waste;
        [1.0, 0.5].iter().map(|f| f * self.radius).find_map(|r| {
            let seg = Seg { from: p, to: p + (side + way) * r, bulge: quarter(self.waste) };
            self.free(&seg).then_some(seg)
        })
    }

    /// Whether the cutter may run along a lead without touching a finished edge or leaving the sheet.
    pub(super) fn free(&self, lead: &Seg) -> bool {
        let reach = lead.bounds().inflate(self.radius, self.radius);
        let near: Vec<&Seg> = self.edges.iter().filter(|(b, _)| meets(*b, reach)).map(|(_, seg)| seg).collect();
        (0..=8)
            .map(|i| lead.at(f64::from(i) / 8.0))
            .all(|p| self.sheet.contains(p) && near.iter().all(|e| e.distance_to(p) >= self.radius - tolerance::PATH_STEP))
    }
}

fn meets(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

/// Bulge of a quarter turn to the left (1) or right (-1).
fn quarter(side: f64) -> f64 {
    side * (std::f64::consts::FRAC_PI_8).tan()
}

/// Stretches of a way whose finished edge lies in one of the rectangles; an arc counts piece by piece.
fn clean_stretches(path: &Path, clean: &[Rect], radius: f64, waste: f64) -> Vec<(f64, f64)> {
    let clean: Vec<Rect> = clean.iter().map(|r| r.inflate(tolerance::EDGE_REACHED, tolerance::EDGE_REACHED)).collect();
    let mut found: Vec<(f64, f64)> = Vec::new();
    for (start, seg) in path.segments() {
        let length = seg.length();
        let edge = |share: f64| {
            let way = seg.direction(share);
            seg.at(share) + Vec2::new(way.y, -way.x) * (waste * radius)
        };
        let pieces = if seg.is_line() { 1 } else { ARC_PIECES };
        for k in 0..pieces {
            let (a, b) = (f64::from(k) / f64::from(pieces), f64::from(k + 1) / f64::from(pieces));
            let (from, to) = (edge(a), edge(b));
            let bounds = Rect::from_points(from, to);
            for rect in clean.iter().filter(|r| meets(**r, bounds)) {
                if let Some((u, v)) = inside(from, to, *rect) {
                    found.push((start + length * (a + (b - a) * u), start + length * (a + (b - a) * v)));
                }
            }
        }
    }
    found.sort_by(|x, y| x.0.total_cmp(&y.0));
    let mut apart: Vec<(f64, f64)> = Vec::new();
    for (from, to) in found {
        match apart.last_mut() {
            Some(last) if from <= last.1 + tolerance::PATH_STEP => last.1 = last.1.max(to),
            _ => apart.push((from, to)),
        }
    }
    apart
}

/// The stretch of a straight line that lies in a rectangle, as shares of its length.
fn inside(from: Point, to: Point, r: Rect) -> Option<(f64, f64)> {
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (at, step, low, high) in [(from.x, to.x - from.x, r.x0, r.x1), (from.y, to.y - from.y, r.y0, r.y1)] {
        if step.abs() < tolerance::NO_MOVE {
            if at < low || at > high {
                return None;
            }
        } else {
            let (a, b) = ((low - at) / step, (high - at) / step);
            enter = enter.max(a.min(b));
            leave = leave.min(a.max(b));
        }
    }
    (enter <= leave).then_some((enter, leave))
}

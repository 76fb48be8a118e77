//! What surrounds a cut on the sheet: edges that must not be touched, and stretches that must stay free of marks.

use super::path::{Path, Seg};
use crate::geom::tolerance;
use crate::geom::{Contour, Point, Rect};

/// Surroundings of one cut, program frame.
#[derive(Debug)]
pub(super) struct Room {
    /// Finished edges, this cut's own included, from which the tool centre must keep its radius.
    pub(super) edges: Vec<Contour>,
    /// Radius of the cutter.
    pub(super) radius: f64,
    /// The sheet.
    pub(super) sheet: Rect,
    /// Where no tab, entry or exit mark may come.
    pub(super) clean: Vec<Rect>,
    /// Which side of the way is waste: 1 left, -1 right.
    pub(super) waste: f64,
}

impl Room {
    /// The point of the finished edge beside a place of the way.
    pub(super) fn edge_point(&self, path: &Path, place: f64) -> Point {
        let way = path.direction(place);
        path.at(place) + crate::geom::Vec2::new(way.y, -way.x) * (self.waste * self.radius)
    }

    /// Whether the edge beside a place may carry a mark.
    pub(super) fn markable(&self, path: &Path, place: f64) -> bool {
        let p = self.edge_point(path, place);
        !self.clean.iter().any(|r| r.inflate(tolerance::EDGE_REACHED, tolerance::EDGE_REACHED).contains(p))
    }

    /// The quarter arc that comes in from waste and meets the way at a place going along it, when there is room.
    pub(super) fn lead_in(&self, path: &Path, place: f64) -> Option<Seg> {
        let (p, way) = (path.at(place), path.direction(place));
        let side = crate::geom::Vec2::new(-way.y, way.x) * self.waste;
        [1.0, 0.5].iter().map(|f| f * self.radius).find_map(|r| {
            let seg = Seg { from: p + (side - way) * r, to: p, bulge: quarter(self.waste) };
            self.free(&seg).then_some(seg)
        })
    }

    /// The quarter arc that leaves the way at a place into waste, when there is room.
    pub(super) fn lead_out(&self, path: &Path, place: f64) -> Option<Seg> {
        let (p, way) = (path.at(place), path.direction(place));
        let side = crate::geom::Vec2::new(-way.y, way.x) * self.waste;
        [1.0, 0.5].iter().map(|f| f * self.radius).find_map(|r| {
            let seg = Seg { from: p, to: p + (side + way) * r, bulge: quarter(self.waste) };
            self.free(&seg).then_some(seg)
        })
    }

    /// Whether the cutter may run along a lead without touching a finished edge or leaving the sheet.
    fn free(&self, seg: &Seg) -> bool {
        (0..=8).map(|i| seg.at(f64::from(i) / 8.0)).all(|p| {
            self.sheet.contains(p) && self.edges.iter().all(|e| e.distance_to(p) >= self.radius - tolerance::PATH_STEP)
        })
    }
}

/// Bulge of a quarter turn to the left (1) or right (-1).
fn quarter(side: f64) -> f64 {
    side * (std::f64::consts::FRAC_PI_8).tan()
}

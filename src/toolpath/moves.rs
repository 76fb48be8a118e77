//! Puts the moves of one block together: every block starts and ends at clearance height.

use super::path::{Path, Seg};
use super::Move;
use crate::geom::tolerance;
use crate::geom::{Point, Point3};

/// Feeds of one cut, mm/min.
#[derive(Clone, Copy, Debug)]
pub(super) struct Feeds {
    /// In the plane, at depth.
    pub(super) cut: f64,
    /// While going down along a ramp.
    pub(super) ramp: f64,
    /// Straight down, centre-cutting tools only.
    pub(super) plunge: f64,
    /// Through air, below clearance.
    pub(super) air: f64,
}

/// Moves of one block while they are put together.
#[derive(Debug)]
pub(super) struct Moves {
    pub(super) start: Point,
    pub(super) list: Vec<Move>,
    pub(super) here: Point3,
    pub(super) feeds: Feeds,
    clearance: f64,
}

impl Moves {
    /// Stands at clearance height over `start`.
    pub(super) fn new(start: Point, clearance: f64, feeds: Feeds) -> Self {
        Self { start, list: Vec::new(), here: Point3::new(start.x, start.y, clearance), feeds, clearance }
    }

    pub(super) fn plane(&self) -> Point {
        Point::new(self.here.x, self.here.y)
    }

    fn push(&mut self, m: Move) {
        match m {
            Move::Rapid { to } | Move::Line { to, .. } | Move::Arc { to, .. } => self.here = to,
            Move::Drill { retract, .. } => self.here.z = retract.0,
        }
        self.list.push(m);
    }

    /// Straight up to clearance height.
    pub(super) fn up(&mut self) {
        if self.here.z < self.clearance {
            self.push(Move::Rapid { to: Point3::new(self.here.x, self.here.y, self.clearance) });
        }
    }

    /// At clearance height to over another point.
    pub(super) fn over(&mut self, p: Point) {
        self.up();
        if (p - self.plane()).hypot() > tolerance::NO_MOVE {
            self.push(Move::Rapid { to: Point3::new(p.x, p.y, self.clearance) });
        }
    }

    /// At clearance height to the start of more moves, and those.
    pub(super) fn then(&mut self, more: Moves) {
        self.over(more.start);
        self.list.extend(more.list);
        self.here = more.here;
    }

    /// Straight down (or up) through air.
    pub(super) fn air_to(&mut self, z: f64) {
        let feed = self.feeds.air;
        self.height(z, feed);
    }

    /// Straight down into wood.
    pub(super) fn plunge(&mut self, z: f64) {
        let feed = self.feeds.plunge;
        self.height(z, feed);
    }

    fn height(&mut self, z: f64, feed: f64) {
        if (z - self.here.z).abs() > tolerance::NO_MOVE {
            self.push(Move::Line { to: Point3::new(self.here.x, self.here.y, z), feed });
        }
    }

    /// Straight in the plane, cutting.
    pub(super) fn straight(&mut self, p: Point) {
        if (p - self.plane()).hypot() > tolerance::PATH_STEP {
            self.push(Move::Line { to: Point3::new(p.x, p.y, self.here.z), feed: self.feeds.cut });
        }
    }

    /// Along a segment at the height it stands at.
    pub(super) fn along(&mut self, seg: &Seg, feed: f64) {
        self.push(seg.cutting(self.here.z, feed));
    }

    pub(super) fn drill(&mut self, m: Move) {
        self.push(m);
    }

    /// Along a way with heights given at places: straight between them, backwards where a place is
    /// before the one it follows. The tool must stand at the first place.
    pub(super) fn follow(&mut self, path: &Path, heights: &[(f64, f64)]) {
        for pair in heights.windows(2) {
            let ((from, z0), (to, z1)) = (pair[0], pair[1]);
            let feed = if z1 < z0 - tolerance::NO_MOVE { self.feeds.ramp } else { self.feeds.cut };
            let length = (to - from).abs();
            let mut segs = path.stretch(from.min(to), from.max(to));
            if to < from {
                segs = segs.iter().rev().map(Seg::reversed).collect();
            }
            let mut done = 0.0;
            for seg in segs {
                done += seg.length();
                self.push(seg.cutting(z0 + (z1 - z0) * (done / length).min(1.0), feed));
            }
        }
    }
}

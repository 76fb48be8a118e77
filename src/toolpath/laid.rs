//! A part where it lies: from its own frame to the program frame.

use super::cuts;
use super::store::Of;
use super::Move;
use crate::flat::{FlatCut, FlatPart, Operation};
use crate::geom::{Contour, Point, Point3, Rect, Region, Vec2};
use crate::nest::Placement;

/// A part in the program frame.
#[derive(Debug)]
pub(super) struct Laid<'a> {
    pub(super) part: &'a FlatPart,
    /// Index into the flat parts.
    pub(super) index: usize,
    pub(super) copy: u32,
    pub(super) place: Place,
    pub(super) outline: Contour,
    /// In how many other parts' openings it lies.
    pub(super) nested: u32,
    /// The outermost part around it, or itself; an index of the sheet's placements.
    pub(super) outermost: usize,
}

/// From a part's frame to the program frame: first turned over (y becomes −y) where the sheet is, which gives the face frame;
/// then turned by quarters; then moved.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place {
    over: bool,
    turns: u32,
    by: Vec2,
}

impl Place {
    /// On a sheet that lies as nested, or turned over about its x axis, given its width.
    pub(super) fn new(p: &Placement, over: Option<f64>) -> Self {
        let (turns, by) = (p.turn.quarters(), p.at.to_vec2());
        match over {
            None => Self { over: false, turns, by },
            Some(width) => Self { over: true, turns: (4 - turns) % 4, by: Vec2::new(by.x, width - by.y) },
        }
    }

    /// From the part's frame to its face frame, turning sense kept.
    fn face(&self, c: &Contour) -> Contour {
        if self.over {
            c.mirrored_x().quarter_turned(2)
        } else {
            c.clone()
        }
    }

    /// From the face frame to the program frame.
    fn lay(&self, c: &Contour) -> Contour {
        c.quarter_turned(self.turns).moved(self.by)
    }

    /// From the face frame to the program frame.
    pub(super) fn lay_point(&self, p: Point) -> Point {
        let (x, y) = match self.turns % 4 {
            0 => (p.x, p.y),
            1 => (-p.y, p.x),
            2 => (-p.x, -p.y),
            _ => (p.y, -p.x),
        };
        Point::new(x, y) + self.by
    }

    /// From the face frame back to the part's; the same the other way.
    pub(super) fn unfaced(&self, p: Point) -> Point {
        if self.over {
            Point::new(p.x, -p.y)
        } else {
            p
        }
    }

    pub(super) fn contour(&self, c: &Contour) -> Contour {
        self.lay(&self.face(c))
    }

    fn point(&self, p: Point) -> Point {
        self.lay_point(self.unfaced(p))
    }

    pub(super) fn rect(&self, r: Rect) -> Rect {
        Rect::from_points(self.point(Point::new(r.x0, r.y0)), self.point(Point::new(r.x1, r.y1)))
    }
}

impl Laid<'_> {
    /// From the part's frame to the program frame.
    pub(super) fn contour(&self, c: &Contour) -> Contour {
        self.place.contour(c)
    }

    pub(super) fn point(&self, p: Point) -> Point {
        self.place.point(p)
    }

    /// From the face frame to the program frame.
    pub(super) fn lay(&self, c: &Contour) -> Contour {
        self.place.lay(c)
    }

    pub(super) fn lay_move(&self, m: Move) -> Move {
        let to_point = |p: Point3| {
            let q = self.place.lay_point(Point::new(p.x, p.y));
            Point3::new(q.x, q.y, p.z)
        };
        match m {
            Move::Rapid { to } => Move::Rapid { to: to_point(to) },
            Move::Line { to, feed } => Move::Line { to: to_point(to), feed },
            Move::Arc { to, centre, ccw, feed } => {
                Move::Arc { to: to_point(to), centre: self.place.lay_point(centre), ccw, feed }
            }
            Move::Drill { .. } => m,
        }
    }

    /// Which cut of which part, under which face.
    pub(super) fn of(&self, cut: &FlatCut) -> Of {
        let cut = self.part.cuts.iter().position(|c| std::ptr::eq(c, cut));
        Of { part: self.index, cut, over: self.place.over }
    }

    /// The shape a cut leaves, in the face frame, with its islands; a pocket is run out where it is open at the part's edge.
    pub(super) fn region(&self, cut: &FlatCut, radius: f64) -> Region {
        let edge = self.place.face(&cut.contour);
        let Operation::Pocket { .. } = cut.operation else { return Region::new(edge, Vec::new()) };
        let islands = cut.islands.iter().map(|c| self.place.face(c)).collect();
        let outline = self.place.face(&self.part.outline.contour);
        Region::new(cuts::run_out(&edge, &outline, radius).unwrap_or(edge), islands)
    }
}

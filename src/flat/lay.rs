//! Which face lies up, and from the panel frame to the part's own.

use super::cuts::Cut;
use super::{FlatCut, Operation, Seat, Side};
use crate::geom::{Contour, Point, Rect, Vec2};
use crate::parts::{Face, PanelEdge};

/// The way from the panel frame to the part frame: mirrored (x becomes length − x) when face B is up, then moved so that the
/// outline's bounds start at 0, 0.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lay {
    pub(super) up: Face,
    by: Vec2,
}

impl Lay {
    /// The face with more to do lies up, face A when they are equal: each feature on the lower face costs a second set-up.
    /// Screw seats weigh least, since a hand countersink makes them without turning the sheet over.
    pub(super) fn choose(cuts: &[Cut], outline: &Contour) -> Self {
        let seat = |c: &Cut| matches!(c.flat.operation, Operation::Countersink { .. });
        let count = |face| {
            let (seats, others): (Vec<&Cut>, Vec<&Cut>) =
                cuts.iter().filter(|c| c.face == Some(face)).partition(|c| seat(c));
            (others.len(), seats.len())
        };
        let up = if count(Face::B) > count(Face::A) { Face::B } else { Face::A };
        let b = outline.bounds();
        // Mirrored about x = 0 the bounds run from −x1.
        let by = if up == Face::B { Vec2::new(b.x1, -b.y0) } else { Vec2::new(-b.x0, -b.y0) };
        Self { up, by }
    }

    /// A contour, its turning sense kept.
    pub(super) fn contour(&self, contour: &Contour) -> Contour {
        if self.up == Face::B {
            contour.mirrored_x().moved(self.by)
        } else {
            contour.moved(self.by)
        }
    }

    fn point(&self, p: Point) -> Point {
        let x = if self.up == Face::B { -p.x } else { p.x };
        Point::new(x, p.y) + self.by
    }

    /// A rectangle.
    pub(super) fn rect(&self, r: Rect) -> Rect {
        Rect::from_points(self.point(Point::new(r.x0, r.y0)), self.point(Point::new(r.x1, r.y1)))
    }

    /// A seat.
    pub(super) fn seat(&self, seat: &Seat) -> Seat {
        Seat { shape: self.contour(&seat.shape), mate: seat.mate.clone() }
    }

    /// Sides in the order bottom, right, top, left.
    pub(super) fn sides(&self, [bottom, right, top, left]: [bool; 4]) -> [bool; 4] {
        if self.up == Face::B {
            [bottom, left, top, right]
        } else {
            [bottom, right, top, left]
        }
    }

    /// A cut, with its side; through cuts are made from above.
    pub(super) fn cut(&self, cut: Cut) -> FlatCut {
        let mut flat = cut.flat;
        flat.side = if cut.face.is_none_or(|face| face == self.up) { Side::Up } else { Side::Down };
        flat.contour = self.contour(&flat.contour);
        flat.seats = flat.seats.map(|seat| self.seat(&seat));
        flat.operation = match flat.operation {
            Operation::Drill { at, diameter, depth } => Operation::Drill { at: self.point(at), diameter, depth },
            Operation::Countersink { at, diameter } => Operation::Countersink { at: self.point(at), diameter },
            other => other,
        };
        flat
    }
}

/// A thin strip along one edge of a rectangle, reaching `reach` mm to either side and beyond its ends.
pub(super) fn strip(edge: PanelEdge, b: Rect, reach: f64) -> Rect {
    let r = b.inflate(reach, reach);
    match edge {
        PanelEdge::Bottom => Rect::new(r.x0, b.y0 - reach, r.x1, b.y0 + reach),
        PanelEdge::Top => Rect::new(r.x0, b.y1 - reach, r.x1, b.y1 + reach),
        PanelEdge::Left => Rect::new(b.x0 - reach, r.y0, b.x0 + reach, r.y1),
        PanelEdge::Right => Rect::new(b.x1 - reach, r.y0, b.x1 + reach, r.y1),
    }
}

//! From the bay to paper: the corner one looks from, on an integer grid.

use crate::geom::{Box3, Point3};
use clipper2_rust::Point64;

/// Grid steps per mm of the bay: finer than any size the book prints.
const STEPS: f64 = 100.0;
/// Paper steps to the right for a step along either floor axis, and up for a step into the depth: the integers whose ratio is
/// nearest to that of an isometric view, cos 30° to sin 30°, among small ones (26/15 = 1.733 for 1.732).
const ACROSS: i64 = 26;
/// Up the paper for a step along a floor axis.
const SLOPE: i64 = 15;
/// Up the paper for a step of height.
const RISE: i64 = 30;
/// Paper steps per mm: floor axes and height are drawn alike long (26² + 15² is 30² to a thousandth).
pub(super) const PAPER: f64 = STEPS * 30.0;

/// The corner one looks from, standing at the load opening and looking in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::write::book) struct View {
    /// From the rear of the unit instead of its front.
    pub(in crate::write::book) rear: bool,
    /// From the left instead of the right.
    pub(in crate::write::book) left: bool,
    /// From below instead of above.
    pub(in crate::write::book) below: bool,
}

impl View {
    /// From the front, the right and above: how most pictures are drawn.
    pub(in crate::write::book) const USUAL: Self = Self { rear: false, left: false, below: false };

    /// In words.
    pub(in crate::write::book) fn words(self) -> String {
        format!(
            "seen from the {}, the {} and {}",
            if self.rear { "rear" } else { "front" },
            if self.left { "left" } else { "right" },
            if self.below { "below" } else { "above" }
        )
    }

    /// A point with the floor turned so that the viewer stands at large x and small y, in grid steps.
    fn turned(self, p: Point3) -> [i64; 3] {
        let (x, y) = match (self.rear, self.left) {
            (false, false) => (p.x, p.y),
            (false, true) => (-p.y, p.x),
            (true, false) => (p.y, -p.x),
            (true, true) => (-p.x, -p.y),
        };
        [x, y, p.z].map(|c| (c * STEPS).round() as i64)
    }

    /// A box as it stands before the viewer.
    pub(super) fn block(self, solid: &Box3) -> Block {
        let (a, b) = (self.turned(solid.min), self.turned(solid.max));
        let pick = |f: fn(i64, i64) -> i64| [f(a[0], b[0]), f(a[1], b[1]), f(a[2], b[2])];
        Block { min: pick(i64::min), max: pick(i64::max) }
    }

    /// A point on paper, y up.
    pub(super) fn paper(self, p: [i64; 3]) -> Point64 {
        let slope = if self.below { -SLOPE } else { SLOPE };
        Point64::new(ACROSS * (p[0] + p[1]), slope * (p[1] - p[0]) + RISE * p[2])
    }

    /// A point of the paper along the normals of the three directions in which edges are drawn, each in steps of its own.
    pub(super) fn across_edges(p: &Point64) -> [i64; 3] {
        [p.x, SLOPE * p.x + ACROSS * p.y, SLOPE * p.x - ACROSS * p.y]
    }

    /// A point of the bay on paper, y up.
    pub(super) fn point(self, p: Point3) -> Point64 {
        self.paper(self.turned(p))
    }
}

/// A box in grid steps, the viewer at large x, small y and large (or from below, small) z.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Block {
    pub(super) min: [i64; 3],
    pub(super) max: [i64; 3],
}

/// The three sides of a box that can be seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Side {
    /// Across x.
    Right,
    /// Across y.
    Front,
    /// Across z: the top, or from below the underside.
    Level,
}

impl Side {
    pub(super) const ALL: [Self; 3] = [Self::Right, Self::Front, Self::Level];

    fn axis(self) -> usize {
        match self {
            Self::Right => 0,
            Self::Front => 1,
            Self::Level => 2,
        }
    }

    /// Whether the side faces the upper end of its axis.
    fn up(self, view: View) -> bool {
        match self {
            Self::Right => true,
            Self::Front => false,
            Self::Level => !view.below,
        }
    }
}

impl Block {
    /// Where a side's plane is.
    pub(super) fn plane(&self, side: Side, view: View) -> i64 {
        if side.up(view) {
            self.max[side.axis()]
        } else {
            self.min[side.axis()]
        }
    }

    /// What of the box lies on the viewer's side of a plane.
    pub(super) fn before(&self, side: Side, plane: i64, view: View) -> Option<Self> {
        let (mut cut, i) = (*self, side.axis());
        if side.up(view) {
            cut.min[i] = cut.min[i].max(plane);
        } else {
            cut.max[i] = cut.max[i].min(plane);
        }
        (cut.min[i] < cut.max[i]).then_some(cut)
    }

    /// Whether all of it lies on the viewer's side of a plane.
    pub(super) fn is_before(&self, side: Side, plane: i64, view: View) -> bool {
        let i = side.axis();
        if side.up(view) {
            self.min[i] >= plane
        } else {
            self.max[i] <= plane
        }
    }

    /// A side on paper.
    pub(super) fn face(&self, side: Side, view: View) -> Vec<Point64> {
        let i = side.axis();
        let (j, k) = ((i + 1) % 3, (i + 2) % 3);
        let plane = self.plane(side, view);
        let corner = |a: i64, b: i64| {
            let mut p = [0; 3];
            (p[i], p[j], p[k]) = (plane, a, b);
            view.paper(p)
        };
        let (min, max) = (self.min, self.max);
        counter_clockwise(vec![
            corner(min[j], min[k]),
            corner(max[j], min[k]),
            corner(max[j], max[k]),
            corner(min[j], max[k]),
        ])
    }

    /// The box's outline on paper: a hexagon.
    pub(super) fn outline(&self, view: View) -> Vec<Point64> {
        let ([x0, y0, z0], [x1, y1, z1]) = (self.min, self.max);
        let (low, high) = if view.below { (z1, z0) } else { (z0, z1) };
        let corners = [[x0, y0, low], [x1, y0, low], [x1, y1, low], [x1, y1, high], [x0, y1, high], [x0, y0, high]];
        counter_clockwise(corners.into_iter().map(|p| view.paper(p)).collect())
    }
}

fn counter_clockwise(mut path: Vec<Point64>) -> Vec<Point64> {
    if clipper2_rust::area(&path) < 0.0 {
        path.reverse();
    }
    path
}

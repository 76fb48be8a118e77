//! The arc of a lid.
//!
//! A lid turns about the lower arris of one edge. Its path is followed in steps no larger than the air it has at each, so that
//! nothing of size is stepped over: no point of it moves further in a step than it could without touching.

use super::motion::NEAR;
use super::plane::{apart, rectangle, Quad};
use super::solid::{hull, span};
use crate::design::Edge;
use crate::geom::tolerance::TOUCH;
use crate::geom::{Box3, Point3};
use crate::parts::Lid;

/// A step of the far edge where a lid touches what it lies on, in mm: nothing in a carcass is thinner.
pub(super) const STEP: f64 = 0.5;
/// Halvings that settle where the air is least, from a step to a thousandth of it.
const HALVINGS: usize = 20;

/// A lid with its solids, shut.
pub(super) struct Leaf<'m> {
    pub(super) lid: &'m Lid,
    pub(super) solids: Vec<Box3>,
    /// The axis its hinge lies along: 0 for x, 1 for y.
    pub(super) along: usize,
    /// Its arris in the plane across: x or y, and z.
    arris: [f64; 2],
    /// 1 where the lid reaches to higher x or y from its hinge, -1 where to lower.
    reach: f64,
    /// Its furthest corner from the hinge, in mm.
    pub(super) radius: f64,
}

/// The least air on the way, and the angle it is at.
#[derive(Clone, Copy)]
pub(super) struct Least {
    /// In mm.
    pub(super) air: f64,
    /// In radians from shut.
    pub(super) at: f64,
}

impl<'m> Leaf<'m> {
    pub(super) fn new(lid: &'m Lid, solids: &[Vec<Box3>]) -> Option<Self> {
        let own: Vec<Box3> = lid.panels.iter().flat_map(|id| solids.get(id.0).into_iter().flatten().copied()).collect();
        let top = hull(solids.get(lid.panels.first()?.0)?)?;
        let (along, upper) = match lid.hinge {
            Edge::Front => (0, false),
            Edge::Back => (0, true),
            Edge::Left => (1, false),
            Edge::Right => (1, true),
        };
        let (low, high) = span(&top, 1 - along);
        let arris = [if upper { high } else { low }, top.min.z];
        let far = |b: &Box3| {
            let quad = rectangle(span(b, 1 - along), span(b, 2));
            quad.iter().map(|c| (c[0] - arris[0]).hypot(c[1] - arris[1])).fold(0.0, f64::max)
        };
        let radius = own.iter().map(far).fold(0.0, f64::max);
        let reach = if upper { -1.0 } else { 1.0 };
        (radius > 0.0).then_some(Self { lid, solids: own, along, arris, reach, radius })
    }

    /// One of its solids turned by an angle, in the plane across the hinge.
    fn turned(&self, solid: &Box3, angle: f64) -> Quad {
        let (sin, cos) = angle.sin_cos();
        rectangle(span(solid, 1 - self.along), span(solid, 2)).map(|c| {
            let (out, up) = ((c[0] - self.arris[0]) * self.reach, c[1] - self.arris[1]);
            [self.arris[0] + self.reach * (out * cos - up * sin), self.arris[1] + out * sin + up * cos]
        })
    }

    /// Air to a still solid at an angle.
    fn air_at(&self, solid: &Box3, still: &Box3, angle: f64) -> f64 {
        let ((a, b), (c, d)) = (span(solid, self.along), span(still, self.along));
        // Far walls are endless; only what the lid can reach of them matters.
        let near = |axis: usize, middle: f64| {
            let (low, high) = span(still, axis);
            let most = self.radius + NEAR;
            (low.max(middle - most), high.min(middle + most))
        };
        let (across, up) = (near(1 - self.along, self.arris[0]), near(2, self.arris[1]));
        let beside = (c - b).max(a - d);
        if across.0 >= across.1 || up.0 >= up.1 {
            return NEAR.max(beside);
        }
        apart(&self.turned(solid, angle), &rectangle(across, up)).max(beside)
    }

    /// The least air of its way past a still solid, or the first place where it meets it.
    pub(super) fn past(&self, still: &Box3) -> Option<Least> {
        self.solids.iter().map(|solid| self.one_past(solid, still)).min_by(|a, b| a.air.total_cmp(&b.air))
    }

    fn one_past(&self, solid: &Box3, still: &Box3) -> Least {
        let most = self.lid.angle;
        let mut least = Least { air: f64::INFINITY, at: 0.0 };
        let mut angle = 0.0;
        loop {
            let air = self.air_at(solid, still, angle);
            if air < least.air {
                least = Least { air, at: angle };
            }
            if air < -TOUCH || angle >= most {
                break;
            }
            angle = (angle + ((air - least.air).max(0.0) + STEP) / self.radius).min(most);
        }
        if least.air < -TOUCH {
            return self.first_contact(solid, still, least);
        }
        // The least lies within a step of the least that was seen.
        let (mut low, mut high) = ((least.at - STEP / self.radius).max(0.0), (least.at + STEP / self.radius).min(most));
        for _ in 0..HALVINGS {
            let third = (high - low) / 3.0;
            if self.air_at(solid, still, low + third) < self.air_at(solid, still, high - third) {
                high -= third;
            } else {
                low += third;
            }
        }
        let at = f64::midpoint(low, high);
        let air = self.air_at(solid, still, at);
        if air < least.air {
            Least { air, at }
        } else {
            least
        }
    }

    /// Where a way that was found blocked is blocked first.
    fn first_contact(&self, solid: &Box3, still: &Box3, found: Least) -> Least {
        let (mut low, mut high) = ((found.at - STEP / self.radius).max(0.0), found.at);
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(low, high);
            if self.air_at(solid, still, middle) < -TOUCH {
                high = middle;
            } else {
                low = middle;
            }
        }
        Least { air: found.air, at: low }
    }

    /// The box round all the places it passes.
    pub(super) fn sweep_hull(&self) -> Option<Box3> {
        let whole = hull(&self.solids)?;
        let (mut min, mut max) = (whole.min.to_array(), whole.max.to_array());
        let across = 1 - self.along;
        (min[across], max[across]) = (self.arris[0] - self.radius, self.arris[0] + self.radius);
        (min[2], max[2]) = (self.arris[1] - self.radius, self.arris[1] + self.radius);
        let corner = |c: [f64; 3]| Point3::new(c[0], c[1], c[2]);
        Some(Box3 { min: corner(min), max: corner(max) })
    }

    /// Boxes round its solids, fully open.
    pub(super) fn open(&self) -> Vec<(Quad, (f64, f64))> {
        self.solids.iter().map(|s| (self.turned(s, self.lid.angle), span(s, self.along))).collect()
    }
}

//! Where a panel stands: from bay coordinates to the panel's own and back.

use super::{Feature, FeatureKind, Frame, Panel};
use crate::dim::Dim;
use crate::geom::{Axis, Box3, Point3};
use crate::units::Mm;

/// One axis of a box in the bay: where it begins and how long it is.
#[derive(Clone, Debug)]
pub(super) struct Stretch {
    /// Lower end.
    pub(super) from: Dim,
    /// Length.
    pub(super) size: Dim,
}

impl Stretch {
    pub(super) fn new(from: &Dim, size: &Dim) -> Self {
        Self { from: from.clone(), size: size.clone() }
    }

    pub(super) fn between(from: &Dim, to: &Dim) -> Self {
        Self { from: from.clone(), size: to - from }
    }

    /// Upper end.
    pub(super) fn to(&self) -> Dim {
        &self.from + &self.size
    }

    /// Middle.
    pub(super) fn middle(&self) -> Dim {
        &self.from + &(&self.size * 0.5)
    }
}

/// Which way a panel's face A looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Facing {
    /// To the right: a left-hand side, seen from inside.
    Right,
    /// To the left: a right-hand side, seen from inside.
    Left,
    /// Up: base, shelf, top, bottom.
    Up,
    /// Towards the load opening: fronts and backs.
    Front,
}

impl Facing {
    /// Directions of u and v; w = u × v points where the face looks.
    pub(super) fn axes(self) -> (Axis, Axis) {
        match self {
            Self::Right => (Axis::PlusY, Axis::PlusZ),
            Self::Left => (Axis::MinusY, Axis::PlusZ),
            Self::Up => (Axis::PlusX, Axis::PlusY),
            Self::Front => (Axis::PlusX, Axis::PlusZ),
        }
    }

    /// Index of the axis the thickness lies on, and whether face A is at its upper end.
    fn normal(self) -> (usize, bool) {
        match self {
            Self::Right => (0, true),
            Self::Left => (0, false),
            Self::Up => (2, true),
            Self::Front => (1, false),
        }
    }

    /// Frame of a panel that fills a box.
    pub(super) fn frame(self, block: &[Stretch; 3]) -> Frame {
        let (u, v) = self.axes();
        let (normal, at_top) = self.normal();
        let end = |i: usize, upper: bool| if upper { block[i].to() } else { block[i].from.clone() };
        let mut origin = [Dim::zero(), Dim::zero(), Dim::zero()];
        for (i, place) in origin.iter_mut().enumerate() {
            let upper = if i == normal {
                at_top
            } else {
                let axis = if u.index() == i { u } else { v };
                axis.sign() < 0.0
            };
            *place = end(i, upper);
        }
        Frame { origin, u, v }
    }
}

impl Frame {
    /// The panel coordinate along `axis` (u or v) of a bay coordinate on the same line.
    fn along(&self, axis: Axis, bay: &Dim) -> Dim {
        let origin = &self.origin[axis.index()];
        if axis.sign() > 0.0 {
            bay - origin
        } else {
            origin - bay
        }
    }

    /// Panel coordinates of a point given by its bay coordinates; the one across the panel is not used.
    #[must_use]
    pub fn local(&self, bay: &[Dim; 3]) -> [Dim; 2] {
        [self.along(self.u, &bay[self.u.index()]), self.along(self.v, &bay[self.v.index()])]
    }

    /// Lower left corner and size, in panel coordinates, of a box in the bay.
    #[must_use]
    pub(super) fn local_rect(&self, block: &[Stretch; 3]) -> ([Dim; 2], [Dim; 2]) {
        let one = |axis: Axis| {
            let stretch = &block[axis.index()];
            let near = if axis.sign() > 0.0 { stretch.from.clone() } else { stretch.to() };
            (self.along(axis, &near), stretch.size.clone())
        };
        let ((u, length), (v, width)) = (one(self.u), one(self.v));
        ([u, v], [length, width])
    }

    /// Bay coordinates (nominal) of a point of the panel: u, v in its plane, w out of face A.
    #[must_use]
    pub fn to_bay(&self, u: Mm, v: Mm, w: Mm) -> Point3 {
        let origin = Point3::new(self.origin[0].nominal().0, self.origin[1].nominal().0, self.origin[2].nominal().0);
        let normal = self.u.unit().cross(self.v.unit());
        origin.plus(self.u.unit(), u.0).plus(self.v.unit(), v.0).plus(normal, w.0)
    }
}

impl Panel {
    /// The box the panel fills in the bay, its cuts disregarded; `None` for a panel without a place.
    #[must_use]
    pub(super) fn block(&self) -> Option<[Stretch; 3]> {
        let frame = self.frame.as_ref()?;
        let normal = frame.u.unit().cross(frame.v.unit()).to_array();
        let one = |axis: usize| {
            let (size, up) = if frame.u.index() == axis {
                (&self.length, frame.u.sign() > 0.0)
            } else if frame.v.index() == axis {
                (&self.width, frame.v.sign() > 0.0)
            } else {
                // The thickness lies behind face A.
                (&self.thickness, normal[axis] < 0.0)
            };
            let origin = &frame.origin[axis];
            Stretch { from: if up { origin.clone() } else { origin - size }, size: size.clone() }
        };
        Some([one(0), one(1), one(2)])
    }

    /// The box the panel fills in the bay, at nominal, its cuts disregarded; `None` for a panel without a place.
    #[must_use]
    pub fn solid(&self) -> Option<Box3> {
        let frame = self.frame.as_ref()?;
        let far = frame.to_bay(self.length.nominal(), self.width.nominal(), -self.thickness.nominal());
        Some(Box3::between(frame.to_bay(Mm::ZERO, Mm::ZERO, Mm::ZERO), far))
    }
}

impl Feature {
    /// A point of the feature in panel coordinates: its centre, or the centre of its rectangle.
    #[must_use]
    pub fn centre(&self) -> [Mm; 2] {
        let middle = |at: &[Dim; 2], size: &[Dim; 2]| {
            [at[0].nominal() + size[0].nominal() / 2.0, at[1].nominal() + size[1].nominal() / 2.0]
        };
        match &self.kind {
            FeatureKind::Hole { at, .. } | FeatureKind::Countersunk { at, .. } => [at[0].nominal(), at[1].nominal()],
            FeatureKind::Slot { from, to, .. } => {
                [(from[0].nominal() + to[0].nominal()) / 2.0, (from[1].nominal() + to[1].nominal()) / 2.0]
            }
            FeatureKind::Rectangle { at, size, .. }
            | FeatureKind::EdgeNotch { at, size, .. }
            | FeatureKind::Groove { at, size } => middle(at, size),
            FeatureKind::Free(contour) => {
                let b = contour.bounds();
                [Mm(b.center().x), Mm(b.center().y)]
            }
        }
    }
}

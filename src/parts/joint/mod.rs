//! How two panels meet: one file per joint.
//!
//! Each takes a [`Meeting`] and cuts into both panels; none changes a panel's size.

mod butt;
mod channel;
mod finger;

pub(super) use butt::{screw_length, screwed};
pub(super) use channel::{channel, seated};
pub(super) use finger::{finger_width, fingers, tabs};

use super::builder::Builder;
use super::frame::Stretch;
use super::{Face, PanelEdge, PanelId};
use crate::design::BoardId;
use crate::dim::Dim;
use crate::geom::Axis;
use crate::units::Mm;

/// Where the edge of one panel meets the face (or, at a corner, the edge) of another.
pub(super) struct Meeting {
    /// The panel whose face is met.
    pub(super) field: PanelId,
    /// The panel whose edge meets it.
    pub(super) edge: PanelId,
    /// The box they share, as if the edge went right through the field: one stretch is the field's thickness, one the
    /// edge panel's, one the length they run along each other.
    pub(super) block: [Stretch; 3],
    /// Index of the axis they run along.
    pub(super) run: usize,
}

impl Meeting {
    /// The shared box with another stretch along the run.
    fn at_run(&self, stretch: Stretch) -> [Stretch; 3] {
        let mut block = self.block.clone();
        block[self.run] = stretch;
        block
    }

    /// Index of the axis of the edge panel's thickness.
    fn across(&self, b: &Builder<'_>) -> usize {
        let frame = b.at(self.edge).frame.as_ref();
        frame.map_or(0, |f| 3 - f.u.index() - f.v.index())
    }

    /// Index of the axis of the field's thickness.
    fn through(&self, b: &Builder<'_>) -> usize {
        3 - self.run - self.across(b)
    }

    /// Which of the edge panel's four edges meets the field.
    fn meeting_edge(&self, b: &Builder<'_>) -> PanelEdge {
        let Some(frame) = &b.at(self.edge).frame else { return PanelEdge::Bottom };
        let through = self.through(b);
        let near_low = {
            let (field, edge) = (b.at(self.field).solid(), b.at(self.edge).solid());
            let middle =
                |s: Option<crate::geom::Box3>| s.map_or(0.0, |s| s.min.to_array()[through] + s.max.to_array()[through]);
            middle(field) < middle(edge)
        };
        let pick = |axis: Axis, low: PanelEdge, high: PanelEdge| {
            if (axis.sign() > 0.0) == near_low {
                low
            } else {
                high
            }
        };
        if frame.u.index() == through {
            pick(frame.u, PanelEdge::Left, PanelEdge::Right)
        } else {
            pick(frame.v, PanelEdge::Bottom, PanelEdge::Top)
        }
    }

    /// The field's face that looks towards the edge panel.
    fn inner_face(&self, b: &Builder<'_>) -> Face {
        face_towards(b, self.field, self.edge)
    }
}

/// The face of a panel that looks towards another.
pub(super) fn face_towards(b: &Builder<'_>, panel: PanelId, other: PanelId) -> Face {
    let (Some(own), Some(theirs), Some(frame)) = (b.at(panel).solid(), b.at(other).solid(), &b.at(panel).frame) else {
        return Face::A;
    };
    let normal = frame.u.unit().cross(frame.v.unit()).to_array();
    let towards: f64 = (0..3)
        .map(|i| {
            let middle = |s: &crate::geom::Box3| s.min.to_array()[i] + s.max.to_array()[i];
            normal[i] * (middle(&theirs) - middle(&own))
        })
        .sum();
    if towards >= 0.0 {
        Face::A
    } else {
        Face::B
    }
}

/// The face opposite to another.
pub(super) fn opposite(face: Face) -> Face {
    match face {
        Face::A => Face::B,
        Face::B => Face::A,
    }
}

/// The thickness a slot must take: the thickest reading when there are readings, else the batch's own figure.
pub(super) fn thickest(b: &Builder<'_>, board: BoardId) -> Dim {
    let thickness = b.thickness(board);
    let most = b.design.boards[board.0].readings.iter().copied().fold(thickness.nominal(), Mm::max);
    if most > thickness.nominal() {
        thickness.clone() + Dim::number(most - thickness.nominal(), "thickest reading over the mean")
    } else {
        thickness
    }
}

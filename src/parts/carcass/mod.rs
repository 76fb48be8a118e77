//! A carcass: its outside and clear sizes, its panels and how they meet.

mod anchors;
mod lid;
mod openings;
mod panels;
mod shell;
mod standing;

pub(super) use openings::{CellSpace, Opening};
pub(super) use standing::{fasten_to_below, Layer};

use super::builder::Builder;
use super::frame::Stretch;
use super::{drawer, PanelId};
use crate::design::Carcass;
use crate::dim::Dim;

/// A carcass as built, for what stands on it or slides in it.
pub(super) struct Built {
    /// The carcass without its top's overhang: x, y, z.
    pub(super) block: [Stretch; 3],
    /// The columns' clear openings.
    pub(super) openings: Vec<Opening>,
    /// The base, when there is one.
    pub(super) base: Option<PanelId>,
    /// The top, when there is one.
    pub(super) top: Option<PanelId>,
    /// All uprights, left to right.
    pub(super) uprights: Vec<PanelId>,
    /// The back, when there is one.
    pub(super) back: Option<PanelId>,
    /// Height above this carcass that pull-outs take; grows as they are built.
    pub(super) layer: Option<Dim>,
}

impl Built {
    /// What shows on its upper side: the top, and the ends that come through it.
    pub(super) fn upper_side(&self) -> Vec<PanelId> {
        self.top.iter().chain(&self.uprights).chain(&self.back).copied().collect()
    }

    /// What it stands on: the base, and the ends that come through it.
    pub(super) fn under_side(&self) -> Vec<PanelId> {
        self.base.iter().chain(&self.uprights).chain(&self.back).copied().collect()
    }
}

/// Builds one carcass with all that sits inside it.
pub(super) fn build(b: &mut Builder<'_>, carcass: &Carcass, corner: [Dim; 3]) -> Option<Built> {
    let shell = shell::settle(b, carcass, corner)?;
    let built = panels::make(b, carcass, &shell);
    anchors::drill(b, carcass, &built);
    for (column, opening) in carcass.columns.iter().zip(&built.openings) {
        for (cell, space) in column.cells.iter().zip(&opening.cells) {
            if let Some(plan) = &cell.drawer {
                drawer::build(b, &carcass.name, cell, plan, opening, space);
            }
        }
    }
    Some(built)
}

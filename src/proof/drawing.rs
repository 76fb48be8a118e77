//! What a drawing holds, whichever format it was read from.

use super::shape::Ring;
use std::collections::BTreeMap;

/// One closed contour of a drawing, in mm, y up.
#[derive(Clone, Debug)]
pub(super) struct Drawn {
    /// Line in the file.
    pub(super) line: usize,
    /// Layer (DXF) or group (SVG).
    pub(super) layer: String,
    pub(super) ring: Ring,
}

/// A drawing.
#[derive(Clone, Debug, Default)]
pub struct Drawing {
    /// Closed contours in the order of the file.
    pub(super) contours: Vec<Drawn>,
    /// Comments and notes, all together.
    pub(super) notes: Vec<String>,
    /// mm per unit of the file, as its header says; `None` when it says nothing.
    pub(super) unit_mm: Option<f64>,
    /// The extents in the header, in mm: min x, min y, max x, max y.
    pub(super) extents: Option<[f64; 4]>,
    /// Page size, in mm (SVG).
    pub(super) page: Option<[f64; 2]>,
    /// Entities that lie on layers which are not cut, by layer.
    pub(super) uncut: BTreeMap<String, usize>,
}

impl Drawing {
    /// Number of closed contours.
    #[must_use]
    pub fn contours(&self) -> usize {
        self.contours.len()
    }
}

/// Whether a layer is only read by people.
pub(super) fn is_note(layer: &str) -> bool {
    layer.starts_with("NOTE")
}

//! What else than a router cuts: a laser's files and layers, a saw's sheets.

use super::Operation;
use serde::Deserialize;
use std::collections::BTreeSet;

/// A laser's files.
#[derive(Clone, Debug, Deserialize)]
pub(in crate::proof) struct Laser {
    pub(in crate::proof) kerf_mm: f64,
    pub(in crate::proof) compensated: bool,
    pub(in crate::proof) lines: LaserLines,
    pub(in crate::proof) sheets: Vec<LaserSheet>,
}

/// The layers a laser's lines lie on.
#[derive(Clone, Debug, Deserialize)]
pub(in crate::proof) struct LaserLines {
    mark: LineStyle,
    fold: LineStyle,
    opening: LineStyle,
    outline: LineStyle,
}

#[derive(Clone, Debug, Deserialize)]
struct LineStyle {
    layer: String,
}

impl LaserLines {
    /// The layer of what is done.
    pub(in crate::proof) fn layer(&self, operation: Operation) -> &str {
        let style = match operation {
            Operation::Mark => &self.mark,
            Operation::Fold => &self.fold,
            Operation::ThroughOutside => &self.outline,
            Operation::Pocket | Operation::Drill | Operation::Countersink | Operation::ThroughInside => &self.opening,
        };
        &style.layer
    }

    pub(super) fn are_apart(&self) -> bool {
        let names: BTreeSet<&str> =
            [&self.mark, &self.fold, &self.opening, &self.outline].into_iter().map(|style| style.layer.as_str()).collect();
        names.len() == 4
    }
}

/// The files of one sheet.
#[derive(Clone, Debug, Deserialize)]
pub(in crate::proof) struct LaserSheet {
    pub(in crate::proof) board: String,
    pub(in crate::proof) sheet: u32,
    pub(in crate::proof) files: Vec<String>,
}

#[derive(Clone, Debug, Deserialize)]
pub(in crate::proof) struct Saw {
    pub(in crate::proof) kerf_mm: f64,
    pub(in crate::proof) turns: u32,
    pub(in crate::proof) sheets: Vec<SawSheet>,
}

#[derive(Clone, Debug, Deserialize)]
pub(in crate::proof) struct SawSheet {
    pub(in crate::proof) board: String,
    pub(in crate::proof) number: u32,
    pub(in crate::proof) files: Vec<String>,
}

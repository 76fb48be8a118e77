//! A laser's files as a pack's `job.json` states them.

use super::job::Operation;
use super::limits;
use serde::Deserialize;
use std::collections::BTreeSet;

/// A laser's files.
#[derive(Clone, Debug, Deserialize)]
pub(super) struct Laser {
    pub(super) kerf_mm: f64,
    pub(super) compensated: bool,
    pub(super) lines: LaserLines,
    pub(super) sheets: Vec<LaserSheet>,
}

/// The layers a laser's lines lie on.
#[derive(Clone, Debug, Deserialize)]
pub(super) struct LaserLines {
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
    pub(super) fn layer(&self, operation: Operation) -> &str {
        let style = match operation {
            Operation::Mark => &self.mark,
            Operation::Fold => &self.fold,
            Operation::ThroughOutside => &self.outline,
            Operation::Pocket | Operation::Drill | Operation::Countersink | Operation::ThroughInside => &self.opening,
        };
        &style.layer
    }

    fn are_apart(&self) -> bool {
        let names: BTreeSet<&str> =
            [&self.mark, &self.fold, &self.opening, &self.outline].into_iter().map(|style| style.layer.as_str()).collect();
        names.len() == 4
    }
}

/// The files of one sheet.
#[derive(Clone, Debug, Deserialize)]
pub(super) struct LaserSheet {
    pub(super) board: String,
    pub(super) sheet: u32,
    pub(super) files: Vec<String>,
}

impl Laser {
    /// Whether its numbers and names can be.
    pub(super) fn check(&self) -> Result<(), String> {
        if !(0.0..limits::KERF).contains(&self.kerf_mm) {
            return Err(format!("a kerf of {} mm cannot be", self.kerf_mm));
        }
        if !self.lines.are_apart() {
            return Err("two kinds of a laser's lines share a layer".to_owned());
        }
        Ok(())
    }
}

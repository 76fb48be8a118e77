//! Values to bytes: DXF, SVG, G-code, cut list, hardware list, job data. Pure functions.
//!
//! Takes: [`Job`]: the results of the stages above.
//! Gives: [`Files`]: the pack's files by name.
//! Guarantees: the same values give the same bytes; numbers are finite; mm unless the machine says inches.
//! Never: reads or writes the disk, a clock or the environment; imports `proof`.

pub mod gcode;

use crate::design::Design;
use crate::diag::{Finding, Texts};
use crate::fit::Ledger;
use crate::flat::FlatParts;
use crate::nest::Layout;
use crate::parts::Model;
use crate::toolpath::Program;
use std::collections::BTreeMap;

/// A pack's files: path inside the pack (with `/`), then content.
pub type Files = BTreeMap<String, Vec<u8>>;

/// Everything a pack is written from.
#[derive(Clone, Copy, Debug)]
pub struct Job<'a> {
    /// The settled design.
    pub design: &'a Design,
    /// Panels, hardware, motions.
    pub model: &'a Model,
    /// Gaps, judged.
    pub ledger: &'a Ledger,
    /// Flat parts.
    pub parts: &'a FlatParts,
    /// Sheets.
    pub layout: &'a Layout,
    /// Programs, in order of running.
    pub programs: &'a [Program],
    /// All findings so far.
    pub findings: &'a [Finding],
    /// The maker's files, for places.
    pub texts: &'a Texts,
}

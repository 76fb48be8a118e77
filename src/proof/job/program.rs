//! A program as `job.json` states it: its cutter, its heights, and how the sheet lies.

use crate::proof::fault::quoted;
use crate::proof::limits;
use serde::Deserialize;

#[derive(Clone, Debug, Deserialize)]
pub(in crate::proof) struct Program {
    pub(in crate::proof) file: String,
    /// Which of the file's programs it is, from 1.
    #[serde(default = "first")]
    pub(in crate::proof) section: usize,
    pub(in crate::proof) board: String,
    pub(in crate::proof) sheet: u32,
    pub(in crate::proof) side: ProgramSide,
    pub(in crate::proof) order: u32,
    pub(in crate::proof) cutter: Cutter,
    /// Spindle speed, 1/min, if the pack says so.
    #[serde(default)]
    pub(in crate::proof) rpm: Option<f64>,
    pub(in crate::proof) z_zero: ZZero,
    pub(in crate::proof) clearance_mm: f64,
    pub(in crate::proof) floor_mm: Option<f64>,
    pub(in crate::proof) thickness_mm: f64,
    /// Which lie of the sheet it runs in, if the pack says so.
    #[serde(default)]
    pub(in crate::proof) set_up: Option<SetUp>,
    /// Where its run can be taken up again.
    #[serde(default)]
    pub(in crate::proof) restarts: Vec<Restart>,
}

/// A lie of a sheet.
#[derive(Clone, Debug, Deserialize)]
pub(in crate::proof) struct SetUp {
    pub(in crate::proof) number: u32,
    /// Middles of the registration holes, in the program's frame.
    pub(in crate::proof) pins_mm: Vec<[f64; 2]>,
    pub(in crate::proof) pin_diameter_mm: Option<f64>,
    /// Diameter of the screws' heads, and how far they stand over the sheet.
    #[serde(default)]
    pub(in crate::proof) screw_head_mm: Option<[f64; 2]>,
    /// Middles of the hold-down screws.
    pub(in crate::proof) screws_mm: Vec<[f64; 2]>,
}

#[derive(Clone, Debug, Deserialize)]
pub(in crate::proof) struct Restart {
    pub(in crate::proof) number: u32,
    /// Of the file, from 1.
    pub(in crate::proof) line: usize,
    pub(in crate::proof) label: String,
}

fn first() -> usize {
    1
}

#[derive(Clone, Debug, Deserialize)]
pub(in crate::proof) struct Cutter {
    #[serde(default)]
    pub(in crate::proof) name: String,
    pub(in crate::proof) diameter_mm: f64,
    /// Its edges, if the pack says so.
    #[serde(default)]
    pub(in crate::proof) flutes: Option<u32>,
    /// The thickest chip one of them may take, if the pack says so.
    #[serde(default)]
    pub(in crate::proof) chip_max_mm: Option<f64>,
    /// Whether it cuts in its middle too, and may go straight down, if the pack says so.
    #[serde(default)]
    pub(in crate::proof) centre_cutting: Option<bool>,
    /// How deep it may cut sideways into a whole sheet, if the pack says so.
    #[serde(default)]
    pub(in crate::proof) first_pass_max_mm: Option<f64>,
    /// How deep it may cut sideways below an earlier pass, if the pack says so.
    #[serde(default)]
    pub(in crate::proof) pass_max_mm: Option<f64>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(in crate::proof) enum ProgramSide {
    First,
    Second,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(in crate::proof) enum ZZero {
    Spoilboard,
    SheetTop,
}

impl Program {
    /// Whether its numbers can be.
    pub(super) fn check(&self) -> Result<(), String> {
        let fits = |v: f64| v > 0.0 && v < limits::COORDINATE;
        let depths = [self.cutter.first_pass_max_mm, self.cutter.pass_max_mm].into_iter().flatten();
        let sizes = [self.cutter.diameter_mm, self.clearance_mm, self.thickness_mm].into_iter().chain(depths);
        let set_up = self.set_up.as_ref();
        let places = set_up.into_iter().flat_map(|s| s.pins_mm.iter().chain(&s.screws_mm).flatten());
        let heads = set_up.and_then(|s| s.screw_head_mm).into_iter().flatten();
        let wrong = !sizes.chain(set_up.and_then(|s| s.pin_diameter_mm)).chain(heads).all(fits)
            || self.floor_mm.is_some_and(|f| !(0.0..limits::COORDINATE).contains(&f))
            || places.clone().count() > limits::PINS
            || !places.copied().all(|v| v.abs() < limits::COORDINATE);
        if wrong {
            return Err(format!("program {} has sizes that cannot be", quoted(&self.file)));
        }
        Ok(())
    }
}

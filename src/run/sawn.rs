//! `make --process saw`: the same parts by straight cuts, as tables, pages and pictures instead of programs.

use super::derive::override_stops;
use super::make::{sheets_used, Made, Ready};
use super::screen::counted;
use crate::diag::Finding;
use crate::nest::{self, Layout, Options, SawOptions, SawSheet};
use crate::write::{self, Job};
use std::fmt::Write as _;

/// The saw plan and all files of its pack but the proof.
pub(super) fn make(ready: &Ready<'_>, options: &Options<'_>, findings: &mut Vec<Finding>) -> Option<Made> {
    let Ready { design, model, ledger, parts, texts, .. } = *ready;
    let saw = design.process.saw;
    let how = SawOptions { kerf: saw.kerf, trim: saw.trim, turns: saw.turns, search: *options };
    let plan = nest::saw_plan(design, parts, &how).into(findings)?;
    override_stops(findings, &design.overrides);
    let sheets = plan.sheets.iter().map(|s| s.sheet.clone()).collect();
    let layout = Layout { sheets, bounds: plan.bounds.clone() };
    let job = Job { design, model, ledger, parts, layout: &layout, programs: &[], beams: &[], findings, texts };
    let files = write::saw::pack(&job, &plan);
    let mut lines = sheets_used(design, &layout.sheets, &layout.bounds);
    let sum = |of: fn(&SawSheet) -> usize| plan.sheets.iter().map(of).sum::<usize>();
    let _ = writeln!(
        lines,
        "{}, fence set {} times, turned {} times at most",
        counted(sum(|s| s.cuts.len()), "cut"),
        sum(SawSheet::fence_settings),
        plan.sheets.iter().map(SawSheet::stages).max().unwrap_or(1) - 1,
    );
    Some(Made { files, layout, programs: Vec::new(), beams: Vec::new(), saw: Some(plan), lines })
}

//! What every cut file says of itself: job, revision, board with its real thickness, and which line it holds.

use super::{beam, Job};
use crate::design::{BoardId, BoardUse};
use crate::flat::FlatPart;
use crate::nest::{SawPlan, SawSheet, Sheet};
use crate::parts::Face;
use crate::shop::Process;
use crate::toolpath::Program;
use crate::units::{decimal, Mm, Unit};
use std::fmt::Write as _;

/// Least, mean and largest thickness of a board: of its readings, or where there are none of its class.
pub(super) fn thickness(board: &BoardUse) -> [Mm; 3] {
    if board.readings.is_empty() {
        let range = board.thickness.worst_case();
        return [range.min, board.thickness.nominal(), range.max];
    }
    let min = board.readings.iter().copied().fold(Mm(f64::INFINITY), Mm::min);
    let max = board.readings.iter().copied().fold(Mm(f64::NEG_INFINITY), Mm::max);
    let sum: Mm = board.readings.iter().copied().sum();
    [min, sum / board.readings.len() as f64, max]
}

/// A length with its unit, as a person reads it.
pub(super) fn length(mm: Mm, unit: Unit) -> String {
    let places = if unit == Unit::Mm { 2 } else { 4 };
    format!("{} {}", decimal(unit.count(mm), places), unit.symbol())
}

/// Printable ASCII: other characters in the `\U+` spelling of DXF, line breaks as spaces.
pub(super) fn ascii(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            ' '..='~' => out.push(c),
            c if c.is_control() => out.push(' '),
            c => {
                // Writing to a String cannot fail.
                let _ = write!(out, "\\U+{:04X}", u32::from(c));
            }
        }
    }
    out
}

/// Heading of a part's file.
pub(super) fn of_part(job: &Job, part: &FlatPart, revision: &str) -> Vec<String> {
    let face = if part.face_up == Face::A { "A" } else { "B" };
    let mut lines = common(job, part.board, revision);
    lines.push(format!("part: {}, {}, quantity {}, face {face} up", part.id, part.name, part.panels.len()));
    lines.push(finished_edge(job));
    lines
}

/// Heading of a sheet's file.
pub(super) fn of_sheet(job: &Job, sheet: &Sheet, revision: &str) -> Vec<String> {
    let unit = job.design.process.machine.units;
    let mut lines = common(job, sheet.board, revision);
    let (l, w) = (length(sheet.length, unit), length(sheet.width, unit));
    lines.push(format!("sheet: {} of this board, {l} along the grain x {w}, seen from above", sheet.number));
    lines.push(finished_edge(job));
    lines
}

/// Heading of a sheet's saw plan; in the project's unit.
pub(super) fn of_saw(job: &Job, plan: &SawPlan, sheet: &SawSheet, revision: &str) -> Vec<String> {
    let unit = job.design.units;
    let mut lines = in_unit(job, sheet.sheet.board, revision, unit);
    let (l, w) = (length(sheet.sheet.length, unit), length(sheet.sheet.width, unit));
    lines.push(format!("sheet: {} of this board, {l} along the grain x {w}, seen from above", sheet.sheet.number));
    lines.push(format!("saw: kerf {}, {} off each edge of the sheet", length(plan.kerf, unit), length(plan.trim, unit)));
    lines.push(format!(
        "cuts: {} in {} stages, fence set {} times, {} rip widths",
        sheet.cuts.len(),
        sheet.stages(),
        sheet.fence_settings(),
        sheet.rip_widths()
    ));
    lines.push("holds: blanks and the cuts that part them".to_owned());
    lines
}

/// Heading of a program.
pub(super) fn of_program(job: &Job, program: &Program, revision: &str) -> Vec<String> {
    let sheet = &job.layout.sheets[program.sheet];
    let mut lines = common(job, program.board, revision);
    let (number, of) = (program.set_up.number, program.set_up.of);
    lines.push(format!("sheet: {} of this board, set-up {number} of {of}", sheet.number));
    lines.push("holds: the tool centre".to_owned());
    lines.iter().map(|line| ascii(line)).collect()
}

/// What parts' and sheets' drawings hold.
fn finished_edge(job: &Job) -> String {
    let machine = &job.design.process.machine;
    match &machine.process {
        Process::Router(_) => "holds: the finished edge, not the tool centre".to_owned(),
        Process::Laser(laser) => {
            let half = length(laser.kerf / 2.0, machine.units);
            format!(
                "holds: the finished edge, not the beam's centre; keep the beam half its kerf, {half}, on the waste side"
            )
        }
    }
}

/// Heading of a laser's file.
pub(super) fn of_beam(job: &Job, sheet: &Sheet, revision: &str) -> Vec<String> {
    let mut lines = of_sheet(job, sheet, revision);
    let unit = job.design.process.machine.units;
    if let (Some(laser), Some(last)) = (beam::laser(job).filter(|l| l.compensate), lines.last_mut()) {
        let (half, kerf) = (length(laser.kerf / 2.0, unit), length(laser.kerf, unit));
        *last = format!(
            "holds: the beam's centre, {half} outside outlines and inside openings; run it uncorrected, for a kerf of {kerf}"
        );
    }
    lines.extend(BEAM_CAUTIONS.map(str::to_owned));
    lines
}

/// What is said on every laser file.
const BEAM_CAUTIONS: [&str; 3] = [
    "order: part by part marks, folds, openings, outline; no line is shared between parts",
    "stay with a running laser, water or an extinguisher at hand: card catches fire quickly",
    "never burn film-faced or plastic-coated board: its fumes are not known",
];

fn common(job: &Job, board: BoardId, revision: &str) -> Vec<String> {
    in_unit(job, board, revision, job.design.process.machine.units)
}

fn in_unit(job: &Job, board: BoardId, revision: &str, unit: Unit) -> Vec<String> {
    let board = &job.design.boards[board.0];
    let [min, mean, max] = thickness(board).map(|t| length(t, unit));
    vec![
        format!("job: {}", job.design.title),
        format!("revision: {revision}"),
        format!("board: {}, {}, real thickness {mean}, from {min} to {max}", board.name, board.profile.name),
        format!("units: {}", unit.symbol()),
    ]
}

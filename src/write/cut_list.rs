//! The cut list: every different part on one line, with all that is needed at the saw.

use super::{csv, heading, Job};
use crate::flat::{FlatPart, PartGrain};
use crate::parts::{Hand, PanelEdge};
use crate::units::decimal;

/// Columns; lengths in mm, masses in kg.
const COLUMNS: [&str; 14] = [
    "id",
    "name",
    "unit",
    "hand",
    "quantity",
    "board",
    "thickness_mm",
    "length_mm",
    "width_mm",
    "grain",
    "edges",
    "sheets",
    "mass_each_kg",
    "mass_kg",
];

/// `cut-list.csv`: sorted by board, first sheet, unit, id. Length is along the grain, width across it, both finished.
#[must_use]
pub fn write(job: &Job) -> Vec<u8> {
    let mut parts: Vec<(&FlatPart, Vec<u32>)> =
        job.parts.parts.iter().enumerate().map(|(i, part)| (part, sheets_of(job, i))).collect();
    // A part on no sheet comes last in its board.
    let first = |sheets: &[u32]| sheets.first().copied().unwrap_or(u32::MAX);
    parts
        .sort_by(|(a, on_a), (b, on_b)| (a.board, first(on_a), &a.unit, &a.id).cmp(&(b.board, first(on_b), &b.unit, &b.id)));
    let rows: Vec<Vec<String>> = parts.iter().map(|(part, sheets)| row(job, part, sheets)).collect();
    csv::table(&COLUMNS, &rows)
}

fn row(job: &Job, part: &FlatPart, sheets: &[u32]) -> Vec<String> {
    let board = &job.design.boards[part.board.0];
    let [_, mean, _] = heading::thickness(board);
    let [length, width] = along_and_across(part);
    let quantity = part.panels.len();
    let sheets: Vec<String> = sheets.iter().map(u32::to_string).collect();
    vec![
        part.id.clone(),
        part.name.clone(),
        part.unit.clone(),
        hand(part.hand).to_owned(),
        quantity.to_string(),
        board.name.clone(),
        decimal(mean.0, 2),
        decimal(length, 2),
        decimal(width, 2),
        if part.grain == PartGrain::Any { "any" } else { "along length" }.to_owned(),
        edges(job, part),
        sheets.join(" "),
        decimal(part.mass_kg, 3),
        decimal(part.mass_kg * quantity as f64, 3),
    ]
}

/// Finished size along the grain and across it, in mm; along x and y when the grain does not matter.
pub(super) fn along_and_across(part: &FlatPart) -> [f64; 2] {
    match part.grain {
        PartGrain::AlongY => [part.width.0, part.length.0],
        PartGrain::AlongX | PartGrain::Any => [part.length.0, part.width.0],
    }
}

/// `left`, `right`, or nothing.
pub(super) fn hand(hand: Hand) -> &'static str {
    match hand {
        Hand::None => "",
        Hand::Left => "left",
        Hand::Right => "right",
    }
}

/// An edge's name.
pub(super) fn edge(edge: PanelEdge) -> &'static str {
    match edge {
        PanelEdge::Bottom => "bottom",
        PanelEdge::Right => "right",
        PanelEdge::Top => "top",
        PanelEdge::Left => "left",
    }
}

/// What meets the part's edges: `bottom: finger, LO-1-001; left: butt, screwed, LO-1-004`.
fn edges(job: &Job, part: &FlatPart) -> String {
    let Some(panel) = part.panels.first().map(|id| &job.model.panels[id.0]) else { return String::new() };
    let notes = panel.edges.iter().map(|note| {
        let mate = &job.model.panels[note.mate.0].id;
        format!("{}: {}, {mate}", edge(note.edge), note.joint)
    });
    notes.collect::<Vec<_>>().join("; ")
}

/// Numbers of the sheets (of its own board) that a part lies on, rising.
fn sheets_of(job: &Job, part: usize) -> Vec<u32> {
    let on = job.layout.sheets.iter().filter(|sheet| sheet.placements.iter().any(|p| p.part == part));
    let mut numbers: Vec<u32> = on.map(|sheet| sheet.number).collect();
    numbers.sort_unstable();
    numbers.dedup();
    numbers
}

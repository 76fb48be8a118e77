//! The cuts in words, to be printed and ticked off beside the saw.

use super::{against, direction, Named};
use crate::geom::Rect;
use crate::nest::{self, Outcome};
use crate::units::{decimal, Mm, Unit};
use crate::write::{names, Job};
use std::fmt::Write as _;

/// `saw/<sheet>.txt`: the heading, the cuts in order, the blanks with what is still to be done to them.
pub(super) fn write(job: &Job, named: &Named<'_>, heading: &[String]) -> Vec<u8> {
    let unit = job.design.units;
    let mut text = heading.join("\n");
    text.push_str("\n\n");
    let mut rows =
        vec![["cut", "stage", "direction", "piece", "fence", "against", "fence side", "free side"].map(str::to_owned)];
    let mut last = None;
    for (cut, [piece, off, rest]) in &named.cuts {
        let fence = length(cut.fence, unit);
        // A star where the fence is to be set anew.
        let set = if last == Some(cut.setting()) { fence } else { format!("*{fence}") };
        last = Some(cut.setting());
        rows.push([
            cut.number.to_string(),
            cut.stage.to_string(),
            direction(cut).to_owned(),
            format!("{piece} {}", size(cut.piece, unit)),
            set,
            against(cut).to_owned(),
            format!("{off} {}", size(cut.off, unit)),
            cut.rest.map_or_else(|| "-".to_owned(), |r| format!("{rest} {}", size(r, unit))),
        ]);
    }
    columns(&mut text, &rows);
    text.push_str("\n* the fence is set anew. Lengths are along the sheet's length, then across it.\n\n");
    let mut rows = vec![["blank", "name", "size", "afterwards"].map(str::to_owned)];
    for (name, outcome, r) in named.pieces() {
        match outcome {
            Outcome::Blank(k) => {
                let part = &job.parts.parts[named.sheet.sheet.placements[k].part];
                let drawing = names::safe(&part.id);
                let then = if !nest::is_rectangle(part) {
                    format!("cut to shape: parts/{drawing}")
                } else if part.cuts.is_empty() {
                    "-".to_owned()
                } else {
                    format!("holes, grooves: parts/{drawing}")
                };
                rows.push([name.to_owned(), part.name.clone(), size(r, unit), then]);
            }
            Outcome::Kept => rows.push([name.to_owned(), "offcut to keep".to_owned(), size(r, unit), "-".to_owned()]),
            Outcome::Again | Outcome::Waste => {}
        }
    }
    columns(&mut text, &rows);
    text.into_bytes()
}

fn size(r: Rect, unit: Unit) -> String {
    format!("{} x {}", length(Mm(r.width()), unit), length(Mm(r.height()), unit))
}

/// As fine as a fence can be set.
fn length(mm: Mm, unit: Unit) -> String {
    decimal(unit.count(mm), if unit == Unit::Mm { 1 } else { 3 })
}

/// Rows with aligned columns, two spaces apart.
fn columns<const N: usize>(text: &mut String, rows: &[[String; N]]) {
    let width = |k: usize| rows.iter().map(|r| r[k].chars().count()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..N).map(width).collect();
    for row in rows {
        let mut line = String::new();
        for (cell, width) in row.iter().zip(&widths) {
            let _ = write!(line, "{cell:<width$}  ");
        }
        text.push_str(line.trim_end());
        text.push('\n');
    }
}

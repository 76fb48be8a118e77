//! The cuts as a table, one row for each: enough to replay them.

use super::{against, direction, Named};
use crate::geom::Rect;
use crate::units::decimal;
use crate::write::csv;

/// Columns; lengths in mm, along the sheet's length and across it.
const COLUMNS: [&str; 14] = [
    "cut",
    "stage",
    "direction",
    "piece",
    "piece_length_mm",
    "piece_width_mm",
    "fence_mm",
    "against",
    "fence_side",
    "fence_side_length_mm",
    "fence_side_width_mm",
    "free_side",
    "free_side_length_mm",
    "free_side_width_mm",
];

/// Decimals of a length: a tenth of what any fence can be set to.
const PLACES: usize = 2;

/// `saw/<sheet>.csv`.
pub(super) fn write(named: &Named<'_>) -> Vec<u8> {
    let rows: Vec<Vec<String>> = named
        .cuts
        .iter()
        .map(|(cut, [piece, off, rest])| {
            let mut row = vec![cut.number.to_string(), cut.stage.to_string(), direction(cut).to_owned()];
            row.push(piece.clone());
            row.extend(sizes(Some(cut.piece)));
            row.push(decimal(cut.fence.0, PLACES));
            row.push(against(cut).to_owned());
            row.push(off.clone());
            row.extend(sizes(Some(cut.off)));
            row.push(rest.clone());
            row.extend(sizes(cut.rest));
            row
        })
        .collect();
    csv::table(&COLUMNS, &rows)
}

fn sizes(r: Option<Rect>) -> [String; 2] {
    r.map_or_else(|| [String::new(), String::new()], |r| [decimal(r.width(), PLACES), decimal(r.height(), PLACES)])
}

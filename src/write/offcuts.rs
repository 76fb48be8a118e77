//! The list of offcuts worth keeping, which a later project can take as stock (`offcuts` under its board).

use super::names::of_sheet;
use super::{csv, heading, Job, Names};
use crate::geom::Rect;
use crate::nest::SawPlan;
use crate::units::decimal;

/// Columns; lengths in mm, length along the grain.
const COLUMNS: [&str; 10] =
    ["id", "board", "profile", "thickness_mm", "sheet", "x_mm", "y_mm", "length_mm", "width_mm", "area_m2"];

/// `offcuts.csv`: of each sheet the largest rectangle left over, or all pieces that a saw leaves to be kept.
#[must_use]
pub(super) fn write(job: &Job, names: &Names, plan: Option<&SawPlan>) -> Vec<u8> {
    let mut rows = Vec::new();
    for (index, (sheet, stem)) in job.layout.sheets.iter().zip(&names.sheets).enumerate() {
        let kept = match plan.and_then(|plan| plan.sheets.get(index)) {
            Some(sawn) => sawn.kept(),
            None => sheet.offcut.into_iter().collect(),
        };
        let board = &job.design.boards[sheet.board.0];
        let [_, mean, _] = heading::thickness(board);
        for (k, r) in kept.iter().enumerate() {
            let Rect { x0, y0, .. } = *r;
            // Never more than there is.
            let tenth = |v: f64| decimal((v * 10.0 + 0.001).floor() / 10.0, 1);
            rows.push(vec![
                format!("{}-keep-{}", of_sheet(stem), k + 1),
                board.name.clone(),
                board.profile.id.clone(),
                decimal(mean.0, 2),
                sheet.number.to_string(),
                decimal(x0, 2),
                decimal(y0, 2),
                tenth(r.width()),
                tenth(r.height()),
                decimal(r.area() / 1e6, 3),
            ]);
        }
    }
    csv::table(&COLUMNS, &rows)
}

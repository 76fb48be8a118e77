//! Whether the card leaves any room inside: a small mock-up of thick card can be all board.

use super::MockUp;
use crate::design::{codes, Carcass, Design};
use crate::diag::Finding;
use crate::units::Mm;

/// Checks every carcass for cells that are not higher, and columns that are not wider, than the card is thick.
pub(super) fn check(design: &Design, mock: &MockUp, found: &mut Vec<Finding>) {
    let Some(t) = design.boards.first().map(|b| b.thickness.nominal()) else { return };
    for carcass in &design.carcasses {
        if let Some(left) = height_left(carcass, t).filter(|left| *left < t) {
            found.push(too_thick(carcass, mock, t, "high", left));
        }
        if let Some(left) = width_left(carcass, t).filter(|left| *left < t) {
            found.push(too_thick(carcass, mock, t, "wide", left));
        }
    }
}

fn too_thick(carcass: &Carcass, mock: &MockUp, t: Mm, way: &str, left: Mm) -> Finding {
    let largest = mock.true_scale.max(mock.scale);
    Finding::stop(
        codes::CARD_THICKER_THAN_CELL,
        format!("at {} a cell of {} is {left} mm {way}, and the card is {t} mm thick", mock.words, carcass.name),
    )
    .part(&carcass.name)
    .at(carcass.span)
    .limit("a cell of one thickness of card at least")
    .remedy(if largest > mock.scale { "take `--scale auto` or larger, or thinner card" } else { "take thinner card" })
}

/// What is left over base, shelves and top for the lowest cell of the fullest column, shared evenly.
fn height_left(carcass: &Carcass, t: Mm) -> Option<Mm> {
    let outside = carcass.height.outside.as_ref()?.nominal();
    let boards = f64::from(u8::from(carcass.base.is_some()) + u8::from(carcass.top.is_some()));
    let left = |column: &crate::design::Column| {
        let shelves = column.cells.iter().filter(|c| c.shelf.is_some()).count() as f64;
        let clear = outside - t * (boards + shelves);
        let given: Mm = column.cells.iter().filter_map(|c| c.height.as_ref()).map(crate::dim::Dim::nominal).sum();
        let free = column.cells.iter().filter(|c| c.height.is_none()).count();
        let least = column.cells.iter().filter_map(|c| c.height.as_ref()).map(crate::dim::Dim::nominal).reduce(Mm::min);
        let shared = if free > 0 { Some((clear - given) / free as f64) } else { None };
        least.into_iter().chain(shared).reduce(Mm::min)
    };
    carcass.columns.iter().filter_map(left).reduce(Mm::min)
}

/// What is left between the uprights for the narrowest column.
fn width_left(carcass: &Carcass, t: Mm) -> Option<Mm> {
    let outside = carcass.width.outside.as_ref()?.nominal();
    let columns = carcass.columns.len();
    let inner = match carcass.uprights {
        crate::design::UprightStyle::Single => columns.saturating_sub(1),
        crate::design::UprightStyle::Doubled => 2 * columns.saturating_sub(1),
    };
    let clear = outside - t * (2 + inner) as f64;
    let widths = || carcass.columns.iter().filter_map(|c| c.width.as_ref()).map(crate::dim::Dim::nominal);
    let free = carcass.columns.iter().filter(|c| c.width.is_none()).count();
    let shared = if free > 0 { Some((clear - widths().sum()) / free as f64) } else { None };
    widths().chain(shared).reduce(Mm::min)
}

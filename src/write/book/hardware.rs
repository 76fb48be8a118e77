//! The hardware list: what to buy, and where each piece goes.

use super::page::{wide, Chapter};
use super::Book;
use crate::fit::load::fastener;
use crate::parts::Hardware;
use crate::units::decimal;
use crate::write::hardware::merged;
use maud::{html, Markup};

pub(super) fn chapter(book: &Book) -> Chapter {
    let list = merged(&book.job.model.hardware);
    let body = html! {
        @if list.is_empty() {
            p { "The design names no hardware." }
        } @else {
            h3 { "To buy" }
            (to_buy(book, &list))
            h3 { "Where it goes" }
            (places(book, &list))
            p { "Screw lengths come from what the screw goes through and what it must bite; a length at the end of a name is of the whole screw. \
                The same list as data: " code { "hardware.csv" } "." }
        }
    };
    Chapter { anchor: "hardware", title: "Hardware list", body }
}

/// Each kind once, with spares.
fn to_buy(book: &Book, list: &[Hardware]) -> Markup {
    let mut kinds: Vec<(&Hardware, u32)> = Vec::new();
    for piece in list {
        match kinds.iter_mut().find(|(k, _)| k.name == piece.name && k.profile == piece.profile) {
            Some((_, count)) => *count += piece.quantity,
            None => kinds.push((piece, piece.quantity)),
        }
    }
    let spare = |piece: &Hardware| {
        let bought = book.around.load.into_iter().flat_map(|l| &l.hardware);
        bought.into_iter().find(|b| b.name == piece.name && b.profile == piece.profile).map_or(0, |b| b.spare)
    };
    let table = html! {
        table {
            thead { tr { th.n { "Needed" } th.n { "Spare" } th { "Piece" } th { "Hole" } th.n { "kg together" } } }
            tbody {
                @for (piece, count) in kinds {
                    tr {
                        td.n { (count) }
                        td.n { (spare(piece)) }
                        td { (piece.name) }
                        td { (hole(book, piece)) }
                        td.n { @if let Some(kg) = piece.mass_kg { (decimal(kg * f64::from(count), 2)) } @else { "not given" } }
                    }
                }
            }
        }
    };
    wide("Hardware to buy", &table)
}

/// What to drill for a piece: clearance and pilot.
pub(super) fn hole(book: &Book, piece: &Hardware) -> String {
    let Some(f) = fastener(book.job.design, &piece.profile) else { return String::new() };
    let clearance = decimal(f.clearance[1].0, 1);
    match f.pilot {
        Some(pilot) => format!("{clearance} through, pilot {}", decimal(pilot.0, 1)),
        None => format!("{clearance} through"),
    }
}

fn places(book: &Book, list: &[Hardware]) -> Markup {
    let mut units: Vec<&str> = list.iter().map(|h| h.unit.as_str()).collect();
    units.sort_unstable();
    units.dedup();
    let table = html! {
        table {
            thead { tr { th.n { "Count" } th { "Piece" } th { "Where" } } }
            @for unit in units {
                tbody {
                    tr.sub { th colspan="3" scope="rowgroup" { (unit) } }
                    @for piece in list.iter().filter(|h| h.unit == unit) {
                        tr {
                            td.n { (piece.quantity) }
                            td { (piece.name) }
                            td { (book.links.words(&piece.place)) }
                        }
                    }
                }
            }
        }
    };
    wide("Hardware by unit", &table)
}

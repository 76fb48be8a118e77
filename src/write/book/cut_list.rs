//! The cut list: by sheet for the saw or the router, and by unit for the bench.

use super::page::{wide, Chapter};
use super::Book;
use crate::flat::{FlatPart, PartGrain};
use crate::parts::Face;
use crate::units::{decimal, Mm};
use crate::write::cut_list::{along_and_across, edge, hand};
use maud::{html, Markup};

pub(super) fn chapter(book: &Book) -> Chapter {
    let parts = &book.job.parts.parts;
    let copies: usize = parts.iter().map(|p| p.panels.len()).sum();
    let body = html! {
        p {
            (parts.len()) " different parts, " (copies) " in all. Length is along the grain, width across it; both are finished sizes. \
            The machine's files hold the finished edge too, so cut and finished size are one; what the saw needs over is on the sheet's own page."
        }
        h3 { "By sheet" }
        (by_sheet(book))
        h3 { "By unit" }
        (by_unit(book))
        p { "The same list as data: " code { "cut-list.csv" } ". Edges to band: none is in the design, so every edge stays as cut; break the sharp arris with paper." }
    };
    Chapter { anchor: "cut-list", title: "Cut list", body }
}

fn by_sheet(book: &Book) -> Markup {
    let job = book.job;
    let table = html! {
        table {
            thead { tr { th { "Part" } th { "Name" } th.n { "Here" } th.n { "Length" } th.n { "Width" } th.n { "Thick" } th { "Grain" } th { "Face up" } th.n { "kg each" } } }
            @for (i, sheet) in job.layout.sheets.iter().enumerate() {
                tbody {
                    tr.sub { th colspan="9" scope="rowgroup" { "Sheet " (book.links.sheet(i)) ", " (job.design.boards[sheet.board.0].name) } }
                    @for (part, count) in counted(sheet) { (row(book, &job.parts.parts[part], part, count)) }
                }
            }
            @let left: Vec<usize> = unplaced(book);
            @if !left.is_empty() {
                tbody {
                    tr.sub { th colspan="9" scope="rowgroup" { "On no sheet" } }
                    @for part in left { (row(book, &job.parts.parts[part], part, job.parts.parts[part].panels.len())) }
                }
            }
        }
    };
    wide("Cut list by sheet", &table)
}

/// Parts on a sheet in the order of cutting, each with how many lie there.
fn counted(sheet: &crate::nest::Sheet) -> Vec<(usize, usize)> {
    let mut list: Vec<(usize, usize)> = Vec::new();
    for placement in &sheet.placements {
        match list.iter_mut().find(|(part, _)| *part == placement.part) {
            Some((_, count)) => *count += 1,
            None => list.push((placement.part, 1)),
        }
    }
    list
}

fn unplaced(book: &Book) -> Vec<usize> {
    let placed = |i: &usize| book.job.layout.sheets.iter().any(|s| s.placements.iter().any(|p| p.part == *i));
    (0..book.job.parts.parts.len()).filter(|i| !placed(i)).collect()
}

fn row(book: &Book, part: &FlatPart, index: usize, count: usize) -> Markup {
    let [length, width] = along_and_across(part);
    let l = book.lengths;
    html! {
        tr {
            th scope="row" { a href={"#" (book.links.parts[index])} { (part.id) } }
            td { (part.name) @if !hand(part.hand).is_empty() { ", " (hand(part.hand)) " hand" } }
            td.n { (count) }
            td.n { (l.bare(Mm(length))) }
            td.n { (l.bare(Mm(width))) }
            td.n { (decimal(part.thickness.0, 2)) }
            td { (if part.grain == PartGrain::Any { "any" } else { "length" }) }
            td { (face(part.face_up)) }
            td.n { (decimal(part.mass_kg, 2)) }
        }
    }
}

/// Which face lies up on the machine.
pub(super) fn face(face: Face) -> &'static str {
    match face {
        Face::A => "inside (A)",
        Face::B => "outside (B)",
    }
}

fn by_unit(book: &Book) -> Markup {
    let parts = &book.job.parts.parts;
    let mut units: Vec<&str> = parts.iter().map(|p| p.unit.as_str()).collect();
    units.sort_unstable();
    units.dedup();
    let table = html! {
        table {
            thead { tr { th { "Part" } th { "Name" } th.n { "In all" } th { "Board" } th.n { "Length" } th.n { "Width" } th { "Edges" } th { "Sheets" } th.n { "kg" } } }
            @for unit in units {
                tbody {
                    tr.sub { th colspan="9" scope="rowgroup" { (unit) } }
                    @for (i, part) in parts.iter().enumerate().filter(|(_, p)| p.unit == unit) {
                        @let [length, width] = along_and_across(part);
                        tr {
                            th scope="row" { a href={"#" (book.links.parts[i])} { (part.id) } }
                            td { (part.name) }
                            td.n { (part.panels.len()) }
                            td { (book.job.design.boards[part.board.0].name) }
                            td.n { (book.lengths.bare(Mm(length))) }
                            td.n { (book.lengths.bare(Mm(width))) }
                            td { (edges(book, part)) }
                            td {
                                @for (k, _) in book.job.layout.sheets.iter().enumerate().filter(|(_, s)| s.placements.iter().any(|p| p.part == i)) {
                                    div { (book.links.sheet(k)) }
                                }
                            }
                            td.n { (decimal(part.mass_kg * part.panels.len() as f64, 2)) }
                        }
                    }
                }
            }
        }
    };
    wide("Cut list by unit", &table)
}

/// What meets each edge of a part.
pub(super) fn edges(book: &Book, part: &FlatPart) -> Markup {
    let Some(panel) = part.panels.first().and_then(|id| book.job.model.panels.get(id.0)) else { return html! {} };
    html! {
        @for (i, note) in panel.edges.iter().enumerate() {
            @if i > 0 { "; " }
            (edge(note.edge)) ": " (note.joint) ", " (book.links.id(&book.job.model.panels[note.mate.0].id))
        }
    }
}

//! A page for each sheet: the map to hang at the machine, and the set-up sheet.

mod map;
mod saw;
mod setup;

use super::cut_list::face;
use super::page::{wide, Chapter};
use super::Book;
use crate::nest::{self, Inside, Sheet};
use crate::shop::Process;
use crate::units::{decimal, Mm};
use maud::{html, Markup};

pub(super) fn chapter(book: &Book) -> Chapter {
    let sheets = &book.job.layout.sheets;
    let body = html! {
        @if sheets.is_empty() { p { "No sheets." } }
        @for (i, sheet) in sheets.iter().enumerate() { (one(book, i, sheet)) }
    };
    Chapter { anchor: "sheets", title: "Sheets: maps and set-up", body }
}

fn one(book: &Book, index: usize, sheet: &Sheet) -> Markup {
    let board = &book.job.design.boards[sheet.board.0];
    let l = book.lengths;
    let name = &book.links.sheet_names[index];
    html! {
        article id=(book.links.sheets[index]) {
            div.map {
                h3 { "Sheet " (name) }
                p {
                    (board.name) ", " (board.profile.name) ", " (l.area(sheet.length, sheet.width)) ", "
                    (decimal(sheet.used_ratio * 100.0, 0)) " % used. Files: "
                    @for (i, file) in book.links.sheet_files[index].iter().enumerate() { @if i > 0 { ", " } a href=(file) { code { (file) } } }
                    ". "
                    span.rev { "Revision " (book.revision) }
                }
                (map::picture(book, index, sheet))
            }
            div.setup {
                h4 { "Set-up sheet of " (name) }
                @match book.around.saw.and_then(|plan| Some((plan, plan.sheets.get(index)?))) {
                    Some((plan, sawn)) => (saw::sheet(book, plan, sawn)),
                    None => (setup::sheet(book, index)),
                }
                (order(book, index, sheet))
            }
        }
    }
}

/// What lies on the sheet, in the order of cutting.
fn order(book: &Book, index: usize, sheet: &Sheet) -> Markup {
    let job = book.job;
    let l = book.lengths;
    let inside = nest::inside(sheet, &job.parts.parts);
    let table = html! {
        table {
            caption { "Parts in the order they are cut free" }
            thead { tr { th.n { "No." } th { "Part" } th.n { "Copy" } th { "Name" } th { "Face up" } th.n { "From left" } th.n { "From below" } th.n { "Turned" } th.n { "Tabs" } } }
            tbody {
                @for (i, p) in sheet.placements.iter().enumerate() {
                    @let part = &job.parts.parts[p.part];
                    @let corner = p.laid(&part.outline.contour).bounds().origin();
                    tr {
                        td.n { (i + 1) }
                        th scope="row" { a href={"#" (book.links.parts[p.part])} { (part.id) } }
                        td.n { (p.copy) }
                        td { (part.name) @if let Some(opening) = inside[i] { br; (lies_in(book, sheet, opening)) } }
                        td { (face(part.face_up)) }
                        td.n { (l.bare(Mm(corner.x))) }
                        td.n { (l.bare(Mm(corner.y))) }
                        td.n { (p.turn.degrees()) "°" }
                        td.n { (job.tabs(index, i)) }
                    }
                }
            }
        }
    };
    html! {
        (wide(&format!("Parts on {}", book.links.sheet_names[index]), &table))
        (to_free(book, &inside))
        @if let Some(keep) = sheet.offcut {
            p { "Keep the offcut: " (l.area(Mm(keep.width().floor()), Mm(keep.height().floor()))) ", dashed on the map. Write board and thickness on it." }
        }
    }
}

/// In which opening of which part one lies.
fn lies_in(book: &Book, sheet: &Sheet, opening: Inside) -> String {
    let host = &sheet.placements[opening.host];
    let part = &book.job.parts.parts[host.part];
    format!("in `{}` of {}, copy {}", part.cuts[opening.cut].feature, part.id, host.copy)
}

/// What to do with parts that lie in openings.
fn to_free(book: &Book, inside: &[Option<Inside>]) -> Markup {
    let numbers: Vec<String> = (1..).zip(inside).filter(|(_, i)| i.is_some()).map(|(n, _)| n.to_string()).collect();
    let router = matches!(book.job.design.process.machine.process, Process::Router(_));
    html! {
        @if !numbers.is_empty() {
            p {
                "In openings of other parts: No. " (numbers.join(", ")) ", cut out before the opening is. "
                @if router { "Leave the waste round them where it is until the last program has run; then take it out of the opening whole and free them from it." }
            }
        }
    }
}

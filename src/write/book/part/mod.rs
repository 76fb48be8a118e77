//! A drawing of each different part, with everything that is cut into it in figures.

mod dims;
mod drawing;
mod holes;
mod table;

use super::cut_list::edges;
use super::page::Chapter;
use super::Book;
use crate::flat::{FlatPart, PartGrain};
use crate::parts::{Face, Panel};
use crate::units::{decimal, Mm};
use crate::write::cut_list::{along_and_across, hand};
use maud::{html, Markup};

pub(super) fn chapter(book: &Book) -> Chapter {
    let body = html! {
        p {
            "Each part as it lies on the machine, working face up. Running dimensions start at the lower left corner; every figure is from there. \
            Pencil the inside face before you lift a part off the sheet."
            @if !book.lengths.both() { " All figures in mm." }
        }
        @for (i, part) in book.job.parts.parts.iter().enumerate() { (one(book, i, part)) }
    };
    Chapter { anchor: "parts", title: "Part drawings", body }
}

fn one(book: &Book, index: usize, part: &FlatPart) -> Markup {
    let l = book.lengths;
    let [length, width] = along_and_across(part);
    let whole = part.panels.first().and_then(|id| book.job.model.panels.get(id.0));
    // What is known of a panel's edges does not lie there on a piece of it.
    let panel = whole.filter(|panel| dims::is_all_of(part, panel));
    let holes = holes::of(part);
    let up = match part.face_up {
        Face::A => "The inside face (A) is up.",
        Face::B => "The outside face (B) is up; the inside lies on the table.",
    };
    html! {
        article.card id=(book.links.parts[index]) {
            h3 { (part.id) ": " (part.name) }
            p {
                (part.panels.len()) " of " (book.job.design.boards[part.board.0].name) ", " (decimal(part.thickness.0, 2)) " mm thick; "
                (l.area(Mm(length), Mm(width))) @if part.grain != PartGrain::Any { ", length along the grain" }
                @if !hand(part.hand).is_empty() { "; " (hand(part.hand)) " hand" }
                ". " (up) " " span.rev { "Revision " (book.revision) }
            }
            @let (picture, crowded) = drawing::picture(book, part, panel, &holes);
            (picture)
            @if let Some(panel) = panel { (table::beyond(book, part, panel, crowded)) }
            (table::holes(book, part, &holes))
            (table::areas(book, part, panel))
            @if let Some(panel) = panel { (mates(book, part, panel)) }
            @if let (Some(panel), None) = (whole, panel) {
                p { strong { "A piece " } "of " (panel.name) ", which no sheet is large enough for. Put its knobs together on a flat bench before anything else is joined." }
            }
            p.rev {
                "Copies: " @for (i, id) in part.panels.iter().enumerate() {
                    @if i > 0 { ", " } (book.job.model.panels.get(id.0).map(|p| book.links.id(&p.id)).unwrap_or_default())
                }
                ". On " @for (k, _) in book.job.layout.sheets.iter().enumerate().filter(|(_, s)| s.placements.iter().any(|p| p.part == index)) { (book.links.sheet(k)) " " }
                ". Files: " code { (book.names.parts[index]) ".dxf" } ", " code { (book.names.parts[index]) ".svg" }
            }
        }
    }
}

/// What meets the edges, and the pilots to drill into them.
fn mates(book: &Book, part: &FlatPart, panel: &Panel) -> Markup {
    let screws: Vec<Markup> =
        panel.edges.iter().filter(|n| !n.screws.is_empty()).map(|n| table::pilots(book, part, panel, n)).collect();
    html! {
        @if !panel.edges.is_empty() { p { strong { "Mates. " } (edges(book, part)) "." } }
        @for line in screws { (line) }
    }
}

//! Mass, strength and restraint: the page of formulas with the numbers put in.

use super::page::Chapter;
use super::Book;
use maud::{html, Markup};

pub(super) fn chapter(book: &Book) -> Chapter {
    let body = match book.around.load {
        None => html! { p { "Nothing was weighed." } },
        Some(load) => html! {
            p.warn { strong { "Not crash tested and not an approval." } " The figures compare one design with another under the accelerations that are named. Local rules, the vehicle's handbook and licensed practice decide." }
            @for section in &load.sections {
                h3 { (section.title) }
                (lines(book, &section.lines))
            }
        },
    };
    Chapter { anchor: "load", title: "Mass, strength, restraint", body }
}

/// A section's lines; those set in belong to the line above them.
fn lines(book: &Book, lines: &[String]) -> Markup {
    html! {
        @for line in lines {
            @let inset = line.len() - line.trim_start().len();
            @if inset == 0 { p { (book.links.words(line)) } }
            @else { p.inset { (book.links.words(line.trim_start())) } }
        }
    }
}

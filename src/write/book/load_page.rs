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

/// A section's lines; those set in belong to the line above them, and rows of signs between bars are a plan, kept as it stands.
fn lines(book: &Book, lines: &[String]) -> Markup {
    let is_plan = |line: &String| line.trim_start().starts_with('|');
    html! {
        @for run in lines.chunk_by(|a, b| is_plan(a) && is_plan(b)) {
            @if is_plan(&run[0]) {
                pre { @for line in run { (line.trim_start()) "\n" } }
            } @else if run[0].starts_with(' ') {
                p.inset { (book.links.words(run[0].trim_start())) }
            } @else {
                p { (book.links.words(&run[0])) }
            }
        }
    }
}

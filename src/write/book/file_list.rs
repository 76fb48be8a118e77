//! Every file of the pack, what it holds, and where the book speaks of it.

use super::page::{wide, Chapter};
use super::Book;
use maud::{html, Markup};

pub(super) fn chapter(book: &Book) -> Chapter {
    let body = html! {
        p { "The pack holds these files and no other. All carry revision " strong { (book.revision) } "; a program with another revision in its head is of another pack and must not be run." }
        (table(book))
    };
    Chapter { anchor: "files", title: "Files of the pack", body }
}

fn table(book: &Book) -> Markup {
    let mut files: Vec<&str> = book.around.files.iter().map(String::as_str).chain(super::FILES).collect();
    files.sort_unstable();
    files.dedup();
    let table = html! {
        table.slim {
            thead { tr { th { "File" } th { "Holds" } th { "In the book" } } }
            tbody {
                @for file in files {
                    tr {
                        th scope="row" { @if file == super::PAGE { code { (file) } } @else { a href=(file) { code { (file) } } } }
                        td { (holds(file)) }
                        td { (place(book, file)) }
                    }
                }
            }
        }
    };
    wide("Files of the pack", &table)
}

fn holds(file: &str) -> &'static str {
    let starts = |folder: &str| file.starts_with(folder);
    let ends = |ending: &str| file.ends_with(ending);
    match file {
        super::PAGE => "this book",
        super::PAPER_A4 => "templates and labels at true size, A4",
        super::PAPER_LETTER => "templates and labels at true size, Letter",
        "job.json" => "everything as data",
        "mock-up.html" => "the mock-up: what it is for and how it is put together",
        "cut-list.csv" => "cut list as data",
        "hardware.csv" => "hardware list as data",
        "proof.json" => "the proof as data",
        "proof.txt" => "the proof, rule by rule",
        _ if starts("coupon/") => "coupon: a small pack of its own, cut first",
        _ if starts("parts/") && ends(".dxf") => "finished edge of one part, DXF",
        _ if starts("parts/") => "finished edge of one part, SVG",
        _ if starts("sheets/") && ends(".dxf") => "finished edges laid on a sheet, DXF",
        _ if starts("sheets/") => "finished edges laid on a sheet, SVG",
        _ if starts("saw/") && ends(".txt") => "the saw's cuts in words",
        _ if starts("saw/") && ends(".csv") => "the saw's cuts as data",
        _ if starts("saw/") => "the saw's cuts as a picture",
        _ if starts("laser/") => "lines for the laser's beam, its width allowed for",
        _ if starts("gcode/") => "program for the machine",
        _ => "",
    }
}

fn place(book: &Book, file: &str) -> Markup {
    match file {
        "cut-list.csv" => html! { a href="#cut-list" { "cut list" } },
        "hardware.csv" => html! { a href="#hardware" { "hardware list" } },
        "proof.txt" | "proof.json" => html! { a href="#first" { "first page" } },
        super::PAPER_A4 | super::PAPER_LETTER => html! { a href="#templates" { "templates" } },
        _ if file.starts_with("coupon/") => html! { a href="#first" { "first page" } },
        _ => book.links.to(file).map(|(anchor, name)| html! { a href={"#" (anchor)} { (name) } }).unwrap_or_default(),
    }
}

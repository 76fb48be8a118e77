//! Templates and labels at true size: in the page, and as PDF for both usual papers. Both are drawn from the same leaves.

mod edges;
mod label;
mod latch;
mod leaf;
mod pdf;
mod stick;
mod svg;
mod tile;

use super::page::Chapter;
use super::Book;
use crate::write::Files;
use leaf::Leaf;
use maud::{html, Markup};

/// All leaves: templates, then labels.
pub(super) struct Leaves {
    templates: Vec<Leaf>,
    labels: Vec<Leaf>,
}

impl Leaves {
    pub(super) fn of(book: &Book) -> Self {
        let revision = &book.revision;
        let mut templates = stick::leaves("Story sticks", &edges::story(book), revision);
        templates.extend(stick::leaves("Pilots in edges", &edges::pilots(book), revision));
        templates.extend(stick::leaves("Screw holes of slides", &edges::slides(book.job.design), revision));
        templates.extend(latch::templates(book).iter().flat_map(|t| tile::leaves(t, revision)));
        Self { templates, labels: label::leaves(book) }
    }

    /// Both PDF files.
    pub(super) fn files(&self, book: &Book) -> Files {
        let all: Vec<Leaf> = self.templates.iter().chain(&self.labels).cloned().collect();
        let title = &book.job.design.title;
        let one = |paper| pdf::document(title, &book.revision, &all, paper);
        [(super::PAPER_A4, one(pdf::A4)), (super::PAPER_LETTER, one(pdf::LETTER))]
            .into_iter()
            .map(|(name, bytes)| (name.to_owned(), bytes))
            .collect()
    }

    pub(super) fn templates(&self) -> Chapter {
        let body = html! {
            p {
                "True size on paper only: print this page, or better " a href=(super::PAPER_A4) { (super::PAPER_A4) } " or " a href=(super::PAPER_LETTER) { (super::PAPER_LETTER) }
                ", at 100 %. " strong { "Measure both 100 mm lines of every leaf before you use it;" } " more than half a millimetre off, and the leaf is of no use."
            }
            p { "Pieces of a stick are laid end to end, letter to letter; tiles are laid over each other, mark on mark." }
            @if self.templates.is_empty() { p { "No templates are needed." } }
            (leaves(&self.templates))
        };
        Chapter { anchor: "templates", title: "Templates at true size", body }
    }

    pub(super) fn labels(&self) -> Chapter {
        let body = html! {
            p { "One for every part. Stick it on the face that lies up, before the part leaves the sheet." }
            (leaves(&self.labels))
        };
        Chapter { anchor: "labels", title: "Labels", body }
    }
}

fn leaves(list: &[Leaf]) -> Markup {
    html! { @for leaf in list { (svg::draw(leaf)) } }
}

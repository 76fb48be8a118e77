//! The page round the chapters: head, style, contents.

use super::Book;
use maud::{html, Markup, PreEscaped, DOCTYPE};
use std::fmt::Write as _;

/// One chapter: its anchor, its heading, what it holds.
pub(super) struct Chapter {
    pub(super) anchor: &'static str,
    pub(super) title: &'static str,
    pub(super) body: Markup,
}

const STYLE: &str = include_str!("style.css");

/// The whole page.
pub(super) fn page(book: &Book, chapters: Vec<Chapter>) -> String {
    let title = &book.job.design.title;
    let foot = margins(&format!("{title} · revision {}", book.revision));
    let contents: Vec<(&str, &str)> = chapters.iter().skip(1).map(|c| (c.anchor, c.title)).collect();
    let mut chapters = chapters.into_iter();
    let first = chapters.next();
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) ": build book" }
                style { (PreEscaped(STYLE)) (PreEscaped(foot)) }
            }
            body {
                @if let Some(first) = first {
                    header id=(first.anchor) { (first.body) }
                }
                nav aria-label="Contents" {
                    h2 { "Contents" }
                    ol {
                        @for (anchor, title) in contents {
                            li { a href={"#" (anchor)} { (title) } }
                        }
                    }
                }
                main {
                    @for chapter in chapters {
                        section id=(chapter.anchor) {
                            h2 { (chapter.title) }
                            p.rev { (title) ", revision " (book.revision) }
                            (chapter.body)
                        }
                    }
                }
            }
        }
    }
    .into_string()
}

/// The running foot of every printed page, as a style rule.
fn margins(words: &str) -> String {
    let mut text = String::new();
    for c in words.chars() {
        match c {
            // A style sheet inside a page must not close its element, its text or its line.
            '"' | '\\' | '<' | '>' | '&' => {
                // Writing to a String cannot fail.
                let _ = write!(text, "\\{:x} ", u32::from(c));
            }
            c if c.is_control() => text.push(' '),
            c => text.push(c),
        }
    }
    format!("@page{{@bottom-left{{content:\"{text}\"}}@bottom-right{{content:\"page \" counter(page) \" of \" counter(pages)}}}}")
}

/// A table that scrolls sideways by itself where the screen is narrow.
pub(super) fn wide(caption: &str, table: &Markup) -> Markup {
    html! { div.wide role="region" aria-label=(caption) tabindex="0" { (table) } }
}

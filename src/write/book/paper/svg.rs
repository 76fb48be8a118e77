//! A leaf inside the page, printed at true size.

use super::leaf::{Item, Leaf, Pen, HEIGHT, WIDTH};
use crate::write::book::canvas::{Canvas, Words};
use maud::Markup;

pub(super) fn draw(leaf: &Leaf) -> Markup {
    let mut canvas = Canvas::new(WIDTH, HEIGHT);
    for item in &leaf.items {
        match item {
            Item::Line { pen, from, to } => canvas.line(class(*pen), *from, *to),
            Item::Circle { centre, radius } => canvas.circle("firm", *centre, *radius),
            Item::Words { text, at, size, bold } => {
                canvas.words(&Words { size: *size, bold: *bold, ..Words::new(text, *at) });
            }
        }
    }
    canvas.finish("leaf", &leaf.title)
}

fn class(pen: Pen) -> &'static str {
    match pen {
        Pen::Firm => "firm",
        Pen::Fine => "fine",
        Pen::Dashed => "snip",
    }
}

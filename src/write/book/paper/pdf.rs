//! Leaves as a PDF: one leaf a page, true to size, in the middle of the paper.

use super::leaf::{Item, Leaf, Pen, HEIGHT, WIDTH};
use pdf_writer::{Content, Finish, Name, Pdf, Rect, Ref, Str, TextStr};
use std::fmt::Write as _;

/// Points of a PDF in one millimetre: 72 to the inch (ISO 32000-1, 8.3.2.3).
const POINTS: f64 = 72.0 / 25.4;

/// A size of paper.
#[derive(Clone, Copy, Debug)]
pub(super) struct Paper {
    pub(super) width: f64,
    pub(super) height: f64,
}

/// ISO 216.
pub(super) const A4: Paper = Paper { width: 210.0, height: 297.0 };
/// 8 1/2 by 11 inches.
pub(super) const LETTER: Paper = Paper { width: 215.9, height: 279.4 };

/// The document.
pub(super) fn document(title: &str, revision: &str, leaves: &[Leaf], paper: Paper) -> Vec<u8> {
    let mut next = 0;
    let mut id = || {
        next += 1;
        Ref::new(next)
    };
    let (catalog, tree, plain, bold, info) = (id(), id(), id(), id(), id());
    let pages: Vec<(Ref, Ref)> = leaves.iter().map(|_| (id(), id())).collect();
    let mut pdf = Pdf::new();
    pdf.catalog(catalog).pages(tree);
    pdf.pages(tree).kids(pages.iter().map(|(page, _)| *page)).count(i32::try_from(pages.len()).unwrap_or(i32::MAX));
    pdf.document_info(info)
        .title(TextStr(&format!("{title}: templates and labels")))
        .subject(TextStr(&format!("revision {revision}")));
    for (font, name) in [(plain, "Helvetica"), (bold, "Helvetica-Bold")] {
        pdf.type1_font(font).base_font(Name(name.as_bytes())).encoding_predefined(Name(b"WinAnsiEncoding"));
    }
    for (leaf, (page, content)) in leaves.iter().zip(&pages) {
        let mut writer = pdf.page(*page);
        writer.media_box(Rect::new(0.0, 0.0, points(paper.width), points(paper.height)));
        writer.parent(tree).contents(*content);
        writer.resources().fonts().pair(Name(b"P"), plain).pair(Name(b"B"), bold);
        writer.finish();
        pdf.stream(*content, &drawn(leaf, paper));
    }
    pdf.finish()
}

/// Coordinates of a PDF have a few decimals; single precision holds a page to a ten-thousandth of a millimetre.
fn points(mm: f64) -> f32 {
    (mm * POINTS) as f32
}

fn drawn(leaf: &Leaf, paper: Paper) -> Vec<u8> {
    let (left, top) = ((paper.width - WIDTH) / 2.0, (paper.height - HEIGHT) / 2.0);
    let x = |v: f64| points(left + v);
    let y = |v: f64| points(paper.height - top - v);
    let mut content = Content::new();
    for item in &leaf.items {
        match item {
            Item::Line { pen, from, to } => {
                stroke(&mut content, *pen);
                content.move_to(x(from[0]), y(from[1])).line_to(x(to[0]), y(to[1])).stroke();
            }
            Item::Circle { centre, radius } => {
                stroke(&mut content, Pen::Firm);
                circle(&mut content, x(centre[0]), y(centre[1]), points(*radius));
            }
            Item::Words { text, at, size, bold } => {
                content
                    .begin_text()
                    .set_font(Name(if *bold { b"B" } else { b"P" }), points(*size))
                    .next_line(x(at[0]), y(at[1]))
                    .show(Str(&latin(text)))
                    .end_text();
            }
        }
    }
    content.finish().to_vec()
}

fn stroke(content: &mut Content, pen: Pen) {
    let (width, dash): (f64, Vec<f32>) = match pen {
        Pen::Firm => (0.25, Vec::new()),
        Pen::Fine => (0.1, Vec::new()),
        Pen::Dashed => (0.15, vec![points(2.0), points(1.5)]),
    };
    content.set_line_width(points(width)).set_dash_pattern(dash, 0.0);
}

/// Distance of a cubic's handles from its ends for a quarter of a unit circle: 4/3 tan(π/8), off by 0.03 % of the radius at most.
const HANDLE: f32 = 0.552_284_8;

fn circle(content: &mut Content, x: f32, y: f32, r: f32) {
    let k = r * HANDLE;
    content
        .move_to(x + r, y)
        .cubic_to(x + r, y + k, x + k, y + r, x, y + r)
        .cubic_to(x - k, y + r, x - r, y + k, x - r, y)
        .cubic_to(x - r, y - k, x - k, y - r, x, y - r)
        .cubic_to(x + k, y - r, x + r, y - k, x + r, y)
        .close_path()
        .stroke();
}

/// Words in the encoding of the built-in typefaces; letters outside it as `\U+`, as in the cut files.
fn latin(text: &str) -> Vec<u8> {
    let mut out = Vec::with_capacity(text.len());
    for c in text.chars() {
        match u32::from(c) {
            code @ (0x20..=0x7e | 0xa0..=0xff) => out.push(code as u8),
            _ if c.is_control() => out.push(b' '),
            code => {
                let mut escaped = String::new();
                // Writing to a String cannot fail.
                let _ = write!(escaped, "\\U+{code:04X}");
                out.extend(escaped.into_bytes());
            }
        }
    }
    out
}

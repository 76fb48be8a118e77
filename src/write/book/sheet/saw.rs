//! A sheet on the saw: the numbered cuts, each with its fence, and what to mind.

use crate::geom::Rect;
use crate::nest::{Direction, SawPlan, SawSheet};
use crate::units::Mm;
use crate::write::book::canvas::{Anchor, Canvas, Words};
use crate::write::book::page::wide;
use crate::write::book::shape::Fit;
use crate::write::book::Book;
use crate::write::saw::{against, direction, Named};
use maud::{html, Markup};

pub(super) fn sheet(book: &Book, plan: &SawPlan, sawn: &SawSheet) -> Markup {
    let l = book.lengths;
    html! {
        ol.do {
            li { span.tick {} "Blade: the plan takes " (l.fine(plan.kerf)) " for its cut. Saw a test strip and measure; set the fence to the blade's own side." }
            li { span.tick {} "The sheet's factory edges are no part's edges: " (l.said(plan.trim)) " is trimmed off them first." }
            li { span.tick {} "Every cut goes from edge to edge of the piece on the saw. Write each piece's name on it at once; names are those of the table." }
            li { span.tick {} "A bold figure sets the fence anew. The edge named lies against the fence." }
        }
        (table(book, sawn))
        p.warn { strong { "Riving knife and guard on" } ", push stick for narrow strips, dust drawn off, ears and eyes covered. Never cross the blade's line with a hand." }
    }
}

fn table(book: &Book, sawn: &SawSheet) -> Markup {
    let named = Named::of(book.job, sawn);
    let l = book.lengths;
    let size = |r: Rect| l.area(Mm(r.width()), Mm(r.height()));
    let anew: Vec<bool> =
        (0..named.cuts.len()).map(|i| i == 0 || named.cuts[i - 1].0.setting() != named.cuts[i].0.setting()).collect();
    let table = html! {
        table {
            caption { "Cuts in order" }
            thead { tr { th.n { "Cut" } th { "Way" } th { "Piece on the saw" } th.n { "Fence" } th { "Against it" } th { "Fence side" } th { "Free side" } } }
            tbody {
                @for ((cut, [piece, off, rest]), anew) in named.cuts.iter().zip(anew) {
                    tr {
                        th.n scope="row" { span.tick {} (cut.number) }
                        td { (direction(cut)) }
                        td { (piece) ", " (size(cut.piece)) }
                        td.n { @if anew { strong { (l.bare(cut.fence)) } } @else { (l.bare(cut.fence)) } }
                        td { (against(cut)) " edge" }
                        td { (book.links.words(off)) ", " (size(cut.off)) }
                        td { @if let Some(r) = cut.rest { (book.links.words(rest)) ", " (size(r)) } }
                    }
                }
            }
        }
    };
    wide("Cuts in order", &table)
}

/// The cuts on the map, each with its number at its beginning.
pub(super) fn lines(canvas: &mut Canvas, fit: Fit, sawn: &SawSheet) {
    for cut in &sawn.cuts {
        let (from, to) = match (cut.direction, cut.far) {
            (Direction::Rip, far) => {
                let y = if far { cut.off.y0 } else { cut.off.y1 };
                (fit.at(cut.piece.x0, y), fit.at(cut.piece.x1, y))
            }
            (Direction::Cross, far) => {
                let x = if far { cut.off.x0 } else { cut.off.x1 };
                (fit.at(x, cut.piece.y0), fit.at(x, cut.piece.y1))
            }
        };
        canvas.line("sawn", from, to);
        let text = cut.number.to_string();
        let along = [to[0] - from[0], to[1] - from[1]];
        // A number that finds no room is in the table.
        let _ = (0..12).any(|k| {
            let t = 0.02 + 0.08 * f64::from(k);
            let at = [from[0] + along[0] * t, from[1] + along[1] * t];
            let words = Words::new(&text, [at[0] + 0.6, at[1] - 0.6]);
            canvas.words_if_free(&words)
                || canvas.words_if_free(&Words { at: [at[0] - 0.6, at[1] - 0.6], ..words }.anchor(Anchor::End))
        });
    }
}

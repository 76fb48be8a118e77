//! The figures of a part in tables: holes, grooves and pockets, steps too close to be drawn, pilots in edges.

use super::dims;
use super::holes::Hole;
use crate::flat::{FlatCut, FlatPart, Operation, Side};
use crate::geom::Rect;
use crate::parts::{EdgeNote, Face, FeatureKind, Panel, PanelEdge};
use crate::units::{decimal, Mm};
use crate::write::book::page::wide;
use crate::write::book::Book;
use crate::write::cut_list::edge;
use maud::{html, Markup};

/// The holes, each with its place.
pub(super) fn holes(book: &Book, part: &FlatPart, holes: &[Hole]) -> Markup {
    if holes.is_empty() {
        return html! {};
    }
    let l = book.lengths;
    let table = html! {
        table.slim {
            caption { "Holes of " (part.id) }
            thead { tr { th { "Hole" } th.n { "From left" } th.n { "From below" } th.n { "Across" } th { "Depth" } th { "For" } } }
            tbody {
                @for h in holes {
                    tr {
                        th scope="row" { (h.tag) }
                        td.n { (l.bare(Mm(h.at.x))) }
                        td.n { (l.bare(Mm(h.at.y))) }
                        td.n { (decimal(h.diameter.0, 1)) }
                        td { @if let Some(d) = h.depth { (l.bare(d)) " deep" } @else if h.seat == Some(h.diameter) { "seat alone" } @else { "through" } @if let Some(seat) = h.seat { ", 90° seat " (decimal(seat.0, 1)) " across" } @if h.side == Side::Down { ", from below" } }
                        td { (book.links.words(&h.feature)) }
                    }
                }
            }
        }
    };
    wide(&format!("Holes of {}", part.id), &table)
}

/// Openings, grooves and pockets.
pub(super) fn areas(book: &Book, part: &FlatPart, panel: Option<&Panel>) -> Markup {
    let list: Vec<&FlatCut> = part
        .cuts
        .iter()
        .filter(|c| matches!(c.operation, Operation::Pocket { .. } | Operation::ThroughInside | Operation::Mark))
        .collect();
    if list.is_empty() {
        return html! {};
    }
    let l = book.lengths;
    let table = html! {
        table.slim {
            caption { "Openings, grooves and marks of " (part.id) }
            thead { tr { th { "Cut" } th.n { "From left" } th.n { "From below" } th.n { "Along" } th.n { "Up" } th { "Depth" } th { "Mate" } } }
            tbody {
                @for cut in list {
                    @let r = rectangle(part, panel, cut);
                    tr {
                        th scope="row" { (book.links.words(&cut.feature)) }
                        td.n { (l.bare(Mm(r.x0))) }
                        td.n { (l.bare(Mm(r.y0))) }
                        td.n { (l.bare(Mm(r.width()))) }
                        td.n { (l.bare(Mm(r.height()))) }
                        td {
                            @match cut.operation { Operation::Pocket { depth } => { (l.bare(depth)) " deep" }, Operation::Mark => "mark", _ => "through" }
                            @if cut.side == Side::Down { ", from below" }
                        }
                        td { @if let Some(seat) = &cut.seats { (book.links.id(&seat.mate)) } }
                    }
                }
            }
        }
    };
    wide(&format!("Openings, grooves and marks of {}", part.id), &table)
}

/// The square shape of a cut, its reliefs left out, as drawn; from the lower left corner.
fn rectangle(part: &FlatPart, panel: Option<&Panel>, cut: &FlatCut) -> Rect {
    let pick = |d: &[crate::dim::Dim; 2]| [d[0].nominal(), d[1].nominal()];
    let feature = panel.and_then(|p| Some((p, p.features.iter().find(|f| f.id == cut.feature)?)));
    if let Some((panel, feature)) = feature {
        if let FeatureKind::Rectangle { at, size, .. }
        | FeatureKind::EdgeNotch { at, size, .. }
        | FeatureKind::Groove { at, size } = &feature.kind
        {
            let [x0, y0, x1, y1] = dims::as_drawn(panel, part.face_up, pick(at), pick(size));
            return Rect::new(x0, y0, x1, y1);
        }
    }
    let outside = part.outline.contour.bounds();
    cut.contour.bounds().intersect(outside) - outside.origin().to_vec2()
}

/// Steps of the outline in figures, for the sides where the drawing had no room for them.
pub(super) fn beyond(book: &Book, part: &FlatPart, panel: &Panel, crowded: [bool; 4]) -> Markup {
    let steps = dims::of(panel, part.face_up);
    let l = book.lengths;
    let sides =
        [("Lower edge", steps.bottom), ("Upper edge", steps.top), ("Left edge", steps.left), ("Right edge", steps.right)];
    html! {
        @for ((name, list), _) in sides.iter().zip(crowded).filter(|((_, list), crowded)| *crowded && !list.is_empty()) {
            p { strong { (name) ", running: " } @for (i, x) in list.iter().enumerate() { @if i > 0 { ", " } (l.bare(Mm(*x))) } "." }
        }
    }
}

/// Pilots to drill into an edge: the machine cannot.
pub(super) fn pilots(book: &Book, part: &FlatPart, panel: &Panel, note: &EdgeNote) -> Markup {
    let l = book.lengths;
    let along_u = matches!(note.edge, PanelEdge::Bottom | PanelEdge::Top);
    let mirrored = part.face_up == Face::B && along_u;
    let mut at: Vec<Mm> =
        note.screws.iter().map(|s| if mirrored { panel.length.nominal() - s.nominal() } else { s.nominal() }).collect();
    at.sort_by(Mm::total_cmp);
    let from = if along_u { "from the left end as drawn" } else { "from the lower end as drawn" };
    let named = match (note.edge, part.face_up) {
        (PanelEdge::Left, Face::B) => PanelEdge::Right,
        (PanelEdge::Right, Face::B) => PanelEdge::Left,
        (other, _) => other,
    };
    html! {
        p {
            strong { "Drill by hand into the " (edge(named)) " edge" } ", middle of the thickness, " (from) ": "
            @for (i, x) in at.iter().enumerate() { @if i > 0 { ", " } (l.bare(*x)) }
            ". For the screws from " (book.links.id(&book.job.model.panels[note.mate.0].id)) "; see the stick in " a href="#templates" { "templates" } "."
        }
    }
}

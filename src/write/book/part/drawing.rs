//! The picture of a part: outline, cuts, running dimensions, tags, grain, mates.

use super::dims::{self, Steps};
use super::holes::Hole;
use crate::flat::{FlatCut, FlatPart, Operation, PartGrain, Side};
use crate::parts::{Face, Panel, PanelEdge};
use crate::units::Mm;
use crate::write::book::canvas::{n, Anchor, Canvas, Room, Words, TYPE};
use crate::write::book::lengths::Lengths;
use crate::write::book::metrics;
use crate::write::book::shape::Fit;
use crate::write::book::Book;
use maud::Markup;

/// Width of a drawing on paper.
const WIDTH: f64 = 182.0;
/// The most height of the part itself.
const HEIGHT: f64 = 120.0;
/// Distance between the part and its first figures.
const AWAY: f64 = 3.5;
/// From one figure to the next along a side.
const PITCH: f64 = 4.1;

/// What stands along one side: figures and the mate's id.
struct SideNotes {
    figures: Vec<(f64, String)>,
    mate: String,
    /// Room needed outwards.
    depth: f64,
}

/// The picture, and which sides (bottom, top, left, right) have more figures than it could show.
pub(super) fn picture(book: &Book, part: &FlatPart, panel: Option<&Panel>, holes: &[Hole]) -> (Markup, [bool; 4]) {
    let bounds = part.outline.contour.bounds();
    let steps = panel.map(|p| dims::of(p, part.face_up)).unwrap_or_default();
    let sides = notes(book, part, panel, &steps);
    let [bottom, top, left, right] = &sides;
    let room = WIDTH - left.depth - right.depth - 2.0;
    let scale = (room / bounds.width()).min(HEIGHT / bounds.height()).min(1.0);
    let (w, h) = (bounds.width() * scale, bounds.height() * scale);
    let mut canvas = Canvas::new(w + left.depth + right.depth + 2.0, h + top.depth + bottom.depth + 2.0);
    let fit = Fit { scale, left: left.depth + 1.0 - bounds.x0 * scale, foot: top.depth + 1.0 + h + bounds.y0 * scale };
    canvas.path("face", &fit.contour(&part.outline.contour));
    for cut in &part.cuts {
        draw(&mut canvas, fit, cut);
    }
    let corner = [left.depth + 1.0, top.depth + 1.0, left.depth + 1.0 + w, top.depth + 1.0 + h];
    let crowded = figures(&mut canvas, &sides, corner, scale);
    canvas.circle("dot", [corner[0], corner[3]], 0.9);
    tags(&mut canvas, fit, part, holes);
    inside(&mut canvas, part, corner);
    let shows = format!(
        "Part {}, {}, {} x {} mm, {} face up, with {} holes among {} cuts",
        part.id,
        part.name,
        part.length,
        part.width,
        if part.face_up == Face::A { "inside" } else { "outside" },
        holes.len(),
        part.cuts.len()
    );
    (canvas.finish_wide(&shows), crowded)
}

fn draw(canvas: &mut Canvas, fit: Fit, cut: &FlatCut) {
    let class = match (cut.operation, cut.side) {
        (Operation::Mark, _) => "mark",
        (Operation::Countersink { .. }, Side::Up) => "seat",
        (_, Side::Down) => "under",
        (Operation::Pocket { .. } | Operation::Drill { depth: Some(_), .. }, Side::Up) => "sunk",
        _ => "gone",
    };
    let mut d = fit.contour(&cut.contour);
    for island in &cut.islands {
        d += &fit.contour(island);
    }
    canvas.path(class, &d);
}

/// Figures and mates of the four sides: bottom, top, left, right.
fn notes(book: &Book, part: &FlatPart, panel: Option<&Panel>, steps: &Steps) -> [SideNotes; 4] {
    let l = book.lengths;
    let (length, width) = (part.length.0, part.width.0);
    let mate = |edge: PanelEdge| -> String {
        let Some(panel) = panel else { return String::new() };
        let edge = match (edge, part.face_up) {
            (PanelEdge::Left, Face::B) => PanelEdge::Right,
            (PanelEdge::Right, Face::B) => PanelEdge::Left,
            (edge, _) => edge,
        };
        let ids = panel.edges.iter().filter(|n| n.edge == edge).filter_map(|n| book.job.model.panels.get(n.mate.0));
        ids.map(|p| p.id.as_str()).collect::<Vec<_>>().join(", ")
    };
    let side = |list: &[f64], end: Option<f64>, edge: PanelEdge| {
        let figures: Vec<(f64, String)> = list.iter().copied().chain(end).map(|x| (x, figure(l, x))).collect();
        let mate = mate(edge);
        let longest = figures.iter().map(|(_, t)| metrics::width(t, TYPE, false)).fold(0.0, f64::max);
        let depth =
            if figures.is_empty() { 1.0 } else { AWAY + longest + 1.0 } + if mate.is_empty() { 0.0 } else { TYPE + 1.6 };
        SideNotes { figures, mate, depth }
    };
    [
        side(&steps.bottom, Some(length), PanelEdge::Bottom),
        side(&steps.top, None, PanelEdge::Top),
        side(&steps.left, Some(width), PanelEdge::Left),
        side(&steps.right, None, PanelEdge::Right),
    ]
}

fn figure(l: Lengths, x: f64) -> String {
    l.bare(Mm(x))
}

/// Writes the figures; says which sides had too many.
fn figures(canvas: &mut Canvas, sides: &[SideNotes; 4], corner: [f64; 4], scale: f64) -> [bool; 4] {
    let [x0, y0, x1, y1] = corner;
    let mut crowded = [false; 4];
    for (i, side) in sides.iter().enumerate() {
        let along_x = i < 2;
        let (near, out) = match i {
            0 => (y1, 1.0),
            1 => (y0, -1.0),
            2 => (x0, -1.0),
            _ => (x1, 1.0),
        };
        let (low, high) = if along_x { (x0, x1) } else { (y0, y1) };
        let at = |v: f64| if along_x { x0 + v * scale } else { y1 - v * scale };
        let mut places: Vec<f64> = side.figures.iter().map(|(v, _)| at(*v)).collect();
        let mut texts: Vec<&str> = side.figures.iter().map(|(_, t)| t.as_str()).collect();
        if !along_x {
            places.reverse();
            texts.reverse();
        }
        let mut shown = dims::spread(&places, PITCH, low - 1.0, high + 1.0).unwrap_or_default();
        if shown.len() < places.len() {
            // The table beside the picture has them all; the picture keeps the overall size.
            crowded[i] = true;
            let last = if along_x { places.len().saturating_sub(1) } else { 0 };
            (places, texts) = (vec![places[last]], vec![texts[last]]);
            shown.clone_from(&places);
        }
        for ((place, spot), text) in places.iter().zip(&shown).zip(&texts) {
            let (a, b) = (near + out * 0.4, near + out * (AWAY - 0.6));
            let (from, to) = if along_x { ([*place, a], [*spot, b]) } else { ([a, *place], [b, *spot]) };
            canvas.line("dim", from, to);
            let far = near + out * AWAY;
            let words = if along_x {
                let anchor = if out > 0.0 { Anchor::End } else { Anchor::Start };
                Words::new(text, [*spot + 0.35 * TYPE, far]).upright().anchor(anchor)
            } else {
                let anchor = if out > 0.0 { Anchor::Start } else { Anchor::End };
                Words::new(text, [far, *spot + 0.35 * TYPE]).anchor(anchor)
            };
            canvas.words(&words);
        }
        if !side.mate.is_empty() {
            let middle = f64::midpoint(low, high);
            let far = near + out * (side.depth - TYPE - 0.6);
            let words = Words::new(&side.mate, [0.0, 0.0]).anchor(Anchor::Middle);
            let words = match i {
                0 => Words { at: [middle, far + TYPE], ..words },
                1 => Words { at: [middle, far - 0.3], ..words },
                2 => Words { at: [far - 0.3, middle], ..words }.upright(),
                _ => Words { at: [far + TYPE, middle], ..words }.upright(),
            };
            // The table names every mate; a short side may have no room for its words.
            canvas.words_if_free(&words);
        }
    }
    crowded
}

/// The tag of each hole beside it, wherever it is free.
fn tags(canvas: &mut Canvas, fit: Fit, part: &FlatPart, holes: &[Hole]) {
    let corner = part.outline.contour.bounds().origin();
    let spots: Vec<([f64; 2], f64)> = holes
        .iter()
        .map(|h| (fit.at(h.at.x + corner.x, h.at.y + corner.y), (h.diameter.0 / 2.0 * fit.scale).max(0.3)))
        .collect();
    for (at, r) in &spots {
        canvas.keep_free(Room([at[0] - r, at[1] - r, at[0] + r, at[1] + r]));
    }
    for (hole, (at, r)) in holes.iter().zip(&spots) {
        let d = r + 0.7;
        let tries = [
            ([d, -0.4], Anchor::Start),
            ([0.0, -d], Anchor::Middle),
            ([-d, -0.4], Anchor::End),
            ([0.0, d + 0.74 * TYPE], Anchor::Middle),
            ([d, TYPE], Anchor::Start),
            ([-d, TYPE], Anchor::End),
        ];
        let _ = tries.iter().any(|(by, anchor)| {
            canvas.words_if_free(&Words::new(&hole.tag, [at[0] + by[0], at[1] + by[1]]).anchor(*anchor))
        });
    }
}

/// Which face is seen, and the grain.
fn inside(canvas: &mut Canvas, part: &FlatPart, [x0, y0, x1, y1]: [f64; 4]) {
    let text = if part.face_up == Face::A { "inside" } else { "outside" };
    let (cx, cy) = (f64::midpoint(x0, x1), f64::midpoint(y0, y1));
    for (dx, dy) in [(0.0, 0.0), (0.0, 0.25), (0.0, -0.25), (0.25, 0.0), (-0.25, 0.0), (0.3, 0.3), (-0.3, -0.3)] {
        let at = [cx + dx * (x1 - x0), cy + dy * (y1 - y0) + 0.35 * TYPE];
        let words = Words::new(text, at).anchor(Anchor::Middle);
        let Room([a, b, c, d]) = words.room();
        if a < x0 || c > x1 || b < y0 || d > y1 || !canvas.words_if_free(&words) {
            continue;
        }
        let (x, y) = (at[0], at[1] + 2.2);
        match part.grain {
            PartGrain::AlongX if y < y1 - 1.0 => arrow(canvas, [x - 9.0, y], [x + 9.0, y]),
            PartGrain::AlongY if c + 2.0 < x1 && d - b < y1 - y0 - 6.0 => {
                arrow(canvas, [c + 1.5, at[1] - 7.0], [c + 1.5, at[1] + 5.0]);
            }
            _ => {}
        }
        return;
    }
}

/// A line with a head at both ends: the sign of the grain.
fn arrow(canvas: &mut Canvas, a: [f64; 2], b: [f64; 2]) {
    canvas.line("axis", a, b);
    let (x, y) = if a[1] == b[1] { (2.0, 0.7) } else { (0.7, 2.0) };
    let head = |p: [f64; 2], s: f64| {
        if a[1] == b[1] {
            format!("M{} {}l{} {}v{}Z", n(p[0]), n(p[1]), n(s * x), n(-y), n(2.0 * y))
        } else {
            format!("M{} {}l{} {}h{}Z", n(p[0]), n(p[1]), n(-x), n(s * y), n(2.0 * x))
        }
    };
    canvas.path("head", &head(a, 1.0));
    canvas.path("head", &head(b, -1.0));
}

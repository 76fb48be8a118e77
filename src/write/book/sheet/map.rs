//! The map of a sheet: parts with their ids and order, grain, origin, tabs, screws, what is left over.

use super::saw;
use crate::flat::Operation;
use crate::geom::{Point, Rect};
use crate::nest::Sheet;
use crate::shop::{HoldDown, Process};
use crate::toolpath::{Block, Move, SheetSide, Work};
use crate::write::book::canvas::{n, Anchor, Canvas, Room, Words, TYPE};
use crate::write::book::shape::Fit;
use crate::write::book::Book;
use crate::write::drawing::{Cut, Drawing, Group, Shape};
use crate::write::layer::Layer;
use maud::Markup;

/// Width of a map on paper, turned sideways.
const WIDTH: f64 = 250.0;
/// The most height.
const HEIGHT: f64 = 122.0;
/// Room left of and below the sheet, for the origin's arrows and words.
const MARGIN: f64 = 11.0;
/// Steps of a ring's points where a label is tried, each way.
const TRIES: usize = 11;
/// Two tab marks nearer than this in mm are passes over the same tab.
const SAME_TAB: f64 = 2.0;

pub(super) fn picture(book: &Book, index: usize, sheet: &Sheet) -> Markup {
    let drawing = Drawing::of_sheet(book.job, sheet, &book.revision);
    let scale = ((WIDTH - MARGIN - 2.0) / sheet.length.0).min((HEIGHT - MARGIN - 2.0) / sheet.width.0);
    let (w, h) = (sheet.length.0 * scale, sheet.width.0 * scale);
    let mut canvas = Canvas::new(w + MARGIN + 2.0, h + MARGIN + 2.0);
    let fit = Fit { scale, left: MARGIN, foot: h + 2.0 };
    canvas.rect("edge", Room([MARGIN, 2.0, MARGIN + w, h + 2.0]));
    if let Some(keep) = sheet.offcut {
        offcut(&mut canvas, fit, keep, book);
    }
    for group in &drawing.groups {
        part(&mut canvas, fit, group);
    }
    tabs(&mut canvas, fit, book, index);
    if let Some(sawn) = book.around.saw.and_then(|plan| plan.sheets.get(index)) {
        saw::lines(&mut canvas, fit, sawn);
    }
    screws(&mut canvas, fit, book, index);
    origin(&mut canvas, fit, sheet);
    for (order, group) in drawing.groups.iter().enumerate() {
        label(&mut canvas, fit, group, order + 1, &book.job.parts.parts[sheet.placements[order].part].id);
    }
    let shows = format!(
        "Map of sheet {}: {} parts on {} x {} mm, zero at the lower left corner, seen from above",
        book.links.sheet_names[index],
        sheet.placements.len(),
        sheet.length,
        sheet.width
    );
    canvas.finish_wide(&shows)
}

fn is_through(cut: &Cut) -> bool {
    matches!(cut.layer, Layer::Cut { operation: Operation::ThroughInside | Operation::Drill { depth: None, .. }, .. })
}

fn part(canvas: &mut Canvas, fit: Fit, group: &Group) {
    let outline = |c: &&Cut| matches!(c.layer, Layer::Cut { operation: Operation::ThroughOutside, .. });
    let d: String = group
        .cuts
        .iter()
        .filter(outline)
        .chain(group.cuts.iter().filter(|c| is_through(c)))
        .map(|c| fit.path(&c.shape))
        .collect();
    canvas.path("face", &d);
    let blind = group.cuts.iter().filter(|c| {
        matches!(
            c.layer,
            Layer::Cut {
                operation: Operation::Pocket { .. }
                    | Operation::Drill { depth: Some(_), .. }
                    | Operation::Countersink { .. },
                ..
            }
        )
    });
    let d: String = blind.map(|c| fit.path(&c.shape)).collect();
    if !d.is_empty() {
        canvas.path("sunk", &d);
    }
}

fn offcut(canvas: &mut Canvas, fit: Fit, keep: Rect, book: &Book) {
    let ([x0, y1], [x1, y0]) = (fit.at(keep.x0, keep.y0), fit.at(keep.x1, keep.y1));
    canvas.rect("keep", Room([x0 + 0.6, y0 + 0.6, x1 - 0.6, y1 - 0.6]));
    let l = book.lengths;
    let size = l.area(crate::units::Mm(keep.width().floor()), crate::units::Mm(keep.height().floor()));
    for text in [format!("left over, {size}"), "left over".to_owned()] {
        let middle = [f64::midpoint(x0, x1), f64::midpoint(y0, y1) + 0.25 * TYPE];
        let words = Words::new(&text, middle).anchor(Anchor::Middle);
        let (words, room) =
            if words.length() > x1 - x0 && words.length() < y1 - y0 { (words.upright(), x1 - x0) } else { (words, y1 - y0) };
        let fits = if words.upright { true } else { words.length() < x1 - x0 };
        if fits && room > TYPE * 1.2 && canvas.words_if_free(&words) {
            return;
        }
    }
}

/// The part's order and id where they have room; a strip too narrow for words gets them beside its middle.
fn label(canvas: &mut Canvas, fit: Fit, group: &Group, order: usize, id: &str) {
    let Some(outline) =
        group.cuts.iter().find(|c| matches!(c.layer, Layer::Cut { operation: Operation::ThroughOutside, .. }))
    else {
        return;
    };
    let text = format!("{order}  {id}");
    let short = order.to_string();
    let bounds = outline.shape.bounds();
    let holes: Vec<Room> = group.cuts.iter().filter(|c| is_through(c)).map(|c| room_of(fit, &c.shape)).collect();
    let inside = |room: &Room| {
        let [x0, y0, x1, y1] = room.0;
        let back = |x: f64, y: f64| Point::new((x - fit.left) / fit.scale, (fit.foot - y) / fit.scale);
        let Shape::Contour(contour) = &outline.shape else { return false };
        let xs = [x0, f64::midpoint(x0, x1), x1];
        xs.iter().all(|x| [y0, y1].iter().all(|y| contour.contains(back(*x, *y)))) && holes.iter().all(|h| !h.meets(room))
    };
    for text in [&text, &short] {
        for upright in [false, true] {
            for at in places(bounds, fit) {
                let half = 0.25 * TYPE;
                let at = if upright { [at[0] + half, at[1]] } else { [at[0], at[1] + half] };
                let words = Words { upright, ..Words::new(text, at).anchor(Anchor::Middle).bold() };
                if inside(&words.room()) && canvas.words_if_free(&words) {
                    return;
                }
            }
        }
    }
    // Too narrow to hold its words: they lie across its edges, off all other words.
    for text in [&text, &short] {
        for at in places(bounds, fit) {
            for upright in [bounds.height() > bounds.width(), bounds.height() <= bounds.width()] {
                let words = Words { upright, ..Words::new(text, at).anchor(Anchor::Middle).bold() };
                if canvas.words_if_free(&words) {
                    return;
                }
            }
        }
    }
}

fn room_of(fit: Fit, shape: &Shape) -> Room {
    let b = shape.bounds();
    let ([x0, y1], [x1, y0]) = (fit.at(b.x0, b.y0), fit.at(b.x1, b.y1));
    Room([x0, y0, x1, y1])
}

/// Points over a rectangle on paper, from its middle outwards.
fn places(bounds: Rect, fit: Fit) -> Vec<[f64; 2]> {
    let middle = TRIES / 2;
    let mut order: Vec<(usize, usize)> = (0..TRIES * TRIES).map(|k| (k % TRIES, k / TRIES)).collect();
    order.sort_by_key(|(i, j)| i.abs_diff(middle).pow(2) + j.abs_diff(middle).pow(2));
    let at = |k: usize, low: f64, size: f64| low + size * (2 * k + 1) as f64 / (2 * TRIES) as f64;
    order.into_iter().map(|(i, j)| fit.at(at(i, bounds.x0, bounds.width()), at(j, bounds.y0, bounds.height()))).collect()
}

/// Zero, the axes and the grain.
fn origin(canvas: &mut Canvas, fit: Fit, sheet: &Sheet) {
    let [x, y] = fit.at(0.0, 0.0);
    canvas.circle("dot", [x, y], 1.1);
    canvas.line("axis", [x, y + 3.0], [x + 22.0, y + 3.0]);
    canvas.path("head", &format!("M{} {}l-2.6 -0.9v1.8Z", n(x + 22.0), n(y + 3.0)));
    canvas.line("axis", [x - 3.0, y], [x - 3.0, y - 22.0]);
    canvas.path("head", &format!("M{} {}l-0.9 2.6h1.8Z", n(x - 3.0), n(y - 22.0)));
    canvas.words(&Words::new("x", [x + 23.5, y + 4.0]).bold());
    canvas.words(&Words::new("y", [x - 4.0, y - 23.5]).bold());
    canvas.words(&Words::new("zero", [x - 8.0, y + 8.0]));
    let right = fit.at(sheet.length.0, 0.0)[0];
    let words = Words::new("grain along x", [right - 24.0, y + 8.0]).anchor(Anchor::End);
    canvas.words(&words);
    canvas.path("axis", &format!("M{0} {2}H{1}", n(right - 22.0), n(right - 1.0), n(y + 7.0)));
    canvas.path("head", &format!("M{} {}l-2.6 -0.9v1.8Z", n(right), n(y + 7.0)));
    canvas.path("head", &format!("M{} {}l2.6 -0.9v1.8Z", n(right - 23.0), n(y + 7.0)));
}

/// A short bar across the cut at each tab.
fn tabs(canvas: &mut Canvas, fit: Fit, book: &Book, index: usize) {
    let Process::Router(router) = &book.job.design.process.machine.process else { return };
    let HoldDown::Tabs { height, length, .. } = router.hold_down else { return };
    for program in book.job.programs.iter().filter(|p| p.sheet == index && p.side == SheetSide::First) {
        let longest = length.0 + program.cutter.diameter.0;
        for block in &program.blocks {
            let Some(tabs) = block.tabs else { continue };
            let found = crossings(block, height.0, longest);
            // A block whose passes cannot be told from its tabs is left to the table's count.
            if found.len() == tabs.count {
                for at in found {
                    canvas.circle("tab", fit.at(at.x, at.y), 0.9);
                }
            }
        }
    }
}

/// Middles of the level stretches at tab height, each once.
fn crossings(block: &Block, height: f64, longest: f64) -> Vec<Point> {
    let mut found: Vec<Point> = Vec::new();
    let mut run: Vec<Point> = Vec::new();
    let mut at = (block.start, f64::INFINITY);
    let level = |z: f64| (z - height).abs() < crate::geom::tolerance::PATH_STEP;
    let mut close = |run: &mut Vec<Point>| {
        if let (Some(first), Some(last)) = (run.first(), run.last()) {
            let middle = first.midpoint(*last);
            let size = (*last - *first).hypot();
            let is_tab = run.len() > 1 && (0.5 * longest..1.5 * longest).contains(&size);
            if is_tab && found.iter().all(|p| (*p - middle).hypot() > SAME_TAB) {
                found.push(middle);
            }
        }
        run.clear();
    };
    for step in &block.moves {
        let to = match step {
            Move::Line { to, .. } | Move::Arc { to, .. } => *to,
            Move::Rapid { to } => {
                close(&mut run);
                at = (Point::new(to.x, to.y), to.z);
                continue;
            }
            Move::Drill { .. } => continue,
        };
        let end = Point::new(to.x, to.y);
        if level(at.1) && level(to.z) {
            if run.is_empty() {
                run.push(at.0);
            }
            run.push(end);
        } else {
            close(&mut run);
        }
        at = (end, to.z);
    }
    close(&mut run);
    found
}

/// Screws that hold the sheet down, and registration holes.
fn screws(canvas: &mut Canvas, fit: Fit, book: &Book, index: usize) {
    let Some(program) = book.job.programs.iter().find(|p| p.sheet == index && p.set_up.number == 1) else { return };
    for at in &program.set_up.screws {
        let [x, y] = fit.at(at.x, at.y);
        canvas.circle("screw", [x, y], 1.2);
        canvas.path("axis", &format!("M{} {}h1.6M{} {}v1.6", n(x - 0.8), n(y), n(x), n(y - 0.8)));
    }
    for at in &program.set_up.pins {
        canvas.circle("screw", fit.at(at.x, at.y), 0.8);
    }
}

/// Whether a program holds work of a kind.
pub(super) fn has(blocks: &[Block], work: Work) -> bool {
    blocks.iter().any(|b| b.work == work)
}

//! Labels: one for every panel, to be cut out and stuck on before it leaves the sheet.

use super::leaf::{wrapped, Leaf, Pen, FIELD, TYPE};
use crate::geom::Axis;
use crate::parts::{Face, Panel, PanelId};
use crate::units::Mm;
use crate::write::book::Book;
use crate::write::cut_list::{along_and_across, edge};

/// Width of a label.
const WIDE: f64 = 81.0;
/// Height of a label.
const HIGH: f64 = 29.5;
/// Across a leaf.
const COLUMNS: usize = 2;
/// Down a leaf.
const ROWS: usize = 7;
/// From one line of words to the next.
const LINE: f64 = 4.5;

/// All labels, in the order of cutting; parts on no sheet come last.
pub(super) fn leaves(book: &Book) -> Vec<Leaf> {
    let all = in_order(book);
    all.chunks(COLUMNS * ROWS)
        .enumerate()
        .map(|(i, chunk)| {
            let pages = all.len().div_ceil(COLUMNS * ROWS);
            let mut leaf = Leaf::new(&format!("Labels, leaf {} of {pages}", i + 1), &book.revision);
            for (k, (panel, sheet)) in chunk.iter().enumerate() {
                let at = [FIELD[0] + (k % COLUMNS) as f64 * WIDE, FIELD[1] + (k / COLUMNS) as f64 * HIGH];
                label(&mut leaf, book, *panel, sheet, at);
            }
            leaf
        })
        .collect()
}

/// Panels by sheet and order of cutting, each with where it lies.
fn in_order(book: &Book) -> Vec<(PanelId, String)> {
    let mut list = Vec::new();
    for (i, sheet) in book.job.layout.sheets.iter().enumerate() {
        for (order, p) in sheet.placements.iter().enumerate() {
            let part = &book.job.parts.parts[p.part];
            if let Some(panel) = part.panels.get((p.copy as usize).saturating_sub(1)) {
                list.push((*panel, format!("sheet {} no. {}", book.links.sheet_names[i], order + 1)));
            }
        }
    }
    let left: Vec<PanelId> =
        (0..book.job.model.panels.len()).map(PanelId).filter(|id| !list.iter().any(|(p, _)| p == id)).collect();
    list.extend(left.into_iter().filter(|id| book.unit.part_of.contains_key(id)).map(|id| (id, "no sheet".to_owned())));
    list
}

fn label(leaf: &mut Leaf, book: &Book, id: PanelId, sheet: &str, [x, y]: [f64; 2]) {
    leaf.rect(Pen::Dashed, [x, y, x + WIDE, y + HIGH]);
    let Some(panel) = book.job.model.panels.get(id.0) else { return };
    let Some(part) = book.unit.part_of.get(&id).and_then(|p| book.job.parts.parts.get(*p)) else { return };
    let [length, width] = along_and_across(part);
    let step = book.plan.step_of(id).map_or(String::new(), |n| format!("step {n}"));
    leaf.words(&panel.id, [x + 2.0, y + 6.0], 1.5 * TYPE, true);
    leaf.words(&step, [x + WIDE - 20.0, y + 6.0], TYPE, false);
    let up = if part.face_up == Face::A { "inside up" } else { "outside up" };
    let cut_as = if part.id == panel.id { String::new() } else { format!("cut as {}, ", part.id) };
    let board = &book.job.design.boards[part.board.0].name;
    let size = book.lengths.area(Mm(length), Mm(width));
    let lines =
        [panel.name.clone(), format!("{board}, {size}"), format!("{cut_as}{sheet}, {up}"), front(panel), mates(book, panel)];
    let mut at = y + 6.0 + LINE;
    for (i, text) in lines.iter().filter(|t| !t.is_empty()).enumerate() {
        let last = i + 1 == lines.iter().filter(|t| !t.is_empty()).count();
        let room = ((y + HIGH - 1.0 - at) / LINE).floor().max(0.0) as usize + 1;
        for line in wrapped(text, TYPE, false, WIDE - 4.0, if last { room } else { 1 }) {
            leaf.words(&line, [x + 2.0, at], TYPE, false);
            at += LINE;
        }
    }
}

/// Which edge or face looks to the load opening.
fn front(panel: &Panel) -> String {
    let Some(frame) = &panel.frame else { return String::new() };
    let is = |a: Axis, b: Axis| a == b;
    if is(frame.u, Axis::PlusY) {
        "front: left end of its inside face".to_owned()
    } else if is(frame.u, Axis::MinusY) {
        "front: right end of its inside face".to_owned()
    } else if is(frame.v, Axis::PlusY) {
        "front: lower edge of its inside face".to_owned()
    } else if is(frame.v, Axis::MinusY) {
        "front: upper edge of its inside face".to_owned()
    } else {
        "stands across, lower edge down".to_owned()
    }
}

fn mates(book: &Book, panel: &Panel) -> String {
    let notes =
        panel.edges.iter().filter_map(|n| Some(format!("{} {}", edge(n.edge), book.job.model.panels.get(n.mate.0)?.id)));
    let notes: Vec<String> = notes.collect();
    if notes.is_empty() {
        String::new()
    } else {
        format!("mates: {}", notes.join(", "))
    }
}

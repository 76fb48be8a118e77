//! The map of a sheet: border, tinted parts, ids, grain, what is left over. For people; never cut.

use super::drawing::{Cut, Drawing, Group, SheetNotes};
use super::label::Label;
use super::layer::Layer;
use super::svg::Page;
use crate::flat::Operation;
use crate::geom::{Point, Rect};
use crate::units::{decimal, Mm, Unit};
use ::svg::node::element::{Element, Group as Node, Path, Rectangle, Text};
use ::svg::node::Node as _;

/// Tints of parts, one per unit in turn: light woods, told apart by lightness as well as hue.
const TINTS: [&str; 6] = ["#f3e6cc", "#dfe8d8", "#f0d9c6", "#d9e4ec", "#f6efdf", "#e6dcea"];
/// The sheet itself.
const SHEET: &str = "#fdfcf9";
/// Border and grain lines.
const LINE: &str = "#8d867b";
/// Words.
const INK: &str = "#2b2722";
/// A shadow over pockets and grooves.
const SHADE: &str = "#6b4a1f";

/// The group `note` of a sheet.
pub(super) fn notes(drawing: &Drawing, sheet: &SheetNotes, page: Page) -> Node {
    let mut node = Node::new()
        .set("id", "note")
        .set("font-family", "Helvetica, Arial, 'Liberation Sans', sans-serif")
        .set("stroke-linejoin", "round");
    let border = 0.0015 * drawing.bounds.width().hypot(drawing.bounds.height());
    node = node
        .add(rectangle(drawing.bounds, page).set("fill", SHEET).set("stroke", LINE).set("stroke-width", page.size(border)));
    if let Some(offcut) = sheet.offcut {
        node = node.add(left_over(offcut, border, page));
    }
    for group in &drawing.groups {
        part(&mut node, group, border, page);
        if let Some(label) = &group.label {
            node.append(words(label, INK, page));
            if group.has_grain && label.size > SMALLEST_WITH_GRAIN {
                node.append(grain(label, page));
            }
        }
    }
    node
}

/// Type below this size stands without the sign for the grain.
const SMALLEST_WITH_GRAIN: f64 = 14.0;

fn rectangle(r: Rect, page: Page) -> Rectangle {
    Rectangle::new()
        .set("x", page.x(r.x0))
        .set("y", page.y(r.y1))
        .set("width", page.size(r.width()))
        .set("height", page.size(r.height()))
}

/// Whether a cut goes right through and leaves a hole.
fn is_opening(cut: &Cut) -> bool {
    matches!(cut.layer, Layer::Cut { operation: Operation::ThroughInside | Operation::Drill { depth: None, .. }, .. })
}

/// A part's face with its openings, then its pockets as shade.
fn part(node: &mut Node, group: &Group, border: f64, page: Page) {
    let outline = |cut: &&Cut| matches!(cut.layer, Layer::Cut { operation: Operation::ThroughOutside, .. });
    let shapes = group.cuts.iter().filter(outline).chain(group.cuts.iter().filter(|cut| is_opening(cut)));
    let face: String = shapes.map(|cut| page.path(&cut.shape)).collect();
    let path = |d: String| Path::new().set("d", d).set("fill-rule", "evenodd");
    let tint = TINTS[group.unit % TINTS.len()];
    node.append(path(face).set("fill", tint).set("stroke", LINE).set("stroke-width", page.size(border * 0.5)));
    for mark in group.cuts.iter().filter(|cut| matches!(cut.layer, Layer::Cut { operation: Operation::Mark, .. })) {
        node.append(
            path(page.path(&mark.shape))
                .set("fill", "none")
                .set("stroke", LINE)
                .set("stroke-width", page.size(border * 0.3)),
        );
    }
    let blind = |cut: &&Cut| {
        matches!(
            cut.layer,
            Layer::Cut {
                operation: Operation::Pocket { .. }
                    | Operation::Drill { depth: Some(_), .. }
                    | Operation::Countersink { .. },
                ..
            }
        )
    };
    let shade: Vec<&Cut> = group.cuts.iter().filter(blind).collect();
    // A pocket and its islands are one area.
    for area in shade.chunk_by(|_, next| next.island) {
        let d: String = area.iter().map(|cut| page.path(&cut.shape)).collect();
        node.append(path(d).set("fill", SHADE).set("fill-opacity", "0.22"));
    }
}

/// What is left over: dashed, with its size in mm or inches.
fn left_over(r: Rect, border: f64, page: Page) -> Node {
    let dash = page.size(8.0 * border);
    let size = (0.06 * r.width().min(r.height())).clamp(8.0, 36.0);
    // Never more than there is.
    let count = |mm: f64| match page.unit {
        Unit::Mm => decimal(mm.floor(), 0),
        Unit::Inch => decimal((Mm(mm).inches() * 10.0).floor() / 10.0, 1),
    };
    let text = format!("left over {} x {} {}", count(r.width()), count(r.height()), page.unit.symbol());
    let label = Label { text, centre: r.center(), size, upright: r.height() > 2.0 * r.width() };
    let frame = rectangle(r.inset(-2.0 * border), page)
        .set("fill", "none")
        .set("stroke", LINE)
        .set("stroke-width", page.size(border * 0.6))
        .set("stroke-dasharray", format!("{dash} {dash}"));
    Node::new().add(frame).add(words(&label, LINE, page))
}

/// Middle of plain capitals over the baseline, in sizes of the type (common practice, no source).
const HALF_CAPITAL: f64 = 0.35;

fn words(label: &Label, colour: &str, page: Page) -> Text {
    let (x, y) = (page.x(label.centre.x), page.y(label.centre.y));
    let text = Text::new(label.text.as_str())
        .set("font-size", page.size(label.size))
        .set("text-anchor", "middle")
        .set("fill", colour)
        .set("dy", page.size(HALF_CAPITAL * label.size))
        .set("x", x.as_str())
        .set("y", y.as_str());
    if label.upright {
        return text.set("transform", format!("rotate(-90 {x} {y})"));
    }
    text
}

/// A double-headed arrow along the sheet's grain, beside the words.
fn grain(label: &Label, page: Page) -> Element {
    let s = label.size;
    let (dx, dy) = if label.upright { (0.95 * s, 0.0) } else { (0.0, -0.95 * s) };
    let at = Point::new(label.centre.x + dx, label.centre.y + dy);
    let (reach, head) = (if label.upright { 0.45 * s } else { 1.1 * s }, 0.16 * s);
    let p = |x: f64, y: f64| format!("{} {}", page.x(at.x + x), page.y(at.y + y));
    let d = format!(
        "M{} L{} M{} L{} L{} M{} L{} L{}",
        p(-reach, 0.0),
        p(reach, 0.0),
        p(-reach + head, head),
        p(-reach, 0.0),
        p(-reach + head, -head),
        p(reach - head, head),
        p(reach, 0.0),
        p(reach - head, -head),
    );
    Path::new()
        .set("d", d)
        .set("fill", "none")
        .set("stroke", LINE)
        .set("stroke-linecap", "round")
        .set("stroke-width", page.size(0.06 * s))
        .into()
}

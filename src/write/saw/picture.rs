//! The picture of a sheet with its cuts: blanks tinted and named, offcuts dashed, waste grey, each cut with its number.

use super::{direction, Named};
use crate::geom::{Point, Rect};
use crate::nest::{Direction, Outcome, SawCut, SawPlan};
use crate::units::decimal;
use crate::write::Job;
use ::svg::node::element::{Description, Group, Line, Rectangle, Text, Title};
use ::svg::Document;

/// Blanks: a light wood.
const BLANK: &str = "#f3e6cc";
/// Offcuts to keep.
const KEPT: &str = "#fdfcf9";
/// Waste.
const WASTE: &str = "#d8d4cc";
/// Borders.
const LINE: &str = "#8d867b";
/// Words.
const INK: &str = "#2b2722";
/// Cuts by stage, in turn: told apart by lightness as well as hue.
const STAGES: [&str; 4] = ["#8c1c13", "#1b4f72", "#4d7c0f", "#7a4a00"];
/// Decimals of a coordinate in mm.
const PLACES: usize = 2;
/// Mean advance of a plain capital or digit, in heights of the type (common practice, no source).
const ADVANCE: f64 = 0.64;

/// `saw/<sheet>.svg`: true size in mm, y down from the sheet's upper edge.
pub(super) fn write(job: &Job, plan: &SawPlan, named: &Named<'_>, heading: &[String]) -> Vec<u8> {
    let sheet = &named.sheet.sheet;
    let page = Page { length: sheet.length.0, height: sheet.width.0 };
    let (w, h) = (number(sheet.length.0), number(sheet.width.0));
    let mut document = Document::new()
        .set("width", format!("{w}mm"))
        .set("height", format!("{h}mm"))
        .set("viewBox", format!("0 0 {w} {h}"))
        .set("font-family", "Helvetica, Arial, 'Liberation Sans', sans-serif")
        .add(Title::new(job.design.title.as_str()))
        .add(Description::new().add(::svg::node::Text::new(heading.join("\n"))));
    let whole = Rect::new(0.0, 0.0, sheet.length.0, sheet.width.0);
    document = document.add(page.rectangle(whole).set("fill", WASTE).set("stroke", LINE).set("stroke-width", 1));
    let mut pieces = Group::new().set("id", "pieces");
    for (name, outcome, r) in named.pieces() {
        let (fill, dash) = match outcome {
            Outcome::Blank(_) => (BLANK, None),
            Outcome::Kept => (KEPT, Some("12 8")),
            Outcome::Again | Outcome::Waste => continue,
        };
        let mut node =
            page.rectangle(r).set("fill", fill).set("stroke", LINE).set("stroke-width", 1).set("data-piece", name);
        if let Some(dash) = dash {
            node = node.set("stroke-dasharray", dash);
        }
        pieces = pieces.add(node).add(page.label(name, r));
    }
    let mut cuts = Group::new().set("id", "cuts");
    for (cut, _) in &named.cuts {
        cuts = page.cut(cuts, cut, plan.kerf.0);
    }
    format!("{}\n", document.add(pieces).add(cuts)).into_bytes()
}

fn number(mm: f64) -> String {
    decimal(mm, PLACES)
}

/// Turns the sheet's frame (y up) into the page's (y down).
struct Page {
    length: f64,
    height: f64,
}

impl Page {
    fn rectangle(&self, r: Rect) -> Rectangle {
        Rectangle::new()
            .set("x", number(r.x0))
            .set("y", number(self.height - r.y1))
            .set("width", number(r.width()))
            .set("height", number(r.height()))
    }

    fn words(&self, text: &str, at: Point, size: f64, colour: &str) -> Text {
        Text::new(text)
            .set("x", number(at.x))
            .set("y", number(self.height - at.y + 0.35 * size))
            .set("font-size", number(size))
            .set("text-anchor", "middle")
            .set("fill", colour)
    }

    /// A piece's name and size in its middle, upright in a narrow one.
    fn label(&self, name: &str, r: Rect) -> Group {
        let size_text = format!("{} x {}", decimal(r.width(), 1), decimal(r.height(), 1));
        let (w, h) = (r.width(), r.height());
        let upright = h > 1.5 * w;
        let (along, across) = if upright { (h, w) } else { (w, h) };
        let longest = name.chars().count().max(size_text.chars().count()) as f64;
        let size = (0.9 * along / (ADVANCE * longest)).min(0.3 * across).min(36.0);
        let c = r.center();
        let line = |text: &str, k: f64| self.words(text, Point::new(c.x, c.y + k * size), size, INK);
        let group = Group::new().add(line(name, 0.6)).add(line(&size_text, -0.6));
        if upright {
            return group.set("transform", format!("rotate(-90 {} {})", number(c.x), number(self.height - c.y)));
        }
        group
    }

    /// A line in the middle of the kerf, its number near where the cut begins.
    fn cut(&self, group: Group, cut: &SawCut, kerf: f64) -> Group {
        let colour = STAGES[(cut.stage as usize - 1) % STAGES.len()];
        let edge = match (cut.direction, cut.far) {
            (Direction::Rip, false) => cut.off.y1 + kerf / 2.0,
            (Direction::Rip, true) => cut.off.y0 - kerf / 2.0,
            (Direction::Cross, false) => cut.off.x1 + kerf / 2.0,
            (Direction::Cross, true) => cut.off.x0 - kerf / 2.0,
        };
        let (a, b) = match cut.direction {
            Direction::Rip => (Point::new(cut.piece.x0, edge), Point::new(cut.piece.x1, edge)),
            Direction::Cross => (Point::new(edge, cut.piece.y0), Point::new(edge, cut.piece.y1)),
        };
        let line = Line::new()
            .set("x1", number(a.x))
            .set("y1", number(self.height - a.y))
            .set("x2", number(b.x))
            .set("y2", number(self.height - b.y))
            .set("stroke", colour)
            .set("stroke-width", number(kerf))
            .set("data-cut", cut.number)
            .set("data-direction", direction(cut));
        // Spread along the line by the cut's number, so that neighbours' numbers do not lie on each other.
        let share = 0.06 + 0.04 * f64::from(cut.number % 5);
        let at = a + (b - a) * share;
        let size = 22.0;
        let text = cut.number.to_string();
        let plate_width = ADVANCE * size * text.len() as f64 + 8.0;
        // Wholly on the sheet.
        let inside = |v: f64, half: f64, end: f64| v.clamp(half, (end - half).max(half));
        let at = Point::new(inside(at.x, plate_width / 2.0, self.length), inside(at.y, size / 2.0 + 2.0, self.height));
        let plate = Rect::from_center_size(at, (plate_width, size + 4.0));
        group
            .add(line)
            .add(self.rectangle(plate).set("rx", 4).set("fill", "#ffffff").set("stroke", colour).set("stroke-width", 1))
            .add(self.words(&text, at, size, colour))
    }
}

//! Drawings as SVG: true size, one unit of the file per user unit, no transforms on cut lines, arcs as arcs.
//!
//! Lines to cut have a hairline stroke and no fill; they come part by part in the order of cutting, each part a group that holds
//! a group per layer. A sheet opens with the group `note`: border, tinted parts and ids, for people; a laser burns the files in `laser/`, which have none.

use super::drawing::{Drawing, Shape};
use super::map;
use super::number::{as_read, coordinate, radius};
use crate::geom::{tolerance, Contour, Rect};
use crate::units::{decimal, Mm, Unit};
use ::svg::node::element::{Description, Group, Path, Title};
use ::svg::Document;

/// Width of a line to cut: a hairline to every reader (SV2 of the trade's wishes asks for 0.01 to 0.05 mm).
const HAIRLINE: Mm = Mm(0.05);

/// The page: turns drawing coordinates (mm, y up) into SVG coordinates (the file's unit, y down).
#[derive(Clone, Copy, Debug)]
pub(super) struct Page {
    bounds: Rect,
    /// The file's unit.
    pub(super) unit: Unit,
}

/// A drawing as the bytes of an SVG file.
#[must_use]
pub fn write(drawing: &Drawing, unit: Unit) -> Vec<u8> {
    let page = Page { bounds: drawing.bounds, unit };
    let (width, height) = (page.size(drawing.bounds.width()), page.size(drawing.bounds.height()));
    let title = drawing.heading.iter().find_map(|line| line.strip_prefix("job: ")).unwrap_or_default();
    let mut document = Document::new()
        .set("width", format!("{width}{}", unit.symbol()))
        .set("height", format!("{height}{}", unit.symbol()))
        .set("viewBox", format!("0 0 {width} {height}"))
        .add(Title::new(title))
        .add(Description::new().add(::svg::node::Text::new(drawing.heading.join("\n"))));
    if let Some(sheet) = &drawing.sheet {
        document = document.add(map::notes(drawing, sheet, page));
    }
    for group in &drawing.groups {
        let mut part = Group::new().set("id", group.id.as_str());
        for cuts in group.cuts.chunk_by(|a, b| drawing.layer_name(&a.layer, unit) == drawing.layer_name(&b.layer, unit)) {
            let name = drawing.layer_name(&cuts[0].layer, unit);
            let mut layer = Group::new().set("id", format!("{}.{name}", group.id)).set("data-layer", name);
            for cut in cuts {
                let path = Path::new()
                    .set("d", page.path(&cut.shape))
                    .set("fill", "none")
                    .set("stroke", drawing.colour(&cut.layer))
                    .set("stroke-width", decimal(unit.count(HAIRLINE), 6))
                    .set("data-feature", cut.feature.as_str());
                layer = layer.add(path);
            }
            part = part.add(layer);
        }
        document = document.add(part);
    }
    let mut text = document.to_string();
    text.push('\n');
    text.into_bytes()
}

impl Page {
    /// A length in the file's unit.
    pub(super) fn size(&self, mm: f64) -> String {
        coordinate(self.unit, mm)
    }

    /// x to the right of the page's left edge.
    pub(super) fn x(&self, mm: f64) -> String {
        self.size(mm - self.bounds.x0)
    }

    /// y below the page's upper edge.
    pub(super) fn y(&self, mm: f64) -> String {
        self.size(self.bounds.y1 - mm)
    }

    /// A closed shape as path data.
    pub(super) fn path(&self, shape: &Shape) -> String {
        match shape {
            Shape::Contour(contour) => self.contour(contour),
            Shape::Circle { centre, radius: r } => {
                let (left, right, y) = (self.x(centre.x - r), self.x(centre.x + r), self.y(centre.y));
                // From the rounded ends, so that both halves are half turns whatever the rounding did.
                let [a, b] = [centre.x - r, centre.x + r].map(|x| as_read(self.unit, x - self.bounds.x0));
                let r = radius((b - a) / 2.0, true);
                format!("M{left} {y}A{r} {r} 0 0 0 {right} {y}A{r} {r} 0 0 0 {left} {y}Z")
            }
        }
    }

    /// A contour as path data. Radii follow from the rounded end points, so that a reader finds the same arc.
    fn contour(&self, contour: &Contour) -> String {
        let vertices = contour.vertices();
        let mut d = String::new();
        for (i, v) in vertices.iter().enumerate() {
            let next = vertices[(i + 1) % vertices.len()];
            if i == 0 {
                d = format!("M{} {}", self.x(v.x), self.y(v.y));
            }
            let end = format!("{} {}", self.x(next.x), self.y(next.y));
            if v.bulge == 0.0 {
                // The last straight line is the path's closing.
                if i + 1 < vertices.len() {
                    d += "L";
                    d += &end;
                }
            } else {
                let step = |a: f64, b: f64| as_read(self.unit, b) - as_read(self.unit, a);
                let chord = step(v.x - self.bounds.x0, next.x - self.bounds.x0)
                    .hypot(step(self.bounds.y1 - v.y, self.bounds.y1 - next.y));
                let r = chord * (1.0 + v.bulge * v.bulge) / (4.0 * v.bulge.abs());
                let r = radius(r, 1.0 - v.bulge.abs() < tolerance::HALF_TURN_BULGE);
                // y points down here: a counter-clockwise arc sweeps in the negative sense.
                let sweep = if v.bulge < 0.0 { "1" } else { "0" };
                for word in ["A", &r, " ", &r, " 0 0 ", sweep, " ", &end] {
                    d += word;
                }
            }
        }
        d.push('Z');
        d
    }
}

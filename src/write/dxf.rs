//! Drawings as DXF: release 2000 with lightweight polylines and a unit, or release 12 with the old polylines.
//!
//! The fixed part of a file (header variables, tables, blocks, objects) is a frame kept in `frames/`: what the `dxf` crate
//! writes, corrected so that strict readers find nothing to mend. A test derives the frames from the crate and compares. The
//! crate itself does not run here, since saving with it reads the clock and the local time zone (and stops the program in zones
//! where 1 January 1900 began twice); the frames hold fixed stamps, so a file's bytes depend on nothing but the drawing.

use super::drawing::{Cut, Drawing, Shape};
use super::heading::ascii;
use super::label::Label;
use super::layer::Layer;
use super::number::{bulge, coordinate, real};
use crate::design::ProcessChoice;
use crate::geom::{Contour, Rect};
use crate::units::Unit;
use std::fmt::{Display, Write as _};

/// Which release of DXF.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Release {
    /// Release 12: `POLYLINE` and `VERTEX`; no unit in the header.
    R12,
    /// Release 2000: `LWPOLYLINE`; the header names the unit.
    R2000,
}

impl Release {
    /// The one the project asks for.
    #[must_use]
    pub fn of(process: &ProcessChoice) -> Self {
        if process.dxf_release_12 {
            Self::R12
        } else {
            Self::R2000
        }
    }

    fn frame(self) -> &'static str {
        match self {
            Self::R12 => include_str!("frames/release-12.dxf"),
            Self::R2000 => include_str!("frames/release-2000.dxf"),
        }
    }
}

/// Handle of the model space in the frame of release 2000.
const MODEL_SPACE: &str = "5";
/// Handle of the layer table in the frame of release 2000.
const LAYER_TABLE: &str = "24";
/// First handle free for layers and entities; those of the frame lie below.
const FIRST_FREE: u32 = 0x100;

/// A drawing as the bytes of a DXF file.
#[must_use]
pub fn write(drawing: &Drawing, release: Release, unit: Unit) -> Vec<u8> {
    let layers = drawing.layers(unit);
    let mut records = Pairs::new(release, unit, FIRST_FREE);
    for layer in &layers {
        records.layer(layer, drawing);
    }
    let mut entities = Pairs::new(release, unit, records.next);
    if let Some(sheet) = &drawing.sheet {
        entities.rect(drawing.bounds);
        if let Some(offcut) = sheet.offcut {
            entities.rect(offcut);
        }
    }
    for group in &drawing.groups {
        for cut in &group.cuts {
            entities.cut(cut, &drawing.layer_name(&cut.layer, unit));
        }
        if let Some(label) = group.label.as_ref().filter(|_| drawing.sheet.is_some()) {
            entities.text(label);
        }
    }
    let mut out = Pairs::new(release, unit, 0);
    for line in &drawing.heading {
        out.pair(999, ascii(line));
    }
    let extents = extents(drawing);
    for line in release.frame().lines() {
        match line {
            "{layers}" => out.text.push_str(&records.text),
            "{entities}" => out.text.push_str(&entities.text),
            fixed if !fixed.starts_with('{') => {
                out.text.push_str(fixed);
                out.text.push_str("\r\n");
            }
            _ => {
                out.text.push_str(&filled(line, extents, unit, layers.len() + 1, entities.next));
                out.text.push_str("\r\n");
            }
        }
    }
    out.text.into_bytes()
}

/// A line of the frame with its blank, if it is one, filled in.
fn filled(line: &str, extents: Rect, unit: Unit, layer_count: usize, seed: u32) -> String {
    let size = |mm| real(coordinate(unit, mm));
    match line {
        "{min_x}" => size(extents.x0),
        "{min_y}" => size(extents.y0),
        "{max_x}" => size(extents.x1),
        "{max_y}" => size(extents.y1),
        "{view_x}" => size(extents.center().x),
        "{view_y}" => size(extents.center().y),
        // The frame's first view is half as wide again as high.
        "{view_height}" => size(1.05 * extents.height().max(extents.width() / 1.5)),
        "{insunits}" => format!("{:>6}", if unit == Unit::Mm { 4 } else { 1 }),
        "{measurement}" => format!("{:>6}", i32::from(unit == Unit::Mm)),
        "{layer_count}" => format!("{layer_count:>6}"),
        "{seed}" => format!("{seed:X}"),
        _ => line.to_owned(),
    }
}

/// Bounds of everything drawn.
fn extents(drawing: &Drawing) -> Rect {
    let shapes = drawing.groups.iter().flat_map(|g| &g.cuts).map(|c| c.shape.bounds());
    let border = drawing.sheet.as_ref().map(|_| drawing.bounds);
    shapes.chain(border).reduce(|a, b| a.union(b)).unwrap_or(drawing.bounds)
}

/// Group codes with their values, two lines each.
struct Pairs {
    text: String,
    release: Release,
    unit: Unit,
    /// The next free handle.
    next: u32,
}

impl Pairs {
    fn new(release: Release, unit: Unit, next: u32) -> Self {
        Self { text: String::new(), release, unit, next }
    }

    fn pair(&mut self, code: u32, value: impl Display) {
        // Writing to a String cannot fail.
        let _ = write!(self.text, "{code:>3}\r\n{value}\r\n");
    }

    fn size(&mut self, code: u32, mm: f64) {
        let value = real(coordinate(self.unit, mm));
        self.pair(code, value);
    }

    /// Opens a record or an entity: its kind, and in release 2000 its handle, owner and subclass.
    fn open(&mut self, kind: &str, owner: &str, subclass: &str) {
        self.pair(0, kind);
        if self.release == Release::R2000 {
            let handle = format!("{:X}", self.next);
            self.next += 1;
            self.pair(5, handle);
            self.pair(330, owner);
            self.pair(100, subclass);
        }
    }

    fn entity(&mut self, kind: &str, layer: &str, subclass: &str) {
        self.open(kind, MODEL_SPACE, "AcDbEntity");
        self.pair(8, layer);
        self.subclass(subclass);
    }

    fn subclass(&mut self, name: &str) {
        if self.release == Release::R2000 {
            self.pair(100, name);
        }
    }

    fn layer(&mut self, layer: &Layer, drawing: &Drawing) {
        self.open("LAYER", LAYER_TABLE, "AcDbSymbolTableRecord");
        self.subclass("AcDbLayerTableRecord");
        self.pair(2, drawing.layer_name(layer, self.unit));
        self.pair(70, 0);
        self.pair(62, drawing.colour_number(layer));
        self.pair(6, "CONTINUOUS");
        if self.release == Release::R2000 {
            // Notes are not plotted either.
            self.pair(290, i32::from(*layer != Layer::Note));
            self.pair(370, 0);
        }
    }

    fn cut(&mut self, cut: &Cut, layer: &str) {
        match &cut.shape {
            Shape::Contour(contour) => self.contour(contour, layer),
            Shape::Circle { centre, radius } => {
                self.entity("CIRCLE", layer, "AcDbCircle");
                self.size(10, centre.x);
                self.size(20, centre.y);
                self.size(30, 0.0);
                self.size(40, *radius);
            }
        }
    }

    /// A closed polyline: the closed flag, no repeated last vertex, arcs as bulges.
    fn contour(&mut self, contour: &Contour, layer: &str) {
        let points: Vec<[f64; 3]> = contour.vertices().iter().map(|v| [v.x, v.y, v.bulge]).collect();
        self.polyline(&points, layer);
    }

    fn rect(&mut self, r: Rect) {
        let corners = [[r.x0, r.y0, 0.0], [r.x1, r.y0, 0.0], [r.x1, r.y1, 0.0], [r.x0, r.y1, 0.0]];
        let layer = Layer::Note.name(self.unit);
        self.polyline(&corners, &layer);
    }

    fn polyline(&mut self, vertices: &[[f64; 3]], layer: &str) {
        match self.release {
            Release::R2000 => {
                self.entity("LWPOLYLINE", layer, "AcDbPolyline");
                self.pair(90, vertices.len());
                self.pair(70, 1);
            }
            Release::R12 => {
                self.entity("POLYLINE", layer, "");
                self.pair(66, 1);
                for code in [10, 20, 30] {
                    self.size(code, 0.0);
                }
                self.pair(70, 1);
            }
        }
        for [x, y, b] in vertices {
            if self.release == Release::R12 {
                self.entity("VERTEX", layer, "");
            }
            self.size(10, *x);
            self.size(20, *y);
            if self.release == Release::R12 {
                self.size(30, 0.0);
            }
            if *b != 0.0 {
                self.pair(42, real(bulge(*b)));
            }
        }
        if self.release == Release::R12 {
            self.entity("SEQEND", layer, "");
        }
    }

    /// A part's id, for people.
    fn text(&mut self, label: &Label) {
        let layer = Layer::Note.name(self.unit);
        self.entity("TEXT", &layer, "AcDbText");
        // Centred both ways: the second point rules, readers work the first one out.
        self.size(10, label.centre.x);
        self.size(20, label.centre.y);
        self.size(30, 0.0);
        self.size(40, CAPITALS * label.size);
        self.pair(1, ascii(&label.text));
        self.pair(50, if label.upright { "90.0" } else { "0.0" });
        self.pair(72, 1);
        self.size(11, label.centre.x);
        self.size(21, label.centre.y);
        self.size(31, 0.0);
        self.subclass("AcDbText");
        self.pair(73, 2);
    }
}

/// Height of capitals over the size of the type, which is how DXF measures text (common practice, no source).
const CAPITALS: f64 = 0.7;

//! What a drawing shows, before it becomes DXF or SVG: the cuts of one part, or of all parts of a sheet, in cutting order.

use super::beam;
use super::heading;
use super::label::{self, Label};
use super::layer::Layer;
use super::names;
use super::Job;
use crate::flat::{FlatCut, FlatPart, Operation, PartGrain};
use crate::geom::{Contour, Point, Rect};
use crate::nest::{Placement, Sheet};
use crate::shop::{LaserLines, LineStyle};
use crate::units::Unit;

/// A drawing in mm, y up.
#[derive(Clone, Debug)]
pub struct Drawing {
    /// What the file says of itself.
    pub heading: Vec<String>,
    /// What it shows: the part's or the sheet's own rectangle.
    pub bounds: Rect,
    /// One group per part, in cutting order.
    pub groups: Vec<Group>,
    /// What only a sheet has.
    pub sheet: Option<SheetNotes>,
    /// Names and colours of its lines where they are a laser's; `None` for the program's own.
    pub lines: Option<LaserLines>,
}

/// One part in a drawing.
#[derive(Clone, Debug)]
pub struct Group {
    /// Unique in the drawing: the part's id, on a sheet with the copy's number behind a dot.
    pub id: String,
    /// Where its id is written on a sheet.
    pub label: Option<Label>,
    /// Whether its grain runs along the sheet's, and must.
    pub has_grain: bool,
    /// Which of the sheet's units it belongs to, counted from 0 in order of name.
    pub unit: usize,
    /// Its cuts: marks, drills, pockets, openings, the outline last.
    pub cuts: Vec<Cut>,
}

/// One closed line of a drawing.
#[derive(Clone, Debug)]
pub struct Cut {
    /// What it stands for.
    pub layer: Layer,
    /// The feature it belongs to.
    pub feature: String,
    /// Its shape.
    pub shape: Shape,
    /// Whether it bounds an island that a pocket leaves standing.
    pub island: bool,
}

/// A closed shape.
#[derive(Clone, Debug)]
pub enum Shape {
    /// Lines and arcs.
    Contour(Contour),
    /// A full circle.
    Circle {
        /// Its centre.
        centre: Point,
        /// In mm.
        radius: f64,
    },
}

/// Notes of a sheet.
#[derive(Clone, Debug)]
pub struct SheetNotes {
    /// The largest rectangle left over.
    pub offcut: Option<Rect>,
}

impl Drawing {
    /// A part in its own frame.
    #[must_use]
    pub fn of_part(job: &Job, part: &FlatPart, revision: &str) -> Self {
        let group = Group {
            id: names::safe(&part.id),
            label: None,
            has_grain: false,
            unit: 0,
            cuts: cuts(part, None, job.design.process.machine.units),
        };
        Self {
            heading: heading::of_part(job, part, revision),
            bounds: part.outline.contour.bounds(),
            groups: vec![group],
            sheet: None,
            lines: None,
        }
        .with_legend(job.design.process.machine.units)
    }

    /// A sheet with everything that lies on it.
    #[must_use]
    pub fn of_sheet(job: &Job, sheet: &Sheet, revision: &str) -> Self {
        let unit = job.design.process.machine.units;
        let part_of = |p: &Placement| &job.parts.parts[p.part];
        let mut units: Vec<&str> = job.parts.parts.iter().map(|p| p.unit.as_str()).collect();
        units.sort_unstable();
        units.dedup();
        let groups = sheet.placements.iter().map(|placement| {
            let part = part_of(placement);
            let cuts = cuts(part, Some(placement), unit);
            Group {
                id: format!("{}.{}", names::safe(&part.id), placement.copy),
                label: label::fit(&part.id, &cuts),
                has_grain: part.grain != PartGrain::Any && job.design.boards[sheet.board.0].profile.has_grain,
                unit: units.binary_search(&part.unit.as_str()).unwrap_or(0),
                cuts,
            }
        });
        Self {
            heading: heading::of_sheet(job, sheet, revision),
            bounds: Rect::new(0.0, 0.0, sheet.length.0, sheet.width.0),
            groups: groups.collect(),
            sheet: Some(SheetNotes { offcut: sheet.offcut }),
            lines: None,
        }
        .with_legend(unit)
    }

    /// With a line in the heading for each layer in use: what it means, where every reader passes it over.
    pub(super) fn with_legend(mut self, unit: Unit) -> Self {
        let layers = self.layers(unit);
        let words = |layer: &Layer| match (&self.lines, layer) {
            (Some(lines), Layer::Cut { operation, .. }) => lines.all()[beam::kind(operation)].0.to_owned(),
            _ => layer.words(unit),
        };
        let lines = layers.iter().map(|layer| format!("layer {}: {}", self.layer_name(layer, unit), words(layer)));
        let lines: Vec<String> = lines.collect();
        self.heading.extend(lines);
        self
    }

    /// The layers in use, in order of cutting, then of name in the file's unit; never one twice.
    #[must_use]
    pub fn layers(&self, unit: Unit) -> Vec<Layer> {
        let mut layers: Vec<Layer> = self.groups.iter().flat_map(|g| g.cuts.iter().map(|c| c.layer)).collect();
        layers.extend(self.sheet.as_ref().map(|_| Layer::Note));
        let rank = |layer: &Layer| match (&self.lines, layer) {
            (Some(_), Layer::Cut { operation, .. }) => beam::kind(operation) as u32,
            _ => layer.rank(),
        };
        let key = |layer: &Layer| (rank(layer), self.layer_name(layer, unit));
        layers.sort_by_cached_key(key);
        layers.dedup_by_key(|layer| key(layer));
        layers
    }

    /// Name of a layer in this drawing.
    #[must_use]
    pub fn layer_name(&self, layer: &Layer, unit: Unit) -> String {
        self.style(layer).map_or_else(|| layer.name(unit), |style| style.layer.clone())
    }

    /// Colour of a layer's lines in SVG.
    #[must_use]
    pub fn colour<'a>(&'a self, layer: &Layer) -> &'a str {
        self.style(layer).map_or(layer.colour(), |style| &style.colour)
    }

    /// Colour number of a layer in DXF.
    #[must_use]
    pub fn colour_number(&self, layer: &Layer) -> u8 {
        self.style(layer).map_or(layer.colour_number(), |style| style.number)
    }

    fn style(&self, layer: &Layer) -> Option<&LineStyle> {
        let Layer::Cut { operation, .. } = layer else { return None };
        self.lines.as_ref().map(|lines| lines.all()[beam::kind(operation)].1)
    }
}

/// A part's cuts in the order of cutting, layer by layer, in its own frame or in the sheet's.
fn cuts(part: &FlatPart, placement: Option<&Placement>, unit: Unit) -> Vec<Cut> {
    let mut list: Vec<Cut> = Vec::with_capacity(part.cuts.len() + 1);
    for cut in part.cuts.iter().chain([&part.outline]) {
        let layer = Layer::Cut { operation: cut.operation, side: cut.side };
        let line = |shape, island| Cut { layer, feature: cut.feature.clone(), shape, island };
        list.push(line(shape(cut, placement), false));
        list.extend(cut.islands.iter().map(|island| line(Shape::Contour(placed(island, placement)), true)));
    }
    list.sort_by_cached_key(|cut| (cut.layer.rank(), cut.layer.name(unit)));
    list
}

fn shape(cut: &FlatCut, placement: Option<&Placement>) -> Shape {
    match cut.operation {
        Operation::Drill { at, diameter, .. } | Operation::Countersink { at, diameter } => {
            Shape::Circle { centre: placed_point(at, placement), radius: diameter.0 / 2.0 }
        }
        _ => Shape::Contour(placed(&cut.contour, placement)),
    }
}

/// A contour of a part as it lies on the sheet: turned about the part's origin, then moved.
fn placed(contour: &Contour, placement: Option<&Placement>) -> Contour {
    match placement {
        None => contour.clone(),
        Some(p) => p.laid(contour),
    }
}

fn placed_point(point: Point, placement: Option<&Placement>) -> Point {
    let Some(p) = placement else { return point };
    let turned = match p.turn.degrees() {
        0 => (point.x, point.y),
        90 => (-point.y, point.x),
        180 => (-point.x, -point.y),
        _ => (point.y, -point.x),
    };
    Point::new(turned.0 + p.at.x, turned.1 + p.at.y)
}

impl Shape {
    /// Exact bounds.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        match self {
            Self::Contour(contour) => contour.bounds(),
            Self::Circle { centre, radius } => {
                Rect::new(centre.x - radius, centre.y - radius, centre.x + radius, centre.y + radius)
            }
        }
    }
}

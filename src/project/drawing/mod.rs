//! Drawings that a maker brings: one closed outline, out of a DXF or SVG file, in mm with y up.

mod chain;
mod dxf;
mod svg;

use super::{codes, Drawing};
use crate::diag::Finding;
use crate::geom::{Contour, Vertex};
use crate::units::Unit;

/// Fills a drawing in from its file's text. What is found is why it cannot be used: it cannot be read, holds a curve that is not
/// known, or any other count of outlines than one, or does not say its unit.
pub fn import(drawing: &mut Drawing, text: &str) -> Option<Finding> {
    let name = &drawing.file.value;
    match read(name, text, drawing.unit.as_ref().map(|u| u.value)) {
        Ok(contour) => {
            drawing.contour = Some(contour);
            None
        }
        Err(fault) => {
            let message = format!("the drawing {name} cannot be used: {}", fault.message);
            Some(Finding::stop(codes::DRAWING_UNFIT, message).at(drawing.file.span).remedy(fault.remedy))
        }
    }
}

/// Why a drawing cannot be used, and what to do.
struct DrawingFault {
    /// What is wrong: `it holds two closed outlines`.
    message: String,
    /// What clears it, beginning with a verb.
    remedy: String,
}

impl DrawingFault {
    fn new(message: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self { message: message.into(), remedy: remedy.into() }
    }
}

/// Outlines as read, in the drawing's own unit, and how long that is in mm when the file says so.
struct Read {
    outlines: Vec<Vec<Vertex>>,
    mm_per_unit: Option<f64>,
}

/// The one closed outline of a drawing, in mm; `unit` stands in when the file does not declare its own.
fn read(name: &str, text: &str, unit: Option<Unit>) -> Result<Contour, DrawingFault> {
    let ends_with = |ending: &str| name.to_ascii_lowercase().ends_with(ending);
    let read = if ends_with(".dxf") {
        dxf::read(text)?
    } else if ends_with(".svg") {
        svg::read(text)?
    } else {
        return Err(DrawingFault::new("it is neither DXF nor SVG by its name", "name a file that ends in .dxf or .svg"));
    };
    let given = unit.map(|unit| unit.in_mm().0);
    let scale = match (read.mm_per_unit, given) {
        (Some(own), Some(given)) if (own / given - 1.0).abs() > SAME_SCALE => {
            return Err(DrawingFault::new(
                format!("its own unit is {own} mm, and `unit` says {given} mm"),
                "take `unit` out, or save the drawing with the right unit",
            ))
        }
        (Some(scale), _) | (None, Some(scale)) => scale,
        (None, None) => {
            return Err(DrawingFault::new(
                "it does not say what its unit is",
                "write `unit = \"mm\"` or `unit = \"in\"` beside `file`, or save the drawing with its unit",
            ))
        }
    };
    let [outline] = &read.outlines[..] else {
        return Err(DrawingFault::new(
            format!("it holds {} closed outlines, and one is wanted", read.outlines.len()),
            "save the outline by itself",
        ));
    };
    let scaled: Vec<Vertex> = outline.iter().map(|v| Vertex { x: v.x * scale, y: v.y * scale, bulge: v.bulge }).collect();
    Contour::new(&scaled)
        .map(Contour::ccw)
        .map_err(|e| DrawingFault::new(format!("its outline cannot be used: {e}"), "draw it again, or list its points"))
}

/// Two scales nearer than this, relative to each other, are one.
const SAME_SCALE: f64 = 1e-4;

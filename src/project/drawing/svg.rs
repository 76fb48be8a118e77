//! SVG 1.1: paths and basic shapes, with their groups' transforms; the page's size gives the unit.

use super::{DrawingFault, Read};
use crate::geom::tolerance::{DRAWING_JOINT, TRACE_CHORD};
use crate::geom::Vertex;
use crate::units::MM_PER_INCH;
use kurbo::{Affine, BezPath, Circle, Ellipse, PathEl, Point, Rect, Shape as _};
use svg::node::Attributes;
use svg::parser::Event;

/// Millimetres of the units of length that say a size on paper (SVG 1.1, 7.10; CSS 2.1, 4.3.2).
const UNITS: [(&str, f64); 5] =
    [("mm", 1.0), ("cm", 10.0), ("in", MM_PER_INCH), ("pt", MM_PER_INCH / 72.0), ("pc", MM_PER_INCH / 6.0)];
/// Elements whose content is only drawn where something refers to it.
const APART: [&str; 7] = ["defs", "symbol", "clipPath", "mask", "marker", "pattern", "metadata"];
/// Elements that draw what is no outline.
const BESIDE: [&str; 8] = ["title", "desc", "style", "text", "tspan", "g", "a", "svg"];

/// All outlines of a drawing, y up.
pub(super) fn read(text: &str) -> Result<Read, DrawingFault> {
    let mut mm_per_unit = None;
    let mut outlines = Vec::new();
    let mut transforms = vec![Affine::IDENTITY];
    let mut apart = 0usize;
    let mut seen = false;
    for event in svg::read(text).map_err(|e| damaged(&e.to_string()))? {
        match event {
            Event::Error(e) => return Err(damaged(&e.to_string())),
            Event::Tag(name, svg::node::element::tag::Type::End, _) => {
                transforms.pop();
                apart -= usize::from(apart > 0 && APART.contains(&name));
            }
            Event::Tag(name, kind, attributes) => {
                if name == "svg" && !seen {
                    seen = true;
                    mm_per_unit = page(&attributes)?;
                }
                let own = attributes.get("transform").map_or(Ok(Affine::IDENTITY), |t| transform(t))?;
                let whole = transforms.last().copied().unwrap_or(Affine::IDENTITY) * own;
                if apart == 0 && !APART.contains(&name) {
                    if let Some(path) = shape(name, &attributes)? {
                        outlines.extend(closed(&(whole * path), mm_per_unit.unwrap_or(1.0))?);
                    }
                }
                if kind == svg::node::element::tag::Type::Start {
                    transforms.push(whole);
                    apart += usize::from(APART.contains(&name));
                }
            }
            _ => {}
        }
    }
    if !seen {
        return Err(damaged("it has no svg element"));
    }
    Ok(Read { outlines, mm_per_unit })
}

fn damaged(what: &str) -> DrawingFault {
    DrawingFault::new(format!("it is damaged: {what}"), "save the drawing again as plain SVG")
}

/// Millimetres per unit of the drawing, when the page says its size on paper; both directions must agree.
fn page(attributes: &Attributes) -> Result<Option<f64>, DrawingFault> {
    let size = |key: &str| -> Option<f64> {
        let value = attributes.get(key)?.trim();
        let (_, mm) = UNITS.iter().find(|(unit, _)| value.ends_with(unit))?;
        value[..value.len() - 2].trim().parse::<f64>().ok().map(|x| x * mm)
    };
    let (Some(width), Some(height), Some(view)) = (size("width"), size("height"), attributes.get("viewBox")) else {
        return Ok(None);
    };
    let view: Vec<f64> = view.split([' ', ',']).filter(|w| !w.is_empty()).filter_map(|w| w.parse().ok()).collect();
    let [_, _, wide, high] = view[..] else { return Err(damaged("its viewBox is not four numbers")) };
    if !(wide > 0.0 && high > 0.0 && width > 0.0 && height > 0.0) {
        return Err(damaged("its page has no size"));
    }
    let (across, up) = (width / wide, height / high);
    if (across / up - 1.0).abs() > super::SAME_SCALE {
        return Err(DrawingFault::new(
            format!("its page is {across:.4} mm per unit across and {up:.4} mm up"),
            "give width and height the same proportion as the viewBox",
        ));
    }
    Ok(Some(across))
}

fn shape(name: &str, attributes: &Attributes) -> Result<Option<BezPath>, DrawingFault> {
    let number = |key: &str| -> Result<f64, DrawingFault> {
        let Some(text) = attributes.get(key) else { return Ok(0.0) };
        text.trim().trim_end_matches("px").parse().map_err(|_| damaged(&format!("{key} of a {name} is no number")))
    };
    let path = match name {
        "path" => {
            let d = attributes.get("d").map_or("", |d| d);
            BezPath::from_svg(d).map_err(|e| damaged(&format!("a path: {e}")))?
        }
        "rect" => {
            if number("rx")? > 0.0 || number("ry")? > 0.0 {
                return Err(not_read("rectangle with round corners"));
            }
            let (x, y) = (number("x")?, number("y")?);
            Rect::new(x, y, x + number("width")?, y + number("height")?).to_path(SMALL)
        }
        "circle" => Circle::new((number("cx")?, number("cy")?), number("r")?).to_path(SMALL),
        "ellipse" => Ellipse::new((number("cx")?, number("cy")?), (number("rx")?, number("ry")?), 0.0).to_path(SMALL),
        "polygon" | "polyline" => {
            let text = attributes.get("points").map_or("", |p| p);
            let close = if name == "polygon" { "Z" } else { "" };
            BezPath::from_svg(&format!("M{text}{close}")).map_err(|e| damaged(&format!("a {name}: {e}")))?
        }
        "line" => {
            let mut path = BezPath::new();
            path.move_to((number("x1")?, number("y1")?));
            path.line_to((number("x2")?, number("y2")?));
            path
        }
        name if BESIDE.contains(&name) => return Ok(None),
        name if name.contains(':') => return Ok(None),
        name => return Err(not_read(name)),
    };
    Ok(Some(path))
}

/// How far a curve's Bézier copy may leave a circle or ellipse, in the drawing's unit.
const SMALL: f64 = 1e-4;

fn not_read(what: &str) -> DrawingFault {
    DrawingFault::new(format!("it holds a {what}, which is not read"), "turn everything into plain paths and save it again")
}

/// The transform list of SVG 1.1, 7.6.
fn transform(text: &str) -> Result<Affine, DrawingFault> {
    let mut whole = Affine::IDENTITY;
    for piece in text.split(')').map(|p| p.trim().trim_start_matches(',').trim()).filter(|p| !p.is_empty()) {
        let (name, list) = piece.split_once('(').ok_or_else(|| damaged("a transform"))?;
        let list: Vec<f64> =
            list.split([' ', ',']).filter(|w| !w.is_empty()).filter_map(|w| w.trim().parse().ok()).collect();
        let one = match (name.trim(), &list[..]) {
            ("matrix", &[a, b, c, d, e, f]) => Affine::new([a, b, c, d, e, f]),
            ("translate", &[x]) => Affine::translate((x, 0.0)),
            ("translate", &[x, y]) => Affine::translate((x, y)),
            ("scale", &[s]) => Affine::scale(s),
            ("scale", &[x, y]) => Affine::scale_non_uniform(x, y),
            ("rotate", &[a]) => Affine::rotate(a.to_radians()),
            ("rotate", &[a, x, y]) => Affine::rotate_about(a.to_radians(), Point::new(x, y)),
            _ => return Err(not_read(&format!("transform {}", name.trim()))),
        };
        whole *= one;
    }
    Ok(whole)
}

/// The outlines of a path as straight lines, y up; an open one is a fault.
fn closed(path: &BezPath, scale: f64) -> Result<Vec<Vec<Vertex>>, DrawingFault> {
    let mut list: Vec<(Vec<Vertex>, bool)> = Vec::new();
    kurbo::flatten(path, TRACE_CHORD / scale, |el| match el {
        PathEl::MoveTo(p) => list.push((vec![vertex(p)], false)),
        PathEl::LineTo(p) => {
            if let Some((vertices, _)) = list.last_mut() {
                vertices.push(vertex(p));
            }
        }
        PathEl::ClosePath => {
            if let Some(last) = list.last_mut() {
                last.1 = true;
            }
        }
        // A flattened path holds no curves.
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    let mut outlines = Vec::new();
    for (mut vertices, is_closed) in list.into_iter().filter(|(v, _)| v.len() > 1) {
        let (first, last) = (vertices[0], vertices[vertices.len() - 1]);
        let meets = (first.x - last.x).hypot(first.y - last.y) <= DRAWING_JOINT / scale;
        if !meets && !is_closed {
            return Err(DrawingFault::new(
                format!("a line of it ends at {:.2}, {:.2} and is not closed", last.x, -last.y),
                "close the path",
            ));
        }
        if meets {
            vertices.pop();
        }
        outlines.push(vertices);
    }
    Ok(outlines)
}

fn vertex(p: Point) -> Vertex {
    Vertex { x: p.x, y: -p.y, bulge: 0.0 }
}

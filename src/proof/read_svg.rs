//! A reader of the SVG that a pack holds: closed paths in page units, the page's size, nothing transformed.

use super::drawing::{is_note, Drawing, Drawn};
use super::fault::{line_at, quoted, Fault};
use super::limits;
use super::read_dxf::check_ring;
use super::shape::Pt;
use super::svg_path;
use super::xml::{Piece, Reader};
use crate::units::MM_PER_INCH;

/// The page: mm per unit and the view box in units.
#[derive(Clone, Copy, Debug)]
struct Page {
    scale: f64,
    view: [f64; 4],
}

/// Reads a drawing; lengths come out in mm, y up from the lower edge of the view box plus its own origin.
///
/// # Errors
/// At the first thing that is not well formed, or does not belong on a cut path.
pub fn read(bytes: &[u8]) -> Result<Drawing, Fault> {
    if bytes.len() > limits::FILE_BYTES {
        return Err(Fault::whole(format!(
            "the file has {} bytes, more than the {} read at all",
            bytes.len(),
            limits::FILE_BYTES
        )));
    }
    let text = std::str::from_utf8(bytes).map_err(|e| {
        let line = line_at(bytes, e.valid_up_to());
        Fault::on(line, "the file is not UTF-8 text")
    })?;
    let mut reader = Reader::new(text);
    let mut drawing = Drawing::default();
    let mut page = None;
    let mut groups: Vec<Scope> = Vec::new();
    loop {
        let line = reader.line();
        let Some(piece) = reader.next()? else { break };
        match piece {
            Piece::Words(words) => drawing.notes.push(words),
            Piece::Close(_) => {
                groups.pop();
            }
            Piece::Open { name, attributes, closed } => {
                let scope = Scope::inside(groups.last(), &attributes);
                element(&mut drawing, &mut page, line, name, &attributes, &scope)?;
                if !closed {
                    groups.push(scope);
                }
            }
        }
    }
    if page.is_none() {
        return Err(Fault::whole("the root element is not svg"));
    }
    Ok(drawing)
}

/// What an element takes over from those around it.
#[derive(Clone, Debug, Default)]
struct Scope {
    layer: Option<String>,
    moved: bool,
    unseen: bool,
}

impl Scope {
    fn inside(outer: Option<&Self>, attributes: &[(&str, String)]) -> Self {
        let mut scope = outer.cloned().unwrap_or_default();
        for (key, value) in attributes {
            match *key {
                "data-layer" => scope.layer = Some(value.clone()),
                "class" | "id" if scope.layer.is_none() && is_note(&value.to_ascii_uppercase()) => {
                    scope.layer = Some(value.to_ascii_uppercase());
                }
                "transform" => scope.moved = true,
                "display" | "visibility" | "opacity" | "clip-path" | "mask" => scope.unseen = true,
                _ => {}
            }
        }
        scope
    }
}

fn element(
    drawing: &mut Drawing,
    page: &mut Option<Page>,
    line: usize,
    name: &str,
    attributes: &[(&str, String)],
    scope: &Scope,
) -> Result<(), Fault> {
    let get = |key: &str| attributes.iter().find(|(k, _)| *k == key).map(|(_, v)| v.as_str());
    let note = scope.layer.as_deref().is_some_and(is_note);
    match name {
        "svg" if page.is_none() => {
            let read = root(get("width"), get("height"), get("viewBox")).map_err(|m| Fault::on(line, m))?;
            drawing.unit_mm = Some(read.scale);
            drawing.page = Some([read.view[2] * read.scale, read.view[3] * read.scale]);
            *page = Some(read);
            Ok(())
        }
        _ if page.is_none() => Err(Fault::on(line, "the root element is not svg")),
        "g" | "title" | "desc" | "metadata" | "style" => Ok(()),
        _ if note => {
            *drawing.uncut.entry(scope.layer.clone().unwrap_or_default()).or_insert(0) += 1;
            Ok(())
        }
        "path" | "circle" => cut(drawing, page.as_ref(), line, name, attributes, scope),
        other => Err(Fault::on(line, format!("element {} on a cut layer", quoted(other)))),
    }
}

fn cut(
    drawing: &mut Drawing,
    page: Option<&Page>,
    line: usize,
    name: &str,
    attributes: &[(&str, String)],
    scope: &Scope,
) -> Result<(), Fault> {
    let fault = |message: String| Fault::on(line, message);
    let get = |key: &str| attributes.iter().find(|(k, _)| *k == key).map(|(_, v)| v.as_str());
    if scope.moved {
        return Err(fault("a cut path under a transform".to_owned()));
    }
    if scope.unseen {
        return Err(fault("a cut path that is hidden or clipped".to_owned()));
    }
    let (Some(layer), Some(page)) = (scope.layer.as_ref(), page) else {
        return Err(fault("a path without a layer (data-layer)".to_owned()));
    };
    let rings = if name == "circle" {
        let number = |key: &str| get(key).and_then(plain_number).ok_or(fault(format!("a circle without a usable {key}")));
        let (x, y, r) = (number("cx")?, number("cy")?, number("r")?);
        if r <= 0.0 {
            return Err(fault("a circle without a radius".to_owned()));
        }
        vec![super::shape::Ring::circle(Pt::new(x, y), r)]
    } else {
        svg_path::rings(get("d").ok_or(fault("a path without data".to_owned()))?).map_err(fault)?
    };
    let [_, y0, _, height] = page.view;
    for ring in rings {
        // Upside down: the page's y runs down, the design's up.
        let ring = ring.mapped(true, |p| Pt::new(p.x * page.scale, (2.0 * y0 + height - p.y) * page.scale));
        check_ring(&ring, line)?;
        drawing.contours.push(Drawn { line, layer: layer.clone(), ring });
    }
    Ok(())
}

fn plain_number(text: &str) -> Option<f64> {
    text.trim().parse::<f64>().ok().filter(|v| v.is_finite() && v.abs() <= limits::COORDINATE)
}

/// Width and height with a unit, and a view box of the same numbers.
fn root(width: Option<&str>, height: Option<&str>, view: Option<&str>) -> Result<Page, String> {
    let length = |text: Option<&str>, name: &str| -> Result<(f64, f64), String> {
        let text = text.ok_or(format!("the page has no {name}"))?.trim();
        let (number, scale) = match (text.strip_suffix("mm"), text.strip_suffix("in")) {
            (Some(number), _) => (number, 1.0),
            (_, Some(number)) => (number, MM_PER_INCH),
            _ => return Err(format!("the page's {name} {} is not in mm or in", quoted(text))),
        };
        plain_number(number)
            .filter(|v| *v > 0.0)
            .map(|v| (v, scale))
            .ok_or(format!("the page's {name} {} is not usable", quoted(text)))
    };
    let (w, scale) = length(width, "width")?;
    let (h, scale_h) = length(height, "height")?;
    let numbers: Option<Vec<f64>> = view.ok_or("the page has no view box")?.split_whitespace().map(plain_number).collect();
    let Some(&[x0, y0, vw, vh]) = numbers.as_deref() else {
        return Err("the view box does not hold four numbers".to_owned());
    };
    if scale != scale_h || (vw - w).abs() > limits::ROUNDING || (vh - h).abs() > limits::ROUNDING {
        return Err(format!("the page is {w} x {h} but its view box {vw} x {vh}: readers would scale the parts"));
    }
    Ok(Page { scale, view: [x0, y0, vw, vh] })
}

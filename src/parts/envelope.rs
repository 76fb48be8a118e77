//! Only what is doubtful, as gauges for a fast try in the vehicle: the profile of each keep-out, that of the closed door, the faces of
//! the drawers, the heights of the tables. All at real size, from the unit as it is to be built.

use super::{codes, Model};
use crate::design::{BoardId, Design, FreePanel, KeepOut};
use crate::diag::{Checked, Finding, Span};
use crate::dim::Dim;
use crate::geom::{Contour, Point, Rect};
use crate::units::Mm;

/// How far a gauge reaches beyond what it is held against, in mm. Common practice, no source.
const ARM: f64 = 80.0;
/// Width of a height stick, in mm. Common practice, no source.
const STICK: f64 = 60.0;

/// The gauges, as loose panels.
#[must_use]
pub fn envelope(design: &Design, model: &Model) -> Checked<Vec<FreePanel>> {
    let mut gauges = Vec::new();
    let mut found = Vec::new();
    if let Some(bay) = &design.bay {
        let middle = bay.width.as_ref().map_or(0.0, |w| w.nominal().0 / 2.0);
        for keep_out in &bay.keep_outs {
            match keep_out_gauge(keep_out, middle) {
                Some(outline) => gauges.push(gauge(&format!("{} profile", keep_out.name), &outline, keep_out.span)),
                None => found.push(left_out(&keep_out.name, keep_out.span)),
            }
        }
        let door: Vec<[f64; 2]> = bay.door.iter().map(|(z, reach)| [reach.nominal().0, z.nominal().0]).collect();
        if door.len() >= 2 {
            match door_gauge(&door) {
                Some(outline) => gauges.push(gauge("door profile", &outline, bay.span)),
                None => found.push(left_out("the closed door", bay.span)),
            }
        }
    }
    // A loose panel may be called a front as well.
    let moved = model.motions.iter().flat_map(|m| &m.panels).filter_map(|id| model.panels.get(id.0));
    for panel in moved.filter(|p| p.name.ends_with(" drawer front")) {
        let (w, h) = (panel.length.nominal().0, panel.width.nominal().0);
        gauges.extend(plate(w, h).map(|outline| gauge(&format!("{} face", panel.name), &outline, panel.span)));
    }
    for pull_out in &design.pull_outs {
        let table = model.panels.iter().find(|p| p.name == format!("{} table", pull_out.name));
        let top = table.and_then(super::Panel::solid).map(|s| s.max.z);
        let stick = top.and_then(|top| plate(top, STICK));
        gauges.extend(stick.map(|outline| gauge(&format!("{} height stick", pull_out.name), &outline, pull_out.span)));
    }
    if gauges.is_empty() {
        found.push(
            Finding::stop(codes::NO_ENVELOPE, "there is no keep-out, door, drawer or table to cut a gauge for".to_owned())
                .remedy("leave `--only` out, or write the bay's keep-outs and door"),
        );
        return Checked::failed(found);
    }
    Checked::new(gauges, found)
}

fn left_out(what: &str, span: Option<Span>) -> Finding {
    Finding::caution(codes::GAUGE_LEFT_OUT, format!("no gauge could be drawn for {what}"))
        .at(span)
        .remedy("measure it by hand, or write its sizes anew")
}

fn gauge(name: &str, outline: &Contour, span: Option<Span>) -> FreePanel {
    let b = outline.bounds();
    let size = |mm: f64| Dim::number(Mm(mm), format!("size of the gauge {name}"));
    let corner = -b.origin().to_vec2();
    FreePanel {
        name: name.to_owned(),
        size: [size(b.width()), size(b.height())],
        outline: Some(outline.moved(corner)),
        board: BoardId(0),
        quantity: 1,
        grain: None,
        cuts: Vec::new(),
        at: None,
        span,
    }
}

fn plate(width: f64, height: f64) -> Option<Contour> {
    Contour::rect(Rect::new(0.0, 0.0, width, height)).ok()
}

/// Stands on the floor against the wall, with the keep-out taken out of it: looking in, x to the right, z up.
fn keep_out_gauge(keep_out: &KeepOut, middle: f64) -> Option<Contour> {
    let side = |i: usize| {
        let from = keep_out.from[i].nominal().0;
        (from, from + keep_out.size[i].nominal().0)
    };
    let ((x0, x1), (z0, z1)) = (side(0), side(2));
    let on_left = f64::midpoint(x0, x1) < middle;
    let whole = if on_left { Rect::new(x0, 0.0, x1 + ARM, z1 + ARM) } else { Rect::new(x0 - ARM, 0.0, x1, z1 + ARM) };
    // A little over the wall's and the floor's side, so that no sliver is left there.
    let over = |low: bool| if low { ARM } else { 0.0 };
    let cut = match keep_out.shape.as_ref().and_then(crate::geom::Prism::section_xz) {
        Some(points) => Contour::polygon(&points).ok()?,
        None => {
            Contour::rect(Rect::new(x0 - over(on_left), if z0 <= 0.0 { -ARM } else { z0 }, x1 + over(!on_left), z1)).ok()?
        }
    };
    let mut left = Contour::rect(whole).ok()?.minus(&cut).ok()?;
    left.sort_by(|a, b| b.area().total_cmp(&a.area()));
    left.into_iter().next().map(|region| region.outer)
}

/// Held against the closed door from inside: its edge follows how far the door reaches in, by height.
fn door_gauge(door: &[[f64; 2]]) -> Option<Contour> {
    let deepest = door.iter().map(|p| p[0]).fold(f64::NEG_INFINITY, f64::max) + ARM;
    let (first, last) = (door.first()?, door.last()?);
    let mut points = vec![Point::new(deepest, first[1]), Point::new(deepest, last[1])];
    points.extend(door.iter().rev().map(|p| Point::new(p[0], p[1])));
    let outline = Contour::polygon(&points).ok()?.ccw();
    outline.check_simple().ok().map(|()| outline)
}

//! Where a part comes to lie on its sheet.

use crate::flat::FlatPart;
use crate::geom::{Contour, Point, Rect};
use crate::nest::Placement;

/// The rectangle that a placed part takes.
pub(super) fn bounds(part: &FlatPart, p: &Placement) -> Rect {
    moved(&part.outline.contour, p).bounds()
}

/// Lower left corner of the placed part's bounds.
pub(super) fn corner(part: &FlatPart, p: &Placement) -> Point {
    let r = bounds(part, p);
    Point::new(r.x0, r.y0)
}

fn moved(contour: &Contour, p: &Placement) -> Contour {
    contour.quarter_turned(p.turn.quarters()).moved(p.at.to_vec2())
}

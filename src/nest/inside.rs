//! Which parts of a sheet lie in openings of others.

use super::types::Sheet;
use crate::flat::FlatPart;
use crate::flat::Operation;
use crate::geom::Contour;

/// Where a part lies that is not on the sheet's own waste.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Inside {
    /// The part around it: index into the sheet's placements.
    pub host: usize,
    /// The opening: index into the host's cuts.
    pub cut: usize,
}

/// For each placement of a sheet the innermost opening it lies in, if any.
#[must_use]
pub fn inside(sheet: &Sheet, parts: &[FlatPart]) -> Vec<Option<Inside>> {
    let outline = |i: usize| {
        let p = &sheet.placements[i];
        Some(p.laid(&parts.get(p.part)?.outline.contour))
    };
    let outlines: Vec<Option<Contour>> = (0..sheet.placements.len()).map(outline).collect();
    // The smallest opening found so far, and its area.
    let mut found: Vec<Option<(Inside, f64)>> = vec![None; outlines.len()];
    let areas = outlines.iter().flatten().map(|o| o.area().abs());
    let smallest = areas.fold(f64::INFINITY, f64::min);
    for (host, p) in sheet.placements.iter().enumerate() {
        let Some(part) = parts.get(p.part) else { continue };
        for (cut, opening) in part.cuts.iter().enumerate() {
            let area = opening.contour.area().abs();
            if opening.operation != Operation::ThroughInside || area < smallest {
                continue;
            }
            let edge = p.laid(&opening.contour).ccw();
            let around = edge.bounds();
            for (i, outline) in outlines.iter().enumerate() {
                let Some(outline) = outline.as_ref().filter(|_| i != host) else { continue };
                let b = outline.bounds();
                let within = around.x0 <= b.x0 && around.y0 <= b.y0 && b.x1 <= around.x1 && b.y1 <= around.y1;
                if within && found[i].is_none_or(|(_, least)| area < least) && edge.holds(outline) {
                    found[i] = Some((Inside { host, cut }, area));
                }
            }
        }
    }
    found.into_iter().map(|f| f.map(|(inside, _)| inside)).collect()
}

/// For each placement how many parts lie around it, and the outermost of them, or itself.
#[must_use]
pub fn depths(inside: &[Option<Inside>]) -> Vec<(u32, usize)> {
    let depth = |start: usize| {
        let (mut at, mut deep) = (start, 0);
        // What lies around a part is larger than it, so the way out ends; the count guards against a layout that is none.
        while let Some(Inside { host, .. }) = inside[at].filter(|_| (deep as usize) < inside.len()) {
            (at, deep) = (host, deep + 1);
        }
        (deep, at)
    };
    (0..inside.len()).map(depth).collect()
}

//! Panels as boxes: what is left of each after its notches, openings and grooves, and what happens when boxes slide.

use crate::dim::Dim;
use crate::geom::tolerance::TOUCH;
use crate::geom::{Axis, Box3};
use crate::parts::{Depth, Face, FeatureKind, Model, Panel};
use crate::units::Mm;

/// Where a rectangle is cut out of a panel, in its frame: `[from, to]` along u, v and w.
type Cut = [[f64; 2]; 3];
/// A rectangle in a panel's plane: `[from, to]` along u and v.
type Rectangle = [[f64; 2]; 2];

/// The boxes that fill a panel exactly, its round cuts disregarded (as if they were wood); none for a panel without a place.
#[must_use]
pub fn boxes(panel: &Panel) -> Vec<Box3> {
    let Some(frame) = &panel.frame else { return Vec::new() };
    let size = [panel.length.nominal().0, panel.width.nominal().0];
    let thick = panel.thickness.nominal().0;
    let cuts = cuts(panel, size, thick);
    let mut layers: Vec<f64> = vec![-thick, 0.0];
    layers.extend(cuts.iter().flat_map(|cut| cut[2]));
    let layers = steps(layers);
    let mut solid: Vec<(Rectangle, [f64; 2])> = Vec::new();
    for pair in layers.windows(2) {
        let middle = f64::midpoint(pair[0], pair[1]);
        let here: Vec<&Cut> = cuts.iter().filter(|cut| cut[2][0] < middle && cut[2][1] > middle).collect();
        for rectangle in left_of(size, &here) {
            // A rectangle that goes on unchanged through the next layer is one box.
            match solid.iter_mut().find(|(r, w)| *r == rectangle && w[1] == pair[0]) {
                Some((_, w)) => w[1] = pair[1],
                None => solid.push((rectangle, [pair[0], pair[1]])),
            }
        }
    }
    let corner = |u: f64, v: f64, w: f64| frame.to_bay(Mm(u), Mm(v), Mm(w));
    solid.into_iter().map(|([u, v], w)| Box3::between(corner(u[0], v[0], w[0]), corner(u[1], v[1], w[1]))).collect()
}

fn cuts(panel: &Panel, size: [f64; 2], thick: f64) -> Vec<Cut> {
    let range = |at: &Dim, length: &Dim, most: f64| {
        let from = at.nominal().0;
        [from.max(0.0), (from + length.nominal().0).min(most)]
    };
    panel
        .features
        .iter()
        .filter_map(|feature| match &feature.kind {
            FeatureKind::Rectangle { at, size: cut, .. }
            | FeatureKind::EdgeNotch { at, size: cut, .. }
            | FeatureKind::Groove { at, size: cut } => {
                let deep = match &feature.depth {
                    Depth::Through => [-thick, 0.0],
                    Depth::Blind(Face::A, d) => [-d.nominal().0.min(thick), 0.0],
                    Depth::Blind(Face::B, d) => [-thick, -thick + d.nominal().0.min(thick)],
                };
                let (u, v) = (range(&at[0], &cut[0], size[0]), range(&at[1], &cut[1], size[1]));
                (u[0] < u[1] && v[0] < v[1] && deep[0] < deep[1]).then_some([u, v, deep])
            }
            FeatureKind::Hole { .. } | FeatureKind::Countersunk { .. } | FeatureKind::Slot { .. } | FeatureKind::Free(_) => {
                None
            }
        })
        .collect()
}

/// What cuts leave of a rectangle, in strips along v; neighbouring strips that are alike are one.
fn left_of(size: [f64; 2], cuts: &[&Cut]) -> Vec<Rectangle> {
    let mut ends = vec![0.0, size[0]];
    ends.extend(cuts.iter().flat_map(|cut| cut[0]));
    let mut done: Vec<Rectangle> = Vec::new();
    let mut open: Vec<Rectangle> = Vec::new();
    for pair in steps(ends).windows(2) {
        let middle = f64::midpoint(pair[0], pair[1]);
        let mut gaps: Vec<[f64; 2]> =
            cuts.iter().filter(|cut| cut[0][0] < middle && cut[0][1] > middle).map(|cut| cut[1]).collect();
        gaps.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let mut free = Vec::new();
        let mut from = 0.0;
        for gap in gaps {
            if gap[0] > from {
                free.push([from, gap[0]]);
            }
            from = gap[1].max(from);
        }
        if from < size[1] {
            free.push([from, size[1]]);
        }
        if open.len() == free.len() && open.iter().zip(&free).all(|(r, v)| r[1] == *v) {
            for rectangle in &mut open {
                rectangle[0][1] = pair[1];
            }
        } else {
            done.append(&mut open);
            open = free.into_iter().map(|v| [[pair[0], pair[1]], v]).collect();
        }
    }
    done.append(&mut open);
    done
}

/// Coordinates in order, each once.
fn steps(mut ends: Vec<f64>) -> Vec<f64> {
    ends.sort_by(f64::total_cmp);
    ends.dedup();
    ends
}

/// Lower and upper end on an axis.
pub(super) fn span(solid: &Box3, axis: usize) -> (f64, f64) {
    (solid.min.to_array()[axis], solid.max.to_array()[axis])
}

/// The space a box passes through on its way along an axis.
pub(super) fn swept(solid: &Box3, axis: Axis, by: f64) -> Box3 {
    solid.around(&solid.moved(axis, by))
}

/// The least box round many; `None` for none.
pub(super) fn hull<'b>(list: impl IntoIterator<Item = &'b Box3>) -> Option<Box3> {
    list.into_iter().copied().reduce(|a, b| a.around(&b))
}

/// Whether two boxes are in the same place, by more than touching.
pub(super) fn meet(a: &Box3, b: &Box3) -> bool {
    a.overlap_depth(b) > TOUCH
}

/// Air between two boxes on the axis that parts them most; negative when they overlap.
pub(super) fn air(a: &Box3, b: &Box3) -> f64 {
    -a.overlap_depth(b)
}

/// The nearest that a sliding box comes to a still one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Nearest {
    /// Air left there, in mm; negative by what is missing when the way is blocked.
    pub(super) air: f64,
    /// How far along the way, in mm.
    pub(super) travel: f64,
    /// The axis the air is on, and whether the still one lies towards its upper end.
    pub(super) side: (usize, bool),
}

/// How near a box comes to a still one on its way; `None` when the two are in the same place before it begins, which is not the
/// way's fault.
pub(super) fn nearest(moving: &Box3, still: &Box3, axis: Axis, way: f64) -> Option<Nearest> {
    if meet(moving, still) {
        return None;
    }
    let along = axis.index();
    let gap = |i: usize| {
        let ((a, b), (c, d)) = (span(moving, i), span(still, i));
        if c - b > a - d {
            (c - b, (i, true))
        } else {
            (a - d, (i, false))
        }
    };
    let beside = (0..3).filter(|i| *i != along).map(gap).max_by(|a, b| a.0.total_cmp(&b.0))?;
    let (start, side) = gap(along);
    let ahead = side.1 == (axis.sign() > 0.0);
    let reached = if start <= TOUCH { 0.0 } else { start };
    let nearest = if !ahead && start >= -TOUCH {
        // It leaves what is behind it.
        if beside.0 > start {
            Nearest { air: beside.0, travel: 0.0, side: beside.1 }
        } else {
            Nearest { air: start, travel: 0.0, side }
        }
    } else if beside.0 >= -TOUCH {
        // It passes by, or stops before it comes beside.
        let left = if ahead { start - way } else { start };
        if left > beside.0 {
            Nearest { air: left, travel: way, side }
        } else {
            Nearest { air: beside.0.max(0.0), travel: if ahead { reached.min(way) } else { 0.0 }, side: beside.1 }
        }
    } else {
        let left = start - way;
        Nearest { air: left, travel: if left < 0.0 { reached } else { way }, side }
    };
    Some(nearest)
}

/// Boxes of every panel of a model, in its order.
pub(super) fn all(model: &Model) -> Vec<Vec<Box3>> {
    model.panels.iter().map(boxes).collect()
}

#[cfg(test)]
mod tests;

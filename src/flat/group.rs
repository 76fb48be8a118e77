//! Equal panels become one part.

use super::piece::Piece;
use super::{FlatCut, Operation};
use crate::design::Design;
use crate::geom::{tolerance, Contour, Point};
use crate::parts::Hand;
use std::collections::BTreeMap;

/// What a unit is; only panels of the same kind of unit are the same part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum UnitKind {
    Carcass,
    PullOut,
    Free,
    Other,
}

fn kind(design: &Design, unit: &str) -> UnitKind {
    if design.carcasses.iter().any(|c| c.name == unit) {
        UnitKind::Carcass
    } else if design.pull_outs.iter().any(|p| p.name == unit) {
        UnitKind::PullOut
    } else if design.panels.iter().any(|p| p.name == unit) {
        UnitKind::Free
    } else {
        UnitKind::Other
    }
}

/// Board, hand, how it lies, kind of unit, number of cuts, number of the outline's vertices.
type Key = (usize, Hand, u8, UnitKind, usize, usize);

/// Pieces with the same board, hand, grain, face up, kind of unit and geometry merged; sorted by id. The first panel's id
/// stays.
pub(super) fn merged(design: &Design, pieces: Vec<Piece>) -> Vec<Piece> {
    // What must be exactly equal makes the key; lengths are compared within the bucket.
    let mut buckets: BTreeMap<Key, Vec<usize>> = BTreeMap::new();
    let mut kept: Vec<Piece> = Vec::with_capacity(pieces.len());
    for piece in pieces {
        let part = &piece.part;
        let lies = part.grain as u8 * 2 + u8::from(part.face_up == crate::parts::Face::B);
        let vertices = part.outline.contour.vertices().len();
        let key = (part.board.0, part.hand, lies, kind(design, &part.unit), part.cuts.len(), vertices);
        let bucket = buckets.entry(key).or_default();
        if let Some(first) = bucket.iter().copied().find(|i| same(&kept[*i], &piece)) {
            kept[first].part.panels.extend(piece.part.panels);
        } else {
            bucket.push(kept.len());
            kept.push(piece);
        }
    }
    kept.sort_by(|a, b| a.part.id.cmp(&b.part.id));
    kept
}

fn same(a: &Piece, b: &Piece) -> bool {
    let (a, b) = (&a.part, &b.part);
    near(a.length.0, b.length.0)
        && near(a.width.0, b.width.0)
        && near(a.thickness.0, b.thickness.0)
        && same_contour(&a.outline.contour, &b.outline.contour)
        && a.cuts.iter().zip(&b.cuts).all(|(a, b)| same_cut(a, b))
        && a.keep_clean.len() == b.keep_clean.len()
        && a.keep_clean
            .iter()
            .zip(&b.keep_clean)
            .all(|(a, b)| near(a.x0, b.x0) && near(a.y0, b.y0) && near(a.x1, b.x1) && near(a.y1, b.y1))
}

fn same_cut(a: &FlatCut, b: &FlatCut) -> bool {
    a.side == b.side
        && a.purpose == b.purpose
        && a.seats.is_some() == b.seats.is_some()
        && same_operation(a.operation, b.operation)
        && same_contour(&a.contour, &b.contour)
}

fn same_operation(a: Operation, b: Operation) -> bool {
    let at = |a: Point, b: Point| near(a.x, b.x) && near(a.y, b.y);
    match (a, b) {
        (Operation::Pocket { depth: a }, Operation::Pocket { depth: b }) => near(a.0, b.0),
        (Operation::Drill { at: p, diameter: d, depth: h }, Operation::Drill { at: q, diameter: e, depth: k }) => {
            at(p, q) && near(d.0, e.0) && h.is_some() == k.is_some() && near(h.map_or(0.0, |h| h.0), k.map_or(0.0, |k| k.0))
        }
        (Operation::Countersink { at: p, diameter: d }, Operation::Countersink { at: q, diameter: e }) => {
            at(p, q) && near(d.0, e.0)
        }
        (a, b) => a == b,
    }
}

/// Equal vertex by vertex; both were made by the same steps, so they start at the same place.
fn same_contour(a: &Contour, b: &Contour) -> bool {
    let (a, b) = (a.vertices(), b.vertices());
    a.len() == b.len() && a.iter().zip(&b).all(|(a, b)| near(a.x, b.x) && near(a.y, b.y) && near(a.bulge, b.bulge))
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= tolerance::SAME_PART
}

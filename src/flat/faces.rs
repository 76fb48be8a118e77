//! Cuts from opposite faces that lie over each other.

use super::piece::Piece;
use super::web::{depth, goes_through, is_line, neighbours, overlap, HARD_FLOOR};
use super::{codes, Side};
use crate::diag::Finding;
use crate::geom::{tolerance, Rect};
use crate::units::Mm;

/// Two facing dadoes must leave this share of the board (seen on trade pages, and common practice).
const LEAVE: f64 = 1.0 / 3.0;

/// Checks blind cuts from opposite faces.
pub(super) fn check(piece: &Piece, findings: &mut Vec<Finding>) {
    let part = &piece.part;
    let blind: Vec<_> = part.cuts.iter().filter(|c| !goes_through(c) && !is_line(c)).collect();
    if !blind.iter().any(|c| c.side == Side::Down) {
        return;
    }
    let t = part.thickness;
    let bounds: Vec<Rect> = blind.iter().map(|c| c.contour.bounds()).collect();
    for (i, j) in neighbours(&bounds, 0.0) {
        let (a, b) = (blind[i], blind[j]);
        if a.side == b.side || !overlap(&a.contour, &b.contour) {
            continue;
        }
        let left = t - depth(a) - depth(b);
        let need = t * LEAVE;
        if left.0 >= need.0 - tolerance::SAME_POINT {
            continue;
        }
        let text =
            format!("`{}` and `{}` lie over each other from both faces and leave {left} mm of {t} mm", a.feature, b.feature);
        let limit = format!("{need} mm: a third of the board, common practice");
        let over = Mm(need.0 - left.0);
        let finding = if left < HARD_FLOOR {
            Finding::stop(codes::FACES_MEET, text)
        } else {
            Finding::caution(codes::FACES_MEET, text)
        };
        findings.push(
            finding
                .limit(limit)
                .part(&part.id)
                .at(b.span.or(a.span).or(part.span))
                .remedy(format!("make them {over} mm shallower together, or set them beside each other")),
        );
    }
}

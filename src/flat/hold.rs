//! Whether a part is large enough to stay put while its outline is cut.

use super::codes;
use super::context::mm;
use super::piece::Piece;
use crate::diag::Finding;

/// Least size of a part cut free, short and long side in mm (cutting services' file rules).
const LEAST: (f64, f64) = (25.0, 50.0);

/// Checks a part's size.
pub(super) fn check(piece: &Piece, findings: &mut Vec<Finding>) {
    let part = &piece.part;
    let (short, long) = (part.length.0.min(part.width.0), part.length.0.max(part.width.0));
    if short >= LEAST.0 && long >= LEAST.1 {
        return;
    }
    findings.push(
        Finding::caution(codes::PART_HARD_TO_HOLD, format!("the part is {} x {} mm", mm(long), mm(short)))
            .limit(format!("{} x {} mm, cutting services' file rules", mm(LEAST.0), mm(LEAST.1)))
            .part(&part.id)
            .at(part.span)
            .remedy("hold it with tabs and cut it last, or cut it by hand from a strip"),
    );
}

//! The carcass's outside and clear sizes, settled from whichever of them the maker gave.

use crate::design::{BackPlace, Carcass, JointKind, Size, UprightStyle};
use crate::diag::Finding;
use crate::dim::Dim;
use crate::parts::builder::Builder;
use crate::parts::codes;
use crate::parts::frame::Stretch;
use crate::units::Mm;

/// Two figures for one size may differ by this much and still be called the same: half a millimetre, the best of a tape.
const AGREE: Mm = Mm(0.5);

/// Sizes of a carcass, all derived.
pub(super) struct Shell {
    /// Outside: x, y, z.
    pub(super) block: [Stretch; 3],
    /// Thickness of the uprights' board.
    pub(super) t: Dim,
    /// Thickness of the base; zero when there is none.
    pub(super) base: Dim,
    /// Thickness of the top; zero when there is none.
    pub(super) top: Dim,
    /// Thickness of the back; zero when there is none.
    pub(super) back: Dim,
    /// Clear width between the outer uprights.
    pub(super) clear_width: Dim,
    /// Clear stretch between base and top.
    pub(super) clear_z: Stretch,
    /// Depth of the outer uprights.
    pub(super) outer_y: Stretch,
    /// Depth of the inner uprights.
    pub(super) inner_y: Stretch,
    /// How far an edge reaches into a channel, for dado and rabbet joints.
    pub(super) channel: Dim,
}

/// Settles the sizes; `None` when one of them cannot be found.
pub(super) fn settle(b: &mut Builder<'_>, carcass: &Carcass, corner: [Dim; 3]) -> Option<Shell> {
    let t = b.thickness(carcass.board);
    let thickness_or_zero = |b: &Builder<'_>, board| match board {
        Some(board) => b.thickness(board),
        None => Dim::zero(),
    };
    let base = thickness_or_zero(b, carcass.base);
    let top = thickness_or_zero(b, carcass.top.as_ref().map(|x| x.board));
    let back = thickness_or_zero(b, carcass.back.as_ref().map(|x| x.board));
    let name = &carcass.name;

    let [x, y, z] = corner;
    let width = one_size(b, carcass, "width", &carcass.width, &(&t * 2.0), widths_of_columns(carcass, &t))?;
    let depth = one_size(b, carcass, "depth", &carcass.depth, &back, None)?;
    let height = one_size(b, carcass, "height", &carcass.height, &(&base + &top), heights_of_cells(b, carcass))?;
    let (clear_height, height) = inner_size(b, &format!("{name} clear height"), &height, &(&base + &top));
    let clear_z = Stretch { from: &z + &base, size: clear_height };
    let (short, depth) = inner_size(b, &format!("{name} upright depth before the back"), &depth, &back);
    let (clear_width, width) = inner_size(b, &format!("{name} clear width"), &width, &(&t * 2.0));
    let block = [Stretch::new(&x, &width), Stretch::new(&y, &depth), Stretch::new(&z, &height)];
    let full_y = Stretch::new(&y, &depth);
    let short_y = Stretch::new(&y, &short);
    // A back behind the uprights stands on the base, so the uprights are the base's depth less the back's thickness; a back
    // between the outer uprights shortens only the inner ones (common practice, no source).
    let (outer_y, inner_y) = match carcass.back.as_ref().map(|x| x.place) {
        None => (full_y.clone(), full_y),
        Some(BackPlace::Behind) => (short_y.clone(), short_y),
        Some(BackPlace::Between) => (full_y, short_y),
    };
    let channel = match carcass.joint {
        JointKind::Dado | JointKind::Rabbet => {
            // A third of the thinner board, so that two channels back to back leave a third (checklist PJ2).
            let thinnest = [carcass.base, carcass.top.as_ref().map(|x| x.board), Some(carcass.board)]
                .into_iter()
                .flatten()
                .map(|board| b.thickness(board))
                .collect();
            Dim::least(thinnest).map_or_else(Dim::zero, |thin| thin * (1.0 / 3.0)).named(format!("{name} channel depth"))
        }
        JointKind::Butt | JointKind::Finger => Dim::zero(),
    };
    Some(Shell { block, t, base, top, back, clear_width, clear_z, outer_y, inner_y, channel })
}

/// An inner size from the outer one and the boards between, and the outer size again: where the maker pinned the inner one, the
/// outer follows from it.
fn inner_size(b: &mut Builder<'_>, name: &str, outer: &Dim, boards: &Dim) -> (Dim, Dim) {
    let pinned = b.pin_of(name).is_some();
    let inner = b.size(name, &(outer - boards));
    let outer = if pinned { &inner + boards } else { outer.clone() };
    (inner, outer)
}

/// One outside size from the outside given, the clear size given, or what the inside adds up to.
fn one_size(
    b: &mut Builder<'_>,
    carcass: &Carcass,
    what: &str,
    given: &Size,
    boards: &Dim,
    from_inside: Option<Dim>,
) -> Option<Dim> {
    let name = format!("{} {what}", carcass.name);
    let from_clear = given.clear.as_ref().map(|clear| clear + boards);
    if let (Some(outside), Some(sum)) = (&given.outside, &from_clear) {
        let off = outside.nominal() - sum.nominal();
        if off.abs() > AGREE {
            b.findings.push(
                Finding::stop(
                    codes::SIZES_DISAGREE,
                    format!(
                        "{name} is given as {} mm outside, but clear size and boards add up to {} mm",
                        outside.nominal(),
                        sum.nominal()
                    ),
                )
                .part(&carcass.name)
                .at(carcass.span)
                .remedy(format!("leave one of the two out, or change one by {off} mm")),
            );
        }
    }
    let Some(size) = given.outside.clone().or(from_clear).or(from_inside) else {
        b.findings.push(
            Finding::stop(codes::SIZE_NOT_DERIVABLE, format!("{name} is not given and cannot be derived"))
                .part(&carcass.name)
                .at(carcass.span)
                .remedy(format!("write {what} or clear_{what}, give every column or cell its size, or measure the bay")),
        );
        return None;
    };
    Some(b.size(&name, &size))
}

/// Outside width when every column has a width of its own.
fn widths_of_columns(carcass: &Carcass, t: &Dim) -> Option<Dim> {
    let widths: Option<Vec<Dim>> = carcass.columns.iter().map(|c| c.width.clone()).collect();
    let walls = match carcass.uprights {
        UprightStyle::Single => carcass.columns.len() + 1,
        UprightStyle::Doubled => carcass.columns.len() * 2,
    };
    Some(widths?.into_iter().fold(t * walls as f64, |sum, w| sum + w))
}

/// Outside height when every cell of some column has a height of its own.
fn heights_of_cells(b: &Builder<'_>, carcass: &Carcass) -> Option<Dim> {
    carcass.columns.iter().find_map(|column| {
        let heights: Option<Vec<Dim>> = column.cells.iter().map(|c| c.height.clone()).collect();
        let shelves = column.cells.iter().filter_map(|c| c.shelf).map(|board| b.thickness(board));
        let boards = [carcass.base, carcass.top.as_ref().map(|x| x.board)].into_iter().flatten().map(|x| b.thickness(x));
        let heights = heights.filter(|h| !h.is_empty())?;
        heights.into_iter().chain(shelves).chain(boards).reduce(|a, b| a + b)
    })
}

//! Columns and cells: where the clear openings are.

use super::shell::Shell;
use crate::design::{Carcass, Column, UprightStyle};
use crate::diag::Finding;
use crate::dim::Dim;
use crate::parts::builder::Builder;
use crate::parts::codes;
use crate::parts::frame::Stretch;
use crate::parts::PanelId;
use crate::units::Mm;

/// A column's clear opening.
pub(in crate::parts) struct Opening {
    /// Between its uprights.
    pub(in crate::parts) x: Stretch,
    /// From the uprights' front edges to the back or the uprights' rear edges.
    pub(in crate::parts) y: Stretch,
    /// The upright on its left.
    pub(in crate::parts) left: PanelId,
    /// The upright on its right.
    pub(in crate::parts) right: PanelId,
    /// Its cells, bottom to top.
    pub(in crate::parts) cells: Vec<CellSpace>,
    /// How far an overlay front may reach over the left and right upright's edge.
    pub(in crate::parts) overlay: [Dim; 2],
}

/// A cell's clear space.
pub(in crate::parts) struct CellSpace {
    /// Height.
    pub(in crate::parts) z: Stretch,
    /// The panel below it: base, shelf, or none.
    pub(in crate::parts) floor: Option<PanelId>,
    /// The panel above it: shelf, top, or none.
    pub(in crate::parts) ceiling: Option<PanelId>,
    /// How far an overlay front may reach over what is below and above.
    pub(in crate::parts) overlay: [Dim; 2],
}

/// Clear x-stretches of the columns, left to right.
pub(super) fn columns(b: &mut Builder<'_>, carcass: &Carcass, shell: &Shell) -> Vec<Stretch> {
    let count = carcass.columns.len();
    if count == 0 {
        return Vec::new();
    }
    let divider = match carcass.uprights {
        UprightStyle::Single => shell.t.clone(),
        UprightStyle::Doubled => &shell.t * 2.0,
    };
    let rest = (0..count - 1).fold(shell.clear_width.clone(), |rest, _| &rest - &divider);
    let names: Vec<String> = carcass.columns.iter().map(|c| format!("{} {} opening width", carcass.name, c.name)).collect();
    let given: Vec<Option<Dim>> = carcass.columns.iter().map(|c| c.width.clone()).collect();
    let sizes = share(b, &rest, &given, &names, carcass.span);
    let mut from = &shell.block[0].from + &shell.t;
    let mut stretches = Vec::with_capacity(count);
    for size in sizes {
        let stretch = Stretch { from, size };
        from = &stretch.to() + &divider;
        stretches.push(stretch);
    }
    stretches
}

/// Clear z-stretches of a column's cells, bottom to top; shelves lie between where asked.
pub(super) fn cells(b: &mut Builder<'_>, carcass: &Carcass, column: &Column, shell: &Shell) -> Vec<Stretch> {
    let shelf = |i: usize| column.cells[i].shelf.map(|board| b.thickness(board));
    let shelves: Vec<Option<Dim>> = (0..column.cells.len()).map(|i| if i == 0 { None } else { shelf(i) }).collect();
    let rest = shelves.iter().flatten().fold(shell.clear_z.size.clone(), |rest, t| &rest - t);
    let names: Vec<String> = column.cells.iter().map(|c| format!("{} opening height", c.name.replace('.', " "))).collect();
    let given: Vec<Option<Dim>> = column.cells.iter().map(|c| c.height.clone()).collect();
    let sizes = share(b, &rest, &given, &names, column.span.or(carcass.span));
    let mut from = shell.clear_z.from.clone();
    let mut stretches = Vec::with_capacity(sizes.len());
    for (size, below) in sizes.into_iter().zip(shelves) {
        if let Some(t) = below {
            from = &from + &t;
        }
        let stretch = Stretch { from, size };
        from = stretch.to();
        stretches.push(stretch);
    }
    stretches
}

/// Gives each its own size or an equal share of what is left; says when it does not add up.
fn share(
    b: &mut Builder<'_>,
    whole: &Dim,
    given: &[Option<Dim>],
    names: &[String],
    span: Option<crate::diag::Span>,
) -> Vec<Dim> {
    let unpinned = even_share(whole, given);
    let written = given;
    // A pinned share is given, so that the others take what is left of it.
    let mut given: Vec<Option<Dim>> =
        given.iter().zip(names).map(|(g, name)| b.pin_of(name).or_else(|| g.clone())).collect();
    let fixed: Vec<&Dim> = given.iter().flatten().collect();
    let free = given.len() - fixed.len();
    let left = fixed.iter().fold(whole.clone(), |rest, g| &rest - *g);
    let misfit = if free == 0 { left.nominal().abs() > Mm(0.5) } else { left.nominal() <= Mm::ZERO };
    if misfit {
        let sum: Mm = fixed.iter().map(|g| g.nominal()).sum();
        let (verb, amount) =
            if left.nominal() < Mm::ZERO { ("too many", -left.nominal()) } else { ("missing", left.nominal()) };
        b.findings.push(
            Finding::stop(
                codes::SHARES_DO_NOT_FIT,
                format!("{} add up to {sum} mm, but {} mm are there", names.join(", "), whole.nominal()),
            )
            .at(span)
            .remedy(format!("{amount} mm {verb}: change one of them, or leave one without a size to take the rest")),
        );
    }
    if free == 0 && !misfit && left.nominal() != Mm::ZERO {
        // Less than a tape can tell: the last one takes it, so that everything meets.
        if let Some(last) = given.last_mut() {
            *last = last.as_ref().map(|size| size + &left);
        }
    }
    let each = even_share(whole, &given);
    let mut sizes = Vec::with_capacity(names.len());
    for (i, name) in names.iter().enumerate() {
        let size = if b.pin_of(name).is_some() {
            // What it would be without the pin, which `size` then puts in its place.
            written[i].as_ref().unwrap_or(&unpinned)
        } else {
            given[i].as_ref().unwrap_or(&each)
        };
        sizes.push(b.size(name, size));
    }
    sizes
}

/// What each share without a size of its own gets.
fn even_share(whole: &Dim, given: &[Option<Dim>]) -> Dim {
    let left = given.iter().flatten().fold(whole.clone(), |rest, g| &rest - g);
    let free = given.iter().filter(|g| g.is_none()).count();
    if free <= 1 {
        left
    } else {
        left * (1.0 / free as f64)
    }
}

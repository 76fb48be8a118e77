//! Stowed goods to the walls of their places, as gaps for the ledger.

use super::space::{panel, Space, SpaceKind};
use super::stow::Stowed;
use crate::dim::Dim;
use crate::fit::bay::end;
use crate::parts::{Gap, Model};
use crate::units::Mm;

/// Air kept over goods, so that a drawer slides and a hand lifts. Common practice, no source.
const OVER: Mm = Mm(5.0);

/// For each place whose goods are all arranged: what is left across, in depth, and above.
pub(super) fn gaps(model: &Model, spaces: &[Space], stowed: &[Stowed]) -> Vec<Gap> {
    stowed
        .iter()
        .filter(|s| s.left_out.is_empty() && !s.standing.is_empty())
        .flat_map(|s| one_place(model, &spaces[s.space], s))
        .collect()
}

fn one_place(model: &Model, space: &Space, stowed: &Stowed) -> Vec<Gap> {
    let ends = ["across, all together", "in depth, all together", "to what is above"];
    (0..3)
        .filter(|axis| stowed.room[*axis].0.is_finite())
        .map(|axis| {
            let reach = stowed.standing.iter().map(|t| t.at[axis] + t.size[axis]).fold(stowed.corner[axis], Mm::max);
            let left = stowed.room[axis] - (reach - stowed.corner[axis]);
            Gap {
                name: format!("goods in {}: {}", stowed.place, ends[axis]),
                gap: Dim::number(left, "room less what stands in it") + doubt(model, space, axis),
                required: Gap::at_least(if axis == 2 { OVER } else { Mm::ZERO }),
                source: "goods go in beside each other, with 5 mm over them; common practice, no source".into(),
                parts: stowed.standing.iter().map(|t| t.name.clone()).collect(),
                span: None,
            }
        })
        .collect()
}

/// What boards and cuts may take off a drawer's room; goods are as measured.
fn doubt(model: &Model, space: &Space, axis: usize) -> Dim {
    let SpaceKind::Drawer(motion) = space.kind else { return Dim::zero() };
    let name = &model.motions[motion].name;
    let walls = match axis {
        0 => ["left side", "right side"],
        1 => ["box front", "box back"],
        _ => return Dim::zero(),
    };
    let room = |[low, high]: [&str; 2]| -> Option<Dim> {
        let at = |what: &str| panel(model, &format!("{name} {what}")).map(|(_, p, _)| p);
        Some(end(at(high)?, axis, false)? - end(at(low)?, axis, true)?)
    };
    room(walls).map_or_else(Dim::zero, |size| &size - &Dim::number(size.nominal(), "its nominal"))
}

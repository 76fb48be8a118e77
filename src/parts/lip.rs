//! Lips: ledges along the edges of a carcass's top that stop things sliding off.

use super::builder::{Builder, NewPanel};
use super::carcass::Built;
use super::frame::{Facing, Stretch};
use super::joint::{self, Meeting};
use super::{codes, Grain, Hand};
use crate::design::{Edge, Lip};
use crate::diag::Finding;
use crate::dim::Dim;

/// Builds the lips of one entry. They stand inside the uprights' line, so that their screws come up through the top in the open, and
/// the left and right lips run between front and back ones.
pub(super) fn build(b: &mut Builder<'_>, lip: &Lip, on: &Built, carcass: &str) {
    let Some(top) = on.top else {
        b.findings.push(
            Finding::stop(codes::LIP_NEEDS_TOP, format!("{carcass} has no top for a lip to stand on"))
                .part(carcass)
                .at(lip.span)
                .remedy("give it a top, or take the lip out"),
        );
        return;
    };
    let t = b.thickness(lip.board);
    let Some(level) = b.at(top).frame.as_ref().map(|f| f.origin[2].clone()) else { return };
    let wall = on.uprights.first().map_or_else(Dim::zero, |id| b.at(*id).thickness.clone());
    let z = Stretch::new(&level, &lip.height);
    let inner_x = Stretch { from: &on.block[0].from + &wall, size: &on.block[0].size - &(&wall * 2.0) };
    let inner_y = Stretch { from: on.block[1].from.clone(), size: &on.block[1].size - &wall };
    let has = |edge: Edge| lip.edges.contains(&edge);
    let taken = |edge: Edge| if has(edge) { t.clone() } else { Dim::zero() };
    let between_y = Stretch {
        from: &inner_y.from + &taken(Edge::Front),
        size: &inner_y.size - &taken(Edge::Front) - &taken(Edge::Back),
    };
    let mut edges = lip.edges.clone();
    edges.sort();
    edges.dedup();
    let mut made = Vec::new();
    for edge in edges {
        let (what, facing, x, y, run) = match edge {
            Edge::Front => ("front", Facing::Front, inner_x.clone(), Stretch::new(&inner_y.from, &t), 0),
            Edge::Back => ("back", Facing::Front, inner_x.clone(), Stretch { from: &inner_y.to() - &t, size: t.clone() }, 0),
            Edge::Left => ("left", Facing::Right, Stretch::new(&inner_x.from, &t), between_y.clone(), 1),
            Edge::Right => {
                ("right", Facing::Left, Stretch { from: &inner_x.to() - &t, size: t.clone() }, between_y.clone(), 1)
            }
        };
        let id = b.panel(NewPanel {
            unit: carcass,
            name: format!("{carcass} {what} lip"),
            hand: Hand::None,
            board: lip.board,
            facing,
            block: [x.clone(), y.clone(), z.clone()],
            grain: Grain::AlongU,
            span: lip.span,
        });
        b.against(&[id], &on.upper_side(), "stands on");
        b.against(&[id], &made, "meets");
        made.push(id);
        // What stands on a lid turns with it.
        for lid in b.model.lids.iter_mut().filter(|l| l.panels.first() == Some(&top)) {
            lid.panels.push(id);
        }
        let top_t = b.thickness(b.at(top).board);
        let through = Stretch { from: &level - &top_t, size: top_t };
        let meeting = Meeting { field: top, edge: id, block: [x, y, through], run };
        joint::screwed(b, &meeting, &lip.screw, ", from below");
    }
}

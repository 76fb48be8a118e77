//! The carcass's panels, and the joints between them.

use super::lid;
use super::openings::{self, CellSpace, Opening};
use super::shell::Shell;
use super::Built;
use crate::design::{BackPlace, Carcass, Column, JointKind, UprightStyle};
use crate::dim::Dim;
use crate::parts::builder::{Builder, NewPanel};
use crate::parts::frame::{Facing, Stretch};
use crate::parts::joint::{self, Meeting};
use crate::parts::{Grain, Hand, PanelId};
use crate::units::Mm;

/// How an upright's end meets base or top.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum End {
    /// Nothing there.
    Free,
    /// Against its face, screwed.
    Butt,
    /// Fingers at a corner, flush with its outer face.
    Corner,
    /// Tabs through slots, flush with its outer face.
    Tabs,
    /// Into a channel.
    Channel,
}

/// An upright that was made, with how its ends meet.
struct Upright {
    id: PanelId,
    x: Stretch,
    y: Stretch,
    ends: [End; 2],
    /// Across which stretch its slots reach; `None` for the second of a pair.
    slots: Option<Stretch>,
}

/// Makes all panels of a carcass and joins them.
pub(super) fn make(b: &mut Builder<'_>, carcass: &Carcass, shell: &Shell) -> Built {
    let base = carcass.base.map(|board| {
        let z = Stretch::new(&shell.block[2].from, &shell.base);
        flat_panel(b, carcass, "base", board, [shell.block[0].clone(), shell.block[1].clone(), z])
    });
    let columns = openings::columns(b, carcass, shell);
    let uprights = make_uprights(b, carcass, shell, &columns);
    let top = carcass.top.as_ref().map(|top| {
        let o = &top.overhang;
        let x = Stretch { from: &shell.block[0].from - &o.left, size: &shell.block[0].size + &o.left + &o.right };
        let y = Stretch { from: &shell.block[1].from - &o.front, size: &shell.block[1].size + &o.front + &o.back };
        let z = Stretch { from: shell.clear_z.to(), size: shell.top.clone() };
        flat_panel(b, carcass, "top", top.board, [x, y, z])
    });
    for upright in &uprights {
        for (field, end) in [(base, upright.ends[0]), (top, upright.ends[1])] {
            if let Some(field) = field {
                let removable = carcass.top.as_ref().is_some_and(|t| t.removable) && Some(field) == top;
                let glue = if removable { ", no glue" } else { "" };
                join_end(b, carcass, shell, field, upright, (end, glue));
            }
        }
    }
    let all: Vec<PanelId> = uprights.iter().map(|u| u.id).collect();
    if carcass.uprights == UprightStyle::Doubled {
        b.against(&all, &all, "stands back to back with");
    }
    let lid = carcass.top.as_ref().and_then(|t| t.lid).zip(top);
    // Nothing is fixed to a lid from below.
    let fixed_top = top.filter(|_| lid.is_none());
    let back = make_back(b, carcass, shell, base, fixed_top, &uprights);
    let openings = make_openings(b, carcass, shell, columns, &uprights, base, fixed_top);
    let shelves: Vec<PanelId> = openings.iter().flat_map(|o| o.cells.iter().filter_map(|c| c.ceiling)).collect();
    b.against(&shelves, back.as_slice(), "ends at");
    if let Some((lid, top)) = lid {
        lid::hang(b, carcass, lid, top);
        b.against(&[top], &all, "lies on");
        b.against(&[top], back.as_slice(), "lies on");
    }
    Built { block: shell.block.clone(), openings, base, top, uprights: all, back, layer: None }
}

/// A base or top: face A up, grain along its longer side.
fn flat_panel(
    b: &mut Builder<'_>,
    carcass: &Carcass,
    what: &str,
    board: crate::design::BoardId,
    block: [Stretch; 3],
) -> PanelId {
    let grain = if block[0].size.nominal() >= block[1].size.nominal() { Grain::AlongU } else { Grain::AlongV };
    b.panel(NewPanel {
        unit: &carcass.name,
        name: format!("{} {what}", carcass.name),
        hand: Hand::None,
        board,
        facing: Facing::Up,
        block,
        grain,
        span: carcass.span,
    })
}

fn make_uprights(b: &mut Builder<'_>, carcass: &Carcass, shell: &Shell, columns: &[Stretch]) -> Vec<Upright> {
    let count = columns.len();
    let doubled = carcass.uprights == UprightStyle::Doubled;
    let mut list = Vec::new();
    let left_x = Stretch::new(&shell.block[0].from, &shell.t);
    list.push(one_upright(b, carcass, shell, "left upright", (Facing::Right, Hand::Left), left_x.clone(), Some(left_x)));
    for i in 1..count {
        let from = columns[i - 1].to();
        let first = Stretch::new(&from, &shell.t);
        let number = if count == 2 { String::new() } else { format!(" {i}") };
        if doubled {
            let pair = Stretch { from: from.clone(), size: &shell.t * 2.0 };
            let second = Stretch { from: first.to(), size: shell.t.clone() };
            let name = format!("inner upright{number}, left of pair");
            list.push(one_upright(b, carcass, shell, &name, (Facing::Left, Hand::Right), first, Some(pair)));
            let name = format!("inner upright{number}, right of pair");
            list.push(one_upright(b, carcass, shell, &name, (Facing::Right, Hand::Left), second, None));
        } else {
            let name = format!("inner upright{number}");
            list.push(one_upright(b, carcass, shell, &name, (Facing::Right, Hand::None), first.clone(), Some(first)));
        }
    }
    let right_x = Stretch { from: &shell.block[0].to() - &shell.t, size: shell.t.clone() };
    list.push(one_upright(b, carcass, shell, "right upright", (Facing::Left, Hand::Right), right_x.clone(), Some(right_x)));
    list
}

fn one_upright(
    b: &mut Builder<'_>,
    carcass: &Carcass,
    shell: &Shell,
    what: &str,
    (facing, hand): (Facing, Hand),
    x: Stretch,
    slots: Option<Stretch>,
) -> Upright {
    let outer = matches!(what, "left upright" | "right upright");
    let ends = [bottom_end(carcass, outer), top_end(carcass, outer, facing)];
    let reach = |end: End, board: &Dim| match end {
        End::Free | End::Butt => Dim::zero(),
        End::Corner | End::Tabs => board.clone(),
        End::Channel => shell.channel.clone(),
    };
    let (down, up) = (reach(ends[0], &shell.base), reach(ends[1], &shell.top));
    let z = Stretch { from: &shell.clear_z.from - &down, size: &(&shell.clear_z.size + &down) + &up };
    let y = if outer { shell.outer_y.clone() } else { shell.inner_y.clone() };
    let id = b.panel(NewPanel {
        unit: &carcass.name,
        name: format!("{} {what}", carcass.name),
        hand,
        board: carcass.board,
        facing,
        block: [x.clone(), y.clone(), z],
        grain: Grain::AlongU,
        span: carcass.span,
    });
    // As made: the maker may have pinned its depth.
    let y = b.at(id).block().map_or(y, |[_, y, _]| y);
    Upright { id, x, y, ends, slots }
}

fn bottom_end(carcass: &Carcass, outer: bool) -> End {
    if carcass.base.is_none() {
        return End::Free;
    }
    by_joint(carcass.joint, outer)
}

fn top_end(carcass: &Carcass, outer: bool, facing: Facing) -> End {
    let Some(top) = &carcass.top else { return End::Free };
    if top.lid.is_some() {
        return End::Free;
    }
    if top.removable {
        return End::Butt;
    }
    let overhang = if facing == Facing::Right { &top.overhang.left } else { &top.overhang.right };
    by_joint(carcass.joint, outer && overhang.nominal() <= Mm::ZERO)
}

/// The joint asked for, at a corner or in the middle of a face.
fn by_joint(joint: JointKind, corner: bool) -> End {
    match (joint, corner) {
        (JointKind::Butt, _) | (JointKind::Rabbet, false) => End::Butt,
        (JointKind::Finger, true) => End::Corner,
        (JointKind::Finger, false) => End::Tabs,
        (JointKind::Dado, _) | (JointKind::Rabbet, true) => End::Channel,
    }
}

/// `glue` is what the list of screws says of it where the joint is screwed.
fn join_end(
    b: &mut Builder<'_>,
    carcass: &Carcass,
    shell: &Shell,
    field: PanelId,
    upright: &Upright,
    (end, glue): (End, &str),
) {
    let Some(solid) = b.at(field).frame.as_ref().map(|f| f.origin[2].clone()) else { return };
    let t = b.thickness(b.at(field).board);
    let z = Stretch { from: &solid - &t, size: t };
    let meeting = Meeting { field, edge: upright.id, block: [upright.x.clone(), upright.y.clone(), z], run: 1 };
    match end {
        End::Free => {}
        End::Butt => joint::screwed(b, &meeting, &carcass.screw, glue),
        End::Corner => joint::fingers(b, &meeting),
        End::Tabs => joint::tabs(b, &meeting, upright.slots.as_ref()),
        End::Channel => {
            let clearance = b.design.process.joint_clearance.glued.clone();
            let kind = if carcass.joint == JointKind::Rabbet { "rabbet" } else { "dado" };
            match &upright.slots {
                Some(across) => joint::channel(b, &meeting, Some(across), &shell.channel, &clearance, kind),
                None => joint::seated(b, &meeting, kind),
            }
        }
    }
}

fn make_back(
    b: &mut Builder<'_>,
    carcass: &Carcass,
    shell: &Shell,
    base: Option<PanelId>,
    top: Option<PanelId>,
    uprights: &[Upright],
) -> Option<PanelId> {
    let back = carcass.back.as_ref()?;
    let y = Stretch { from: &shell.block[1].to() - &shell.back, size: shell.back.clone() };
    let x = match back.place {
        BackPlace::Behind => shell.block[0].clone(),
        BackPlace::Between => {
            Stretch { from: &shell.block[0].from + &shell.t, size: &shell.block[0].size - &(&shell.t * 2.0) }
        }
    };
    let id = b.panel(NewPanel {
        unit: &carcass.name,
        name: format!("{} back", carcass.name),
        hand: Hand::None,
        board: back.board,
        facing: Facing::Front,
        block: [x.clone(), y.clone(), shell.clear_z.clone()],
        grain: Grain::AlongU,
        span: carcass.span,
    });
    let screw = &carcass.screw;
    for field in [base, top].into_iter().flatten() {
        let Some(level) = b.at(field).frame.as_ref().map(|f| f.origin[2].clone()) else { continue };
        let t = b.thickness(b.at(field).board);
        let z = Stretch { from: &level - &t, size: t };
        joint::screwed(b, &Meeting { field, edge: id, block: [x.clone(), y.clone(), z], run: 0 }, screw, "");
    }
    let last = uprights.len() - 1;
    for (i, upright) in uprights.iter().enumerate() {
        let outer = i == 0 || i == last;
        let block = [upright.x.clone(), y.clone(), shell.clear_z.clone()];
        let meeting = if outer && back.place == BackPlace::Between {
            Meeting { field: upright.id, edge: id, block, run: 2 }
        } else {
            Meeting { field: id, edge: upright.id, block, run: 2 }
        };
        joint::screwed(b, &meeting, screw, "");
    }
    Some(id)
}

fn make_openings(
    b: &mut Builder<'_>,
    carcass: &Carcass,
    shell: &Shell,
    columns: Vec<Stretch>,
    uprights: &[Upright],
    base: Option<PanelId>,
    top: Option<PanelId>,
) -> Vec<Opening> {
    let per_side = if carcass.uprights == UprightStyle::Doubled { 2 } else { 1 };
    let half = &shell.t * 0.5;
    let count = columns.len();
    let all_cells: Vec<Vec<Stretch>> = carcass.columns.iter().map(|c| openings::cells(b, carcass, c, shell)).collect();
    let mut list = Vec::with_capacity(count);
    for (i, x) in columns.into_iter().enumerate() {
        // Uprights stand in a row: one on the left, one or two between columns, one on the right.
        let left = &uprights[i * per_side];
        let right = &uprights[i * per_side + 1];
        let overlay = |outer: bool| if outer || per_side == 2 { shell.t.clone() } else { half.clone() };
        let overlays = [overlay(i == 0), overlay(i + 1 == count)];
        let y = shell.inner_y.clone();
        let column = &carcass.columns[i];
        let stretches = all_cells[i].clone();
        let mut cells: Vec<CellSpace> = Vec::with_capacity(stretches.len());
        let last = stretches.len().saturating_sub(1);
        for (k, z) in stretches.into_iter().enumerate() {
            let mut space = CellSpace { z, floor: None, ceiling: None, overlay: [Dim::zero(), Dim::zero()] };
            if k == 0 {
                space.floor = base;
                space.overlay[0] = shell.base.clone();
            } else if let Some(board) = column.cells[k].shelf {
                let t = b.thickness(board).nominal();
                let level = (space.z.from.nominal() - t, space.z.from.nominal());
                // The screws of two shelves at one height on the two sides of an upright would meet.
                let faced = |other: Option<usize>| {
                    per_side == 1 && other.is_some_and(|o| shelf_at(b, &carcass.columns[o], &all_cells[o], level))
                };
                let seats = [faced(i.checked_sub(1)), faced((i + 1 < count).then_some(i + 1))];
                let place = ShelfPlace { x: &x, y: &y, above: &space.z, uprights: [left.id, right.id], seats };
                let shelf = make_shelf(b, carcass, &column.cells[k].name, board, &place);
                let share = b.thickness(board) * 0.5;
                space.floor = Some(shelf);
                space.overlay[0] = share.clone();
                cells[k - 1].ceiling = Some(shelf);
                cells[k - 1].overlay[1] = share;
            }
            if k == last {
                space.ceiling = top;
                // A top that reaches over the front keeps an overlay front below it.
                let free = carcass.top.as_ref().is_some_and(|t| t.overhang.front.nominal() <= Mm::ZERO);
                space.overlay[1] = if free { shell.top.clone() } else { Dim::zero() };
            }
            cells.push(space);
        }
        list.push(Opening { x, y, left: left.id, right: right.id, cells, overlay: overlays });
    }
    list
}

/// Whether a column has a shelf that reaches into a range of heights, or so near to it that screws would meet.
fn shelf_at(b: &Builder<'_>, column: &Column, cells: &[Stretch], (low, high): (Mm, Mm)) -> bool {
    column.cells.iter().zip(cells).skip(1).any(|(cell, z)| {
        cell.shelf.is_some_and(|board| {
            let top = z.from.nominal();
            top > low && top - b.thickness(board).nominal() < high
        })
    })
}

/// Where a shelf goes.
struct ShelfPlace<'a> {
    x: &'a Stretch,
    y: &'a Stretch,
    /// The cell it lies under.
    above: &'a Stretch,
    uprights: [PanelId; 2],
    /// Whether another shelf meets the other side of the upright, at the left and at the right.
    seats: [bool; 2],
}

/// A shelf under a cell: screwed between the uprights of a butt-jointed carcass, else in dadoes; also in dadoes where a shelf at
/// the same height on the upright's other side leaves no way to screw.
fn make_shelf(
    b: &mut Builder<'_>,
    carcass: &Carcass,
    cell: &str,
    board: crate::design::BoardId,
    place: &ShelfPlace<'_>,
) -> PanelId {
    let t = b.thickness(board);
    let in_dado = place.seats.map(|faced| faced || carcass.joint != JointKind::Butt);
    // A third, so that the dadoes of two shelves back to back leave a third of the upright (checklist PJ2).
    let depths = in_dado.map(|seated| if seated { b.thickness(carcass.board) * (1.0 / 3.0) } else { Dim::zero() });
    let (x, y) = (place.x, place.y);
    let z = Stretch { from: &place.above.from - &t, size: t };
    let long_x = Stretch { from: &x.from - &depths[0], size: &(&x.size + &depths[0]) + &depths[1] };
    let id = b.panel(NewPanel {
        unit: &carcass.name,
        name: format!("{} shelf", cell.replace('.', " ")),
        hand: Hand::None,
        board,
        facing: Facing::Up,
        block: [long_x, y.clone(), z.clone()],
        grain: Grain::AlongU,
        span: carcass.span,
    });
    for (i, upright) in place.uprights.into_iter().enumerate() {
        let ut = b.thickness(carcass.board);
        let ux = if i == 0 { Stretch { from: &x.from - &ut, size: ut } } else { Stretch { from: x.to(), size: ut } };
        let meeting = Meeting { field: upright, edge: id, block: [ux, y.clone(), z.clone()], run: 1 };
        if in_dado[i] {
            let clearance = b.design.process.joint_clearance.glued.clone();
            joint::channel(b, &meeting, None, &depths[i], &clearance, "dado");
        } else {
            joint::screwed(b, &meeting, &carcass.screw, "");
        }
    }
    id
}

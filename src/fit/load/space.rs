//! Where goods go: the clear rooms of drawers, open cells, tops and tables, found from the panels that bound them.

use crate::design::{Carcass, Design};
use crate::geom::{Box3, Point3};
use crate::parts::{Model, Panel};

/// A place goods can be in.
#[derive(Clone, Debug)]
pub(super) struct Space {
    /// As the project file names it: `lower.left`.
    pub(super) place: String,
    /// What kind of place.
    pub(super) kind: SpaceKind,
    /// The clear room, bay frame, closed. The upper end is infinite where nothing stands above.
    pub(super) room: Box3,
    /// For a drawer, how much of the room's depth from its front comes clear of everything above when it is open.
    pub(super) lift_depth: f64,
    /// The panel the goods stand on.
    pub(super) floor: usize,
}

/// Kinds of place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum SpaceKind {
    /// A drawer; the index is its motion's.
    Drawer(usize),
    /// An open cell; the index is its carcass's.
    Cell(usize),
    /// On a carcass's top.
    Top(usize),
    /// On a pull-out table; the index is its motion's.
    Table(usize),
}

/// Every place of the design that the model built.
pub(super) fn all(design: &Design, model: &Model) -> Vec<Space> {
    let mut spaces = Vec::new();
    for (index, carcass) in design.carcasses.iter().enumerate() {
        for (column_index, column) in carcass.columns.iter().enumerate() {
            for (cell_index, cell) in column.cells.iter().enumerate() {
                let space = if cell.drawer.is_some() {
                    drawer(model, &cell.name)
                } else {
                    open_cell(model, index, carcass, column_index, cell_index)
                };
                spaces.extend(space);
            }
        }
        if carcass.columns.is_empty() {
            spaces.extend(inside(model, index, carcass));
        }
        spaces.extend(top(design, model, index, carcass));
    }
    for pull_out in &design.pull_outs {
        spaces.extend(table(model, &pull_out.name));
    }
    spaces
}

pub(super) fn panel<'m>(model: &'m Model, name: &str) -> Option<(usize, &'m Panel, Box3)> {
    let (index, panel) = model.panels.iter().enumerate().find(|(_, p)| p.name == name)?;
    Some((index, panel, panel.solid()?))
}

/// The lowest underside over a rectangle of the bay, from a height up; what moves is left out.
fn ceiling(model: &Model, over: &Box3, from: f64) -> f64 {
    let moves = |i: usize| model.motions.iter().any(|m| m.panels.iter().any(|p| p.0 == i));
    let solids = model.panels.iter().enumerate().filter(|(i, _)| !moves(*i)).filter_map(|(_, p)| p.solid());
    solids
        .filter(|s| s.min.x < over.max.x && s.max.x > over.min.x && s.min.y < over.max.y && s.max.y > over.min.y)
        .map(|s| s.min.z)
        .filter(|z| *z >= from)
        .fold(f64::INFINITY, f64::min)
}

fn drawer(model: &Model, cell: &str) -> Option<Space> {
    let name = format!("{} drawer", cell.replace('.', " "));
    let solid = |what: &str| panel(model, &format!("{name} {what}")).map(|(_, _, s)| s);
    let (floor, _, bottom) = panel(model, &format!("{name} bottom"))?;
    let (left, right) = (solid("left side")?, solid("right side")?);
    let (front, back) = (solid("box front")?, solid("box back")?);
    let index = model.motions.iter().position(|m| m.name == name)?;
    let travel = model.motions[index].travel.nominal().0;
    let level = bottom.max.z;
    let mut room =
        Box3 { min: Point3::new(left.max.x, front.max.y, level), max: Point3::new(right.min.x, back.min.y, f64::INFINITY) };
    room.max.z = ceiling(model, &room, level);
    // Whatever lies over the closed drawer and reaches furthest to the front.
    let moves = |i: usize| model.motions.iter().any(|m| m.panels.iter().any(|p| p.0 == i));
    let lid = model
        .panels
        .iter()
        .enumerate()
        .filter(|(i, _)| !moves(*i))
        .filter_map(|(_, p)| p.solid())
        .filter(|s| s.min.z >= level && s.min.x < room.max.x && s.max.x > room.min.x && s.min.y < room.max.y)
        .map(|s| s.min.y)
        .fold(f64::INFINITY, f64::min);
    let lift_depth = (lid + travel - room.min.y).clamp(0.0, room.max.y - room.min.y);
    Some(Space { place: cell.to_owned(), kind: SpaceKind::Drawer(index), room, lift_depth, floor })
}

/// Stretches between a carcass's uprights, left to right.
fn columns(model: &Model, carcass: &Carcass) -> Vec<[f64; 2]> {
    let mut walls: Vec<[f64; 2]> = model
        .panels
        .iter()
        .filter(|p| p.unit == carcass.name && p.name.contains("upright"))
        .filter_map(Panel::solid)
        .map(|s| [s.min.x, s.max.x])
        .collect();
    walls.sort_by(|a, b| a[0].total_cmp(&b[0]));
    // Doubled uprights stand back to back.
    walls.windows(2).map(|w| [w[0][1], w[1][0]]).filter(|c| c[1] - c[0] > 1.0).collect()
}

/// From the uprights' front edges to the back, or to their rear edges.
fn depth(model: &Model, carcass: &Carcass) -> Option<[f64; 2]> {
    let uprights = model.panels.iter().filter(|p| p.unit == carcass.name && p.name.contains("upright"));
    let solids: Vec<Box3> = uprights.filter_map(Panel::solid).collect();
    let from = solids.iter().map(|s| s.min.y).fold(f64::INFINITY, f64::min);
    let rear = solids.iter().map(|s| s.max.y).fold(f64::INFINITY, f64::min);
    let back = panel(model, &format!("{} back", carcass.name)).map_or(rear, |(_, _, s)| s.min.y);
    (from.is_finite()).then_some([from, back.min(rear)])
}

fn open_cell(model: &Model, index: usize, carcass: &Carcass, column: usize, cell: usize) -> Option<Space> {
    let x = columns(model, carcass).get(column).copied()?;
    let y = depth(model, carcass)?;
    let cells = &carcass.columns[column].cells;
    let name = &cells[cell].name;
    let base = panel(model, &format!("{} base", carcass.name));
    let shelf = |i: usize| panel(model, &format!("{} shelf", cells[i].name.replace('.', " ")));
    let (floor, solid) = if cell == 0 {
        base.map(|(i, _, s)| (i, s))?
    } else {
        // A cell without a shelf under it belongs to the one below; goods cannot stand in it.
        shelf(cell).map(|(i, _, s)| (i, s))?
    };
    let mut room = Box3 { min: Point3::new(x[0], y[0], solid.max.z), max: Point3::new(x[1], y[1], f64::INFINITY) };
    room.max.z = ceiling(model, &room, solid.max.z);
    Some(Space { place: name.clone(), kind: SpaceKind::Cell(index), room, lift_depth: y[1] - y[0], floor })
}

fn inside(model: &Model, index: usize, carcass: &Carcass) -> Option<Space> {
    let (floor, _, solid) = panel(model, &format!("{} base", carcass.name))?;
    let mut room = Box3 { min: Point3::new(solid.min.x, solid.min.y, solid.max.z), max: solid.max };
    room.max.z = f64::INFINITY;
    room.max.z = ceiling(model, &room, solid.max.z);
    let place = format!("{}.inside", carcass.name);
    Some(Space { place, kind: SpaceKind::Cell(index), room, lift_depth: room.max.y - room.min.y, floor })
}

fn top(design: &Design, model: &Model, index: usize, carcass: &Carcass) -> Option<Space> {
    let (floor, _, solid) = panel(model, &format!("{} top", carcass.name))?;
    let mut room = Box3 { min: Point3::new(solid.min.x, solid.min.y, solid.max.z), max: solid.max };
    // Lips take their thickness off.
    for (edge, axis, low) in [("left", 0, true), ("right", 0, false), ("front", 1, true), ("back", 1, false)] {
        let Some((_, _, lip)) = panel(model, &format!("{} {edge} lip", carcass.name)) else { continue };
        match (axis, low) {
            (0, true) => room.min.x = lip.max.x,
            (0, false) => room.max.x = lip.min.x,
            (_, true) => room.min.y = lip.max.y,
            (_, false) => room.max.y = lip.min.y,
        }
    }
    let roof = design.bay.as_ref().and_then(|b| b.height.as_ref()).map_or(f64::INFINITY, |h| h.nominal().0);
    room.max.z = ceiling(model, &room, solid.max.z).min(roof);
    let place = format!("{}.top", carcass.name);
    Some(Space { place, kind: SpaceKind::Top(index), room, lift_depth: room.max.y - room.min.y, floor })
}

fn table(model: &Model, name: &str) -> Option<Space> {
    let (floor, _, solid) = panel(model, &format!("{name} table"))?;
    let index = model.motions.iter().position(|m| m.name == name)?;
    let room = Box3 { min: Point3::new(solid.min.x, solid.min.y, solid.max.z), max: solid.max };
    // Its goods stand on it only while it is out, under the open sky.
    let room = Box3 { max: Point3::new(room.max.x, room.max.y, f64::INFINITY), ..room };
    Some(Space { place: name.to_owned(), kind: SpaceKind::Table(index), room, lift_depth: room.max.y - room.min.y, floor })
}

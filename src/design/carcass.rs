//! Carcasses, columns and cells.

use super::bench::{Bench, Lost};
use super::defaults::{bolt, BAY_CLEARANCE, CARCASS_JOINT, PRACTICE, SCREW};
use super::order::Order;
use super::{
    codes, Back, BackPlace, Bay, BoardId, Carcass, CarcassPlace, Cell, Column, JointKind, Sides, Size, Top, UprightStyle,
};
use crate::dim::Dim;
use crate::project::{self, Choice, Joint, Text};
use crate::units::Mm;

impl From<Joint> for JointKind {
    fn from(joint: Joint) -> Self {
        match joint {
            Joint::Butt => Self::Butt,
            Joint::Finger => Self::Finger,
            Joint::Dado => Self::Dado,
            Joint::Rabbet => Self::Rabbet,
        }
    }
}

/// How the place of a carcass is called, along x, y and z.
const FROM_LEFT: &str = "from the bay's left";
const FROM_SILL: &str = "from the sill";
const ABOVE_FLOOR: &str = "above the floor";

/// What a carcass's sizes are worked out from when it does not say them itself.
#[derive(Clone, Copy)]
struct Room<'r> {
    bay: Option<&'r Bay>,
    below: Option<&'r Carcass>,
}

impl Bench<'_> {
    /// All carcasses, each after the one below it.
    pub(super) fn carcasses(&mut self, order: &Order, bay: Option<&Bay>) -> Vec<Carcass> {
        let project = self.project;
        let mut settled: Vec<Option<Carcass>> = Vec::new();
        for &index in &order.rising {
            let written = &project.carcasses[index];
            let below = order.below[index].and_then(|under| order.settled(under));
            let room = Room { bay, below: below.and_then(|at| settled.get(at)?.as_ref()) };
            let carcass = self.carcass(written, below, room);
            self.lost |= carcass.is_none();
            settled.push(carcass);
        }
        settled.into_iter().flatten().collect()
    }

    fn carcass(&mut self, written: &project::Carcass, below: Option<usize>, room: Room<'_>) -> Option<Carcass> {
        let shop = self.shop;
        let name = &written.name.value;
        let board = written.board.as_ref().and_then(|board| self.board(board));
        // Every part is settled before anything missing ends it, so that all findings come out in one run.
        let at = self.place(written, below, room);
        let [x, y] = match &at {
            CarcassPlace::At([x, y, _]) => [x.clone(), y.clone()],
            CarcassPlace::On { shift, .. } => shift.clone(),
        };
        let bay = room.bay;
        let columns = &written.columns;
        let widths = !columns.is_empty() && columns.iter().all(|column| column.width.is_some());
        let heights =
            columns.iter().any(|column| !column.cells.is_empty() && column.cells.iter().all(|cell| cell.height.is_some()));
        let sizes = [
            (&written.width, "width", widths, Some(&x), bay.and_then(|b| b.width.as_ref()), room.below.map(|c| &c.width)),
            (&written.depth, "depth", false, Some(&y), bay.and_then(|b| b.depth.as_ref()), room.below.map(|c| &c.depth)),
            (&written.height, "height", heights, None, bay.and_then(|b| b.height.as_ref()), None),
        ];
        let [width, depth, height] = sizes.map(|(size, axis, from_inside, start, bay, below)| {
            let label = format!("{name} {axis}");
            let settled = self.size(size, &label, written, from_inside, start, bay, below);
            // One taken over from the carcass below was checked there.
            let own = size.outside.is_some() || size.clear.is_some() || below.is_none();
            if let Some(settled) = settled.as_ref().filter(|_| own) {
                self.check_size(settled, bay.map(Dim::nominal), &label, written.span);
            }
            settled
        });
        let base = match &written.base {
            Choice::Default => board.map(Some),
            Choice::Off => Some(None),
            Choice::Given(base) => self.board(base).map(Some),
        };
        let top = self.top(written, board);
        let back = self.back(written, board);
        let joint = written.joint.as_ref().map(|joint| JointKind::from(joint.value));
        if joint.is_none() {
            self.assume(format!("Carcasses and drawer boxes: finger joints where no joint is written ({PRACTICE})."));
        }
        let joint = joint.unwrap_or(CARCASS_JOINT);
        let columns = self.columns(written, board, joint, bay);
        let anchors = written.anchors.iter().filter_map(|anchor| self.anchor_index(anchor)).collect();
        let id = written.screw.as_ref().map_or(SCREW, |screw| screw.value.as_str());
        let screw = self.profile(&shop.fasteners, "fastener", id, written.screw.as_ref().map(|screw| screw.span));
        let standing_bolt = self.profile(&shop.fasteners, "fastener", bolt(self.project.units), None);
        Some(Carcass {
            name: name.clone(),
            at,
            width: width?,
            depth: depth?,
            height: height?,
            board: board?,
            joint,
            base: base?,
            top: top.ok()?,
            back: back.ok()?,
            uprights: match &written.doubled {
                Some(doubled) if doubled.value => UprightStyle::Doubled,
                _ => UprightStyle::Single,
            },
            columns: columns?,
            anchors,
            screw: screw?,
            standing_bolt: standing_bolt?,
            span: Some(written.span),
        })
    }

    fn place(&mut self, written: &project::Carcass, below: Option<usize>, room: Room<'_>) -> CarcassPlace {
        let name = &written.name.value;
        let zero = |what: &str| Dim::number(Mm::ZERO, format!("{name} {what}"));
        if let Some(below) = below {
            let shift = match &written.shift {
                Some(shift) => {
                    let one = |i: usize, what: &str| {
                        let length = project::Length { value: shift.value[i], span: shift.span };
                        Self::chosen(&length, &format!("{name} shift {what}"))
                    };
                    [one(0, "right"), one(1, "in")]
                }
                None => [zero("shift right"), zero("shift in")],
            };
            return CarcassPlace::On { below, shift };
        }
        if let Some(at) = &written.at {
            let one = |i: usize, what: &str| {
                Self::chosen(&project::Length { value: at.value[i], span: at.span }, &format!("{name} {what}"))
            };
            return CarcassPlace::At([one(0, FROM_LEFT), one(1, FROM_SILL), one(2, ABOVE_FLOOR)]);
        }
        if room.bay.is_none() {
            return CarcassPlace::At([zero(FROM_LEFT), zero(FROM_SILL), zero(ABOVE_FLOOR)]);
        }
        let what = "Place of a carcass without `at`: from the bay's left and the sill";
        let left = self.assumed(BAY_CLEARANCE, what, &format!("{name} {FROM_LEFT}"));
        let front = self.assumed(BAY_CLEARANCE, what, &format!("{name} {FROM_SILL}"));
        CarcassPlace::At([left, front, zero(ABOVE_FLOOR)])
    }

    /// A size as written; else open when the inside adds up to it; else that of the carcass below; else what the bay leaves
    /// from where the carcass starts.
    #[expect(clippy::too_many_arguments, reason = "each is one place a size can come from")]
    fn size(
        &mut self,
        size: &project::Size,
        label: &str,
        written: &project::Carcass,
        from_inside: bool,
        start: Option<&Dim>,
        bay: Option<&Dim>,
        below: Option<&Size>,
    ) -> Option<Size> {
        let outside = self.positive_if(size.outside.as_ref(), label);
        let clear = self.positive_if(size.clear.as_ref(), &format!("{label} clear"));
        if outside.is_some() || clear.is_some() {
            return Some(Size { outside, clear });
        }
        // Columns and cells that all have sizes add up to it.
        if from_inside {
            return Some(Size::default());
        }
        if let Some(below) = below {
            self.assume(format!("The {label}: the same as of the carcass below, since it is not written."));
            let named = |dim: &Option<Dim>, name: String| dim.as_ref().map(|dim| dim.named(name));
            return Some(Size {
                outside: named(&below.outside, label.to_owned()),
                clear: named(&below.clear, format!("{label} clear")),
            });
        }
        if start.is_some() && written.on.is_some() {
            // The one below is unknown or was not settled itself, which was reported.
            return None;
        }
        // A height that fills the bay is never meant, so it comes without a start.
        if let (Some(bay), Some(start)) = (bay, start) {
            let clearance = self.assumed(
                BAY_CLEARANCE,
                "Free space between a unit that fills the bay and each side of the bay",
                "clearance to the bay",
            );
            // A number is cut, so what the tape may be off by stays in the gap to the bay, where it belongs.
            let outside = (bay - start - &clearance).built().named(label);
            if outside.nominal() > Mm::ZERO {
                let shown = self.show(outside.nominal());
                self.assume(format!("The {label}: {shown}, so that it fills the bay, since it is not written."));
                return Some(Size { outside: Some(outside), clear: None });
            }
            let message = format!("the {label} would fill the bay, but nothing is left of it from where the carcass starts");
            self.stop(codes::SIZE_NOT_POSITIVE, message, written.span, "move the carcass, or write the size");
            return None;
        }
        // Left open: the panels' builder says so if nothing else determines it.
        Some(Size::default())
    }

    fn top(&mut self, written: &project::Carcass, board: Option<BoardId>) -> Result<Option<Top>, Lost> {
        let name = &written.name.value;
        let zero = |side: &str| Dim::number(Mm::ZERO, format!("{name} top overhang {side}"));
        match &written.top {
            Choice::Off => Ok(None),
            Choice::Default => Ok(Some(Top {
                board: board.ok_or(Lost)?,
                overhang: Sides { front: zero("front"), back: zero("back"), left: zero("left"), right: zero("right") },
                removable: false,
                lid: None,
                load_kg: None,
            })),
            Choice::Given(top) => {
                let board = self.board_or(top.board.as_ref(), board);
                let mut side = |length: &Option<project::Length>, side: &str| match length {
                    Some(length) => {
                        let label = format!("{name} top overhang {side}");
                        self.zero_or_more(length, &label);
                        Self::chosen(length, &label)
                    }
                    None => zero(side),
                };
                let overhang = Sides {
                    front: side(&top.front, "front"),
                    back: side(&top.back, "back"),
                    left: side(&top.left, "left"),
                    right: side(&top.right, "right"),
                };
                let lid = match &top.lid {
                    Some(lid) => Some(self.lid(lid, name).ok_or(Lost)?),
                    None => None,
                };
                Ok(Some(Top {
                    board: board.ok_or(Lost)?,
                    overhang,
                    lid,
                    removable: top.removable.as_ref().is_some_and(|r| r.value),
                    load_kg: top.load_kg.as_ref().map(|load| load.value),
                }))
            }
        }
    }

    fn back(&mut self, written: &project::Carcass, board: Option<BoardId>) -> Result<Option<Back>, Lost> {
        match &written.back {
            Choice::Off => Ok(None),
            Choice::Default => Ok(Some(Back { board: board.ok_or(Lost)?, place: BackPlace::Between })),
            Choice::Given(back) => {
                let place = match &back.behind {
                    Some(behind) if behind.value => BackPlace::Behind,
                    _ => BackPlace::Between,
                };
                Ok(Some(Back { board: self.board_or(back.board.as_ref(), board).ok_or(Lost)?, place }))
            }
        }
    }

    /// The board named, or the one that stands in when none is.
    pub(super) fn board_or(&mut self, name: Option<&Text>, default: Option<BoardId>) -> Option<BoardId> {
        match name {
            Some(name) => self.board(name),
            None => default,
        }
    }

    fn anchor_index(&mut self, anchor: &Text) -> Option<usize> {
        let project = self.project;
        let anchors = project.bay.iter().flat_map(|bay| &bay.anchors);
        self.find(anchor, "anchor in the bay", anchors.map(|a| a.name.value.as_str()))
    }

    fn columns(
        &mut self,
        written: &project::Carcass,
        board: Option<BoardId>,
        joint: JointKind,
        bay: Option<&Bay>,
    ) -> Option<Vec<Column>> {
        let name = &written.name.value;
        if written.columns.is_empty() {
            let cell = Cell {
                name: format!("{name}.inside"),
                height: None,
                shelf: None,
                load_kg: None,
                drawer: None,
                span: Some(written.span),
            };
            return Some(vec![Column {
                name: "inside".to_owned(),
                width: None,
                cells: vec![cell],
                span: Some(written.span),
            }]);
        }
        let columns: Vec<Option<Column>> = written
            .columns
            .iter()
            .map(|column| {
                let full = format!("{name}.{}", column.name.value);
                let width = self.positive_if(column.width.as_ref(), &format!("{full} width"));
                if let (Some(width), Some(length)) = (&width, &column.width) {
                    let room = bay.and_then(|b| b.width.as_ref()).map(Dim::nominal);
                    self.check_against(width.nominal(), room, &format!("{full} width"), length.span);
                }
                let cells = self.cells(column, &full, board, joint);
                Some(Column { name: column.name.value.clone(), width, cells: cells?, span: Some(column.span) })
            })
            .collect();
        columns.into_iter().collect()
    }

    fn cells(
        &mut self,
        column: &project::Column,
        full: &str,
        board: Option<BoardId>,
        joint: JointKind,
    ) -> Option<Vec<Cell>> {
        if column.cells.is_empty() {
            let cell = Cell {
                name: full.to_owned(),
                height: None,
                shelf: None,
                load_kg: None,
                drawer: None,
                span: Some(column.span),
            };
            return Some(vec![cell]);
        }
        let cells: Vec<Option<Cell>> = column
            .cells
            .iter()
            .enumerate()
            .map(|(index, cell)| {
                let name = cell_name(full, index, column.cells.len());
                let height = self.positive_if(cell.height.as_ref(), &format!("{name} height"));
                let shelf = match &cell.shelf {
                    None => Some(None),
                    Some(shelf) => {
                        if index == 0 {
                            let message = format!("cell {name} is the lowest of its column and asks for a shelf under it");
                            self.stop(codes::SHELF_UNDER_LOWEST, message, shelf.span, "move `shelf` to the cell above it");
                        }
                        match &shelf.value {
                            Some(value) => self.board(&Text { value: value.clone(), span: shelf.span }).map(Some),
                            None => board.map(Some),
                        }
                    }
                };
                let drawer = match &cell.drawer {
                    None => Some(None),
                    Some(drawer) => self.drawer(drawer, &name, board, joint).map(Some),
                };
                let load_kg = cell.load_kg.as_ref().map(|load| load.value);
                Some(Cell { name, height, shelf: shelf?, load_kg, drawer: drawer?, span: Some(cell.span) })
            })
            .collect();
        cells.into_iter().collect()
    }
}

/// `lower.left` for a column of one cell, else `lower.left.1` from the bottom.
pub(super) fn cell_name(column: &str, index: usize, count: usize) -> String {
    if count <= 1 {
        column.to_owned()
    } else {
        format!("{column}.{}", index + 1)
    }
}

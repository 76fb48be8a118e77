//! Mates: parts that are cut side by side from one sheet, so that the grain runs on from one to the next.
//!
//! They go into the engine as one piece, a row along the sheet's grain in the order they are named (or a column where no sheet
//! is long enough), and are taken apart again when the layout is read back.

use super::codes;
use super::engine::{Item, Turns};
use crate::design::{BoardId, Design};
use crate::diag::Finding;
use crate::flat::FlatParts;
use crate::flat::PartGrain;

/// A part inside a lot.
#[derive(Clone, Copy, Debug)]
pub(super) struct Member {
    /// Index into the flat parts.
    pub(super) part: usize,
    /// Lower left corner and size inside the lot, in steps, as it lies there.
    pub(super) at: [i64; 2],
    pub(super) size: [i64; 2],
    /// How it is turned there.
    pub(super) quarters: u8,
}

/// What goes into the engine as one piece: a part, or mates beside each other.
#[derive(Clone, Debug)]
pub(super) struct Lot {
    pub(super) members: Vec<Member>,
    pub(super) item: Item,
}

impl Lot {
    /// A part by itself, in its own frame; `size` in steps.
    pub(super) fn single(part: usize, size: [i64; 2], grain: PartGrain, count: u32) -> Self {
        let turns = match grain {
            PartGrain::AlongX => Turns::Fixed,
            PartGrain::AlongY => Turns::Quarter,
            PartGrain::Any => Turns::Any,
        };
        Self { members: vec![Member { part, at: [0, 0], size, quarters: 0 }], item: Item { size, turns, count } }
    }

    /// Parts (with their size and grain) in a row or in a column, apart by the gap.
    fn beside(parts: &[(usize, [i64; 2], PartGrain)], gap: i64, along: usize) -> Self {
        let across = 1 - along;
        let mut members = Vec::with_capacity(parts.len());
        let mut whole = [0, 0];
        for (k, &(part, size, grain)) in parts.iter().enumerate() {
            let quarters = u8::from(grain == PartGrain::AlongY);
            let size = if quarters == 1 { [size[1], size[0]] } else { size };
            let mut at = [0, 0];
            at[along] = if k > 0 { whole[along] + gap } else { 0 };
            whole[along] = at[along] + size[along];
            whole[across] = whole[across].max(size[across]);
            members.push(Member { part, at, size, quarters });
        }
        let free = parts.iter().all(|p| p.2 == PartGrain::Any);
        let turns = if free { Turns::Any } else { Turns::Fixed };
        Self { members, item: Item { size: whole, turns, count: 1 } }
    }

    /// Where a member lies when the lot is turned by quarters: lower left corner and turn.
    pub(super) fn laid(&self, member: &Member, quarters: u8) -> ([i64; 2], u8) {
        let (mut at, mut size, mut height) = (member.at, member.size, self.item.size[1]);
        let mut width = self.item.size[0];
        for _ in 0..quarters {
            // (x, y) goes to (height - y, x).
            at = [height - at[1] - size[1], at[0]];
            size = [size[1], size[0]];
            std::mem::swap(&mut width, &mut height);
        }
        (at, (member.quarters + quarters) % 4)
    }
}

/// Groups of mates as indices into the flat parts, in the order they are named; [`refuse`] tells of names that no part has.
pub(super) fn groups(design: &Design, parts: &FlatParts) -> Vec<Vec<usize>> {
    let named = |name: &String| parts.parts.iter().position(|p| is_called(&p.id, &p.name, name));
    let group = |t: &crate::design::Together| {
        let mut list: Vec<usize> = t.parts.iter().filter_map(named).collect();
        // Equal parts may be named each by its own name and are one part with copies.
        let mut seen = std::collections::BTreeSet::new();
        list.retain(|p| seen.insert(*p));
        list
    };
    design.together.iter().map(group).filter(|g| !g.is_empty()).collect()
}

/// Whether a part of this id and name is meant by what a maker wrote.
pub(in crate::nest) fn is_called(id: &str, name: &str, text: &str) -> bool {
    id.eq_ignore_ascii_case(text.trim()) || name.eq_ignore_ascii_case(text.trim())
}

/// What stands in the way of mates lying together: a name that no part has, parts of two boards, a part in two groups.
pub(super) fn refuse(design: &Design, parts: &FlatParts) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut seen: Vec<usize> = Vec::new();
    for together in &design.together {
        let mut board: Option<BoardId> = None;
        for name in &together.parts {
            let Some(at) = parts.parts.iter().position(|p| is_called(&p.id, &p.name, name)) else {
                findings.push(
                    Finding::stop(codes::MATES_APART, format!("no part is called \"{name}\", so it has no mates"))
                        .remedy("name parts as the cut list does, by id or name")
                        .at(together.span),
                );
                continue;
            };
            let part = &parts.parts[at];
            if board.is_some_and(|b| b != part.board) {
                findings.push(
                    Finding::stop(codes::MATES_APART, format!("{} is of another board than its mates", part.name))
                        .remedy("name parts of one board only")
                        .part(&part.id)
                        .at(together.span),
                );
            }
            board = Some(part.board);
            if seen.contains(&at) {
                findings.push(
                    Finding::stop(codes::MATES_APART, format!("{} is named among mates twice", part.name))
                        .remedy("name each part once; equal parts are one part with copies")
                        .part(&part.id)
                        .at(together.span),
                );
            }
            seen.push(at);
        }
    }
    findings
}

/// The lot of a group; a row, or a column where only that fits one of the sheets' sizes.
pub(super) fn lot(parts: &[(usize, [i64; 2], PartGrain)], gap: i64, sheets: &[[i64; 2]]) -> Lot {
    let fits = |lot: &Lot| {
        let [w, h] = lot.item.size;
        let lies = |s: &[i64; 2]| w <= s[0] && h <= s[1] || lot.item.turns == Turns::Any && h <= s[0] && w <= s[1];
        sheets.iter().any(lies)
    };
    let row = Lot::beside(parts, gap, 0);
    let column = Lot::beside(parts, gap, 1);
    if !fits(&row) && fits(&column) {
        column
    } else {
        row
    }
}

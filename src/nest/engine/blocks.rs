//! Pieces put together without waste into blocks that may be laid like one piece.
//!
//! Two rectangles with a side in common make a larger one, and so do four round a fifth; a rectangle that just fills a notch or
//! an opening of a shape closes it, and a shape without any left is a rectangle too.

use super::free_rects::{cut_out, Box2};
use super::pieces::{Grown, Piece};
use super::surface::Placed;
use std::rc::Rc;

/// A piece or several, as one rectangle with pockets that are still free. Never changed once made.
#[derive(Debug)]
pub(super) struct Block {
    pub(super) w: i32,
    pub(super) h: i32,
    /// Whether it may lie as it is (or by a half turn), and by a quarter (or three).
    pub(super) turns: [bool; 2],
    /// What of its rectangle is to be filled still; they do not overlap.
    pub(super) pockets: Vec<Box2>,
    make: Make,
}

#[derive(Debug)]
enum Make {
    Piece(u32),
    /// What is left over of a sheet.
    Spare,
    Parts(Vec<Part>),
}

/// A block in a larger one: its lower left corner there, and the quarters it is turned by.
#[derive(Debug)]
pub(super) struct Part {
    pub(super) block: Rc<Block>,
    pub(super) at: (i32, i32),
    pub(super) quarters: u8,
}

impl Block {
    /// A piece as a block; `None` when what its shape leaves free are not separate rectangles, or it may not lie at all.
    pub(super) fn of(g: &Grown, id: u32) -> Option<Self> {
        let piece: &Piece = &g.pieces[id as usize];
        let &(w, h, q) = piece.ways.first()?;
        let (w, h) = if q % 2 == 0 { (w, h) } else { (h, w) };
        let turns = [0, 1].map(|odd| piece.ways.iter().any(|v| v.2 % 2 == odd));
        let pockets = match &piece.shape {
            None => Vec::new(),
            Some(shape) => pockets(w, h, &shape[0])?,
        };
        Some(Self { w, h, turns, pockets, make: Make::Piece(id) })
    }

    /// A stretch of a sheet that is left over.
    pub(super) fn spare(w: i32, h: i32) -> Self {
        Self { w, h, turns: [true, false], pockets: Vec::new(), make: Make::Spare }
    }

    /// Parts that fill a rectangle; `None` when there is no way for all of them to lie.
    pub(super) fn of_parts(w: i32, h: i32, pockets: Vec<Box2>, parts: Vec<Part>) -> Option<Self> {
        let turns = [0, 1].map(|k: usize| parts.iter().all(|p| p.block.turns[k ^ usize::from(p.quarters % 2)]));
        turns.contains(&true).then_some(Self { w, h, turns, pockets, make: Make::Parts(parts) })
    }

    /// Both as one: the second, in its quarters, beside the first or (`upright`) above it. They must have that side in common.
    pub(super) fn joined(first: &Rc<Self>, second: &Rc<Self>, quarters: u8, upright: bool) -> Option<Self> {
        let (sw, sh) = second.size(quarters);
        let (w, h, at) = if upright { (first.w, first.h + sh, (0, first.h)) } else { (first.w + sw, first.h, (first.w, 0)) };
        Self::of_parts(w, h, Vec::new(), pair(first, second, at, quarters))
    }

    /// The first with one of its pockets filled by the second in its quarters; it must have the pocket's size.
    pub(super) fn filled(first: &Rc<Self>, pocket: usize, second: &Rc<Self>, quarters: u8) -> Option<Self> {
        let mut pockets = first.pockets.clone();
        let p = pockets.swap_remove(pocket);
        Self::of_parts(first.w, first.h, pockets, pair(first, second, (p.x0, p.y0), quarters))
    }

    /// How the pair may be turned, if at all.
    pub(super) fn turns_with(&self, second: &Self, quarters: u8) -> Option<[bool; 2]> {
        let odd = usize::from(quarters % 2);
        let turns = [0, 1].map(|k: usize| self.turns[k] && second.turns[k ^ odd]);
        turns.contains(&true).then_some(turns)
    }

    /// Its size in some quarters.
    pub(super) fn size(&self, quarters: u8) -> (i32, i32) {
        if quarters.is_multiple_of(2) {
            (self.w, self.h)
        } else {
            (self.h, self.w)
        }
    }

    /// The blocks it was put together from; none for a piece.
    pub(super) fn parts(&self) -> &[Part] {
        match &self.make {
            Make::Piece(_) | Make::Spare => &[],
            Make::Parts(parts) => parts,
        }
    }

    /// Its pieces where they lie when it lies in some quarters with its lower left corner at a point.
    pub(super) fn lay(&self, (x, y): (i32, i32), quarters: u8, placed: &mut Vec<Placed>) {
        match &self.make {
            Make::Piece(piece) => {
                let (w, h) = self.size(quarters);
                placed.push(Placed { piece: *piece, x, y, w, h, quarters: quarters % 4 });
            }
            Make::Spare => {}
            Make::Parts(parts) => {
                for part in parts {
                    let ((bx, by), (bw, bh)) = (part.at, part.block.size(part.quarters));
                    let (w, h) = (self.w, self.h);
                    let (cx, cy) = match quarters % 4 {
                        0 => (bx, by),
                        1 => (h - by - bh, bx),
                        2 => (w - bx - bw, h - by - bh),
                        _ => (by, w - bx - bw),
                    };
                    part.block.lay((x + cx, y + cy), part.quarters + quarters % 4, placed);
                }
            }
        }
    }
}

/// The first at the origin, unturned; the second with its corner at a place.
fn pair(first: &Rc<Block>, second: &Rc<Block>, at: (i32, i32), quarters: u8) -> Vec<Part> {
    let part = |block: &Rc<Block>, at, quarters| Part { block: Rc::clone(block), at, quarters };
    vec![part(first, (0, 0), 0), part(second, at, quarters)]
}

/// What rectangles leave free of a larger one, if that is separate rectangles.
fn pockets(w: i32, h: i32, rects: &[Box2]) -> Option<Vec<Box2>> {
    let mut free = vec![Box2 { x0: 0, y0: 0, x1: w, y1: h }];
    let mut fresh = Vec::new();
    for r in rects {
        cut_out(&mut free, &mut fresh, *r, 1);
    }
    let apart = free.iter().enumerate().all(|(i, a)| free[i + 1..].iter().all(|b| !a.meets(b)));
    free.sort_by_key(|f| (f.y0, f.x0));
    apart.then_some(free)
}

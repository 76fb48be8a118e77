//! A sheet being cut up: from where the blanks lie to the cuts that part them.

use super::types::{Direction, Outcome, SawCut, Source};
use crate::geom::tolerance;
use crate::geom::Rect;
use crate::nest::offcut::LEAST_SIDE;
use crate::units::Mm;

/// A piece on its way over the saw.
#[derive(Clone, Copy, Debug)]
struct Piece {
    rect: Rect,
    from: Source,
}

/// A sheet being cut up.
struct Cutting<'a> {
    blanks: &'a [Rect],
    defects: &'a [Rect],
    kerf: f64,
    first: Direction,
    cuts: Vec<SawCut>,
}

/// The cuts that part blanks on a sheet, begun with rips or with crosscuts; `None` when straight cuts cannot.
pub(super) fn cuts(sheet: Rect, blanks: &[Rect], defects: &[Rect], kerf: Mm, first: Direction) -> Option<Vec<SawCut>> {
    let mut cutting = Cutting { blanks, defects, kerf: kerf.0, first, cuts: Vec::new() };
    let all: Vec<usize> = (0..blanks.len()).collect();
    cutting.part(Piece { rect: sheet, from: Source::Sheet }, &all, None, 1)?;
    Some(cutting.cuts)
}

impl Cutting<'_> {
    /// Makes one cut with a width between fence and blade, the fence at the near or the far edge; gives both pieces.
    fn cut(&mut self, direction: Direction, piece: Piece, fence: f64, far: bool, stage: u32) -> (Piece, Option<Piece>) {
        let (mut off, mut rest) = (piece.rect, piece.rect);
        let r = piece.rect;
        match (direction, far) {
            (Direction::Rip, false) => (off.y1, rest.y0) = (r.y0 + fence, r.y0 + fence + self.kerf),
            (Direction::Rip, true) => (off.y0, rest.y1) = (r.y1 - fence, r.y1 - fence - self.kerf),
            (Direction::Cross, false) => (off.x1, rest.x0) = (r.x0 + fence, r.x0 + fence + self.kerf),
            (Direction::Cross, true) => (off.x0, rest.x1) = (r.x1 - fence, r.x1 - fence - self.kerf),
        }
        let some = rest.x1 - rest.x0 > tolerance::NEST_STEP && rest.y1 - rest.y0 > tolerance::NEST_STEP;
        let number = self.cuts.len() as u32 + 1;
        self.cuts.push(SawCut {
            number,
            direction,
            from: piece.from,
            piece: r,
            fence: Mm(fence),
            far,
            off,
            rest: some.then_some(rest),
            stage,
            off_is: Outcome::Again,
            rest_is: Outcome::Again,
        });
        let left = some.then_some(Piece { rect: rest, from: Source::Rest(number) });
        (Piece { rect: off, from: Source::Off(number) }, left)
    }

    /// Tells what becomes of a piece.
    fn becomes(&mut self, piece: Piece, outcome: Outcome) {
        let of = |number: u32| number as usize - 1;
        match piece.from {
            Source::Sheet => {}
            Source::Off(number) => self.cuts[of(number)].off_is = outcome,
            Source::Rest(number) => self.cuts[of(number)].rest_is = outcome,
        }
    }

    /// A piece without blanks.
    fn bare(&mut self, piece: Piece) {
        let sound = !self.defects.iter().any(|d| piece.rect.intersect(*d).area() > 0.0);
        let keep = sound && piece.rect.width() >= LEAST_SIDE.0 && piece.rect.height() >= LEAST_SIDE.0;
        self.becomes(piece, if keep { Outcome::Kept } else { Outcome::Waste });
    }

    /// Cuts a piece up into the blanks that lie on it; `None` when no straight cut parts them.
    fn part(&mut self, piece: Piece, on: &[usize], last: Option<Direction>, stage: u32) -> Option<()> {
        if on.is_empty() {
            self.bare(piece);
            return Some(());
        }
        if self.finished(piece, on) {
            return Some(());
        }
        // Going on in the same direction needs no turn of the piece, but its strips are apart already.
        let start_with = match last {
            Some(Direction::Rip) => Direction::Cross,
            Some(Direction::Cross) => Direction::Rip,
            None => self.first,
        };
        let other = if start_with == Direction::Rip { Direction::Cross } else { Direction::Rip };
        for direction in [start_with, other] {
            let groups = self.groups(on, direction);
            let (start, end) = along(&piece.rect, direction);
            let lead = self.start_of(groups.first()?, direction);
            let reach = groups.last()?.iter().map(|&b| along(&self.blanks[b], direction).1).fold(start, f64::max);
            let (early, loose) = (lead > start + tolerance::NEST_STEP, reach < end - tolerance::NEST_STEP);
            if groups.len() < 2 && !loose && !early {
                continue;
            }
            let stage = if last.is_none() || last == Some(direction) { stage } else { stage + 1 };
            self.strips(piece, direction, stage, &groups, (early, loose))?;
            return Some(());
        }
        None
    }

    /// Cuts a piece into one strip for each group and goes on with the strips.
    fn strips(
        &mut self,
        piece: Piece,
        direction: Direction,
        stage: u32,
        groups: &[Vec<usize>],
        (early, loose): (bool, bool),
    ) -> Option<()> {
        let (_, end) = along(&piece.rect, direction);
        let mut now = piece;
        if early {
            let lead = self.start_of(groups.first()?, direction);
            let (kept, waste) = self.cut(direction, now, end - lead, true, stage);
            if let Some(waste) = waste {
                self.bare(waste);
            }
            now = kept;
        }
        let mut strips = Vec::with_capacity(groups.len());
        for (k, group) in groups.iter().enumerate() {
            // Each strip ends a kerf ahead of the next; what it has too much comes off in its own cuts.
            let next = groups.get(k + 1).map(|g| self.start_of(g, direction) - self.kerf);
            if next.is_none() && !loose {
                strips.push((now, group));
                break;
            }
            let reach = || group.iter().map(|&b| along(&self.blanks[b], direction).1).fold(f64::NEG_INFINITY, f64::max);
            let until = next.unwrap_or_else(reach);
            let (strip, rest) = self.cut(direction, now, until - along(&now.rect, direction).0, false, stage);
            strips.push((strip, group));
            match rest {
                Some(rest) if next.is_some() => now = rest,
                Some(rest) => self.bare(rest),
                None if next.is_some() => return None,
                None => {}
            }
        }
        for (strip, group) in strips {
            self.part(strip, group, Some(direction), stage)?;
        }
        Some(())
    }

    /// Where the first of some blanks begins.
    fn start_of(&self, group: &[usize], direction: Direction) -> f64 {
        group.iter().map(|&b| along(&self.blanks[b], direction).0).fold(f64::INFINITY, f64::min)
    }

    /// Whether a piece is a blank; if so, that is told.
    fn finished(&mut self, piece: Piece, on: &[usize]) -> bool {
        let [only] = on else { return false };
        let (b, r) = (self.blanks[*only], piece.rect);
        let same = |p: f64, q: f64| (p - q).abs() < tolerance::NEST_STEP;
        let is = same(b.x0, r.x0) && same(b.y0, r.y0) && same(b.x1, r.x1) && same(b.y1, r.y1);
        if is {
            self.becomes(piece, Outcome::Blank(*only));
        }
        is
    }

    /// Blanks in groups that cuts in a direction part from each other.
    fn groups(&self, on: &[usize], direction: Direction) -> Vec<Vec<usize>> {
        let mut order = on.to_vec();
        order.sort_by(|&a, &b| along(&self.blanks[a], direction).0.total_cmp(&along(&self.blanks[b], direction).0));
        let mut groups: Vec<Vec<usize>> = Vec::new();
        let mut reach = f64::NEG_INFINITY;
        for b in order {
            let (start, end) = along(&self.blanks[b], direction);
            if groups.is_empty() || start >= reach + self.kerf - tolerance::NEST_CLEARANCE {
                groups.push(Vec::new());
            }
            if let Some(group) = groups.last_mut() {
                group.push(b);
            }
            reach = reach.max(end);
        }
        groups
    }
}

/// From where to where a rectangle lies across a cut's direction.
fn along(r: &Rect, direction: Direction) -> (f64, f64) {
    match direction {
        Direction::Rip => (r.y0, r.y1),
        Direction::Cross => (r.x0, r.x1),
    }
}

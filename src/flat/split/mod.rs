//! Parts larger than every sheet: divided by a row of round knobs that hang on to each other, away from holes and joints.
//!
//! A knob is three arcs of one radius, so that a cutter of that radius and a beam make it alike and both sides fit. Register marks
//! run over the joint: one for the first joint of a part, two for the second, and so on.

mod knobs;
mod place;

use super::web;
use super::{codes, mass, FlatCut, FlatPart, FlatParts, Operation, PartGrain};
use crate::design::{BoardUse, Design};
use crate::diag::Finding;
use crate::geom::{Contour, GeomError, Point, Rect, Vec2};
use crate::shop::Process;
use crate::units::Mm;
use knobs::Joint;
use place::Along;

/// More pieces than this are no panel any more.
const MOST_PIECES: usize = 12;

/// Divides what fits no sheet of its board, where the design asks for it; everything else stays as it is.
pub(super) fn large(design: &Design, parts: FlatParts, found: &mut Vec<Finding>) -> FlatParts {
    if !design.process.split {
        return parts;
    }
    let mut all = Vec::with_capacity(parts.parts.len());
    for (index, board) in design.boards.iter().enumerate() {
        let mine: Vec<&FlatPart> = parts.parts.iter().filter(|p| p.board.0 == index).collect();
        bed_too_small(design, board, &mine, found);
    }
    for part in parts.parts {
        let Some(board) = design.boards.get(part.board.0) else {
            all.push(part);
            continue;
        };
        let Some(usable) = too_large(design, board, &part) else {
            all.push(part);
            continue;
        };
        match Splitting::of(design, board, usable).whole(&part) {
            Ok(pieces) => {
                found.push(told(&part, &pieces));
                all.extend(pieces.into_iter().map(|p| p.part));
            }
            Err(why) => {
                found.push(
                    Finding::stop(codes::SPLIT_HAS_NO_PLACE, format!("{} is too large for a sheet and {why}", part.name))
                        .part(&part.id)
                        .at(part.span)
                        .remedy("name a larger sheet or bed, or divide the panel by hand"),
                );
                all.push(part);
            }
        }
    }
    FlatParts { parts: all }
}

/// What a joint and its pieces were made of.
struct Piece {
    part: FlatPart,
    /// Where its joint with the next piece lies, from the whole part's lower left corner.
    joint: Option<(Along, f64)>,
}

fn told(part: &FlatPart, pieces: &[Piece]) -> Finding {
    let joints: Vec<String> = pieces
        .iter()
        .filter_map(|p| p.joint)
        .enumerate()
        .map(|(i, (along, at))| {
            let axis = if along == Along::X { "x" } else { "y" };
            format!("{} at {axis} = {} mm", i + 1, Mm(at))
        })
        .collect();
    Finding::note(
        codes::SPLIT,
        format!("{} is cut in {} pieces, joint {}", part.name, pieces.len(), joints.join(", joint ")),
    )
    .part(&part.id)
    .at(part.span)
    .remedy(
        "lay the pieces on a flat table, press the knobs in with the register marks in line (as many as the joint's number), and \
         glue or tape a strip over each joint on the side that is not seen",
    )
}

/// The sizes a part may have on the board's sheets, in its own frame: none, when it fits one of them.
fn too_large(design: &Design, board: &BoardUse, part: &FlatPart) -> Option<Vec<[f64; 2]>> {
    let margin = design.process.sheet_margin.0 * 2.0;
    let turned = |s: &crate::design::StockSheet| {
        let (l, w) = (s.size.length.0 - margin, s.size.width.0 - margin);
        match part.grain {
            PartGrain::AlongX => vec![[l, w]],
            PartGrain::AlongY => vec![[w, l]],
            PartGrain::Any => vec![[l, w], [w, l]],
        }
    };
    let usable: Vec<[f64; 2]> = board.stock.iter().filter(|s| s.count != Some(0)).flat_map(turned).collect();
    (!usable.is_empty() && !fits(&usable, part)).then_some(usable)
}

/// Whether a part lies on one of the sheets.
fn fits(usable: &[[f64; 2]], part: &FlatPart) -> bool {
    usable.iter().any(|[x, y]| part.length.0 <= *x && part.width.0 <= *y)
}

/// A bed on which not even the smallest of several parts finds room says so, instead of falling into crumbs.
fn bed_too_small(design: &Design, board: &BoardUse, parts: &[&FlatPart], found: &mut Vec<Finding>) {
    let Some(smallest) = parts.iter().min_by(|a, b| (a.length * a.width.0).0.total_cmp(&(b.length * b.width.0).0)) else {
        return;
    };
    let Some(usable) = too_large(design, board, smallest).filter(|_| parts.len() > 1) else { return };
    let Some([x, y]) = usable.into_iter().max_by(|a, b| (a[0] * a[1]).total_cmp(&(b[0] * b[1]))) else { return };
    found.push(
        Finding::stop(
            codes::BED_TOO_SMALL,
            format!(
                "the smallest part of board {}, {}, is {} x {} mm; the largest sheet on the bed has room for {} x {} mm",
                board.name,
                smallest.name,
                smallest.length,
                smallest.width,
                Mm(x.max(0.0)),
                Mm(y.max(0.0))
            ),
        )
        .part(&smallest.id)
        .at(smallest.span)
        .remedy("take a machine with a larger bed, or larger sheets"),
    );
}

/// How parts of one board are divided.
struct Splitting {
    /// Usable sizes, in the part's frame.
    usable: Vec<[f64; 2]>,
    /// Least radius of a knob: what the cutter makes.
    least: f64,
    /// Radius to take where there is room.
    usual: f64,
    /// Play of a joint, in all.
    play: f64,
    /// Distance kept from cuts and edges.
    web: f64,
    density: f64,
}

impl Splitting {
    fn of(design: &Design, board: &BoardUse, usable: Vec<[f64; 2]>) -> Self {
        let process = &design.process;
        let t = board.thickness.nominal().0;
        let (least, play) = match &process.machine.process {
            Process::Router(_) => {
                let cutter = process.outline_cutter.and_then(|i| process.cutters.get(i)).map_or(6.0, |c| c.diameter.0);
                (cutter / 2.0 + process.relief_extra.0, process.joint_clearance.finger.nominal().0.max(0.0))
            }
            // The beam leaves the finished edge on both sides, and card gives.
            Process::Laser(laser) => (laser.kerf.0, 0.0),
        };
        Self {
            usable,
            least,
            usual: (t * KNOB_THICKNESSES).max(least),
            play,
            web: process.min_web.0,
            density: board.profile.density_kg_m3,
        }
    }

    /// All pieces of a part, or why there are none.
    fn whole(&self, part: &FlatPart) -> Result<Vec<Piece>, String> {
        let mut pieces = vec![Piece { part: part.clone(), joint: None }];
        let mut number = 0;
        while let Some(i) = pieces.iter().position(|p| !fits(&self.usable, &p.part)) {
            if pieces.len() >= MOST_PIECES {
                return Err(format!("would fall into more than {MOST_PIECES} pieces"));
            }
            number += 1;
            let large = pieces.remove(i);
            let (along, at, [first, second]) = self.once(&large.part, number)?;
            pieces.insert(i, Piece { part: second, joint: large.joint });
            pieces.insert(i, Piece { part: first, joint: Some((along, at)) });
        }
        let count = pieces.len();
        for (i, piece) in pieces.iter_mut().enumerate() {
            piece.part.id = format!("{}-P{}", part.id, i + 1);
            piece.part.name = format!("{}, piece {} of {count}", part.name, i + 1);
        }
        Ok(pieces)
    }

    /// One joint: where it lies, and the two pieces.
    fn once(&self, part: &FlatPart, number: usize) -> Result<(Along, f64, [FlatPart; 2]), String> {
        let mut reason = String::from("has no place for a joint clear of its holes and joints");
        // Across the direction in which it is larger than the sheet it fits best.
        for along in place::directions(&self.usable, part) {
            let limit = self.usable.iter().map(|u| u[along.index()]).fold(0.0, f64::max);
            let radius = self.radius(part, along);
            if limit < radius * 12.0 {
                reason = format!("the sheet's usable {} mm leave no room for a joint", Mm(limit.max(0.0)));
                continue;
            }
            for spot in place::spots(part, along, limit, radius, self.web) {
                let Some(joint) = Joint::at(part, along, spot, radius, self.web) else { continue };
                match self.divide(part, &joint, number) {
                    Ok(pair) => return Ok((along, spot, pair)),
                    Err(error) => reason = format!("cannot be divided: {error}"),
                }
            }
        }
        Err(reason)
    }

    /// A knob's radius: the usual one, or what a narrow part has room for.
    fn radius(&self, part: &FlatPart, along: Along) -> f64 {
        let across = if along == Along::X { part.width.0 } else { part.length.0 };
        self.usual.min(across / KNOBS_ACROSS).max(self.least)
    }

    /// Cuts a part along a joint.
    fn divide(&self, part: &FlatPart, joint: &Joint, number: usize) -> Result<[FlatPart; 2], GeomError> {
        let low = joint.low_side()?;
        let high = if self.play > 0.0 { one(low.grown(self.play)?)? } else { low.clone() };
        let outline = &part.outline.contour;
        let mut pieces = [single(outline.intersection(&low)?)?, single(outline.minus(&high)?)?];
        // An opening that the joint runs through becomes part of both pieces' outlines.
        for cut in part.cuts.iter().filter(|c| web::goes_through(c) && c.contour.crosses(&low)) {
            for piece in &mut pieces {
                *piece = single(piece.minus(&cut.contour)?)?;
            }
        }
        let marks = joint.marks(number)?;
        let mut made = pieces.map(|contour| piece(part, contour, joint));
        for (piece, side) in made.iter_mut().zip([true, false]) {
            self.fill(piece, part, &low, side, &marks)?;
        }
        Ok(made)
    }

    /// Gives a piece its share of the cuts and moves it to its own corner.
    fn fill(
        &self,
        piece: &mut FlatPart,
        part: &FlatPart,
        low: &Contour,
        on_low_side: bool,
        marks: &[FlatCut],
    ) -> Result<(), GeomError> {
        for cut in part.cuts.iter().chain(marks) {
            let crosses = cut.contour.crosses(low);
            if !crosses {
                let inside = low.holds(&cut.contour);
                if inside == on_low_side {
                    piece.cuts.push(cut.clone());
                }
            } else if !web::goes_through(cut) {
                // A mark, fold or pocket is divided with the board.
                let share = if on_low_side { cut.contour.intersection(low)? } else { cut.contour.minus(low)? };
                let pieces = share.into_iter().filter(|r| r.area() > crate::geom::tolerance::LEFTOVER_AREA);
                piece.cuts.extend(pieces.map(|r| FlatCut { contour: r.outer.cw(), seats: None, ..cut.clone() }));
            }
        }
        let by = -piece.outline.contour.bounds().origin().to_vec2();
        shift(piece, by);
        let size = piece.outline.contour.bounds();
        (piece.length, piece.width) = (Mm(size.width()), Mm(size.height()));
        piece.mass_kg = mass::of(&piece.outline.contour, &piece.cuts, piece.thickness, self.density);
        piece.outline.contour.check_simple()
    }
}

/// A knob's radius in thicknesses of the board. Common practice, no source.
const KNOB_THICKNESSES: f64 = 1.5;
/// A knob takes this many of its radii across a narrow part: its own width and as much again.
const KNOBS_ACROSS: f64 = 6.0;

fn one(mut all: Vec<Contour>) -> Result<Contour, GeomError> {
    match (all.pop(), all.is_empty()) {
        (Some(only), true) => Ok(only),
        _ => Err(GeomError::Unreliable("joint")),
    }
}

/// The one region without holes that a division must leave on its side; specks at its corners do not count.
fn single(regions: Vec<crate::geom::Region>) -> Result<Contour, GeomError> {
    let mut real: Vec<_> = regions.into_iter().filter(|r| r.area() > crate::geom::tolerance::LEFTOVER_AREA).collect();
    match (real.pop(), real.is_empty()) {
        (Some(only), true) if only.inner.is_empty() => Ok(only.outer),
        _ => Err(GeomError::Unreliable("division")),
    }
}

/// Moves everything of a part.
fn shift(part: &mut FlatPart, by: Vec2) {
    let moved = |at: &Point| *at + by;
    part.outline.contour = part.outline.contour.moved(by);
    for cut in &mut part.cuts {
        cut.contour = cut.contour.moved(by);
        cut.islands = cut.islands.iter().map(|i| i.moved(by)).collect();
        if let Some(seat) = &mut cut.seats {
            seat.shape = seat.shape.moved(by);
        }
        match &mut cut.operation {
            Operation::Drill { at, .. } | Operation::Countersink { at, .. } => *at = moved(at),
            Operation::ThroughOutside
            | Operation::ThroughInside
            | Operation::Pocket { .. }
            | Operation::Mark
            | Operation::Fold { .. } => {}
        }
    }
    let bounds = part.outline.contour.bounds();
    let near = |r: &Rect| !(r.x1 < bounds.x0 || r.x0 > bounds.x1 || r.y1 < bounds.y0 || r.y0 > bounds.y1);
    part.keep_clean = part.keep_clean.iter().map(|r| *r + by).filter(near).collect();
}

/// A piece with its outline, still where it lies in the whole part.
fn piece(part: &FlatPart, contour: Contour, joint: &Joint) -> FlatPart {
    let mut piece = part.clone();
    piece.outline.contour = contour.ccw();
    piece.cuts.clear();
    piece.keep_clean.push(joint.bounds());
    piece
}

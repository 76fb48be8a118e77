//! The saw plan: every part (as its blank) by straight cuts from edge to edge, in order, each with its fence setting.

use super::codes;
use super::engine::CutRule;
use super::job::{turned, Manner};
use super::lay_out::lay_boards;
use super::options::Options;
use super::types::{BoardBound, Placement, Sheet};
use crate::design::Design;
use crate::diag::Checked;
use crate::diag::Finding;
use crate::flat::FlatParts;
use crate::geom::tolerance;
use crate::geom::Rect;
use crate::units::Mm;

/// What the saw is like, and how hard to look.
#[derive(Clone, Copy, Debug)]
pub struct SawOptions<'a> {
    /// Width of a cut.
    pub kerf: Mm,
    /// Cut off the sheet's edges first, since a factory edge is never a part's edge.
    pub trim: Mm,
    /// How to search.
    pub search: Options<'a>,
}

/// All sheets with their cuts.
#[derive(Clone, Debug, Default)]
pub struct SawPlan {
    /// Sheets, by board, then number.
    pub sheets: Vec<SawSheet>,
    /// For each board with parts, how few sheets could ever do.
    pub bounds: Vec<BoardBound>,
}

/// One sheet and how it is cut up.
#[derive(Clone, Debug)]
pub struct SawSheet {
    /// Where its parts' blanks lie.
    pub sheet: Sheet,
    /// The cuts, in order.
    pub cuts: Vec<SawCut>,
}

impl SawSheet {
    /// How often the cutting changes between rips and crosscuts on the way to the most deeply cut part, plus one.
    #[must_use]
    pub fn stages(&self) -> u32 {
        self.cuts.iter().map(|c| c.stage).max().unwrap_or(0)
    }

    /// Different fence settings, in whole hundredths of a millimetre.
    #[must_use]
    pub fn fence_settings(&self) -> usize {
        let mut settings: Vec<i64> = self.cuts.iter().map(|c| (c.fence.0 * 100.0).round() as i64).collect();
        settings.sort_unstable();
        settings.dedup();
        settings.len()
    }
}

/// Which way a cut runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Direction {
    /// Along the sheet's length.
    Rip,
    /// Across it.
    Cross,
}

/// One cut, from edge to edge of the piece on the saw. Rectangles are in the sheet frame, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SawCut {
    /// Its number, from 1.
    pub number: u32,
    /// Which way it runs.
    pub direction: Direction,
    /// The piece on the saw.
    pub piece: Rect,
    /// Width between fence and cut; the fence stands at the lower (rip) or left (crosscut) edge of the piece.
    pub fence: Mm,
    /// What comes off between fence and cut.
    pub off: Rect,
    /// What is left beyond the kerf, if anything.
    pub rest: Option<Rect>,
    /// 1 for the first rips or crosscuts, one more with every change of direction.
    pub stage: u32,
    /// What comes off is waste: a trimmed edge, or the empty start of a strip.
    pub trims: bool,
    /// Index into the sheet's placements of the blank that `off` is, when it is one.
    pub frees: Option<usize>,
    /// Likewise of the blank that `rest` is.
    pub frees_rest: Option<usize>,
}

/// Lays every copy of every part for the saw and lists the cuts.
///
/// Parts with curves, notches or openings are cut out as their rectangles. The same findings stop it as stop a layout.
#[must_use]
pub fn saw_plan(design: &Design, parts: &FlatParts, options: &SawOptions<'_>) -> Checked<SawPlan> {
    // A trimming cut takes at least its own kerf.
    let trim = if options.trim > Mm::ZERO { options.trim.max(options.kerf) } else { Mm::ZERO };
    let manner = Manner { gap: options.kerf, margin: trim, cut: CutRule::Guillotine, openings: false };
    let (layout, mut findings) = lay_boards(design, parts, &options.search, manner);
    if !findings.is_empty() {
        return Checked::failed(findings);
    }
    let mut plan = SawPlan { sheets: Vec::new(), bounds: layout.bounds };
    for sheet in layout.sheets {
        let blanks: Vec<Rect> = sheet.placements.iter().map(|p| blank(parts, p)).collect();
        match Cutting::of(&sheet, &blanks, options.kerf, trim) {
            Some(cuts) => plan.sheets.push(SawSheet { sheet, cuts }),
            None => findings.push(Finding::stop(
                codes::LAYOUT_FAULT,
                format!(
                    "sheet {} of board {} cannot be cut from edge to edge",
                    sheet.number, design.boards[sheet.board.0].name
                ),
            )),
        }
    }
    if findings.is_empty() {
        Checked::new(plan, findings)
    } else {
        Checked::failed(findings)
    }
}

/// A part's rectangle where it lies.
fn blank(parts: &FlatParts, p: &Placement) -> Rect {
    turned(parts.parts[p.part].outline.contour.bounds(), p.turn) + p.at.to_vec2()
}

/// A sheet being cut up.
struct Cutting<'a> {
    blanks: &'a [Rect],
    kerf: f64,
    cuts: Vec<SawCut>,
}

impl Cutting<'_> {
    fn of(sheet: &Sheet, blanks: &[Rect], kerf: Mm, trim: Mm) -> Option<Vec<SawCut>> {
        let mut cutting = Cutting { blanks, kerf: kerf.0, cuts: Vec::new() };
        let mut piece = Rect::new(0.0, 0.0, sheet.length.0, sheet.width.0);
        if trim > Mm::ZERO {
            // The kerf is part of the trim: the fence is set so that the cut ends where the first parts begin.
            for direction in [Direction::Rip, Direction::Cross] {
                let width = (trim - kerf).0;
                piece = cutting.cut(direction, piece, width, 1, true)?;
            }
        }
        let all: Vec<usize> = (0..blanks.len()).collect();
        cutting.part(piece, &all, None, 1)?;
        Some(cutting.cuts)
    }

    /// Makes one cut at a distance from the fence; gives what is left beyond it.
    fn cut(&mut self, direction: Direction, piece: Rect, fence: f64, stage: u32, trims: bool) -> Option<Rect> {
        let (mut off, mut rest) = (piece, piece);
        match direction {
            Direction::Rip => (off.y1, rest.y0) = (piece.y0 + fence, piece.y0 + fence + self.kerf),
            Direction::Cross => (off.x1, rest.x0) = (piece.x0 + fence, piece.x0 + fence + self.kerf),
        }
        let left = (rest.width() > tolerance::SAME_POINT && rest.x0 < rest.x1 && rest.y0 < rest.y1).then_some(rest);
        let number = self.cuts.len() as u32 + 1;
        self.cuts.push(SawCut {
            number,
            direction,
            piece,
            fence: Mm(fence),
            off,
            rest: left,
            stage,
            trims,
            frees: None,
            frees_rest: None,
        });
        left
    }

    /// Cuts a piece up into the blanks that lie on it; `None` when no straight cut parts them.
    fn part(&mut self, piece: Rect, on: &[usize], last: Option<Direction>, stage: u32) -> Option<()> {
        if on.is_empty() {
            return Some(());
        }
        // Going on in the same direction needs no turn of the piece, so that is tried last.
        let order = match last {
            Some(Direction::Rip) => [Direction::Cross, Direction::Rip],
            _ => [Direction::Rip, Direction::Cross],
        };
        for direction in order {
            let groups = self.groups(on, direction);
            let (start, end) = along(&piece, direction);
            let first = |g: &[usize]| g.iter().map(|&b| along(&self.blanks[b], direction).0).fold(f64::INFINITY, f64::min);
            let reach = |g: &[usize]| g.iter().map(|&b| along(&self.blanks[b], direction).1).fold(start, f64::max);
            let (lead, last_reach) = (first(groups.first()?), reach(groups.last()?));
            let (early, loose) = (lead > start + tolerance::NEST_STEP, last_reach < end - tolerance::NEST_STEP);
            // Each strip ends a kerf ahead of the next; what it has too much comes off later, in the other direction's strips.
            let ends: Vec<f64> = groups.iter().skip(1).map(|g| first(g) - self.kerf).chain([last_reach]).collect();
            if groups.len() < 2 && !loose && !early {
                continue;
            }
            let stage = if last.is_none() || last == Some(direction) { stage } else { stage + 1 };
            let mut rest = Some(piece);
            if early {
                rest = self.cut(direction, piece, lead - self.kerf - start, stage, true);
            }
            let mut strips = Vec::new();
            for (k, (group, end_of)) in groups.iter().zip(ends).enumerate() {
                let now = rest?;
                let from = along(&now, direction).0;
                if k + 1 == groups.len() && !loose {
                    strips.push((now, group));
                    break;
                }
                rest = self.cut(direction, now, end_of - from, stage, false);
                strips.push((self.cuts[self.cuts.len() - 1].off, group));
            }
            for (strip, group) in strips {
                if !self.finished(&strip, group) {
                    self.part(strip, group, Some(direction), stage)?;
                }
            }
            return Some(());
        }
        self.finished(&piece, on).then_some(())
    }

    /// Whether a piece is a blank; if so, the cut that made it is told.
    fn finished(&mut self, piece: &Rect, on: &[usize]) -> bool {
        let [only] = on else { return false };
        let b = self.blanks[*only];
        let same = |p: f64, q: f64| (p - q).abs() < tolerance::NEST_STEP;
        if !(same(b.x0, piece.x0) && same(b.y0, piece.y0) && same(b.x1, piece.x1) && same(b.y1, piece.y1)) {
            return false;
        }
        for cut in self.cuts.iter_mut().rev() {
            if cut.off == *piece {
                cut.frees = Some(*only);
                break;
            }
            if cut.rest == Some(*piece) {
                cut.frees_rest = Some(*only);
                break;
            }
        }
        true
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

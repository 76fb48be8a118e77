//! No pass takes more wood than its cutter may: sideways, only so deep into a whole sheet, and so deep below an earlier pass.
//!
//! Looked at a little ahead of the tool centre, every few millimetres along it: how high the wood there still stands after all that
//! was cut before. Holes that are drilled or plunged straight down are no passes.

use super::strokes::{Run, Stroke};
use crate::diag::Finding;
use crate::proof::codes;
use crate::proof::job::Sheet;
use crate::proof::limits;
use crate::proof::pack::{file_name, sheet_name};
use crate::proof::shape::Pt;
use crate::proof::verdict::Rule;

/// How far ahead of the tool centre the wood is looked at, as a share of the cutter's radius: ahead of what it has just opened.
const AHEAD: f64 = 0.7;
/// How much farther than its radius a cutter is taken to have opened, as a share of it: beside a last thin pass stands only a rim.
const RIM: f64 = 0.2;
/// What the tool centre opened on so short a way behind it does not count, as a share of the radius: it reaches ahead of it. Where
/// it went straight down, it does.
const BEHIND: f64 = 1.0 + RIM - AHEAD;
/// How fine a stroke is looked at, in mm.
const PITCH: f64 = 2.0;
/// Side of a cell, in mm.
const CELL: f64 = 12.0;
/// Most cells of a sheet; beyond it cells grow.
const CELLS: f64 = 250_000.0;
/// Shorter strokes go straight down.
const SIDEWAYS: f64 = 0.01;

/// The rules of this file.
#[derive(Debug)]
pub(super) struct Depth {
    pub(super) pass: Rule,
    pub(super) plunge: Rule,
}

impl Depth {
    pub(super) fn new() -> Self {
        Self {
            pass: Rule::measuring(codes::PASS, "strokes below a first pass", limits::PASS, "mm too deep"),
            plunge: Rule::counting(codes::PLUNGE, "strokes straight down"),
        }
    }

    /// Checks all strokes of a sheet, in order of running. `false` when there are more than can be looked at.
    pub(super) fn check(&mut self, strokes: &[Stroke], runs: &[Run<'_>], sheet: &Sheet) -> bool {
        let silent = |run: &Run<'_>| run.program.cutter.pass_max_mm.is_none() && run.program.cutter.centre_cutting.is_none();
        runs.iter().all(silent) || check(self, strokes, runs, sheet)
    }
}

fn check(rules: &mut Depth, strokes: &[Stroke], runs: &[Run<'_>], sheet: &Sheet) -> bool {
    let Depth { pass: rule, plunge } = rules;
    let mut cut = Wood::new(sheet);
    let (mut looks, mut chain, mut along) = (0, 0, 0.0);
    for (index, stroke) in strokes.iter().enumerate() {
        let run = &runs[stroke.program];
        let length = stroke.a.distance(stroke.b);
        if !stroke.follows {
            (chain, along) = (index, 0.0);
        }
        let cutter = &run.program.cutter;
        let first = cutter.first_pass_max_mm.or(cutter.pass_max_mm);
        if let (Some(first), Some(later)) = (first, cutter.pass_max_mm) {
            if length > SIDEWAYS && run.top - stroke.low() > first.min(later) + limits::PASS {
                rule.count(1);
                let most = [first, later];
                let over = cut.over(stroke, run.top, most, [chain, index], along, &mut looks);
                let place = || format!("{} line {} ({})", file_name(&run.program.file), stroke.line, sheet_name(sheet));
                rule.figure(over.max(0.0), || if over > 0.0 { place() } else { "nowhere".to_owned() });
                if over > limits::PASS {
                    rule.fault(|code| {
                        let message = format!("{}: a pass is {over:.2} mm deeper than its cutter may go", place());
                        let limit = format!("{first} mm into a whole sheet, {later} mm below a pass, the cutter's profile");
                        Finding::stop(code, message).limit(limit)
                    });
                }
            }
        }
        if length <= SIDEWAYS && stroke.zb < stroke.za {
            plunge.count(1);
            if cutter.centre_cutting == Some(false) && cut.stands(stroke, run.top, &mut looks) {
                plunge.fault(|code| {
                    let place = format!("{} line {} ({})", file_name(&run.program.file), stroke.line, sheet_name(sheet));
                    Finding::stop(code, format!("{place}: the cutter goes straight down into the wood"))
                        .limit("the cutter's profile: it does not cut in its middle")
                });
            }
        }
        along += length;
        cut.add(stroke, along);
        if looks > limits::LOOKS_NEAR || cut.entries > limits::ENTRIES {
            return false;
        }
    }
    true
}

/// What was cut so far, by cells of the sheet.
struct Wood<'s> {
    done: Vec<(&'s Stroke, f64)>,
    cells: Vec<Vec<u32>>,
    cell: f64,
    columns: usize,
    rows: usize,
    entries: usize,
}

impl<'s> Wood<'s> {
    fn new(sheet: &Sheet) -> Self {
        let (long, wide) = (sheet.length_mm, sheet.width_mm);
        let cell = CELL.max((long * wide / CELLS).sqrt()).max(long.max(wide) / CELLS.sqrt());
        let (columns, rows) = ((long / cell) as usize + 1, (wide / cell) as usize + 1);
        Self { done: Vec::new(), cells: vec![Vec::new(); columns * rows], cell, columns, rows, entries: 0 }
    }

    fn cell(&self, p: Pt) -> (usize, usize) {
        let at = |v: f64, most: usize| ((v / self.cell).max(0.0) as usize).min(most - 1);
        (at(p.x, self.columns), at(p.y, self.rows))
    }

    /// Takes a stroke as cut, whose end is so far along its way.
    fn add(&mut self, stroke: &'s Stroke, along: f64) {
        let k = self.done.len() as u32;
        self.done.push((stroke, along));
        let (reach, n) = (stroke.radius * (1.0 + RIM), (stroke.a.distance(stroke.b) / self.cell).ceil().max(1.0) as usize);
        for i in 0..n {
            let (p, q) = (stroke.at(i as f64 / n as f64), stroke.at((i + 1) as f64 / n as f64));
            let (x0, y0) = self.cell(Pt::new(p.x.min(q.x) - reach, p.y.min(q.y) - reach));
            let (x1, y1) = self.cell(Pt::new(p.x.max(q.x) + reach, p.y.max(q.y) + reach));
            for y in y0..=y1 {
                for x in x0..=x1 {
                    let list = &mut self.cells[y * self.columns + x];
                    if list.last() != Some(&k) {
                        list.push(k);
                        self.entries += 1;
                    }
                }
            }
            if self.entries > limits::ENTRIES {
                return;
            }
        }
    }

    /// Whether there is wood under the middle of a cutter that goes straight down.
    fn stands(&self, stroke: &Stroke, top: f64, looks: &mut usize) -> bool {
        let (x, y) = self.cell(stroke.b);
        let list = &self.cells[y * self.columns + x];
        *looks += list.len();
        let before = list.iter().map(|k| self.done[*k as usize].0).filter(|s| s.side == stroke.side);
        let wood = before.filter_map(|s| floor(s, stroke.b)).fold(top, f64::min);
        wood > stroke.zb + limits::PASS
    }

    /// By how much a stroke is too deep, at worst. `most` is how deep it may go into a whole sheet and below a pass, `chain` the first
    /// stroke of its way and itself, `along` where on that way it begins.
    fn over(&self, stroke: &Stroke, top: f64, most: [f64; 2], chain: [usize; 2], along: f64, looks: &mut usize) -> f64 {
        let length = stroke.a.distance(stroke.b);
        let ahead = AHEAD * stroke.radius / length;
        let n = (length / PITCH).ceil().max(1.0) as usize;
        let mut worst = f64::NEG_INFINITY;
        for share in (1..=n).map(|i| i as f64 / n as f64) {
            let (p, z) = (stroke.at(share + ahead), stroke.za + (stroke.zb - stroke.za) * share);
            if top - z <= most[0].min(most[1]) {
                continue;
            }
            let behind = along + share * length - BEHIND * stroke.radius;
            let (x, y) = self.cell(p);
            let mut wood = top;
            for k in self.cells[y * self.columns + x].iter().rev() {
                *looks += 1;
                let (other, end) = self.done[*k as usize];
                let just_now = (chain[0]..chain[1]).contains(&(*k as usize)) && end > behind && other.a != other.b;
                if other.side == stroke.side && !just_now {
                    if let Some(height) = floor(other, p) {
                        wood = wood.min(height);
                        if wood - z <= most[1] {
                            break;
                        }
                    }
                }
            }
            let most = if wood < top { most[1] } else { most[0] };
            worst = worst.max(wood - z - most);
        }
        worst
    }
}

/// How high the wood stands at a place after a stroke that went over it.
fn floor(stroke: &Stroke, p: Pt) -> Option<f64> {
    let (dx, dy) = (stroke.b.x - stroke.a.x, stroke.b.y - stroke.a.y);
    let square = dx * dx + dy * dy;
    let share = if square > 0.0 {
        (((p.x - stroke.a.x) * dx + (p.y - stroke.a.y) * dy) / square).clamp(0.0, 1.0)
    } else {
        // Straight down: as low as it goes.
        f64::from(u8::from(stroke.zb < stroke.za))
    };
    let reaches = stroke.at(share).distance(p) <= stroke.radius * (1.0 + RIM);
    reaches.then_some(stroke.za + (stroke.zb - stroke.za) * share)
}

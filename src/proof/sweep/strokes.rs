//! The programs of a sheet as straight strokes of the cutter's tip in the sheet's frame, in the order they are run.

use crate::proof::job::{Program, ProgramSide, Sheet, Side, ZZero};
use crate::proof::limits;
use crate::proof::pack::Pack;
use crate::proof::read_gcode::{Move, Path, Reading};
use crate::proof::shape::{Arc, Bounds, Pt};

/// A straight piece of a move. Heights over the spoilboard in the set-up it is cut in; the plane is the sheet's as nested.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stroke {
    pub(super) a: Pt,
    pub(super) b: Pt,
    pub(super) za: f64,
    pub(super) zb: f64,
    /// The cutter's.
    pub(super) radius: f64,
    pub(super) side: Side,
    /// Index of the program among the sheet's.
    pub(super) program: usize,
    /// Line in its file.
    pub(super) line: usize,
    /// Whether it starts where the stroke before ended.
    pub(super) follows: bool,
}

impl Stroke {
    pub(super) fn low(&self) -> f64 {
        self.za.min(self.zb)
    }

    pub(super) fn bounds(&self) -> Bounds {
        let mut bounds = Bounds::empty();
        bounds.add(self.a);
        bounds.add(self.b);
        bounds
    }

    pub(super) fn at(&self, share: f64) -> Pt {
        Pt::new(self.a.x + (self.b.x - self.a.x) * share, self.a.y + (self.b.y - self.a.y) * share)
    }

    /// The stretch of the stroke, as shares of its length, at heights from `low` (excluded) to `high`.
    pub(super) fn between(&self, low: f64, high: f64) -> Option<(f64, f64)> {
        let (za, zb) = (self.za, self.zb);
        if (za - zb).abs() < limits::ROUNDING {
            return (za <= high && za > low).then_some((0.0, 1.0));
        }
        let share = |z: f64| ((z - za) / (zb - za)).clamp(0.0, 1.0);
        let (from, to) = if zb < za { (share(high), share(low)) } else { (share(low), share(high)) };
        (to - from > limits::ROUNDING).then_some((from, to))
    }
}

/// One program of a sheet with what it does.
#[derive(Debug)]
pub(super) struct Run<'a> {
    pub(super) program: &'a Program,
    pub(super) reading: &'a Reading,
    /// Added to heights in the file to count from the spoilboard.
    pub(super) lift: f64,
    /// Thickest the sheet may be.
    pub(super) top: f64,
    /// How far the machine moves, if the pack says so.
    pub(super) travel: Option<[f64; 3]>,
}

/// The programs of a sheet, in order of running.
pub(super) fn runs<'a>(pack: &'a Pack<'_>, sheet: &Sheet) -> Vec<Run<'a>> {
    let job = &pack.job;
    let thickest = job.boards.iter().find(|b| b.name == sheet.board).map_or(0.0, |b| b.thickness_mm.max);
    let mine = job.programs.iter().filter(|p| p.board == sheet.board && p.sheet == sheet.number);
    let mut runs: Vec<Run<'a>> = mine
        .filter_map(|program| {
            let lift = if program.z_zero == ZZero::SheetTop { program.thickness_mm } else { 0.0 };
            Some(Run {
                program,
                reading: pack.programs.get(&(program.file.as_str(), program.section))?,
                lift,
                top: thickest.max(program.thickness_mm),
                travel: job.machine.travel_mm,
            })
        })
        .collect();
    runs.sort_by_key(|r| r.program.order);
    runs
}

/// Height at or below which a stroke is through the sheet, however thick.
pub(super) fn through(run: &Run<'_>) -> f64 {
    let least = if run.program.z_zero == ZZero::SheetTop { run.program.thickness_mm - run.top } else { 0.0 };
    least + limits::CLEARANCE
}

/// All cutting strokes that may touch the sheet; `None` when there are more than can be simulated.
pub(super) fn strokes(runs: &[Run<'_>], sheet: &Sheet) -> Option<Vec<Stroke>> {
    let mut strokes = Vec::new();
    for (index, run) in runs.iter().enumerate() {
        let mut end: Option<(Pt, f64)> = None;
        for step in &run.reading.moves {
            if step.path == Path::Rapid || step.from.z.0.min(step.to.z.0) + run.lift >= run.top {
                end = None;
                continue;
            }
            if strokes.len() > limits::STROKES {
                return None;
            }
            let points = points(step);
            let n = (points.len() - 1).max(1) as f64;
            let height = |k: usize| step.from.z.0 + (step.to.z.0 - step.from.z.0) * k as f64 / n + run.lift;
            for (k, pair) in points.windows(2).enumerate() {
                let follows = end == Some((pair[0], height(k)));
                end = Some((pair[1], height(k + 1)));
                let (a, b, side) = placed(pair[0], pair[1], run.program.side, sheet);
                let radius = run.program.cutter.diameter_mm / 2.0;
                strokes.push(Stroke {
                    a,
                    b,
                    za: height(k),
                    zb: height(k + 1),
                    radius,
                    side,
                    program: index,
                    line: step.line,
                    follows,
                });
            }
        }
    }
    Some(strokes)
}

fn placed(a: Pt, b: Pt, side: ProgramSide, sheet: &Sheet) -> (Pt, Pt, Side) {
    match side {
        ProgramSide::First => (a, b, Side::Up),
        ProgramSide::Second => {
            let flip = |p: Pt| Pt::new(p.x, sheet.width_mm - p.y);
            (flip(a), flip(b), Side::Down)
        }
    }
}

/// The move's arc with its ends, if it is one.
pub(super) fn arc(step: &Move) -> Option<(Arc, Pt, Pt)> {
    let Path::Arc { centre_x, centre_y, sweep_rad } = step.path else { return None };
    let (a, b) = (Pt::new(step.from.x.0, step.from.y.0), Pt::new(step.to.x.0, step.to.y.0));
    let centre = Pt::new(centre_x.0, centre_y.0);
    let start = (a.y - centre.y).atan2(a.x - centre.x);
    Some((Arc { centre, radius: a.distance(centre), start, sweep: sweep_rad }, a, b))
}

/// The move as chords; at least two points.
pub(super) fn points(step: &Move) -> Vec<Pt> {
    let Some((arc, a, b)) = arc(step) else {
        return vec![Pt::new(step.from.x.0, step.from.y.0), Pt::new(step.to.x.0, step.to.y.0)];
    };
    let n = arc.chords(limits::CHORD);
    let mut points = vec![a];
    points.extend((1..n).map(|i| arc.at(i as f64 / n as f64)));
    points.push(b);
    points
}

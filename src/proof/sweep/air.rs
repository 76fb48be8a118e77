//! What a program does before, between and around its cuts: preamble, spindle, rapids, bounds.

use super::strokes::{arc, Run};
use crate::diag::Finding;
use crate::proof::codes;
use crate::proof::fault::quoted;
use crate::proof::job::Sheet;
use crate::proof::limits;
use crate::proof::pack::{file_name, sheet_name};
use crate::proof::read_gcode::{Move, Path, Spindle};
use crate::proof::shape::{Bounds, Pt};
use crate::proof::verdict::Rule;
use std::collections::BTreeMap;

/// The rules of this file.
#[derive(Debug)]
pub(super) struct Air {
    preamble: Rule,
    spindle: Rule,
    rapid: Rule,
    feed: Rule,
    bounds: Rule,
}

impl Air {
    pub(super) fn new() -> Self {
        Self {
            preamble: Rule::counting(codes::PREAMBLE, "programs"),
            spindle: Rule::counting(codes::SPINDLE, "cutting moves"),
            rapid: Rule::measuring(codes::RAPID, "rapid moves", limits::CLEARANCE, "mm below clearance"),
            feed: Rule::measuring(codes::FEED, "cutting moves in wood", limits::CHIP, "mm over the thickest chip"),
            bounds: Rule::measuring(codes::BOUNDS, "cutting moves", 0.0, "mm past sheet, floor or travel"),
        }
    }

    pub(super) fn into_rules(self) -> [Rule; 5] {
        [self.preamble, self.spindle, self.feed, self.rapid, self.bounds]
    }

    /// Checks one program.
    pub(super) fn check(&mut self, run: &Run<'_>, sheet: &Sheet) {
        self.preamble(run);
        self.entered(run, sheet);
        self.travel(run, sheet);
        // Where a vertical rapid may go down again: the bottom of what was just bored at the same place.
        let mut bored: Option<(f64, f64, f64)> = None;
        for step in &run.reading.moves {
            let low = step.from.z.0.min(step.to.z.0) + run.lift;
            let sideways = (step.from.x.0 - step.to.x.0).hypot(step.from.y.0 - step.to.y.0) > limits::SAME_POINT;
            if step.path == Path::Rapid {
                self.rapid(run, sheet, step, sideways, bored);
            } else {
                self.cutting(run, sheet, step, low);
                // Back down a bored hole, to where it ends so far, nothing is cut.
                let back = !sideways && bored.is_some_and(|(_, _, z)| low >= z - limits::CLEARANCE);
                if low < run.top && !back {
                    self.chip(run, sheet, step);
                }
            }
            if sideways {
                bored = None;
            } else if step.path != Path::Rapid {
                let deepest = bored.map_or(low, |(_, _, z)| z.min(low));
                bored = Some((step.to.x.0, step.to.y.0, deepest));
            }
        }
    }

    fn preamble(&mut self, run: &Run<'_>) {
        self.preamble.count(1);
        let (reading, name) = (run.reading, file_name(&run.program.file));
        let mut faults: Vec<String> =
            reading.unstated.iter().map(|mode| format!("{name} does not state its {mode} before the first move")).collect();
        if !reading.lifts_first {
            faults.push(format!("{name}: the first move does not lift the tool"));
        }
        if let Some(line) =
            reading.tool_changes.iter().find(|line| reading.moves.iter().any(|m| m.path != Path::Rapid && m.line < **line))
        {
            faults.push(format!("{name} line {line}: a tool change after cutting; one file is proved with one cutter"));
        }
        let comments: BTreeMap<usize, &str> = reading.comments.iter().map(|(line, c)| (*line, c.as_str())).collect();
        for restart in &run.program.restarts {
            let words = format!("restart {}: ", restart.number);
            let said = comments.get(&restart.line).and_then(|c| c.strip_prefix(&words));
            if !said.is_some_and(|said| !restart.label.is_ascii() || letters(said) == letters(&restart.label)) {
                let (number, line) = (restart.number, restart.line);
                faults.push(format!("{name} line {line} is not its restart point {number}, {}", quoted(&restart.label)));
            }
        }
        match reading.moves.last() {
            None => faults.push(format!("{name} makes no move")),
            Some(last) if last.to.z.0 + run.lift < run.program.clearance_mm - limits::CLEARANCE => {
                faults.push(format!("{name} line {}: ends below clearance height", last.line));
            }
            Some(_) => {}
        }
        for fault in faults {
            self.preamble.fault(|code| Finding::stop(code, fault));
        }
        if reading.run_up_s <= 0.0 && !reading.moves.is_empty() {
            self.preamble.remark(|code| Finding::caution(code, format!("{name} does not wait for the spindle to run up")));
        }
    }

    /// The first way across starts at a place that no file knows, so it has no move of its own.
    fn entered(&mut self, run: &Run<'_>, sheet: &Sheet) {
        let Some((line, height)) = run.reading.entered else { return };
        let below = run.program.clearance_mm - (height.0 + run.lift);
        let place = || format!("{} line {line} ({})", file_name(&run.program.file), sheet_name(sheet));
        self.rapid.figure(below.max(0.0), || if below > 0.0 { place() } else { "nowhere".to_owned() });
        if below > limits::CLEARANCE {
            self.rapid.fault(|code| {
                Finding::stop(code, format!("{}: the first way across runs {below:.3} mm below clearance", place()))
            });
        }
    }

    /// Nothing leaves the machine, whose corner is at or beyond the sheet's.
    fn travel(&mut self, run: &Run<'_>, sheet: &Sheet) {
        let Some(travel) = run.travel else { return };
        let mut plane = Bounds::empty();
        plane.add(Pt::new(0.0, 0.0));
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for step in &run.reading.moves {
            plane.join(extent(step));
            low = low.min(step.from.z.0).min(step.to.z.0);
            high = high.max(step.from.z.0).max(step.to.z.0);
        }
        let spans = [plane.max.x - plane.min.x, plane.max.y - plane.min.y, (high - low).max(0.0)];
        for ((axis, span), travel) in ["x", "y", "z"].into_iter().zip(spans).zip(travel) {
            let name = file_name(&run.program.file);
            self.past(
                span - travel,
                || format!("{name} ({}): moves over {span:.1} mm in {axis}", sheet_name(sheet)),
                || format!("{travel} mm, the machine's travel"),
            );
        }
    }

    fn cutting(&mut self, run: &Run<'_>, sheet: &Sheet, step: &Move, low: f64) {
        self.spindle.count(1);
        self.bounds.count(1);
        let place = || format!("{} line {} ({})", file_name(&run.program.file), step.line, sheet_name(sheet));
        if low < run.top && (step.spindle != Spindle::Clockwise || step.speed_rpm <= 0.0) {
            self.spindle.fault(|code| {
                let how = match step.spindle {
                    Spindle::Off => "standing",
                    Spindle::CounterClockwise => "turning backwards",
                    Spindle::Clockwise => "without a speed",
                };
                Finding::stop(code, format!("{}: the wood is touched with the spindle {how}", place()))
            });
        }
        if let Some(rpm) = run.program.rpm.filter(|rpm| low < run.top && (step.speed_rpm - rpm).abs() > limits::SPEED) {
            self.spindle.fault(|code| {
                Finding::stop(
                    code,
                    format!("{}: the spindle turns at {} 1/min, its cutter is to turn at {rpm}", place(), step.speed_rpm),
                )
            });
        }
        if let Some(floor) = run.program.floor_mm {
            self.past(
                -floor - low,
                || format!("{}: goes {:.3} mm under the sheet", place(), -low),
                || "the machine's floor".to_owned(),
            );
        }
        if low < run.top {
            let over = limits::OVERRUN_DIAMETERS * run.program.cutter.diameter_mm;
            let reach = extent(step);
            let out = (-reach.min.x).max(-reach.min.y).max(reach.max.x - sheet.length_mm).max(reach.max.y - sheet.width_mm);
            self.past(
                out - over,
                || format!("{}: cuts {out:.2} mm past the sheet's edge", place()),
                || format!("{over} mm, one and a half cutters, common practice"),
            );
        }
    }

    /// No edge takes a thicker chip than the cutter's profile allows in this board.
    fn chip(&mut self, run: &Run<'_>, sheet: &Sheet, step: &Move) {
        let cutter = &run.program.cutter;
        let (Some(flutes), Some(most)) = (cutter.flutes, cutter.chip_max_mm) else { return };
        self.feed.count(1);
        let teeth = step.speed_rpm * f64::from(flutes);
        let over = if teeth > 0.0 { step.feed_mm_min / teeth - most } else { 0.0 };
        let place = || format!("{} line {} ({})", file_name(&run.program.file), step.line, sheet_name(sheet));
        self.feed.figure(over.max(0.0), || if over > 0.0 { place() } else { "nowhere".to_owned() });
        if over > limits::CHIP {
            self.feed.fault(|code| {
                let feed = step.feed_mm_min;
                Finding::stop(code, format!("{}: a feed of {feed:.0} mm/min makes chips of {:.3} mm", place(), over + most))
                    .limit(format!("{most} mm, the cutter's profile"))
            });
        }
    }

    fn past(&mut self, by: f64, message: impl Fn() -> String, limit: impl Fn() -> String) {
        self.bounds.figure(by.max(0.0), || if by > 0.0 { message() } else { "nowhere".to_owned() });
        if by > limits::CLEARANCE {
            self.bounds.fault(|code| Finding::stop(code, message()).limit(limit()));
        }
    }

    fn rapid(&mut self, run: &Run<'_>, sheet: &Sheet, step: &Move, sideways: bool, bored: Option<(f64, f64, f64)>) {
        self.rapid.count(1);
        let (from, to) = (step.from.z.0 + run.lift, step.to.z.0 + run.lift);
        let place = || format!("{} line {} ({})", file_name(&run.program.file), step.line, sheet_name(sheet));
        let below = run.program.clearance_mm - from.min(to);
        if sideways {
            self.rapid.figure(below.max(0.0), || if below > 0.0 { place() } else { "nowhere".to_owned() });
            if below > limits::CLEARANCE {
                self.rapid.fault(|code| {
                    Finding::stop(code, format!("{}: a rapid runs sideways {below:.3} mm below clearance", place()))
                });
            }
        } else if to < from && to < run.top {
            let free = bored.is_some_and(|(x, y, z)| {
                (x - step.to.x.0).hypot(y - step.to.y.0) < limits::SAME_POINT && to >= z - limits::CLEARANCE
            });
            if !free {
                self.rapid.fault(|code| {
                    Finding::stop(
                        code,
                        format!("{}: a rapid goes down to {to:.3} mm over the spoilboard, into the wood", place()),
                    )
                });
            }
        }
    }
}

/// A label's plain letters and digits: files spell others in ways of their own, and cut long lines.
fn letters(label: &str) -> String {
    label.chars().filter(char::is_ascii_alphanumeric).take(LABEL).collect()
}

/// How much of a label is compared.
const LABEL: usize = 100;

/// The least and greatest x and y of a move.
fn extent(step: &Move) -> Bounds {
    if let Some((arc, a, b)) = arc(step) {
        return arc.bounds(a, b);
    }
    let mut bounds = Bounds::empty();
    bounds.add(Pt::new(step.from.x.0, step.from.y.0));
    bounds.add(Pt::new(step.to.x.0, step.to.y.0));
    bounds
}

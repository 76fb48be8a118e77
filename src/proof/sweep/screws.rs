//! Hold-down screws: their holes are the first program's only work, and nothing that is run later comes near a head.

use super::strokes::{points, through, Run};
use crate::diag::Finding;
use crate::proof::codes;
use crate::proof::job::Sheet;
use crate::proof::limits;
use crate::proof::pack::{file_name, sheet_name};
use crate::proof::read_gcode::Path;
use crate::proof::shape::{segment_distance, Pt};
use crate::proof::verdict::Rule;

pub(super) fn rule() -> Rule {
    Rule::counting(codes::SCREW, "moves beside hold-down screws")
}

/// Checks the programs of one sheet, in order of running, each in its own frame.
pub(super) fn check(rule: &mut Rule, runs: &[Run<'_>], sheet: &Sheet) {
    let Some(first) = runs.first() else { return };
    for run in runs {
        let Some(set_up) = run.program.set_up.as_ref().filter(|s| !s.screws_mm.is_empty()) else { continue };
        let screws: Vec<Pt> = set_up.screws_mm.iter().map(|[x, y]| Pt::new(*x, *y)).collect();
        let name = format!("{} ({})", file_name(&run.program.file), sheet_name(sheet));
        let Some([head, height]) = set_up.screw_head_mm else {
            rule.fault(|code| Finding::stop(code, format!("{name}: the heads of its hold-down screws are not said")));
            continue;
        };
        let makes_holes = std::ptr::eq(run, first);
        let radius = run.program.cutter.diameter_mm / 2.0;
        let mut made = vec![false; screws.len()];
        for step in &run.reading.moves {
            let low = step.from.z.0.min(step.to.z.0) + run.lift;
            if low >= run.top + height {
                continue;
            }
            rule.count(1);
            let line = points(step);
            let distance = |p: Pt| {
                let one = line.first().map_or(f64::INFINITY, |a| p.distance(*a));
                line.windows(2).map(|w| segment_distance(p, w[0], w[1], 0.0)).fold(one, f64::min)
            };
            let near = (0..screws.len()).map(|k| (k, distance(screws[k]))).min_by(|a, b| a.1.total_cmp(&b.1));
            let Some((k, distance)) = near else { continue };
            let place = || format!("{name} line {}", step.line);
            if makes_holes {
                made[k] |= distance <= radius && low <= through(run) && step.path != Path::Rapid;
                if low < run.top && distance > radius {
                    rule.fault(|code| {
                        let message = format!("{}: cuts elsewhere before the hold-down screws are in", place());
                        Finding::stop(code, message)
                    });
                    return;
                }
            } else if distance < radius + head / 2.0 - limits::CLEARANCE {
                let Pt { x, y } = screws[k];
                rule.fault(|code| {
                    let message = format!("{}: the cutter meets the hold-down screw at ({x:.2}, {y:.2})", place());
                    Finding::stop(code, message).limit(format!("a head of {head} mm, {height} mm high"))
                });
            }
        }
        if makes_holes && made.contains(&false) {
            rule.fault(|code| {
                let missing = made.iter().filter(|made| !**made).count();
                Finding::stop(code, format!("{name}: {missing} of {} hold-down holes are not made", screws.len()))
            });
        }
    }
}

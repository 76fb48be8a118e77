//! A sheet cut from both faces: its registration holes come first, go through, and meet the same pins when it is turned over.

use super::strokes::{through, Run, Stroke};
use crate::diag::Finding;
use crate::proof::codes;
use crate::proof::job::{ProgramSide, SetUp, Sheet};
use crate::proof::limits;
use crate::proof::pack::{file_name, sheet_name};
use crate::proof::shape::Pt;
use crate::proof::verdict::Rule;

/// Fewest holes that say how a sheet lies.
const LEAST: usize = 2;

pub(super) fn rule() -> Rule {
    Rule::counting(codes::REGISTRATION, "sheets turned over")
}

/// Checks one sheet; its strokes are in order of running, in the sheet's frame.
pub(super) fn check(rule: &mut Rule, strokes: &[Stroke], runs: &[Run<'_>], sheet: &Sheet) {
    let Some(first) = runs.first() else { return };
    if runs.iter().all(|run| run.program.side == first.program.side) {
        return;
    }
    rule.count(1);
    let name = sheet_name(sheet);
    let mut fault = |message: String| {
        rule.fault(|code| {
            Finding::stop(code, format!("{name}: {message}")).remedy("make the pack again; do not mend a cut file by hand")
        });
    };
    let set_ups: Option<Vec<&SetUp>> = runs.iter().map(|run| run.program.set_up.as_ref()).collect();
    let Some(set_ups) = set_ups else {
        return fault("it is cut from both faces, and no registration holes are named".to_owned());
    };
    let own = set_ups[0];
    let diameter = own.pin_diameter_mm.unwrap_or(0.0);
    if own.pins_mm.len() < LEAST || diameter <= 0.0 {
        return fault(format!("it is cut from both faces, with {} registration holes", own.pins_mm.len()));
    }
    for (run, set_up) in runs.iter().zip(&set_ups) {
        let file = file_name(&run.program.file);
        if (run.program.side == first.program.side) != (set_up.number == own.number) {
            fault(format!("{file} is said to run in set-up {}, which lies on the other face", set_up.number));
        }
        // The pins stand in the spoilboard; the holes are in the sheet.
        let on_table = same(&places(own), &places(set_up), limits::SAME_VERTEX);
        let in_sheet = same(&laid(own, first, sheet), &laid(set_up, run, sheet), limits::SAME_VERTEX);
        if !on_table || !in_sheet || set_up.pin_diameter_mm != own.pin_diameter_mm {
            let where_they_are = if on_table { "in the sheet" } else { "on the table" };
            fault(format!("the registration holes of {file} are not where those of its first face are, {where_they_are}"));
        }
    }
    let end_for_end: Vec<Pt> = places(own).iter().map(|p| Pt::new(sheet.length_mm - p.x, p.y)).collect();
    if same(&places(own), &end_for_end, diameter / 2.0) {
        fault("turned end for end it would sit on its registration pins as well".to_owned());
    }
    let (holes, screws) = (laid(own, first, sheet), laid_all(&own.screws_mm, first, sheet));
    // How far out each hole is opened, through the sheet.
    let mut opened = vec![0.0_f64; holes.len()];
    let (mut early, mut wide) = (None, None);
    for stroke in strokes {
        let run = &runs[stroke.program];
        if run.program.side != first.program.side {
            break;
        }
        let out = |p: &Pt| stroke.a.distance(*p).max(stroke.b.distance(*p)) + stroke.radius;
        if let Some(k) = holes.iter().position(|p| stroke.a.distance(*p) < diameter) {
            if stroke.low() <= through(run) {
                opened[k] = opened[k].max(out(&holes[k]));
            }
            if out(&holes[k]) > diameter / 2.0 + limits::CUT {
                wide = wide.or(Some(stroke));
            }
        } else if opened.iter().any(|r| *r < diameter / 2.0 - limits::CUT)
            && !screws.iter().any(|p| out(p) < 3.0 * stroke.radius)
        {
            early = early.or(Some(stroke));
        }
    }
    let place = |s: &Stroke| format!("{} line {}", file_name(&runs[s.program].program.file), s.line);
    if let Some(k) = opened.iter().position(|r| *r < diameter / 2.0 - limits::CUT) {
        let Pt { x, y } = holes[k];
        fault(format!("its registration hole near ({x:.2}, {y:.2}) is not opened to {diameter} mm through the sheet"));
    } else if let Some(stroke) = early {
        fault(format!("{} cuts before both registration holes are made", place(stroke)));
    }
    if let Some(stroke) = wide {
        fault(format!("{} makes a registration hole wider than {diameter} mm, or beside its place", place(stroke)));
    }
}

/// The registration holes on the table.
fn places(set_up: &SetUp) -> Vec<Pt> {
    set_up.pins_mm.iter().map(|[x, y]| Pt::new(*x, *y)).collect()
}

/// The registration holes in the sheet as nested.
fn laid(set_up: &SetUp, run: &Run<'_>, sheet: &Sheet) -> Vec<Pt> {
    laid_all(&set_up.pins_mm, run, sheet)
}

fn laid_all(places: &[[f64; 2]], run: &Run<'_>, sheet: &Sheet) -> Vec<Pt> {
    let over = run.program.side == ProgramSide::Second;
    places.iter().map(|[x, y]| Pt::new(*x, if over { sheet.width_mm - y } else { *y })).collect()
}

/// Whether the same places, in any order.
fn same(one: &[Pt], other: &[Pt], within: f64) -> bool {
    let all = |of: &[Pt], into: &[Pt]| of.iter().all(|p| into.iter().any(|q| p.distance(*q) <= within));
    one.len() == other.len() && all(one, other) && all(other, one)
}

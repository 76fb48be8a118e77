//! No cutter takes wood from a finished part: at every depth its centre stays its radius away from what must stay there.

use super::laid::Laid;
use super::strokes::{Run, Stroke};
use super::target::{Level, Target};
use crate::diag::Finding;
use crate::proof::codes;
use crate::proof::job::Side;
use crate::proof::limits;
use crate::proof::pack::file_name;
use crate::proof::verdict::Rule;
use std::collections::BTreeMap;

pub(super) fn rule() -> Rule {
    Rule::measuring(codes::GOUGE, "strokes beside parts", limits::CUT, "mm into a part")
}

/// Checks the strokes near one copy.
pub(super) fn check(rule: &mut Rule, laid: &Laid<'_>) {
    let Laid { target, strokes, runs, spot, .. } = *laid;
    // Passes at other heights run over the same lines.
    let mut seen: BTreeMap<Line, f64> = BTreeMap::new();
    for stroke in strokes {
        rule.count(1);
        let run = &runs[stroke.program];
        let levels = target.levels(stroke.side);
        let worst = levels
            .iter()
            .enumerate()
            .filter_map(|(i, level)| {
                let high = limit(level, run);
                let low = levels.get(i + 1).map_or(f64::NEG_INFINITY, |deeper| limit(deeper, run));
                into(level, i, stroke, [low, high], &mut seen)
            })
            .chain(cones(target, stroke, run))
            .fold(0.0, f64::max);
        let place = || format!("{}, {} line {}", spot.words(), file_name(&run.program.file), stroke.line);
        rule.figure(worst, || if worst > 0.0 { place() } else { "nowhere".to_owned() });
        if worst > limits::CUT {
            rule.fault(|code| {
                let (at, z) = (stroke.a, stroke.low());
                let where_in = format!("from ({:.2}, {:.2}) of its own frame, {z:.2} mm over the spoilboard", at.x, at.y);
                Finding::stop(code, format!("{}: the cutter goes {worst:.3} mm into the part, {where_in}", place()))
                    .limit(format!("{} mm, this project's own", limits::CUT))
                    .part(spot.part)
            });
        }
    }
}

/// Height below which a level's wood is touched.
fn limit(level: &Level, run: &Run<'_>) -> f64 {
    if level.depth == 0.0 {
        run.top - limits::CUT
    } else {
        run.program.thickness_mm - level.depth - limits::FLOOR
    }
}

/// A straight line of a cutter beside one level: its ends and radius as bits, the level and its face.
type Line = ([u64; 5], usize, bool);

/// How far the cutter goes into a level's wood on the stretch of a stroke between two heights.
fn into(level: &Level, index: usize, stroke: &Stroke, [low, high]: [f64; 2], seen: &mut BTreeMap<Line, f64>) -> Option<f64> {
    let (from, to) = stroke.between(low, high)?;
    let (a, b) = (stroke.at(from), stroke.at(to));
    let near = || level.keep.distance(a, b, stroke.radius).map_or(stroke.radius, |(d, _)| d);
    // A level run that follows another cannot get inside without crossing an edge.
    let sloped = (stroke.za - stroke.zb).abs() > limits::ROUNDING;
    if (!stroke.follows || sloped) && (level.keep.holds(a) || level.keep.holds(b)) {
        return Some(stroke.radius + near());
    }
    let key = ([a.x, a.y, b.x, b.y, stroke.radius].map(f64::to_bits), index, stroke.side == Side::Up);
    Some(stroke.radius - *seen.entry(key).or_insert_with(near))
}

/// How far the cutter goes past the wall of a conical seat, or past its hole.
fn cones<'s>(target: &'s Target<'_>, stroke: &'s Stroke, run: &'s Run<'_>) -> impl Iterator<Item = f64> + 's {
    target.cones.iter().filter(move |cone| cone.side == stroke.side).filter_map(move |cone| {
        let depth = run.program.thickness_mm - stroke.low();
        let off = stroke.a.distance(cone.centre).max(stroke.b.distance(cone.centre));
        let inside = off < cone.radius && depth > limits::FLOOR;
        inside.then(|| off + stroke.radius - (cone.radius - depth).max(cone.bore))
    })
}

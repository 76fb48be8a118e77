//! Tables on their strips: what holds them out, and what keeps them quiet.

use super::codes;
use crate::design::{Design, PullOut};
use crate::diag::Finding;
use crate::parts::Model;
use crate::units::Mm;

/// Felt between wood and wood, thickness seen on trade pages (checklist FM15).
const FELT: Mm = Mm(1.0);
/// A table binds with less play than this above. Common practice, no source.
const LEAST_PLAY: Mm = Mm(0.5);

/// Tables that can slide back when the vehicle stands on a slope, and tables that rattle.
pub(super) fn check(design: &Design, model: &Model, findings: &mut Vec<Finding>) {
    for plan in &design.pull_outs {
        let name = format!("{} table", plan.name);
        let Some(table) = model.panels.iter().find(|p| p.name == name) else { continue };
        // With a stop and a catch it holds.
        if !plan.catch || plan.stop.is_none() {
            findings.push(held_open(plan).part(table.id.clone()).at(plan.span));
        }
        let above = format!("{}: play above", plan.name);
        if let Some(gap) = model.gaps.iter().find(|g| g.name == above).filter(|_| plan.pad.is_none()) {
            findings.push(quiet(plan, gap.gap.nominal()).part(table.id.clone()).at(plan.span));
        }
    }
}

/// A bolt in a slot ends the travel but does not hold; without one nothing does either.
fn held_open(plan: &PullOut) -> Finding {
    let limit = "what is pulled out stays out while the vehicle stands on a slope (checklist FM8, common practice)";
    match &plan.stop {
        Some(_) => Finding::note(
            codes::NOT_HELD_OPEN,
            format!("{} stops at both ends, but nothing holds it out: on a slope it slides back", plan.name),
        )
        .limit(limit)
        .remedy("write `catch = true` and fit one: a sprung bolt at the front end of a runner strip, into a hole in the table's edge"),
        None => Finding::caution(
            codes::TABLE_NOT_STOPPED,
            format!("{} has no stop: nothing holds it out, and it can be pulled off its strips", plan.name),
        )
        .limit(limit)
        .remedy("take `stop = false` out, so that a bolt in a slot ends its travel; and fit a catch that holds it out"),
    }
}

fn quiet(plan: &PullOut, play: Mm) -> Finding {
    let left = play - FELT;
    let remedy = if left >= LEAST_PLAY {
        format!("line what is above it with felt of {FELT} mm and write `pad = {FELT}` under `play`, which leaves {left} mm")
    } else {
        format!("give it {} mm of play above and line that with felt of {FELT} mm", FELT + LEAST_PLAY)
    };
    Finding::note(
        codes::HARD_CONTACT,
        format!("{} lies wood on wood with {play} mm of play above: it rattles on the road", plan.name),
    )
    .limit("a pad where hard things touch: 1 mm felt or 3 mm foam (checklist FM15)")
    .remedy(remedy)
}

//! A part's outline is the last thing cut: nothing is cut in a part that is already free.

use super::laid::Laid;
use super::outline::BESIDE;
use crate::diag::Finding;
use crate::proof::codes;
use crate::proof::limits;
use crate::proof::pack::file_name;
use crate::proof::verdict::Rule;

/// A part counts as cut out once this share of its outline is through.
pub(super) const SHARE: f64 = 0.5;

pub(super) fn rule() -> Rule {
    Rule::counting(codes::ORDER, "parts in order of cutting")
}

/// Checks one copy; its strokes are in order of running.
pub(super) fn check(rule: &mut Rule, laid: &Laid<'_>) {
    let Laid { target, strokes, runs, spot, .. } = *laid;
    rule.count(1);
    let mut cut = 0.0;
    for stroke in strokes {
        let middle = stroke.at(0.5);
        let run = &runs[stroke.program];
        let inside = target.edge.holds(middle);
        if inside {
            if cut > SHARE * target.around && stroke.low() < run.program.thickness_mm - limits::CUT {
                rule.fault(|code| {
                    let place = format!("{} line {}", file_name(&run.program.file), stroke.line);
                    Finding::stop(code, format!("{}: cut again by {place} after its outline was cut through", spot.words()))
                        .part(spot.part)
                });
                return;
            }
        } else if stroke.low() <= limits::SKIN_MAX
            && target.edge.distance(stroke.a, stroke.b, stroke.radius + BESIDE).is_some()
        {
            cut += stroke.a.distance(stroke.b);
        }
    }
}

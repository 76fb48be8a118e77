//! What a try in card found: each place where it rubbed is a constraint of its own, met when the design has that much more air there
//! than the one that was tried.

use super::codes;
use crate::design::{Design, Rub};
use crate::diag::Finding;
use crate::parts::Gap;

/// A constraint for each rub, judged in the ledger like any gap.
pub(super) fn gaps(design: &Design, known: &[Gap], findings: &mut Vec<Finding>) -> Vec<Gap> {
    design.rubs.iter().filter_map(|rub| constraint(rub, known, findings)).collect()
}

fn constraint(rub: &Rub, known: &[Gap], findings: &mut Vec<Finding>) -> Option<Gap> {
    let named = known.iter().filter(|gap| is_named(&gap.name, &rub.place));
    let Some(gap) = named.min_by(|a, b| a.gap.nominal().0.total_cmp(&b.gap.nominal().0)) else {
        findings.push(
            Finding::stop(codes::RUB_NOWHERE, format!("no gap is named \"{}\", where the mock-up rubbed", rub.place))
                .at(rub.span)
                .remedy(format!("take words of a gap that `check` prints, such as \"{}\"", nearest(&rub.place, known))),
        );
        return None;
    };
    let now = gap.gap.nominal();
    let had = rub.had.unwrap_or(now);
    if rub.had.is_none() {
        findings.push(
            Finding::caution(
                codes::RUB_WITHOUT_AIR,
                format!("it is not written what air the tried design had at \"{}\", so nothing shows as met", rub.place),
            )
            .at(rub.span)
            .remedy(format!("write `had = {now}` if the design is still the one that was tried ({})", gap.name)),
        );
    }
    Some(Gap {
        name: format!("tried in card, {}: {}", rub.place, gap.name),
        // The try has measured the vehicle: only what is cut still varies.
        gap: gap.gap.built(),
        required: Gap::at_least(had + rub.by),
        source: format!("the mock-up rubbed by {} mm with {had} mm of air in the design", rub.by),
        parts: gap.parts.clone(),
        span: rub.span,
    })
}

/// Whether every word of a place is a word of the gap's name.
fn is_named(gap: &str, place: &str) -> bool {
    let words = |text: &str| -> Vec<String> {
        text.to_lowercase().split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).map(str::to_owned).collect()
    };
    let (gap, place) = (words(gap), words(place));
    !place.is_empty() && place.iter().all(|word| gap.contains(word))
}

/// The gap that shares most words with a place.
fn nearest<'g>(place: &str, known: &'g [Gap]) -> &'g str {
    let shared = |gap: &&Gap| place.split_whitespace().filter(|word| is_named(&gap.name, word)).count();
    known.iter().max_by_key(shared).map_or("", |gap| gap.name.as_str())
}

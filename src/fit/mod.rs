//! Checks of the design: gaps with their stack-up, overlaps, bay and doors. Changes nothing.
//!
//! Takes: [`Design`] and [`Model`].
//! Gives: [`Ledger`], findings; the [`ways`] of what moves, how units are [loaded](load()), the order to [`assemble`] in.
//! Guarantees: every gap the model declares is judged; what could not be checked is said.
//! Never: changes a size.

mod access;
mod arc;
mod assembly;
mod bay;
pub mod codes;
mod ledger;
mod lids;
pub mod load;
mod loading;
mod motion;
mod mover;
mod opening;
mod overlap;
mod passage;
mod plane;
mod rubs;
mod screws;
mod solid;
mod split;
mod tables;
mod vehicle;

pub use assembly::{assemble, AssemblyStep};
pub use ledger::{Ledger, LedgerLine, Verdict};
pub use loading::{load, LoadPlan};
pub use motion::{ways, Way};
pub use solid::boxes;

use crate::design::Design;
use crate::diag::{Checked, Finding};
use crate::parts::{Gap, Model};

/// Judges every gap of the model, and the gaps between the model and the bay.
#[must_use]
pub fn check(design: &Design, model: &Model) -> Checked<Ledger> {
    let mut findings = overlap::check(model);
    if design.mock_up.is_some() {
        findings.extend(assemble(model).findings);
        findings.push(
            Finding::note(codes::NOT_JUDGED_IN_CARD, "gaps, ways and loads are judged in plywood, not in card".to_owned())
                .remedy("`baywright check` and `baywright load` judge them; the mock-up shows them"),
        );
        return Checked::new(Ledger::default(), findings);
    }
    let mut gaps: Vec<Gap> = model.gaps.clone();
    gaps.extend(bay::gaps(design, model, &mut findings));
    gaps.extend(motion::check(design, model, &mut findings));
    gaps.extend(loading::check(design, model, &mut findings));
    tables::check(design, model, &mut findings);
    access::check(design, model, &mut findings);
    findings.extend(assemble(model).findings);
    let tried = rubs::gaps(design, &gaps, &mut findings);
    gaps.extend(tried);
    let ledger = Ledger::judge(&gaps);
    findings.extend(ledger.findings(&gaps));
    Checked::new(ledger, findings)
}

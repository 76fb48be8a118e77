//! Every code a stage may use, gathered from the stages' own lists.
//!
//! Takes: nothing.
//! Gives: [`all`].
//! Guarantees: what any finding may be called is in the list, once.
//! Never: judges anything.

use crate::diag::Code;

/// All codes of the program, sorted by id.
#[must_use]
pub fn all() -> Vec<Code> {
    let lists: [&[Code]; 10] = [
        crate::project::codes::ALL,
        crate::shop::codes::ALL,
        crate::design::codes::ALL,
        crate::parts::codes::ALL,
        crate::fit::codes::ALL,
        crate::fit::load::codes::ALL,
        crate::flat::codes::ALL,
        crate::nest::codes::ALL,
        crate::toolpath::codes::ALL,
        crate::proof::codes::ALL,
    ];
    let mut codes: Vec<Code> = lists.concat();
    codes.sort();
    codes
}

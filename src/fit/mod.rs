//! Checks of the design: gaps with their stack-up, overlaps, bay and doors. Changes nothing.
//!
//! Takes: [`Design`](crate::design::Design) and [`Model`](crate::parts::Model).
//! Gives: [`Ledger`], findings.
//! Guarantees: every gap the model declares is judged; what could not be checked is said.
//! Never: changes a size.

pub mod codes;

use crate::dim::{Contributor, Range};
use crate::units::Mm;

/// All gaps, judged.
#[derive(Clone, Debug, Default)]
pub struct Ledger {
    /// One line per gap, worst first.
    pub lines: Vec<LedgerLine>,
}

/// One gap, judged.
#[derive(Clone, Debug)]
pub struct LedgerLine {
    /// Name of the gap.
    pub gap: String,
    /// Nominal.
    pub nominal: Mm,
    /// Worst case.
    pub worst: Range,
    /// Likely range (root-sum-square, 95 %).
    pub likely: Range,
    /// What it must be.
    pub required: Range,
    /// Source of the requirement.
    pub source: String,
    /// The judgement.
    pub verdict: Verdict,
    /// What moves it, largest share first.
    pub contributors: Vec<Contributor>,
}

/// Judgement of a gap.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Nominal already outside its window.
    Fails,
    /// Likely range leaves its window.
    Doubtful,
    /// Only the worst case leaves its window.
    Tight,
    /// Worst case inside.
    Fits,
}

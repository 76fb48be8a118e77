//! Reads a pack back from its files with readers of its own, and compares it with the design in `job.json`.
//!
//! Takes: a pack's files by name.
//! Gives: a verdict with counts, worst figures and findings.
//! Guarantees: shares no code with `write` or `toolpath`; any input ends in a verdict, never a panic.
//! Never: imports `write`, `toolpath`, `flat`, `parts` or `design`; trusts a file.

pub mod codes;

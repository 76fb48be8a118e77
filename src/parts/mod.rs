//! Panels placed in the bay, with their joints and features, hardware and motions.
//!
//! Takes: [`Design`](crate::design::Design).
//! Gives: [`Model`].
//! Guarantees: every size is a [`Dim`] with a name; every panel and feature has a stable id; every mate is named on both sides.
//! Never: offsets by a cutter, relieves a corner, or rounds.

pub mod codes;
mod types;

pub use types::*;

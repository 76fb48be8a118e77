//! The settled design: every default applied, every profile looked up, every written size a `Dim`.
//!
//! Takes: [`Project`](crate::project) and [`Shop`](crate::shop::Shop).
//! Gives: [`Design`].
//! Guarantees: names are unique, references resolve, sizes are positive and plausible for the bay.
//! Never: derives a panel, or reads a file.

pub mod codes;
mod types;

pub use types::*;

//! Which part lies where on which sheet.
//!
//! Takes: [`FlatParts`](crate::flat::FlatParts), the boards' stock, and [`Effort`].
//! Gives: [`Layout`].
//! Guarantees: each copy exactly once; parts inside the sheet's margin and apart by the gap; turns allowed by the grain; the
//! same input and seed give the same layout on any machine and thread count.
//! Never: mirrors a part, reads a clock, or depends on the thread count.

pub mod codes;
mod types;

pub use types::*;

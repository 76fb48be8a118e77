//! Which part lies where on which sheet.
//!
//! Takes: [`FlatParts`](crate::flat::FlatParts), the boards' stock, and [`Effort`].
//! Gives: [`Layout`].
//! Guarantees: each copy exactly once; parts inside the sheet's margin and apart by the gap; turns allowed by the grain; the
//! same input and seed give the same layout on any machine and thread count.
//! Never: mirrors a part, reads a clock, or depends on the thread count.

pub mod check;
pub mod codes;
pub mod engine;
mod floor;
mod inside;
mod job;
mod lay_out;
mod mates;
mod offcut;
mod options;
mod pricing;
mod saw;
mod shape;
mod types;

pub use floor::lay_floor;
pub use inside::{depths, inside, Inside};
pub use lay_out::{gap, lay_out, opening_gap};
pub use options::{Options, Progress, Watch};
pub use saw::{is_rectangle, saw_plan, Direction, Outcome, SawCut, SawOptions, SawPlan, SawSheet, Source};
pub use types::*;

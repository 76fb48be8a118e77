//! The shop: boards, cutters, machines, slides, latches and fasteners, as profiles.
//!
//! Takes: profile texts (the built-in ones of `profiles/`, then the user's folder, then those beside the project file).
//! Gives: [`Shop`], every profile by its id, with the basis of each of its values.
//! Guarantees: sizes are positive and finite; ids are unique; a later text replaces an earlier profile of the same id.
//! Never: reads files, or names a brand.

mod basis;
mod builtin;
pub mod codes;
pub mod describe;
mod fields;
mod file;
mod find;
mod kinds;
mod laser;
mod load;
mod machine;
mod rows;
mod types;
mod value;

pub use builtin::BUILT_IN;
pub use find::nearest;
pub use laser::{Laser, LaserLines, LineStyle};
pub use load::load;
pub use machine::{Dialect, Habits, HoldDown, HoldDownScrews, Machine, Process, Router, ZZero};
pub use types::*;

//! The judge of every layout, apart from the code that makes them: whole numbers for packings, true contours for layouts.

mod guillotine;
mod layout;
mod packing;
mod strip;

pub use guillotine::can_be_sawn;
pub use layout::layout;
pub use packing::packing;
pub use strip::strip;

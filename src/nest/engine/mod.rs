//! The nesting engine: whole-number rectangles on sheets, without any knowledge of the design.
//!
//! Takes: [`Problem`] (pieces, sheets, gap, cut rule) and [`Settings`] (work, seed, threads).
//! Gives: [`Packing`] with a proven lower bound on its cost.
//! Guarantees: the same input gives the same packing on any machine and thread count.
//! Never: reads a clock; works in rounded numbers.

mod assembly;
mod blocks;
mod bounds;
mod construct;
mod free_rects;
mod gather;
mod glue;
mod guillotine;
mod jigsaw;
mod lanes;
mod model;
mod mosaic;
mod outlines;
mod pieces;
mod rng;
mod ruin;
mod solve;
mod state;
mod strips;
mod surface;
mod wheels;

pub use free_rects::free_rectangles;
pub use gather::gathered;
pub use model::{Ask, CutRule, Glance, Item, PackedSheet, Packing, Problem, Settings, Shape, SheetKind, Spot, Turns};
pub use outlines::{in_strip, LaidPiece, LaidStrip, Strip, StripPiece};
pub use solve::{fewest_sheets, pack};
pub use strips::in_strips;

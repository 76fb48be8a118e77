//! Panels as flat parts: closed contours per operation, side and depth, with relieved corners.
//!
//! Takes: [`Design`](crate::design::Design) and [`Model`](crate::parts::Model).
//! Gives: [`FlatParts`]: each different part once, with the panels it stands for.
//! Guarantees: contours closed, simple and inside each other as they should be; every cut can be entered by a cutter at hand,
//! or is a finding; the finished edge, never the cutter's centre.
//! Never: offsets by a cutter radius or kerf; drops a feature silently.

mod clean;
pub mod codes;
mod context;
mod cuts;
mod faces;
mod flatten;
mod flutes;
mod free;
mod group;
mod hold;
mod lay;
mod lines;
mod mass;
mod outline;
mod piece;
mod relief;
mod seat;
mod split;
mod thin;
mod tools;
mod types;
mod web;

pub use flatten::{flatten, seats};
pub use types::*;

//! Tool-centre moves; the only room that offsets by the cutter's radius or the kerf.
//!
//! Takes: [`FlatParts`](crate::flat::FlatParts), [`Layout`](crate::nest::Layout) and the machine and cutters of the
//! [`Design`](crate::design::Design).
//! Gives: [`Program`]s in the order they are run; for a laser, [`BeamSheet`]s.
//! Guarantees: first move up; no rapid below clearance; an outline is the last cut of its part; every cut of every part is in
//! some program, or is a finding.
//! Never: writes text, or changes a finished edge.
//!
//! Each cut becomes one block: `cuts` (outlines, openings, pockets), `holes` (holes and screw seats). They stand on `centre`
//! (finished edge to tool centre), `edge` (passes, ramps, leads), `pocket` (rings), `hold` (tabs), `room` (what lies about) and
//! `passes` (depths and feeds). A laser's lines are in `beam`. `sides` says what is cut in which set-up, `plan` which cutter goes when, `travel` in what order.

mod beam;
mod bench;
mod centre;
pub mod codes;
mod cuts;
mod edge;
mod hold;
mod holes;
mod laid;
mod moves;
mod narrow;
mod passes;
mod path;
mod plan;
mod pocket;
mod room;
mod screws;
mod sides;
mod store;
mod time;
mod travel;
mod types;

pub use beam::{beams, BeamLine, BeamPart, BeamSheet};
pub use passes::deepest_allowed;
pub use plan::{plan, trace_feed};
pub use pocket::STEPOVER;
pub use types::*;

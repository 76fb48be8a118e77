//! baywright: from a measured vehicle bay and a short written design to checked, nested, proved cut files.
//!
//! The modules are the pipeline; each imports only what stands above it in this list:
//!
//! 1. [`units`], [`diag`], [`dim`], [`geom`], [`share`]: what everything is said in
//! 2. [`shop`]: profiles of boards, cutters, machines, slides, latches, fasteners
//! 3. [`project`]: what the maker wrote
//! 4. [`design`]: all sizes settled
//! 5. [`parts`]: panels placed in the bay
//! 6. [`fit`]: gaps judged
//! 7. [`flat`]: closed contours per operation
//! 8. [`nest`]: parts on sheets
//! 9. [`toolpath`]: tool-centre moves
//! 10. [`write`](mod@write): values to bytes
//! 11. [`proof`]: bytes to a verdict
//! 12. [`codes`]: what findings are called
//! 13. [`cli`], [`run`]: the commands

pub mod cli;
pub mod codes;
pub mod design;
pub mod diag;
pub mod dim;
pub mod fit;
pub mod flat;
pub mod geom;
pub mod nest;
pub mod parts;
pub mod project;
pub mod proof;
pub mod run;
pub mod share;
pub mod shop;
pub mod toolpath;
pub mod units;
pub mod write;

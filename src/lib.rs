//! baywright: from a measured vehicle bay and a short written design to checked, nested, proved cut files.
//!
//! The modules are the pipeline, in order; each imports only what stands above it in this list.

pub mod cli;
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
pub mod shop;
pub mod toolpath;
pub mod units;
pub mod write;

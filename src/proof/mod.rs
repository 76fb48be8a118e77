//! Reads a pack back from its files with readers of its own, and compares it with the design in `job.json`.
//!
//! Takes: a pack's files by name.
//! Gives: a verdict with counts, worst figures and findings.
//! Guarantees: shares no code with `write` or `toolpath`; any input ends in a verdict, never a panic.
//! Never: imports `write`, `toolpath`, `flat`, `parts` or `design`; trusts a file.

pub mod codes;
mod drawing;
mod fault;
mod limits;
pub mod read_dxf;
pub mod read_gcode;
pub mod read_svg;
mod shape;
mod svg_path;
mod xml;

pub use drawing::Drawing;
pub use fault::Fault;

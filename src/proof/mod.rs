//! Reads a pack back from its files with readers of its own, and compares it with the design in `job.json`.
//!
//! Takes: a pack's files by name.
//! Gives: a verdict with counts, worst figures and findings.
//! Guarantees: shares no code with `write` or `toolpath`; any input ends in a verdict, never a panic.
//! Never: imports `write`, `toolpath`, `flat`, `parts` or `design`; trusts a file.

pub mod codes;
mod compare_copies;
mod compare_drawings;
mod compare_files;
mod compare_header;
mod compare_layers;
mod drawing;
mod fault;
mod job;
mod limits;
mod offcuts;
mod pack;
mod read_csv;
pub mod read_dxf;
pub mod read_gcode;
pub mod read_svg;
mod rings;
mod saw;
mod shape;
mod svg_path;
mod sweep;
mod verdict;
mod xml;

pub use drawing::Drawing;
pub use fault::Fault;
pub use verdict::{Figure, RuleResult, Verdict};

use std::collections::BTreeMap;

/// Proves a pack: reads every cut file, holds it against `job.json`, and simulates the cut.
#[must_use]
pub fn prove(files: &BTreeMap<String, Vec<u8>>) -> Verdict {
    let (mut job_rule, mut file_rule) = pack::rules();
    let Some(pack) = pack::read(files, &mut job_rule, &mut file_rule) else {
        return Verdict::of(String::new(), String::new(), vec![job_rule, file_rule]);
    };
    let mut rules = vec![job_rule, file_rule];
    rules.extend(compare_files::check(&pack));
    rules.extend(compare_header::check(&pack));
    rules.push(compare_layers::check(&pack));
    rules.extend(compare_drawings::check(&pack));
    rules.push(compare_copies::check(&pack));
    rules.extend(offcuts::check(&pack));
    if pack.job.saw.is_some() {
        rules.extend(saw::check(&pack));
    } else {
        rules.extend(sweep::check(&pack));
    }
    Verdict::of(pack.job.title.clone(), pack.job.revision.clone(), rules)
}

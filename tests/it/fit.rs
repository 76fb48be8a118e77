//! The fit checks: planted faults, motion, loading, assembly, readings, other boards.

mod assembly;
mod handed;
mod lids;
mod loading;
mod motion;
mod planted;
mod practice;
mod readings;
mod sweeps;
mod terminal;
mod traced;

use baywright::run::{derive, Derived};
use std::fs;

/// Derives a project given as text.
fn derived(text: &str) -> Derived {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("project.toml");
    fs::write(&path, text).expect("written");
    derive(&path, None).expect("read")
}

fn planted(name: &str) -> String {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/planted").join(name).with_extension("toml");
    fs::read_to_string(path).expect("a planted project")
}

fn sample(name: &str) -> std::path::PathBuf {
    crate::cli::sample(name).into()
}

//! Packs of the project's own samples, put on disk for the readers of `tests/readers` (`target/tmp/packs`).

use crate::pack::SAMPLES;
use baywright::diag::Finding;
use baywright::nest::{Effort, Options};
use baywright::write::{Files, Job};
use baywright::{flat, nest, run, toolpath, write};
use std::path::Path;

/// A sample's pack as far as it can be derived, whatever the proof will say of it.
fn pack(sample: &str) -> Option<Files> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples").join(sample).with_extension("toml");
    let derived = run::derive(&path, None).unwrap_or_else(|_| panic!("{sample} cannot be read"));
    let (design, model, ledger) = (derived.design?, derived.model?, derived.ledger?);
    let mut findings: Vec<Finding> = derived.findings;
    let parts = flat::flatten(&design, &model).into(&mut findings)?;
    let options = Options { effort: Effort::Draft, ..Options::default() };
    let layout = nest::lay_out(&design, &parts, &options).into(&mut findings)?;
    let programs = toolpath::plan(&design, &parts, &layout).into(&mut findings)?;
    Some(write::pack(&Job {
        design: &design,
        model: &model,
        ledger: &ledger,
        parts: &parts,
        layout: &layout,
        programs: &programs,
        beams: &[],
        findings: &findings,
        texts: &derived.texts,
    }))
}

#[test]
fn samples_are_written_whole() {
    for sample in SAMPLES {
        let files = pack(sample).unwrap_or_else(|| panic!("{sample} gives no pack"));
        let job: serde_json::Value = serde_json::from_slice(&files["job.json"]).unwrap();
        let count = |list: &str| job[list].as_array().unwrap().len();
        // Sections after the first are in the file of the first.
        let programs = job["programs"].as_array().unwrap().iter().filter(|p| p["section"] == 1).count();
        assert_eq!(files.len(), 4 + 2 * count("parts") + 2 * count("sheets") + programs, "{sample}");
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("packs").join(sample);
        // A file of an earlier run would be foreign to this pack.
        let _ = std::fs::remove_dir_all(&folder);
        for (name, bytes) in &files {
            super::no_bad_number(sample, name, bytes);
            let path = folder.join(name);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(path, bytes).unwrap();
        }
    }
}

//! The pipeline stage by stage, timed.

use baywright::diag::{Finding, Severity, Texts};
use baywright::fit::load;
use baywright::nest::Options;
use baywright::write::{book, Job};
use baywright::{design, fit, flat, nest, parts, project, proof, shop, toolpath, write};
use std::fs;
use std::path::Path;
use std::time::Instant;

/// What is timed, in order; the shop's profiles are read within `project`.
pub(crate) const NAMES: [&str; 10] =
    ["project", "design", "parts", "fit", "flat", "nest", "toolpath", "write", "proof", "book"];

/// One run.
pub(crate) struct Run {
    pub(crate) seconds: [f64; NAMES.len()],
    pub(crate) parts: usize,
    pub(crate) sheets: usize,
    pub(crate) stops: usize,
    pub(crate) job: Option<Vec<u8>>,
    /// Bytes of the build book's page.
    pub(crate) book: usize,
}

impl Run {
    pub(crate) fn total(&self) -> f64 {
        self.seconds.iter().sum()
    }

    /// Each stage at its quicker time.
    pub(crate) fn best(mut self, other: &Self) -> Self {
        for (mine, theirs) in self.seconds.iter_mut().zip(other.seconds) {
            *mine = mine.min(theirs);
        }
        self
    }
}

/// Runs all stages in memory, as far as they give something to go on with.
pub(crate) fn run(path: &Path) -> Run {
    let text = fs::read_to_string(path).expect("read the project");
    let mut run = Run { seconds: [0.0; NAMES.len()], parts: 0, sheets: 0, stops: 0, job: None, book: 0 };
    let mut findings: Vec<Finding> = Vec::new();
    all(&mut run, path, &text, &mut findings);
    run.stops = findings.iter().filter(|f| f.severity == Severity::Stop).count();
    run
}

fn all(run: &mut Run, path: &Path, text: &str, findings: &mut Vec<Finding>) -> Option<()> {
    let mut texts = Texts::default();
    let file = texts.add(path.display().to_string(), text);
    let begun = Instant::now();
    let shop = shop::load(&texts, &[]).into(findings)?;
    let written = project::read(&texts, &[file]).into(findings)?;
    run.seconds[0] = begun.elapsed().as_secs_f64();
    let design = timed(run, 1, || design::settle(&written, &shop, &texts)).into(findings)?;
    let model = timed(run, 2, || parts::build(&design)).into(findings)?;
    let ledger = timed(run, 3, || fit::check(&design, &model)).into(findings)?;
    let flat = timed(run, 4, || flat::flatten(&design, &model)).into(findings)?;
    run.parts = flat.parts.iter().map(|p| p.panels.len()).sum();
    let layout = timed(run, 5, || nest::lay_out(&design, &flat, &Options::default())).into(findings)?;
    run.sheets = layout.sheets.len();
    let programs = timed(run, 6, || toolpath::plan(&design, &flat, &layout)).into(findings)?;
    let job = Job {
        design: &design,
        model: &model,
        ledger: &ledger,
        parts: &flat,
        layout: &layout,
        programs: &programs,
        beams: &[],
        findings,
        texts: &texts,
    };
    let files = timed(run, 7, || write::pack(&job));
    let verdict = timed(run, 8, || proof::prove(&files));
    run.job = files.get("job.json").cloned();
    let load = load::judge(&design, &model, nest::lay_floor).value;
    let proof = book::Proved { passed: verdict.passed, revision: verdict.revision.clone(), rules: Vec::new() };
    let names: Vec<String> = files.keys().cloned().collect();
    let around = book::Around { load: load.as_ref(), saw: None, proof: &proof, files: &names };
    let books = timed(run, 9, || book::write(&job, &around));
    run.book = books[book::PAGE].len();
    findings.extend(verdict.findings);
    Some(())
}

fn timed<T>(run: &mut Run, stage: usize, work: impl FnOnce() -> T) -> T {
    let begun = Instant::now();
    let value = work();
    run.seconds[stage] = begun.elapsed().as_secs_f64();
    value
}

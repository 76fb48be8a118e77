//! A project taken through all stages in memory, for the benches that start from a pack.

use baywright::design::Design;
use baywright::diag::{Finding, Texts};
use baywright::fit::Ledger;
use baywright::flat::FlatParts;
use baywright::nest::{Layout, Options};
use baywright::parts::Model;
use baywright::toolpath::Program;
use baywright::write::Job;
use baywright::{design, fit, flat, nest, parts, project, shop, toolpath};
use std::fs;
use std::path::Path;

/// What each stage gave.
pub(crate) struct Made {
    pub(crate) design: Design,
    model: Model,
    ledger: Ledger,
    pub(crate) flat: FlatParts,
    pub(crate) layout: Layout,
    pub(crate) programs: Vec<Program>,
    findings: Vec<Finding>,
    texts: Texts,
}

impl Made {
    /// `None` when the project has a stopper.
    pub(crate) fn of(path: &Path) -> Option<Self> {
        let mut findings = Vec::new();
        let found = &mut findings;
        let mut texts = Texts::default();
        let file = texts.add(path.display().to_string(), fs::read_to_string(path).expect("read the project"));
        let shop = shop::load(&texts, &[]).into(found)?;
        let written = project::read(&texts, &[file]).into(found)?;
        let design = design::settle(&written, &shop, &texts).into(found)?;
        let model = parts::build(&design).into(found)?;
        let ledger = fit::check(&design, &model).into(found)?;
        let flat = flat::flatten(&design, &model).into(found)?;
        let layout = nest::lay_out(&design, &flat, &Options::default()).into(found)?;
        let programs = toolpath::plan(&design, &flat, &layout).into(found)?;
        Some(Self { design, model, ledger, flat, layout, programs, findings, texts })
    }

    pub(crate) fn job(&self) -> Job<'_> {
        Job {
            design: &self.design,
            model: &self.model,
            ledger: &self.ledger,
            parts: &self.flat,
            layout: &self.layout,
            programs: &self.programs,
            beams: &[],
            findings: &self.findings,
            texts: &self.texts,
        }
    }
}

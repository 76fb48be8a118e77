//! From what the maker wrote to the settled design.

use super::bench::Bench;
use super::{Design, Together};
use crate::diag::{Checked, Texts};
use crate::project::Project;
use crate::shop::Shop;

/// Settles a project: defaults applied, profiles looked up, references resolved, sizes checked against the bay.
///
/// There is no design when something it refers to is missing; a size that is merely absurd leaves one, with a stop.
#[must_use]
pub fn settle(project: &Project, shop: &Shop, texts: &Texts) -> Checked<Design> {
    let mut bench = Bench { project, shop, texts, findings: Vec::new(), assumptions: Vec::new(), lost: false };
    let mut boards = bench.boards();
    let bay = bench.bay();
    let vehicle = bench.vehicle();
    let prices = bench.prices();
    let process = bench.process(&boards);
    if let Some(process) = &process {
        super::process::cut_to_bed(&mut boards, process, &mut bench.findings);
    }
    bench.names();
    let order = bench.order();
    let carcasses = bench.carcasses(&order, bay.as_ref());
    let pull_outs = bench.pull_outs(&order);
    let lips = bench.lips(&order);
    let panels = bench.panels(bay.as_ref());
    let stows = bench.stows();
    let pins = bench.pins();
    let overrides = bench.overrides();
    let rubs = bench.rubs();
    let title = project.title.as_ref().map_or_else(|| "Untitled".to_owned(), |title| title.value.clone());
    let Bench { mut findings, assumptions, lost, .. } = bench;
    // As the maker reads the file; what has no place comes last.
    findings.sort_by_key(|finding| (finding.span.is_none(), finding.span));
    let design = process.filter(|_| !lost).map(|process| Design {
        title,
        units: project.units,
        bay,
        vehicle,
        prices,
        boards,
        process,
        carcasses,
        pull_outs,
        lips,
        panels,
        stows,
        together: project
            .together
            .iter()
            .map(|t| Together { parts: t.parts.iter().map(|p| p.value.clone()).collect(), span: Some(t.span) })
            .collect(),
        pins,
        overrides,
        rubs,
        assumptions,
        mock_up: None,
    });
    Checked { value: design, findings }
}

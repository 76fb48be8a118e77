//! Values to bytes: DXF, SVG, G-code, cut list, hardware list, job data. Pure functions.
//!
//! Takes: [`Job`]: the results of the stages above.
//! Gives: [`Files`]: the pack's files by name.
//! Guarantees: the same values give the same bytes; numbers are finite; mm unless the machine says inches.
//! Never: reads or writes the disk, a clock or the environment; imports `proof`.

mod beam;
pub mod book;
mod csv;
pub mod cut_list;
pub mod drawing;
pub mod dxf;
pub mod gcode;
pub mod hardware;
mod heading;
pub mod job;
mod label;
pub mod layer;
mod map;
mod mock_up;
mod names;
mod number;
mod offcuts;
mod revision;
pub mod saw;
pub mod svg;

pub use names::Names;
pub use revision::revision;

use crate::design::Design;
use crate::diag::{Finding, Texts};
use crate::fit::Ledger;
use crate::flat::FlatParts;
use crate::nest::{Layout, SawPlan};
use crate::parts::Model;
use crate::share;
use crate::toolpath::{BeamSheet, Program, TabsLeft};
use std::collections::BTreeMap;

/// A pack's files: path inside the pack (with `/`), then content.
pub type Files = BTreeMap<String, Vec<u8>>;

/// Everything a pack is written from.
#[derive(Clone, Copy, Debug)]
pub struct Job<'a> {
    /// The settled design.
    pub design: &'a Design,
    /// Panels, hardware, motions.
    pub model: &'a Model,
    /// Gaps, judged.
    pub ledger: &'a Ledger,
    /// Flat parts.
    pub parts: &'a FlatParts,
    /// Sheets.
    pub layout: &'a Layout,
    /// Programs, in order of running.
    pub programs: &'a [Program],
    /// A laser's lines, sheet by sheet; none for a router.
    pub beams: &'a [BeamSheet],
    /// All findings so far.
    pub findings: &'a [Finding],
    /// The maker's files, for places.
    pub texts: &'a Texts,
}

impl<'a> Job<'a> {
    /// How many tabs hold a placement of a sheet.
    fn tabs(&self, sheet: usize, placement: usize) -> usize {
        let part = self.layout.sheets[sheet].placements[placement].part;
        let outline = self.parts.parts[part].outline.feature.as_str();
        self.held(sheet, placement).get(outline).map_or(0, |tabs| tabs.count)
    }

    /// The tabs of a placement of a sheet, by the feature along which they stand.
    fn held(&self, sheet: usize, placement: usize) -> BTreeMap<&'a str, TabsLeft> {
        let mut held: BTreeMap<&'a str, TabsLeft> = BTreeMap::new();
        let blocks = self.programs.iter().filter(|p| p.sheet == sheet).flat_map(|p| &p.blocks);
        for block in blocks.filter(|b| b.placement == Some(placement)) {
            let Some(tabs) = block.tabs.filter(|tabs| tabs.count > 0) else { continue };
            // A grown outline may have ways of its own round what lies inside it.
            held.entry(&block.feature).and_modify(|all| all.count += tabs.count).or_insert(tabs);
        }
        held
    }
}

/// All files of a pack but the build book and the proof.
#[must_use]
pub fn pack(job: &Job) -> Files {
    let names = Names::of(job);
    let revision = revision(job);
    let process = &job.design.process;
    let mut files = lists_and_parts(job, &names, None, &revision);
    let mut restarts = Vec::new();
    let groups: Vec<(&str, &[Program])> = names.files(job.programs).collect();
    let written = share::in_order(
        &groups,
        || (),
        |(), (_, programs)| {
            let header = heading::of_program(job, programs.first()?, &revision);
            Some(gcode::programs(&process.machine, &programs.iter().collect::<Vec<_>>(), &header))
        },
    );
    for ((name, _), written) in groups.iter().zip(written) {
        let Some(written) = written else { continue };
        files.insert((*name).to_owned(), written.bytes);
        restarts.extend(written.restarts);
    }
    files.insert("job.json".to_owned(), job::write(job, &names, &restarts, &revision));
    let sheets: Vec<_> = job.layout.sheets.iter().zip(&names.sheets).collect();
    files.extend(drawn(job, &sheets, |sheet| drawing::Drawing::of_sheet(job, sheet, &revision)));
    files.extend(mock_up::page(job, &revision).map(|page| ("mock-up.html".to_owned(), page)));
    let beams: Vec<_> = job.beams.iter().zip(&names.beams).collect();
    files.extend(drawn(job, &beams, |beam| beam::drawing(job, beam, &revision)));
    files
}

/// Each of a list of things drawn, as DXF and as SVG under its stem.
fn drawn<T: Sync>(
    job: &Job,
    things: &[(&T, &String)],
    draw: impl Fn(&T) -> drawing::Drawing + Sync,
) -> Vec<(String, Vec<u8>)> {
    let process = &job.design.process;
    let (unit, release) = (process.machine.units, dxf::Release::of(process));
    let pairs = share::in_order(
        things,
        || (),
        |(), (thing, stem)| {
            let drawing = draw(thing);
            [
                (format!("{stem}.dxf"), dxf::write(&drawing, release, unit)),
                (format!("{stem}.svg"), svg::write(&drawing, unit)),
            ]
        },
    );
    pairs.into_iter().flatten().collect()
}

/// What every pack holds, whatever cuts it: the lists, and a drawing of each part.
fn lists_and_parts(job: &Job, names: &Names, plan: Option<&SawPlan>, revision: &str) -> Files {
    let mut files = Files::new();
    files.insert("cut-list.csv".to_owned(), cut_list::write(job));
    files.insert("hardware.csv".to_owned(), hardware::write(job));
    files.insert("offcuts.csv".to_owned(), offcuts::write(job, names, plan));
    let parts: Vec<_> = job.parts.parts.iter().zip(&names.parts).collect();
    files.extend(drawn(job, &parts, |part| drawing::Drawing::of_part(job, part, revision)));
    files
}

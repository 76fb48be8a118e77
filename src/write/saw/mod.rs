//! The saw plan as files: for each sheet a table for programs, the same in words for the wall of the shop, and a picture.
//!
//! Pieces carry names: `sheet`; `5a` and `5b` for what lies between fence and blade and for the free side after cut 5, as long
//! as they are cut again; a finished blank its part's id with the copy behind a dot; `keep 1` and so on for offcuts; `waste`.

mod picture;
mod table;
mod words;

use super::names::of_sheet;
use super::{heading, job, lists_and_parts, revision, Files, Job, Names};
use crate::nest::{Outcome, SawCut, SawPlan, SawSheet, Source};

/// All files of a saw pack but the proof. The job's layout is the plan's sheets, and it has no programs.
#[must_use]
pub fn pack(job: &Job, plan: &SawPlan) -> Files {
    let names = Names::of(job);
    let revision = revision::of_saw(job, plan);
    let mut files = lists_and_parts(job, &names, Some(plan), &revision);
    files.insert("job.json".to_owned(), job::write_saw(job, plan, &names, &revision));
    for (sheet, stem) in plan.sheets.iter().zip(stems(&names)) {
        let heading = heading::of_saw(job, plan, sheet, &revision);
        let named = Named::of(job, sheet);
        files.insert(format!("{stem}.csv"), table::write(&named));
        files.insert(format!("{stem}.txt"), words::write(job, &named, &heading));
        files.insert(format!("{stem}.svg"), picture::write(job, plan, &named, &heading));
    }
    files
}

/// The files of each sheet, without ending: `saw/carcass-01`.
pub(super) fn stems(names: &Names) -> impl Iterator<Item = String> + '_ {
    names.sheets.iter().map(|s| format!("saw/{}", of_sheet(s)))
}

/// A sheet with its pieces named.
pub(in crate::write) struct Named<'a> {
    pub(in crate::write) sheet: &'a SawSheet,
    /// For each cut: the piece on the saw, between fence and blade, on the free side.
    pub(in crate::write) cuts: Vec<(&'a SawCut, [String; 3])>,
}

impl<'a> Named<'a> {
    pub(in crate::write) fn of(job: &Job, sheet: &'a SawSheet) -> Self {
        let mut kept = 0;
        let mut name = |again: String, outcome: Outcome| match outcome {
            Outcome::Again => again,
            Outcome::Blank(k) => {
                let p = &sheet.sheet.placements[k];
                blank(&job.parts.parts[p.part].id, p.copy)
            }
            Outcome::Kept => {
                kept += 1;
                format!("keep {kept}")
            }
            Outcome::Waste => "waste".to_owned(),
        };
        let cuts = sheet.cuts.iter().map(|c| {
            let from = match c.from {
                Source::Sheet => "sheet".to_owned(),
                Source::Off(n) => format!("{n}a"),
                Source::Rest(n) => format!("{n}b"),
            };
            let off = name(format!("{}a", c.number), c.off_is);
            let rest = c.rest.map_or_else(String::new, |_| name(format!("{}b", c.number), c.rest_is));
            (c, [from, off, rest])
        });
        Self { sheet, cuts: cuts.collect() }
    }

    /// Finished pieces, offcuts and waste: name, what it is, and its rectangle.
    fn pieces(&self) -> impl Iterator<Item = (&str, Outcome, crate::geom::Rect)> + '_ {
        self.cuts.iter().flat_map(|(c, [_, off, rest])| {
            let rest = c.rest.map(|r| (rest.as_str(), c.rest_is, r));
            [Some((off.as_str(), c.off_is, c.off)), rest].into_iter().flatten().filter(|p| p.1 != Outcome::Again)
        })
    }
}

/// The name of one copy's blank.
fn blank(id: &str, copy: u32) -> String {
    format!("{id}.{copy}")
}

/// `rip` or `crosscut`.
pub(in crate::write) fn direction(cut: &SawCut) -> &'static str {
    match cut.direction {
        crate::nest::Direction::Rip => "rip",
        crate::nest::Direction::Cross => "crosscut",
    }
}

/// The edge of the piece, as the picture shows it, that lies against the fence.
pub(in crate::write) fn against(cut: &SawCut) -> &'static str {
    match (cut.direction, cut.far) {
        (crate::nest::Direction::Rip, false) => "lower",
        (crate::nest::Direction::Rip, true) => "upper",
        (crate::nest::Direction::Cross, false) => "left",
        (crate::nest::Direction::Cross, true) => "right",
    }
}

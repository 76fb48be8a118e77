//! A saw pack: its tables are replayed cut by cut, and the pieces that come off are held against the design.

mod cuts;
mod told;

use super::codes;
use super::fault::Fault;
use super::job::{Job, Sheet};
use super::limits;
use super::pack::{file_name, Pack};
use super::shape::Bounds;
use super::verdict::Rule;
use crate::diag::Finding;
use cuts::{Replay, Row};
use std::collections::{BTreeMap, BTreeSet};

/// What a file of the saw plan holds, read but not judged.
#[derive(Debug)]
pub(super) enum Told {
    /// The table's rows.
    Table(Vec<Row>),
    /// The page of words.
    Words(told::Page),
    /// The picture's rectangles and lines.
    Picture(told::Picture),
}

/// Reads a file that the job's saw plan names.
pub(super) fn read(name: &str, bytes: &[u8]) -> Result<Told, Fault> {
    let text = std::str::from_utf8(bytes).map_err(|_| Fault::whole("the file is not UTF-8 text"))?;
    if bytes.len() > limits::FILE_BYTES {
        return Err(Fault::whole("the file is larger than is read at all"));
    }
    match name.rsplit_once('.').map(|(_, ending)| ending.to_ascii_lowercase()).as_deref() {
        Some("csv") => cuts::rows(text).map(Told::Table),
        Some("svg") => told::picture(text).map(Told::Picture),
        _ => Ok(Told::Words(told::page(text))),
    }
}

/// Names of all files of a job's saw plan.
pub(super) fn files(job: &Job) -> impl Iterator<Item = &String> {
    job.saw.iter().flat_map(|saw| saw.sheets.iter().flat_map(|s| &s.files))
}

/// The rules on a saw plan; none for a pack without one.
pub(super) fn check(pack: &Pack<'_>) -> Vec<Rule> {
    let Some(saw) = &pack.job.saw else { return Vec::new() };
    let mut cuts = Rule::measuring(codes::SAW_CUTS, "saw cuts", limits::SAWN, "mm");
    let mut pieces = Rule::measuring(codes::SAW_PIECES, "pieces off the saw", limits::SAWN, "mm");
    let mut words = Rule::counting(codes::SAW_TOLD, "cuts and pieces in words and pictures");
    let mut planned = BTreeSet::new();
    for plan in &saw.sheets {
        let Some(sheet) = pack.job.sheets.iter().find(|s| s.board == plan.board && s.number == plan.number) else {
            cuts.fault(|code| Finding::stop(code, format!("Sheet {} of the saw plan is no sheet of the job", plan.number)));
            continue;
        };
        if !planned.insert((plan.board.as_str(), plan.number)) {
            cuts.fault(|code| Finding::stop(code, format!("Sheet {} is cut up twice", plan.number)));
        }
        let told = |ending: &str| {
            let name = plan.files.iter().find(|f| f.to_ascii_lowercase().ends_with(ending))?;
            Some((name.as_str(), pack.saw.get(name.as_str())?))
        };
        let Some((table, Told::Table(rows))) = told(".csv") else {
            cuts.fault(|code| Finding::stop(code, format!("Sheet {} has no table of cuts", plan.number)));
            continue;
        };
        let replay = Replay::of(sheet, rows, saw, file_name(table).as_str(), &mut cuts);
        held(pack, sheet, &replay, &mut pieces);
        match (told(".txt"), told(".svg")) {
            (Some((page_name, Told::Words(page))), Some((picture_name, Told::Picture(picture)))) => {
                told::compare_page(pack, page, page_name, rows, &mut words);
                told::compare_picture(pack, picture, picture_name, sheet, rows, &replay, &mut words);
            }
            _ => words.fault(|code| {
                Finding::stop(code, format!("The cuts of sheet {} are not told in words and in a picture", plan.number))
            }),
        }
    }
    for sheet in &pack.job.sheets {
        if !planned.contains(&(sheet.board.as_str(), sheet.number)) {
            cuts.fault(|code| Finding::stop(code, format!("Sheet {} of {} is not cut up", sheet.number, sheet.board)));
        }
    }
    vec![cuts, pieces, words]
}

/// Holds the pieces that come off a sheet against what lies on it: each once, where it lies, as large as its rectangle.
fn held(pack: &Pack<'_>, sheet: &Sheet, replay: &Replay, rule: &mut Rule) {
    let mut wanted: BTreeMap<String, Bounds> = BTreeMap::new();
    for p in &sheet.placements {
        let Some(part) = pack.part(&p.part) else { continue };
        let mut bounds = Bounds::empty();
        for outline in part.contours.iter().filter(|c| c.operation == super::job::Operation::ThroughOutside) {
            bounds.join(outline.ring.mapped(false, |point| p.place(point)).bounds());
        }
        wanted.insert(format!("{}.{}", p.part, p.copy), bounds);
        let along = matches!((part.grain.as_str(), p.turn_deg % 180), ("along-x", 90) | ("along-y", 0));
        if along {
            rule.fault(|code| Finding::stop(code, format!("{} lies across its grain", p.part)).part(p.part.clone()));
        }
    }
    for (name, at) in &replay.pieces {
        if name == "waste" || name.starts_with("keep ") {
            continue;
        }
        rule.count(1);
        let Some(b) = wanted.remove(name) else {
            rule.fault(|code| Finding::stop(code, format!("A piece called {name} comes off that no part asks for")));
            continue;
        };
        let off = [at.min.x - b.min.x, at.min.y - b.min.y, at.max.x - b.max.x, at.max.y - b.max.y];
        let worst = off.iter().fold(0.0_f64, |w, d| w.max(d.abs()));
        rule.figure(worst, || name.clone());
        if worst > limits::SAWN {
            rule.fault(|code| {
                Finding::stop(code, format!("The blank {name} comes off {worst:.2} mm away from where its part lies"))
            });
        }
    }
    for name in wanted.keys() {
        rule.fault(|code| Finding::stop(code, format!("The blank {name} never comes off the sheet")));
    }
}

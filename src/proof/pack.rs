//! A pack's files, read once, each by its own reader.

use super::codes;
use super::drawing::Drawing;
use super::fault::{quoted, Fault};
use super::job::{self, Job, Part, Program, Sheet};
use super::limits;
use super::offcuts;
use super::read_dxf;
use super::read_gcode::{self, Reading};
use super::read_svg;
use super::saw;
use super::verdict::Rule;
use crate::diag::Finding;
use crate::share::in_order;
use crate::units::MM_PER_INCH;
use std::collections::{BTreeMap, BTreeSet};

/// A pack that could be read as far as it goes.
#[derive(Debug)]
pub(super) struct Pack<'a> {
    pub(super) job: Job,
    /// Names of all files.
    pub(super) names: Vec<&'a str>,
    /// Drawings that could be read.
    pub(super) drawings: BTreeMap<&'a str, Drawing>,
    /// Programs that could be read, by file and section.
    pub(super) programs: BTreeMap<(&'a str, usize), Reading>,
    /// Files of the saw plan that could be read.
    pub(super) saw: BTreeMap<&'a str, saw::Told>,
    /// The list of offcuts, if there is one that could be read.
    pub(super) offcuts: Option<Vec<offcuts::Row>>,
    /// Index of each part by its id.
    parts: BTreeMap<String, usize>,
}

/// What a file holds.
enum Content {
    Programs(Vec<Reading>),
    Drawing(Drawing),
    Saw(saw::Told),
    Offcuts(Vec<offcuts::Row>),
}

/// Reads everything the job names. Faults go to the two rules; `None` when there is no usable job.
pub(super) fn read<'a>(files: &'a BTreeMap<String, Vec<u8>>, job_rule: &mut Rule, file_rule: &mut Rule) -> Option<Pack<'a>> {
    job_rule.count(1);
    let bytes: usize = files.values().map(Vec::len).sum();
    if bytes > limits::PACK_BYTES {
        job_rule.fault(|code| {
            Finding::stop(code, format!("The pack holds {bytes} bytes, more than the {} read at all", limits::PACK_BYTES))
        });
        return None;
    }
    let Some(text) = files.get("job.json") else {
        job_rule
            .fault(|code| Finding::stop(code, "The pack holds no job.json").remedy("prove the folder that holds job.json"));
        return None;
    };
    let job = match job::read(text) {
        Ok(job) => job,
        Err(fault) => {
            job_rule.fault(|code| Finding::stop(code, told("job.json", &fault)).remedy("make the pack again"));
            return None;
        }
    };
    let parts = job.parts.iter().enumerate().map(|(i, p)| (p.id.clone(), i)).collect();
    let mut pack = Pack {
        job,
        parts,
        names: files.keys().map(String::as_str).collect(),
        drawings: BTreeMap::new(),
        programs: BTreeMap::new(),
        saw: BTreeMap::new(),
        offcuts: None,
    };
    let sawn: BTreeSet<&str> = saw::files(&pack.job).map(String::as_str).collect();
    let named: BTreeSet<&str> = pack.job.programs.iter().map(|p| p.file.as_str()).collect();
    let all: Vec<(&'a str, &'a [u8])> = files.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice())).collect();
    let read = in_order(
        &all,
        || (),
        |(), (name, bytes)| {
            let is = |ending: &str| name.len() > ending.len() && name.to_ascii_lowercase().ends_with(ending);
            if named.contains(name) {
                return Some(read_gcode::read(bytes).map(Content::Programs));
            }
            if *name == "offcuts.csv" {
                return Some(offcuts::read(bytes).map(Content::Offcuts));
            }
            if sawn.contains(name) {
                return Some(saw::read(name, bytes).map(Content::Saw));
            }
            if is(".dxf") {
                return Some(read_dxf::read(bytes).map(|drawing| Content::Drawing(in_mm(drawing, &pack.job))));
            }
            is(".svg").then(|| read_svg::read(bytes).map(Content::Drawing))
        },
    );
    for ((name, _), read) in all.into_iter().zip(read) {
        let Some(read) = read else { continue };
        file_rule.count(1);
        match read {
            Ok(Content::Programs(readings)) => {
                if let Some(fault) = sections(&pack.job, name, readings.len()) {
                    file_rule.fault(|code| Finding::stop(code, fault).remedy("make the pack again"));
                }
                pack.programs.extend(readings.into_iter().enumerate().map(|(k, r)| ((name, k + 1), r)));
            }
            Ok(Content::Offcuts(rows)) => pack.offcuts = Some(rows),
            Ok(Content::Saw(told)) => drop(pack.saw.insert(name, told)),
            Ok(Content::Drawing(drawing)) => drop(pack.drawings.insert(name, drawing)),
            Err(fault) => file_rule.fault(|code| {
                Finding::stop(code, told(name, &fault)).remedy("make the pack again; do not mend a cut file by hand")
            }),
        }
    }
    Some(pack)
}

/// What is wrong with the job's programs in a file of so many sections: each has one, of one sheet and side, in order.
fn sections(job: &Job, name: &str, count: usize) -> Option<String> {
    let mut mine: Vec<&Program> = job.programs.iter().filter(|p| p.file == name).collect();
    mine.sort_by_key(|p| p.section);
    let file = file_name(name);
    if !mine.iter().map(|p| p.section).eq(1..=count) {
        let said: Vec<String> = mine.iter().map(|p| p.section.to_string()).collect();
        return Some(format!(
            "{file} is cut with {count} cutters one after the other, the job has its sections {}",
            said.join(", ")
        ));
    }
    let apart = mine.windows(2).find(|w| {
        (w[0].sheet, &w[0].board, w[0].side) != (w[1].sheet, &w[1].board, w[1].side) || w[0].order >= w[1].order
    })?;
    Some(format!(
        "{file}: its sections {} and {} are not of one sheet and side, in order",
        apart[0].section, apart[1].section
    ))
}

/// Release 12 has no unit in its header: the job's word counts, and the header's comment is held against it elsewhere.
fn in_mm(mut drawing: Drawing, job: &Job) -> Drawing {
    if drawing.unit_mm.is_none() && job.cut_file_units == "in" {
        for drawn in &mut drawing.contours {
            drawn.ring = drawn.ring.mapped(false, |p| super::shape::Pt::new(p.x * MM_PER_INCH, p.y * MM_PER_INCH));
        }
        drawing.extents = drawing.extents.map(|e| e.map(|v| v * MM_PER_INCH));
    }
    drawing
}

fn told(name: &str, fault: &Fault) -> String {
    if fault.line == 0 {
        format!("{}: {}", file_name(name), fault.message)
    } else {
        format!("{} line {}: {}", file_name(name), fault.line, fault.message)
    }
}

/// A file's name fit for a message.
pub(super) fn file_name(name: &str) -> String {
    let quoted = quoted(name);
    if quoted.len() == name.len() + 2 {
        name.to_owned()
    } else {
        quoted
    }
}

impl Pack<'_> {
    /// mm per unit of the cut files, as the job says.
    pub(super) fn unit_mm(&self) -> f64 {
        if self.job.cut_file_units == "in" {
            MM_PER_INCH
        } else {
            1.0
        }
    }

    /// The part of an id.
    pub(super) fn part(&self, id: &str) -> Option<&Part> {
        self.parts.get(id).map(|i| &self.job.parts[*i])
    }
}

/// A sheet in words.
pub(super) fn sheet_name(sheet: &Sheet) -> String {
    format!("sheet {} of {}", sheet.number, quoted(&sheet.board).trim_matches('"'))
}

/// The sheet a program is for.
pub(super) fn sheet_of<'a>(job: &'a Job, program: &Program) -> Option<&'a Sheet> {
    job.sheets.iter().find(|s| s.board == program.board && s.number == program.sheet)
}

/// The rules on reading, empty.
pub(super) fn rules() -> (Rule, Rule) {
    (Rule::counting(codes::JOB_UNREADABLE, "job"), Rule::counting(codes::UNREADABLE, "cut files read"))
}

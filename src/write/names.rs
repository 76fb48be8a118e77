//! File names that every system takes: ASCII letters, digits, `-`, `_` and `.`, unique even where case does not count.

use super::Job;
use crate::shop::Process;
use crate::toolpath::{Program, SheetSide};
use std::collections::BTreeSet;

/// Longest stem of a file name made from a maker's words.
const LONGEST: usize = 60;

/// Names that some systems keep for devices, whatever the ending (as their makers list them; from memory).
const RESERVED: [&str; 6] = ["con", "prn", "aux", "nul", "com", "lpt"];

/// A pack's file names, in the order of the job's own lists.
#[derive(Clone, Debug)]
pub struct Names {
    /// Of each board.
    pub boards: Vec<String>,
    /// Of each part, without ending: `parts/LO-1-003-L`.
    pub parts: Vec<String>,
    /// Of each sheet, without ending: `sheets/carcass-01`.
    pub sheets: Vec<String>,
    /// Of each program, with ending: `gcode/carcass-01-1-cutter-6.nc`. On a machine whose cutters are changed inside a file, the
    /// programs of one set-up of a sheet have one file, and its name, `gcode/carcass-01-1-3-cutters.nc`; all but the holes for
    /// hold-down screws, since the screws are put in after them. On a sheet with work on both faces the name ends with how the sheet
    /// lies: `gcode/carcass-01-1-drill-8-turned-over.nc`.
    pub programs: Vec<String>,
    /// Which of its file's programs each program is, from 1.
    pub sections: Vec<u32>,
    /// Of each sheet of a laser's lines, without ending: `laser/carcass-01`.
    pub beams: Vec<String>,
}

impl Names {
    /// The names of a job's files. They depend only on ids, board names and numbers.
    #[must_use]
    pub fn of(job: &Job) -> Self {
        let mut used = BTreeSet::new();
        let boards: Vec<String> = job.design.boards.iter().map(|b| unique(&mut used, "", &safe(&b.name))).collect();
        let parts = job.parts.parts.iter().map(|p| unique(&mut used, "parts/", &safe(&p.id))).collect();
        let sheets = job.layout.sheets.iter().map(|s| {
            let stem = format!("{}-{:02}", boards[s.board.0], s.number);
            unique(&mut used, "sheets/", &stem)
        });
        let sheets: Vec<String> = sheets.collect();
        let (ending, changes) = match &job.design.process.machine.process {
            Process::Router(router) => (safe(&router.dialect.file_ending), router.dialect.tool_change_in_file),
            Process::Laser(_) => ("nc".to_owned(), false),
        };
        let (mut programs, mut sections) = (Vec::new(), Vec::new());
        for file in job.programs.chunk_by(|a, b| changes && a.may_be_followed_by(b)) {
            let first = &file[0];
            let sheet = of_sheet(&sheets[first.sheet]);
            let stem = match file.len() {
                1 => format!("{sheet}-{}-{}", first.order, safe(&first.cutter.id)),
                cutters => format!("{sheet}-{}-{cutters}-cutters", first.order),
            };
            // Of a sheet that is turned over, the name says how it lies.
            let stem = match (first.set_up.of, first.side) {
                (1, _) => stem,
                (_, SheetSide::First) => format!("{stem}-as-on-map"),
                (_, SheetSide::Second) => format!("{stem}-turned-over"),
            };
            let name = format!("{}.{ending}", unique(&mut used, "gcode/", &stem));
            programs.extend(file.iter().map(|_| name.clone()));
            sections.extend(1..=file.len() as u32);
        }
        let beams = job.beams.iter().map(|b| {
            let sheet = of_sheet(&sheets[b.sheet]);
            unique(&mut used, "laser/", sheet)
        });
        let beams = beams.collect();
        Self { boards, parts, sheets, programs, sections, beams }
    }

    /// A job's programs file by file, each with its name.
    pub(super) fn files<'a>(&'a self, programs: &'a [Program]) -> impl Iterator<Item = (&'a str, &'a [Program])> {
        let mut rest = programs;
        self.programs.chunk_by(|a, b| a == b).map(move |names| {
            let (file, after) = rest.split_at(names.len());
            rest = after;
            (names[0].as_str(), file)
        })
    }
}

/// The stem of a sheet's files without its folder.
pub(super) fn of_sheet(stem: &str) -> &str {
    stem.trim_start_matches("sheets/")
}

/// A maker's words as a stem: other characters become `-`, runs of it one.
pub(super) fn safe(words: &str) -> String {
    let mut stem = String::new();
    for c in words.chars() {
        let c = if c.is_ascii_alphanumeric() || matches!(c, '_' | '.') { c } else { '-' };
        if !(c == '-' && stem.ends_with('-')) {
            stem.push(c);
        }
        if stem.len() == LONGEST {
            break;
        }
    }
    let stem = stem.trim_matches(['-', '.']).to_owned();
    let device = stem.split('.').next().unwrap_or_default().trim_end_matches(|c: char| c.is_ascii_digit());
    if stem.is_empty() || RESERVED.iter().any(|name| device.eq_ignore_ascii_case(name)) {
        return format!("{stem}_");
    }
    stem
}

/// The stem itself, or with the first free number behind it.
fn unique(used: &mut BTreeSet<String>, folder: &str, stem: &str) -> String {
    let mut name = format!("{folder}{stem}");
    let mut count = 1;
    while !used.insert(name.to_ascii_lowercase()) {
        count += 1;
        name = format!("{folder}{stem}_{count}");
    }
    name
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_become_names_that_every_system_takes() {
        let cases = [
            ("LO-1-003-L", "LO-1-003-L"),
            ("birch 15 / left", "birch-15-left"),
            ("../../etc", "etc"),
            ("Größe", "Gr-e"),
            ("日本", "_"),
            ("", "_"),
            ("con", "con_"),
            ("COM1.x", "COM1.x_"),
            ("console", "console"),
            ("a\\b:c*d", "a-b-c-d"),
        ];
        for (words, name) in cases {
            assert_eq!(safe(words), name);
        }
        assert_eq!(safe(&"x".repeat(200)).len(), LONGEST);
    }

    #[test]
    fn equal_stems_are_told_apart_even_without_case() {
        let mut used = BTreeSet::new();
        let names: Vec<String> = ["A", "a", "A"].iter().map(|s| unique(&mut used, "parts/", s)).collect();
        assert_eq!(names, ["parts/A", "parts/a_2", "parts/A_3"]);
    }
}

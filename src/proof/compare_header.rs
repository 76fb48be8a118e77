//! Every file says the same: revision, unit, board and real thickness, and which line it holds.

use super::codes;
use super::fault::quoted;
use super::job::Board;
use super::pack::{file_name, Pack};
use super::verdict::Rule;
use crate::diag::Finding;
use crate::units::MM_PER_INCH;
use std::collections::{BTreeMap, BTreeSet};

/// How far the thickness in a header, printed with two decimals, may lie from the job's.
const THICKNESS: f64 = 0.011;

/// What one file says of itself.
struct Said<'a> {
    name: &'a str,
    text: String,
    unit_mm: Option<f64>,
    /// Which of the file's programs; `None` for a drawing.
    section: Option<usize>,
    holds: Holds,
}

/// Which line a file holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Holds {
    FinishedEdge,
    ToolCentre,
    BeamCentre,
}

impl Holds {
    /// What its header must say, and what it must not.
    fn words(self) -> (&'static str, [&'static str; 2]) {
        match self {
            Self::FinishedEdge => ("finished edge", ["holds: the tool centre", "holds: the beam's centre"]),
            Self::ToolCentre => ("tool centre", ["finished edge", "holds: the beam's centre"]),
            Self::BeamCentre => ("holds: the beam's centre", ["finished edge", "holds: the tool centre"]),
        }
    }
}

pub(super) fn check(pack: &Pack<'_>) -> [Rule; 3] {
    let mut revision = Rule::counting(codes::REVISION, "files");
    let mut units = Rule::counting(codes::UNITS, "files");
    let mut header = Rule::counting(codes::HEADER, "headers");
    let boards = boards(pack);
    let cutters: BTreeMap<(&str, usize), &str> =
        pack.job.programs.iter().map(|p| ((p.file.as_str(), p.section), p.cutter.name.as_str())).collect();
    for said in files(pack) {
        let name = file_name(said.name);
        if let Some(cutter) = said.section.and_then(|section| cutters.get(&(said.name, section))) {
            if !names_cutter(&said.text, cutter) {
                header.fault(|code| {
                    Finding::stop(code, format!("{name} does not name its cutter, {}", quoted(cutter)))
                        .remedy("make the pack again")
                });
            }
        }
        if said.section.is_some_and(|section| section > 1) {
            continue;
        }
        revision.count(1);
        if !said.text.contains(&pack.job.revision) {
            let wanted = &pack.job.revision;
            revision.fault(|code| {
                Finding::stop(code, format!("{name} does not carry revision {wanted}"))
                    .remedy("take all files from one pack")
            });
        }
        units.count(1);
        let stated = stated_unit(&said.text);
        if said.unit_mm.or(stated) != Some(pack.unit_mm()) || stated.is_some_and(|s| s != pack.unit_mm()) {
            let wanted = &pack.job.cut_file_units;
            units.fault(|code| {
                Finding::stop(code, format!("{name} is not in {wanted} throughout, as the job says its cut files are"))
                    .remedy("make the pack again")
            });
        }
        header.count(1);
        let (wanted, others) = said.holds.words();
        if !said.text.contains(wanted) || others.iter().any(|other| said.text.contains(other)) {
            header
                .fault(|code| Finding::stop(code, format!("{name} does not say in its header that it holds the {wanted}")));
        }
        if let Some(board) = boards.get(said.name) {
            if !names_board(&said.text, board, pack.unit_mm()) {
                let thickness = board.thickness_mm.mean;
                header.fault(|code| {
                    Finding::stop(
                        code,
                        format!("{name} does not name board {} and its thickness of {thickness} mm", quoted(&board.name)),
                    )
                });
            }
        }
    }
    [revision, units, header]
}

fn files<'a>(pack: &'a Pack<'_>) -> impl Iterator<Item = Said<'a>> {
    let laser = pack.job.laser.as_ref().filter(|l| l.compensated);
    let burnt: BTreeSet<&str> =
        laser.iter().flat_map(|l| &l.sheets).flat_map(|s| s.files.iter().map(String::as_str)).collect();
    let drawings = pack.drawings.iter().map(move |(name, d)| Said {
        name,
        text: d.notes.join("\n"),
        unit_mm: d.unit_mm,
        section: None,
        holds: if burnt.contains(name) { Holds::BeamCentre } else { Holds::FinishedEdge },
    });
    let programs = pack.programs.iter().map(|((name, section), r)| Said {
        name,
        text: r.comments.iter().map(|(_, c)| c.as_str()).collect::<Vec<_>>().join("\n"),
        unit_mm: Some(if r.inches { MM_PER_INCH } else { 1.0 }),
        section: Some(*section),
        holds: Holds::ToolCentre,
    });
    drawings.chain(programs)
}

/// Which board each named file is for.
fn boards<'a>(pack: &'a Pack<'_>) -> BTreeMap<&'a str, &'a Board> {
    let job = &pack.job;
    let parts = job.parts.iter().flat_map(|p| p.files.iter().map(|f| (f, &p.board)));
    let sheets = job.sheets.iter().flat_map(|s| s.files.iter().map(|f| (f, &s.board)));
    let programs = job.programs.iter().map(|p| (&p.file, &p.board));
    let burnt = job.laser.iter().flat_map(|l| &l.sheets).flat_map(|s| s.files.iter().map(move |f| (f, &s.board)));
    let find = |name: &str| job.boards.iter().find(|b| b.name == name);
    parts
        .chain(sheets)
        .chain(programs)
        .chain(burnt)
        .filter_map(|(file, board)| Some((file.as_str(), find(board)?)))
        .collect()
}

/// The unit a comment of the form `units: mm` states.
fn stated_unit(text: &str) -> Option<f64> {
    let word = text.lines().find_map(|l| l.trim().strip_prefix("units:"))?;
    match word.trim() {
        "mm" => Some(1.0),
        "in" => Some(MM_PER_INCH),
        _ => None,
    }
}

/// Whether the comments name the cutter that the job gives the program; two cutters may have one diameter.
fn names_cutter(text: &str, cutter: &str) -> bool {
    let letters = |text: &str| text.chars().filter(char::is_ascii_alphanumeric).collect::<String>();
    // Files spell other letters in ways of their own.
    !cutter.is_ascii() || letters(text).contains(&format!("cutter{}", letters(cutter)))
}

/// Whether a line of the header names the board together with its mean thickness.
fn names_board(text: &str, board: &Board, unit_mm: f64) -> bool {
    let name: String = board.name.chars().filter(char::is_ascii_alphanumeric).collect();
    text.lines().filter(|line| line.trim_start().starts_with("board:")).any(|line| {
        let letters: String = line.chars().filter(char::is_ascii_alphanumeric).collect();
        let numbers = line.split(|c: char| !(c.is_ascii_digit() || c == '.')).filter_map(|w| w.parse::<f64>().ok());
        // Files spell other letters in ways of their own.
        let named = !board.name.is_ascii() || letters.contains(&name);
        named && numbers.map(|n| n * unit_mm).any(|mm| (mm - board.thickness_mm.mean).abs() <= THICKNESS)
    })
}

//! From the project file to the judged model: the part of the pipeline that `check`, `why` and `make` share.

use super::{disk, Trouble};
use crate::cli::{MockUpArgs, OtherBoard};
use crate::codes;
use crate::design::{self, Design, MockUpWish, Override};
use crate::diag::{self, FileId, Finding, Severity, Texts};
use crate::fit::load::{self, LoadReport};
use crate::fit::{self, Ledger};
use crate::nest;
use crate::parts::{self, Model};
use crate::project;
use crate::project::Written;
use crate::shop::{self, Shop};
use crate::units::{parse_length, Unit};
use std::path::{Path, PathBuf};

/// How many files may be based on each other.
const LONGEST_CHAIN: usize = 8;

/// What could be derived, and everything found on the way.
#[derive(Debug, Default)]
pub struct Derived {
    /// The maker's files.
    pub texts: Texts,
    /// The settled design.
    pub design: Option<Design>,
    /// The model.
    pub model: Option<Model>,
    /// The gaps, judged.
    pub ledger: Option<Ledger>,
    /// Mass, strength, restraint.
    pub load: Option<LoadReport>,
    /// All findings, overrides applied.
    pub findings: Vec<Finding>,
}

impl Derived {
    /// Whether anything found blocks the pack.
    #[must_use]
    pub fn has_stop(&self) -> bool {
        diag::has_stop(&self.findings)
    }
}

/// Reads a project and all it needs, and derives as far as the findings allow.
///
/// # Errors
/// When a file cannot be read.
pub fn derive(path: &Path, profiles: Option<&Path>) -> Result<Derived, Trouble> {
    derive_with(path, profiles, Change::None)
}

/// What is taken in place of what the project says.
#[derive(Clone, Copy)]
pub(super) enum Change<'a> {
    /// Nothing.
    None,
    /// Other thicknesses for some of its boards.
    Boards(&'a [OtherBoard]),
    /// Card for all of it, and a scale.
    MockUp(&'a MockUpArgs),
}

/// The same with a change.
pub(super) fn derive_with(path: &Path, profiles: Option<&Path>, change: Change<'_>) -> Result<Derived, Trouble> {
    let mut derived = Derived::default();
    let files = read_chain(&mut derived.texts, path)?;
    let folder = path.parent().map_or_else(PathBuf::new, Path::to_path_buf);
    let shop = load_shop(&mut derived.texts, profiles, &folder, &mut derived.findings)?;
    let Derived { texts, design, model, ledger, load, findings } = &mut derived;
    let written = project::read(texts, &files).into(findings);
    if let (Some(mut written), Some(shop)) = (written, shop) {
        read_offcuts(&mut written, texts, findings)?;
        read_drawings(&mut written, texts, findings)?;
        if let Change::Boards(boards) = change {
            for board in boards {
                rethick(&mut written, board)?;
            }
        }
        *design = design::settle(&written, &shop, texts).into(findings);
        findings.extend(design::idle_overrides(&written, &codes::all()));
        if let (Change::MockUp(args), Some(real)) = (&change, &design) {
            let wish = wish(args, written.units)?;
            // What was found about the plywood's boards does not concern the card.
            findings.retain(|f| !design::about_boards(f.code));
            let gauges = if args.only.is_some() { gauges(real, findings) } else { Some(real.clone()) };
            *design = gauges.and_then(|real| design::mock_up(&real, &shop, &wish).into(findings));
        }
    }
    if let Some(design) = design {
        *model = parts::build(design).into(findings);
        if let Some(model) = model {
            *ledger = fit::check(design, model).into(findings);
            if design.mock_up.is_none() {
                *load = load::judge(design, model, nest::lay_floor).into(findings);
                if let (Some(ledger), Some(load)) = (ledger, &load) {
                    findings.extend(ledger.add(&load.gaps));
                }
            }
        }
        override_stops(findings, &design.overrides);
    }
    Ok(derived)
}

/// Only the doubtful shapes of a design, as gauges.
fn gauges(real: &Design, findings: &mut Vec<Finding>) -> Option<Design> {
    let mut aside = Vec::new();
    let model = parts::build(real).into(&mut aside)?;
    let panels = parts::envelope(real, &model).into(findings)?;
    Some(real.only_panels(panels))
}

/// What the command line asks of a mock-up.
fn wish(args: &MockUpArgs, units: Unit) -> Result<MockUpWish, Trouble> {
    let reading = |text: &str| {
        parse_length(text.trim(), Some(units)).map_err(|e| {
            Trouble::new(format!("`--thickness {text}`: {e}"), "write readings with commas between: `--thickness 3.8,3.9`")
        })
    };
    let readings = args.thickness.iter().flat_map(|all| all.split(',')).map(reading).collect::<Result<Vec<_>, _>>()?;
    Ok(MockUpWish {
        board: args.board.clone(),
        readings,
        scale: args.scale.0,
        machine: args.machine.clone(),
        slot_share: args.slot,
    })
}

/// Reads the lists of offcuts that boards name, each by its path from the file that names it.
fn read_offcuts(written: &mut project::Project, texts: &mut Texts, findings: &mut Vec<Finding>) -> Result<(), Trouble> {
    for board in 0..written.boards.len() {
        let Some(Written { value: name, span }) = written.boards[board].offcuts.clone() else { continue };
        let path = PathBuf::from(texts.name(span.file)).with_file_name(&name);
        let file = disk::read_text(texts, &path).map_err(|trouble| trouble.because("a board names it as its offcuts"))?;
        findings.extend(project::take_offcuts(written, board, texts, file));
    }
    Ok(())
}

/// Puts another thickness in place of a board's readings, as measured all over.
fn rethick(written: &mut project::Project, board: &OtherBoard) -> Result<(), Trouble> {
    let thickness = parse_length(&board.thickness, Some(written.units)).map_err(|e| {
        Trouble::new(format!("`--with {}={}`: {e}", board.name, board.thickness), "write it as `carcass=17.2`")
    })?;
    let known: Vec<String> = written.boards.iter().map(|b| b.name.value.clone()).collect();
    let Some(text) = written.boards.iter_mut().find(|b| b.name.value == board.name) else {
        return Err(Trouble::new(
            format!("the project has no board called {}", board.name),
            format!("its boards are {}", known.join(", ")),
        ));
    };
    text.readings = vec![Written { value: thickness, span: text.span }; design::READINGS_WANTED];
    Ok(())
}

/// Reads the drawings that a project names, each from beside the file that names it.
fn read_drawings(written: &mut project::Project, texts: &mut Texts, findings: &mut Vec<Finding>) -> Result<(), Trouble> {
    for drawing in written.drawings() {
        let by = PathBuf::from(texts.name(drawing.file.span.file));
        let path = by.with_file_name(&drawing.file.value);
        let said_by = format!("{} takes an outline from {}", by.display(), path.display());
        let file = disk::read_text(texts, &path).map_err(|trouble| trouble.because(&said_by))?;
        findings.extend(project::import(drawing, texts.text(file)));
    }
    Ok(())
}

/// The project file, the file it is based on, and so on; each named from the folder of the file that names it.
fn read_chain(texts: &mut Texts, path: &Path) -> Result<Vec<FileId>, Trouble> {
    let mut chain = vec![path.to_path_buf()];
    let mut files = vec![disk::read_text(texts, path)?];
    while let (Some(last), Some(file)) = (chain.last(), files.last()) {
        let Some(base) = project::based_on(texts, *file) else { break };
        let next = last.with_file_name(&base);
        let said_by = format!("{} is based on {}", last.display(), next.display());
        if chain.iter().any(|seen| disk::same_file(seen, &next)) {
            return Err(Trouble::new(
                format!("{said_by}, which closes a circle of `based_on`"),
                "take `based_on` out of the file that everything else builds on",
            ));
        }
        if chain.len() == LONGEST_CHAIN {
            return Err(Trouble::new(
                format!("{said_by}, and so on for more than {LONGEST_CHAIN} files"),
                "write a project that needs fewer",
            ));
        }
        files.push(disk::read_text(texts, &next).map_err(|trouble| trouble.because(&said_by))?);
        chain.push(next);
    }
    Ok(files)
}

/// Built-in profiles, then the user's folder, then those beside the project.
pub(super) fn load_shop(
    texts: &mut Texts,
    profiles: Option<&Path>,
    beside: &Path,
    findings: &mut Vec<Finding>,
) -> Result<Option<Shop>, Trouble> {
    let mut extra = Vec::new();
    let own = beside.join("profiles");
    let folders = profiles.map(|p| (p, true)).into_iter().chain([(own.as_path(), false)]);
    for (folder, asked_for) in folders {
        for file in disk::profile_files(folder, asked_for)? {
            extra.push(disk::read_text(texts, &file)?);
        }
    }
    Ok(shop::load(texts, &extra).into(findings))
}

/// Lowers each stopper that may be overridden and was, with a reason, to a caution that carries the reason.
pub(super) fn override_stops(findings: &mut [Finding], overrides: &[Override]) {
    for finding in findings.iter_mut().filter(|f| f.severity == Severity::Stop && f.code.overridable) {
        let reason = overrides.iter().find(|o| {
            o.code == finding.code.id && o.part.as_ref().is_none_or(|part| finding.parts.iter().any(|p| p == part))
        });
        if let Some(Override { reason, .. }) = reason {
            finding.severity = Severity::Caution;
            finding.message = format!("{} (overridden: {reason})", finding.message);
        }
    }
}

//! `make`: the whole pipeline, from project file to a proved pack.

use super::derive::override_stops;
use super::progress::Bar;
use super::prove::Proved;
use super::screen::{counted, tally, Screen};
use super::{coupon, derive, disk, Derived, Outcome, Trouble};
use crate::cli::{Common, MakeArgs};
use crate::design::Design;
use crate::diag::{render, Finding, Severity, Texts};
use crate::fit::Ledger;
use crate::flat::{self, FlatParts};
use crate::nest::{self, Layout, Options};
use crate::parts::Model;
use crate::toolpath::{self, Program};
use crate::units::decimal;
use crate::write::{self, book, Files, Job, Names};
use serde_json::json;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::thread;

pub(super) fn run(args: &MakeArgs, common: &Common, screen: &Screen) -> Result<Outcome, Trouble> {
    let out = args.out.clone().unwrap_or_else(|| default_out(&args.project));
    let mut derived = derive(&args.project, common.profiles.as_deref())?;
    let (Some(design), Some(model), Some(ledger)) = (&derived.design, &derived.model, &derived.ledger) else {
        return refused(&derived, screen, &out);
    };
    let cut = plan_cuts(args, design, model, &mut derived.findings, screen);
    override_stops(&mut derived.findings, &design.overrides);
    let (Some(cut), false) = (cut, derived.findings.iter().any(|f| f.severity == Severity::Stop)) else {
        return refused(&derived, screen, &out);
    };
    let files = write_all(design, model, ledger, &cut, &mut derived.findings, &derived.texts);
    let mut verdict = None;
    let mut books = Vec::new();
    let released = disk::release(&out, &files, |on_disk| {
        let found = Proved::of(on_disk.clone());
        let passed = found.passed();
        let mut more = found.files();
        if passed {
            // The book is written last: it tells what the proof said of the files.
            let book = book(design, model, ledger, &derived, &cut, &found, files.keys().chain(more.keys()));
            books.extend(book.keys().cloned());
            more.extend(book);
        }
        verdict = Some(found);
        (passed, more)
    })?;
    if !released {
        derived.findings.extend(verdict.into_iter().flat_map(Proved::findings));
        return refused(&derived, screen, &out);
    }
    if screen.json {
        return Screen::data(&json!({
            "pack": out.display().to_string(),
            "files": files.keys().chain(&books).collect::<Vec<_>>(),
            "revision": verdict.as_ref().map(|v| v.pack.revision.clone()),
            "findings": render::json(&derived.findings, &derived.texts),
        }));
    }
    screen.findings(&derived.findings, &derived.texts);
    Screen::print(&summary(design, &cut, &derived.findings, verdict.as_ref(), &files, &out))
}

/// All files of the pack but the proof, with a coupon for each board.
fn write_all(
    design: &Design,
    model: &Model,
    ledger: &Ledger,
    cut: &Cut,
    findings: &mut Vec<Finding>,
    texts: &Texts,
) -> Files {
    let Cut { parts, layout, programs } = cut;
    let names = Names::of(&Job { design, model, ledger, parts, layout, programs, findings, texts });
    // The coupons come first: what they lack is told in the pack.
    let coupons = coupon::make(design, layout, &names, texts, findings);
    let mut files = write::pack(&Job { design, model, ledger, parts, layout, programs, findings, texts });
    files.extend(coupons);
    files
}

/// The build book with the proof's verdict.
fn book<'f>(
    design: &Design,
    model: &Model,
    ledger: &Ledger,
    derived: &Derived,
    cut: &Cut,
    proved: &Proved,
    files: impl Iterator<Item = &'f String>,
) -> Files {
    let Cut { parts, layout, programs } = cut;
    let Derived { load, findings, texts, .. } = derived;
    let job = Job { design, model, ledger, parts, layout, programs, findings, texts };
    let rules = proved.pack.rules.iter().map(|r| (r.rule.to_owned(), r.checked, r.passed)).collect();
    let proof = book::Proved { passed: proved.passed(), rules };
    let files: Vec<String> = files.cloned().collect();
    book::write(&job, &book::Around { load: load.as_ref(), proof: &proof, files: &files })
}

/// What the model was turned into.
struct Cut {
    parts: FlatParts,
    layout: Layout,
    programs: Vec<Program>,
}

/// Flat parts, layout and programs, as far as the findings allow.
fn plan_cuts(args: &MakeArgs, design: &Design, model: &Model, findings: &mut Vec<Finding>, screen: &Screen) -> Option<Cut> {
    let parts = flat::flatten(design, model).into(findings)?;
    if findings.iter().any(|f| f.severity == Severity::Stop) {
        return None;
    }
    let bar = Bar::new(screen);
    let options = Options {
        effort: args.effort.into(),
        seed: args.seed,
        threads: if args.threads == 0 { thread::available_parallelism().map_or(1, usize::from) } else { args.threads },
        watch: Some(&bar),
        ..Options::default()
    };
    let layout = nest::lay_out(design, &parts, &options).into(findings);
    bar.done();
    let layout = layout?;
    let programs = toolpath::plan(design, &parts, &layout).into(findings)?;
    Some(Cut { parts, layout, programs })
}

/// Says why there is no pack; exit code 1.
fn refused(derived: &Derived, screen: &Screen, out: &Path) -> Result<Outcome, Trouble> {
    if screen.json {
        Screen::data(&json!({ "pack": null, "findings": render::json(&derived.findings, &derived.texts) }))?;
    } else {
        screen.findings(&derived.findings, &derived.texts);
        screen.say(&format!("No pack was written to {}: {}.", out.display(), tally(&derived.findings)));
    }
    Ok(Outcome::Stopped)
}

fn default_out(project: &Path) -> PathBuf {
    let stem = project.file_stem().map_or_else(|| "project".into(), |s| s.to_string_lossy().into_owned());
    project.with_file_name(format!("{stem}-pack"))
}

/// The last lines a maker reads: what lies in the pack, how many sheets, how long, what to mind.
fn summary(design: &Design, cut: &Cut, findings: &[Finding], verdict: Option<&Proved>, files: &Files, out: &Path) -> String {
    let copies: usize = cut.parts.parts.iter().map(|p| p.panels.len()).sum();
    let mut text = format!("{}\n{}, {copies} in all\n", design.title, counted(cut.parts.parts.len(), "different part"));
    for (i, board) in design.boards.iter().enumerate() {
        let sheets: Vec<_> = cut.layout.sheets.iter().filter(|s| s.board.0 == i).collect();
        let Some(first) = sheets.first() else { continue };
        let used = sheets.iter().map(|s| s.used_ratio).sum::<f64>() / sheets.len() as f64 * 100.0;
        let bound = cut.layout.bounds.iter().find(|b| b.board.0 == i);
        let proved = bound.map_or_else(String::new, |b| {
            if b.sheets as usize == sheets.len() {
                ", no layout uses fewer".to_owned()
            } else {
                format!(", at least {} are needed", b.sheets)
            }
        });
        let _ = writeln!(
            text,
            "{}: {} of {} x {} mm ({used:.0} % used{proved})",
            board.name,
            counted(sheets.len(), "sheet"),
            first.length,
            first.width,
        );
    }
    let minutes = cut.programs.iter().map(|p| p.run_s).sum::<f64>() / 60.0;
    let _ = writeln!(text, "{}, about {} min of cutting", counted(cut.programs.len(), "program"), decimal(minutes, 0));
    if let Some(v) = verdict {
        let v = &v.pack;
        let checked: usize = v.rules.iter().map(|r| r.checked).sum();
        let _ = writeln!(text, "proved: {} rules, {checked} checks, revision {}", v.rules.len(), v.revision);
    }
    let coupons = coupon::folders(files);
    if !coupons.is_empty() {
        let _ = writeln!(text, "coupon first: {}", coupons.iter().copied().collect::<Vec<_>>().join(", "));
    }
    let proofs = 2 * (1 + coupons.len());
    let _ = writeln!(text, "{} files in {}; {}", files.len() + proofs, out.display(), tally(findings));
    text.push_str(CAUTION);
    text
}

/// The usual cautions, where the cutting begins.
const CAUTION: &str = "\
Before you cut: run each program once in the air; stay with the machine; mind dust, eyes and ears. Before you bolt down: look
underneath first, use the vehicle's own anchor points and its handbook, keep within its payload. Nothing here is crash tested or an
approval; local rules and licensed practice decide.
";

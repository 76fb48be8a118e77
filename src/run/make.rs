//! `make`: the whole pipeline, from project file to a proved pack.

use super::derive::override_stops;
use super::progress::Bar;
use super::prove::Proved;
use super::screen::{counted, tally, Screen};
use super::{again, coupon, derive, disk, sawn, Derived, Outcome, Trouble};
use crate::cli::{Common, EffortArg, MakeArgs, ProcessArg};
use crate::design::{Design, ProcessChoice};
use crate::diag::{self, render, Finding, Texts};
use crate::fit::load::LoadReport;
use crate::fit::Ledger;
use crate::flat::{self, FlatParts};
use crate::nest::{self, BoardBound, Layout, Options, SawPlan, Sheet};
use crate::parts::Model;
use crate::toolpath::{self, BeamSheet, Program};
use crate::units::{decimal, Mm};
use crate::write::{self, book, Files, Job, Names};
use serde_json::json;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::thread;

pub(super) fn run(args: &MakeArgs, common: &Common, screen: &Screen) -> Result<Outcome, Trouble> {
    let usual = if args.only.is_empty() { "pack" } else { "again" };
    let out = args.out.clone().unwrap_or_else(|| default_out(&args.project, usual));
    pack(args, derive(&args.project, common.profiles.as_deref())?, &out, screen)
}

/// Makes the pack of what was derived.
pub(super) fn pack(args: &MakeArgs, mut derived: Derived, out: &Path, screen: &Screen) -> Result<Outcome, Trouble> {
    let (Some(design), Some(model), Some(ledger)) = (&derived.design, &derived.model, &derived.ledger) else {
        return refused(&derived, screen, out);
    };
    let whole = flat::flatten(design, model).into(&mut derived.findings);
    override_stops(&mut derived.findings, &design.overrides);
    // For a spoiled part alone.
    let again = match &whole {
        Some(all) if !args.only.is_empty() => Some(again::only(args, design, model, all)?),
        _ => None,
    };
    let (design, model) = again.as_ref().map_or((design, model), |a| (&a.design, &a.model));
    let parts = again.as_ref().map(|a| &a.parts).or(whole.as_ref());
    let made = parts.filter(|_| !diag::has_stop(&derived.findings)).and_then(|parts| {
        let ready = Ready { design, model, ledger, parts, texts: &derived.texts, again: again.is_some() };
        let bar = if args.effort == EffortArg::Exhaustive { Bar::with_key(screen) } else { Bar::new(screen) };
        let made = match args.process {
            ProcessArg::Machine => by_machine(&ready, &options(args, &bar), &mut derived.findings),
            ProcessArg::Saw => sawn::make(&ready, &options(args, &bar), &mut derived.findings),
        };
        bar.done();
        let copies: usize = parts.parts.iter().map(|p| p.panels.len()).sum();
        let head = format!("{}\n{}, {copies} in all\n", design.title, counted(parts.parts.len(), "different part"));
        let head =
            if bar.was_ended() { head + "The search was ended by hand: another run may end elsewhere.\n" } else { head };
        made.map(|made| Made { lines: head + &made.lines, ..made })
    });
    override_stops(&mut derived.findings, &design.overrides);
    let (Some(made), Some(parts), false) = (made, parts, diag::has_stop(&derived.findings)) else {
        return refused(&derived, screen, out);
    };
    let Made { files, layout, programs, beams, saw, lines } = &made;
    let Derived { findings, texts, load, .. } = &derived;
    let job = Job { design, model, ledger, parts, layout, programs, beams, findings, texts };
    let mut verdict = None;
    let mut books = Vec::new();
    let released = disk::release(out, files, |on_disk| {
        let found = Proved::of(on_disk.clone());
        let passed = found.passed();
        let mut more = found.files();
        if passed && again.is_none() {
            // The book is written last: it tells what the proof said of the files.
            let book = book(&job, load.as_ref(), saw.as_ref(), &found, files.keys().chain(more.keys()));
            books.extend(book.keys().cloned());
            more.extend(book);
        }
        verdict = Some(found);
        (passed, more)
    })?;
    if !released {
        derived.findings.extend(verdict.into_iter().flat_map(Proved::findings));
        return refused(&derived, screen, out);
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
    Screen::print(&summary(lines, &derived.findings, verdict.as_ref(), files, books.len(), out))
}

/// What a pack is made from.
pub(super) struct Ready<'a> {
    pub(super) design: &'a Design,
    pub(super) model: &'a Model,
    pub(super) ledger: &'a Ledger,
    pub(super) parts: &'a FlatParts,
    pub(super) texts: &'a Texts,
    /// Whether these are spoiled parts once more, whose board has been looked at already.
    pub(super) again: bool,
}

/// A pack that is not yet on the disk: all its files but the proof and the book, what they were made from, and what to say of it.
pub(super) struct Made {
    pub(super) files: Files,
    pub(super) layout: Layout,
    pub(super) programs: Vec<Program>,
    pub(super) beams: Vec<BeamSheet>,
    pub(super) saw: Option<SawPlan>,
    pub(super) lines: String,
}

/// The build book with the proof's verdict.
fn book<'f>(
    job: &Job<'_>,
    load: Option<&LoadReport>,
    saw: Option<&SawPlan>,
    proved: &Proved,
    files: impl Iterator<Item = &'f String>,
) -> Files {
    let rules = proved.pack.rules.iter().map(|r| (r.rule.to_owned(), r.checked, r.passed)).collect();
    let proof = book::Proved { passed: proved.passed(), revision: proved.pack.revision.clone(), rules };
    let files: Vec<String> = files.cloned().collect();
    book::write(job, &book::Around { load, saw, proof: &proof, files: &files })
}

fn options<'a>(args: &MakeArgs, bar: &'a Bar) -> Options<'a> {
    Options {
        effort: args.effort.into(),
        seed: args.seed,
        threads: if args.threads == 0 { thread::available_parallelism().map_or(1, usize::from) } else { args.threads },
        watch: Some(bar),
    }
}

/// Layout and programs; once more without parts in openings where the programs find that one of those would come loose.
fn laid_and_cut(
    design: &Design,
    parts: &FlatParts,
    options: &Options<'_>,
    findings: &mut Vec<Finding>,
) -> Option<(Layout, Vec<Program>)> {
    let done = |design: &Design, found: &mut Vec<Finding>| {
        let layout = nest::lay_out(design, parts, options).into(found)?;
        let programs = toolpath::plan(design, parts, &layout).into(found)?;
        Some((layout, programs))
    };
    let mut found = Vec::new();
    let made = done(design, &mut found);
    let is_loose = |f: &Finding| f.code == toolpath::codes::INNER_LOOSE;
    let loose: Vec<Finding> = found.iter().filter(|f| is_loose(f)).cloned().collect();
    if !loose.is_empty() {
        let process = ProcessChoice { parts_in_openings: false, ..design.process.clone() };
        let mut plainly = Vec::new();
        if let Some(made) = done(&Design { process, ..design.clone() }, &mut plainly) {
            findings.extend(plainly);
            findings.extend(loose.into_iter().map(|f| {
                let told = format!("no part lies in an opening of another, for {} there", f.message);
                let note = Finding::note(f.code, told).remedy("hold the sheet by a skin, or leave it so");
                f.parts.iter().fold(note, Finding::part)
            }));
            return Some(made);
        }
    }
    findings.extend(found);
    made
}

/// Layout, programs and all files for the project's machine, with a coupon for each board.
fn by_machine(ready: &Ready<'_>, options: &Options<'_>, findings: &mut Vec<Finding>) -> Option<Made> {
    let Ready { design, model, ledger, parts, texts, again } = *ready;
    let (layout, programs) = laid_and_cut(design, parts, options, findings)?;
    let beams = toolpath::beams(design, parts, &layout).into(findings)?;
    override_stops(findings, &design.overrides);
    let (cut, burnt) = (programs.as_slice(), beams.as_slice());
    let names =
        Names::of(&Job { design, model, ledger, parts, layout: &layout, programs: cut, beams: burnt, findings, texts });
    // The coupons come first: what they lack is told in the pack.
    let coupons = if again { Files::new() } else { coupon::make(design, &layout, &names, texts, findings) };
    let job = Job { design, model, ledger, parts, layout: &layout, programs: cut, beams: burnt, findings, texts };
    let mut files = write::pack(&job);
    files.extend(coupons);
    let mut lines = sheets_used(design, &layout.sheets, &layout.bounds);
    let inner: usize = layout.sheets.iter().map(|s| nest::inside(s, &parts.parts).iter().flatten().count()).sum();
    if inner > 0 {
        let _ = writeln!(lines, "{} in openings of others, cut out before them", counted(inner, "part"));
    }
    let minutes = |s: f64| decimal((s / 60.0).ceil(), 0);
    if beams.is_empty() {
        let time = decimal(programs.iter().map(|p| p.run_s).sum::<f64>() / 60.0, 0);
        let _ = writeln!(lines, "{}, about {time} min of cutting", counted(programs.len(), "program"));
    } else {
        let time = minutes(beams.iter().map(|b| b.run_s).sum());
        let _ = writeln!(lines, "{} for the laser, {time} min at full feed at least", counted(beams.len(), "sheet"));
        lines.push_str(WITH_A_LASER);
    }
    Some(Made { files, layout, programs, beams, saw: None, lines })
}

/// A line for each board: how many sheets, how full, how near to the best there can be, and what to keep.
pub(super) fn sheets_used(design: &Design, all: &[Sheet], bounds: &[BoardBound]) -> String {
    let mut text = String::new();
    for (i, board) in design.boards.iter().enumerate() {
        let sheets: Vec<&Sheet> = all.iter().filter(|s| s.board.0 == i).collect();
        if sheets.is_empty() {
            continue;
        }
        let used = sheets.iter().map(|s| s.used_ratio).sum::<f64>() / sheets.len() as f64 * 100.0;
        let proved = bounds.iter().find(|b| b.board.0 == i).map_or_else(String::new, |b| {
            if b.sheets_at_least as usize >= sheets.len() {
                ", no layout uses fewer".to_owned()
            } else {
                format!(", proved only that {} are needed", b.sheets_at_least)
            }
        });
        let mut sizes: Vec<(Mm, Mm, usize)> = Vec::new();
        for s in &sheets {
            match sizes.iter_mut().find(|(l, w, _)| (*l, *w) == (s.length, s.width)) {
                Some((_, _, n)) => *n += 1,
                None => sizes.push((s.length, s.width, 1)),
            }
        }
        let sizes: Vec<String> = sizes.iter().map(|(l, w, n)| format!("{} of {l} x {w} mm", counted(*n, "sheet"))).collect();
        let offcut = sheets.iter().filter_map(|s| s.offcut).max_by(|a, b| a.area().total_cmp(&b.area()));
        let keep = offcut.map_or_else(String::new, |r| {
            format!("; keep {} x {} mm", decimal(r.width().floor(), 0), decimal(r.height().floor(), 0))
        });
        let _ = writeln!(text, "{}: {} ({used:.0} % used{proved}){keep}", board.name, sizes.join(", "));
    }
    text
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

pub(super) fn default_out(project: &Path, what: &str) -> PathBuf {
    let stem = project.file_stem().map_or_else(|| "project".into(), |s| s.to_string_lossy().into_owned());
    project.with_file_name(format!("{stem}-{what}"))
}

/// The last lines a maker reads: what lies in the pack, how many sheets, how long, what to mind.
fn summary(lines: &str, findings: &[Finding], verdict: Option<&Proved>, files: &Files, books: usize, out: &Path) -> String {
    let mut text = lines.to_owned();
    if let Some(v) = verdict {
        let v = &v.pack;
        let checked: usize = v.rules.iter().map(|r| r.checked).sum();
        let _ = writeln!(text, "proved: {} rules, {checked} checks, revision {}", v.rules.len(), v.revision);
    }
    let coupons = coupon::folders(files);
    if !coupons.is_empty() {
        let _ = writeln!(text, "coupon first: {}", coupons.iter().copied().collect::<Vec<_>>().join(", "));
    }
    let beside = 2 * (1 + coupons.len()) + books;
    let _ = writeln!(text, "{} files in {}; {}", files.len() + beside, out.display(), tally(findings));
    text.push_str(CAUTION);
    text
}

/// What is said where a laser begins.
const WITH_A_LASER: &str = "\
Never leave a running laser; water or an extinguisher at hand; no film-faced or plastic-coated board.
";

/// The usual cautions, where the cutting begins.
const CAUTION: &str = "\
Before you cut: run each program once in the air; stay with the machine; mind dust, eyes and ears. Before you bolt down: look
underneath first, use the vehicle's own anchor points and its handbook, keep within its payload. Nothing here is crash tested or an
approval; local rules and licensed practice decide.
";

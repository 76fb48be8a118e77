//! From texts to a [`Project`].

use super::table::{unique, Desk, Table};
use super::tree::{self, Entry, Node, Value};
use super::{additions, bay, carcass, codes, notes, panel, shop, vehicle, Project};
use crate::diag::{Checked, FileId, Finding, Span, Texts};
use crate::units::Unit;

/// The version of the file's form that this program reads.
const FORMAT: f64 = 1.0;

/// Reads a project: `files[0]` is the main file, each further one the file the one before it is based on.
///
/// A later layer's keys override: tables by key, lists of named tables by name, everything else whole.
#[must_use]
pub fn read(texts: &Texts, files: &[FileId]) -> Checked<Project> {
    let mut desk = Desk::default();
    let mut whole: Option<Node> = None;
    let mut broken = files.is_empty();
    for (index, &file) in files.iter().enumerate().rev() {
        match tree::parse(texts.text(file), file) {
            Ok(mut root) => {
                broken |= !head(&mut desk, &mut root, file, index + 1 < files.len());
                match &mut whole {
                    Some(base) => tree::merge(base, root),
                    None => whole = Some(root),
                }
            }
            Err(errors) => {
                broken = true;
                for (message, span) in errors {
                    desk.report(
                        Finding::stop(codes::FILE_SYNTAX, format!("the file cannot be read here: {message}"))
                            .at(span)
                            .remedy("write `key = value`, texts between quotes, lists between square brackets"),
                    );
                }
            }
        }
    }
    let main = files.first().and_then(|file| desk.units.get(file)).copied();
    let span = files.first().map(|file| Span { file: *file, start: 0, end: texts.text(*file).len() });
    // After a syntax error the rest would only repeat it; after a missing unit the other problems are still worth showing.
    let project = match (&whole, span) {
        (Some(root), Some(span)) if !desk.findings.borrow().iter().any(|f| f.code == codes::FILE_SYNTAX) => {
            Table::open(&desk, "", root).map(|table| project(table, main.unwrap_or(Unit::Mm), span))
        }
        _ => None,
    };
    Checked { value: project.filter(|_| !broken), findings: desk.findings.into_inner() }
}

/// The name of the file that `file` says it is based on; `None` when it names none or cannot be read.
#[must_use]
pub fn based_on(texts: &Texts, file: FileId) -> Option<String> {
    let root = tree::parse(texts.text(file), file).ok()?;
    let Value::Table(entries) = root.value else { return None };
    entries.into_iter().find(|entry| entry.key == "based_on").and_then(|entry| match entry.node.value {
        Value::Text(text) => Some(text),
        _ => None,
    })
}

/// Whether the head is in order. Takes `format`, `units` and `based_on` out of a file's root, since they speak of that file alone.
fn head(desk: &mut Desk, root: &mut Node, file: FileId, has_base: bool) -> bool {
    let start = Span { file, start: 0, end: 0 };
    let Value::Table(entries) = &mut root.value else { return false };
    let format = take(entries, "format");
    let units = take(entries, "units");
    let based_on = take(entries, "based_on");
    let format_fine =
        matches!(&format, Some(Entry { node: Node { value: Value::Number(Some(n)), .. }, .. }) if *n == FORMAT);
    if !format_fine {
        let message = if format.is_some() {
            "the file's format is not one this program reads"
        } else {
            "the file does not say its format"
        };
        desk.report(
            Finding::stop(codes::FORMAT_UNKNOWN, message)
                .at(format.map_or(start, |entry| entry.node.span))
                .limit("format 1")
                .remedy("write `format = 1` at the top of the file"),
        );
    }
    let unit = if let Some(entry) = &units {
        desk.word("`units`", &entry.node, &[("mm", Unit::Mm), ("in", Unit::Inch)]).map(|word| word.value)
    } else {
        desk.report(
            Finding::stop(codes::UNIT_NOT_DECLARED, "the file does not say which unit its bare figures are in")
                .at(start)
                .remedy("write `units = \"mm\"` or `units = \"in\"` at the top of the file"),
        );
        None
    };
    let base_fine = match &based_on {
        Some(entry) => match desk.text("`based_on`", &entry.node) {
            Some(name) if !has_base => {
                desk.report(
                    Finding::stop(
                        codes::BASE_MISSING,
                        format!("the file \"{}\" that this one is based on is not at hand", name.value),
                    )
                    .at(name.span)
                    .remedy("check its name; it is looked for beside this file"),
                );
                false
            }
            name => name.is_some(),
        },
        None => true,
    };
    if let Some(unit) = unit {
        desk.units.insert(file, unit);
    }
    format_fine && unit.is_some() && base_fine
}

fn take(entries: &mut Vec<Entry>, key: &str) -> Option<Entry> {
    entries.iter().position(|entry| entry.key == key).map(|at| entries.remove(at))
}

fn project(mut table: Table<'_>, units: Unit, span: Span) -> Project {
    let project = Project {
        title: table.text("title"),
        units,
        bay: table.table("bay").map(bay::read),
        vehicle: table.table("vehicle").map(vehicle::vehicle),
        prices: table.table("prices").map(vehicle::prices),
        boards: table.table("boards").map(|t| shop::boards(&t)).unwrap_or_default(),
        shop: table.table("shop").map(shop::shop).unwrap_or_default(),
        saw: table.table("saw").map(shop::saw).unwrap_or_default(),
        joints: table.table("joints").map(shop::joints).unwrap_or_default(),
        carcasses: table.tables("carcass").into_iter().enumerate().map(|(i, t)| carcass::read(t, i)).collect(),
        pull_outs: table.tables("pull_out").into_iter().enumerate().map(|(i, t)| additions::pull_out(t, i)).collect(),
        lips: table.tables("lip").into_iter().map(additions::lip).collect(),
        panels: table.tables("panel").into_iter().enumerate().map(|(i, t)| panel::read(t, i)).collect(),
        stows: table.tables("stow").into_iter().enumerate().map(|(i, t)| notes::stow(t, i)).collect(),
        together: table.tables("together").into_iter().map(notes::together).collect(),
        pins: table.table("pin").map(|t| notes::pins(&t)).unwrap_or_default(),
        overrides: table.tables("override").into_iter().map(notes::over_ride).collect(),
        rubs: table.tables("rubs").into_iter().map(notes::rub).collect(),
        span,
    };
    for key in ["format", "units", "based_on"] {
        table.get(key);
    }
    unique(table.desk, "carcass", project.carcasses.iter().map(|c| &c.name));
    unique(table.desk, "pull-out", project.pull_outs.iter().map(|p| &p.name));
    unique(table.desk, "panel", project.panels.iter().map(|p| &p.name));
    unique(table.desk, "stow", project.stows.iter().map(|s| &s.name));
    table.finish();
    project
}

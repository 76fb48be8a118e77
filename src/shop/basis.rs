//! Where a profile's values come from: a source for each of them, its own or shared.

use super::file::File;
use super::find::nearest;
use super::{codes, Basis};
use crate::diag::Finding;
use std::collections::BTreeMap;
use std::ops::Range;
use toml::de::{DeTable, DeValue};

/// What a value without a source says in its stead.
pub(super) const NO_SOURCE: &str = "no source given";

/// Sources of one file by the name its bases use.
pub(super) type Sources = BTreeMap<String, String>;

/// The table of sources that a file's bases may name by `@`.
pub(super) const SOURCES: &str = "sources";

/// Reads that table.
pub(super) fn sources(file: &File<'_>, root: &DeTable<'_>) -> Sources {
    let Some(value) = root.get(SOURCES) else { return Sources::new() };
    let mut all = Sources::new();
    let Some(table) = value.get_ref().as_table() else {
        let finding = Finding::stop(codes::WRONG_TYPE, "`sources` must be a table of texts").at(file.span(value.span()));
        file.add(finding.remedy("write `[sources]`"));
        return all;
    };
    for (key, value) in table {
        match value.get_ref().as_str() {
            Some(text) if !text.trim().is_empty() => {
                all.insert(key.get_ref().to_string(), text.to_owned());
            }
            _ => {
                let message = format!("`sources.{}` must be a text", key.get_ref());
                file.add(
                    Finding::stop(codes::WRONG_TYPE, message).at(file.span(value.span())).remedy("write where it is from"),
                );
            }
        }
    }
    all
}

/// The source of each value: its own, else the `rest` nearest to it. Of a profile that could not be read (`whole` is false) the
/// names of a table's values are only known if some of them were.
pub(super) fn basis(
    file: &File<'_>,
    table: &DeTable<'_>,
    what: &str,
    (keys, whole): (&[String], bool),
    sources: &Sources,
    at: &Range<usize>,
) -> Basis {
    let mut given: BTreeMap<String, (String, Range<usize>)> = BTreeMap::new();
    if let Some(value) = table.get("basis") {
        match value.get_ref().as_table() {
            Some(inner) => flatten(file, what, inner, "", sources, &mut given),
            None => file.add(
                Finding::stop(codes::WRONG_TYPE, format!("{what}: `basis` must be a table of texts"))
                    .at(file.span(value.span()))
                    .remedy("write `basis = { rest = \"where it is from\" }`"),
            ),
        }
    }
    for (key, (_, at)) in &given {
        let known = match key.strip_suffix("rest") {
            Some(prefix) if prefix.is_empty() || prefix.ends_with('.') => keys.iter().any(|k| k.starts_with(prefix)),
            _ => keys.contains(key),
        };
        let unread = |(table, _): (&str, &str)| !keys.iter().any(|k| k.starts_with(&format!("{table}.")));
        if !known && (whole || !key.rsplit_once('.').is_some_and(unread)) {
            let remedy = match nearest(key, keys.iter().map(String::as_str)).first() {
                Some(name) => format!("did you mean `{name}`?"),
                None => "take it out".to_owned(),
            };
            let message = format!("{what}: `basis.{key}` is about no value of this profile");
            file.add(Finding::stop(codes::UNKNOWN_KEY, message).at(file.span(at.clone())).remedy(remedy));
        }
    }
    let mut all = Basis::new();
    let mut without = Vec::new();
    for key in keys {
        let text = source_of(key, &given).unwrap_or_else(|| {
            without.push(format!("`{key}`"));
            NO_SOURCE.to_owned()
        });
        all.insert(key.clone(), text);
    }
    if !without.is_empty() {
        let message = format!("{what}: no source given for {}", without.join(", "));
        file.add(
            Finding::note(codes::NO_BASIS, message)
                .at(file.span(at.clone()))
                .remedy("add `basis = { rest = \"measured, say\" }`"),
        );
    }
    all
}

fn source_of(key: &str, given: &BTreeMap<String, (String, Range<usize>)>) -> Option<String> {
    if let Some((text, _)) = given.get(key) {
        return Some(text.clone());
    }
    let mut prefix = key;
    while let Some((shorter, _)) = prefix.rsplit_once('.') {
        if let Some((text, _)) = given.get(&format!("{shorter}.rest")) {
            return Some(text.clone());
        }
        prefix = shorter;
    }
    given.get("rest").map(|(text, _)| text.clone())
}

fn flatten(
    file: &File<'_>,
    what: &str,
    table: &DeTable<'_>,
    prefix: &str,
    sources: &Sources,
    given: &mut BTreeMap<String, (String, Range<usize>)>,
) {
    for (key, value) in table {
        let full = format!("{prefix}{}", key.get_ref());
        match value.get_ref() {
            DeValue::Table(inner) => flatten(file, what, inner, &format!("{full}."), sources, given),
            DeValue::String(text) if !text.trim().is_empty() => {
                let text = match text.strip_prefix('@') {
                    Some(name) => sources.get(name).cloned().unwrap_or_else(|| {
                        let near = nearest(name, sources.keys().map(String::as_str));
                        let remedy = near
                            .first()
                            .map_or_else(|| "add it to `[sources]`".to_owned(), |near| format!("did you mean `@{near}`?"));
                        let message =
                            format!("{what}: `basis.{full}` names the source `{name}`, which is not in `[sources]`");
                        file.add(
                            Finding::stop(codes::UNKNOWN_REFERENCE, message).at(file.span(value.span())).remedy(remedy),
                        );
                        NO_SOURCE.to_owned()
                    }),
                    None => text.to_string(),
                };
                given.insert(full, (text, key.span()));
            }
            _ => file.add(
                Finding::stop(codes::WRONG_TYPE, format!("{what}: `basis.{full}` must be a text"))
                    .at(file.span(value.span()))
                    .remedy("write where the value is from"),
            ),
        }
    }
}

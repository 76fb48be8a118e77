//! The shop in words and as data, for looking at.

pub use super::rows::Row;

use super::kinds::Profile;
use super::{find::nearest, Basis, Board, Cutter, Fastener, Latch, Machine, Shop, Slide, Washer};
use serde_json::{json, Value};
use std::fmt::Write as _;

/// A profile ready to be shown.
#[derive(Clone, Debug)]
pub struct Entry {
    /// `board`, `cutter`, `machine`, `slide`, `latch`, `fastener` or `washer`.
    pub kind: &'static str,
    /// Its id.
    pub id: String,
    /// In words.
    pub name: String,
    /// Its main sizes in one line.
    pub summary: String,
    /// All its values.
    pub rows: Vec<Row>,
    /// Where each value comes from, by the row's key.
    pub basis: Basis,
}

/// Every profile, kind by kind, each kind sorted by id, numbers by size.
#[must_use]
pub fn entries(shop: &Shop) -> Vec<Entry> {
    let mut all = Vec::new();
    add::<Board>(shop, &mut all);
    add::<Cutter>(shop, &mut all);
    add::<Machine>(shop, &mut all);
    add::<Slide>(shop, &mut all);
    add::<Latch>(shop, &mut all);
    add::<Fastener>(shop, &mut all);
    add::<Washer>(shop, &mut all);
    all
}

fn add<P: Profile>(shop: &Shop, all: &mut Vec<Entry>) {
    let mut shelf: Vec<(&String, &P)> = P::shelf(shop).iter().collect();
    shelf.sort_by_cached_key(|(id, _)| by_number(id));
    all.extend(shelf.into_iter().map(|(id, profile)| Entry {
        kind: P::KIND,
        id: id.clone(),
        name: profile.name().to_owned(),
        summary: profile.summary(),
        rows: profile.rows(),
        basis: profile.basis().clone(),
    }));
}

/// An id as letters and numbers in turn, so that `M8` comes before `M10`; numbers count in thousandths.
fn by_number(id: &str) -> Vec<(String, u64)> {
    let mut pieces = Vec::new();
    let mut rest = id;
    while !rest.is_empty() {
        let digits = rest.find(|c: char| c.is_ascii_digit()).unwrap_or(rest.len());
        let (letters, after) = rest.split_at(digits);
        let end = after.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(after.len());
        let (number, after) = after.split_at(end);
        let thousandths = number.trim_end_matches('.').parse::<f64>().map_or(0, |number| (number * 1000.0) as u64);
        pieces.push((letters.to_owned(), thousandths));
        rest = after;
    }
    pieces
}

/// The list of all profiles: kind, id and main sizes, one a line.
#[must_use]
pub fn list(shop: &Shop) -> String {
    let entries = entries(shop);
    let kind_width = entries.iter().map(|entry| entry.kind.len()).max().unwrap_or(0);
    let id_width = entries.iter().map(|entry| entry.id.len()).max().unwrap_or(0);
    let mut out = String::new();
    for entry in &entries {
        // Writing to a String cannot fail.
        let _ = writeln!(out, "{:kind_width$}  {:id_width$}  {}", entry.kind, entry.id, entry.summary);
    }
    out
}

/// The same list as data.
#[must_use]
pub fn list_json(shop: &Shop) -> Value {
    let short = |entry: &Entry| json!({ "kind": entry.kind, "id": entry.id, "name": entry.name, "summary": entry.summary });
    Value::Array(entries(shop).iter().map(short).collect())
}

/// The profiles of one id (a board and a machine may share one).
///
/// # Errors
/// The nearest ids, when there is none.
pub fn with_id(shop: &Shop, id: &str) -> Result<Vec<Entry>, Vec<String>> {
    let all = entries(shop);
    let near = nearest(id, all.iter().map(|entry| entry.id.as_str()));
    let found: Vec<Entry> = all.into_iter().filter(|entry| entry.id == id).collect();
    if found.is_empty() {
        return Err(near);
    }
    Ok(found)
}

/// Everything about one profile: each value with its unit and where it comes from.
#[must_use]
pub fn text(entry: &Entry) -> String {
    let mut out = format!("{} {}\n{}\n\n", entry.kind, entry.id, entry.name);
    let key_width = entry.rows.iter().map(|row| row.key.len()).max().unwrap_or(0);
    for row in &entry.rows {
        // Writing to a String cannot fail.
        let _ = writeln!(out, "{:key_width$}  {}", row.key, row.text);
        let _ = writeln!(out, "{:key_width$}    {}", "", source(entry, row));
    }
    out
}

/// The same as data.
#[must_use]
pub fn json(entry: &Entry) -> Value {
    let row = |row: &Row| json!({ "key": row.key, "value": row.value, "unit": row.unit, "basis": source(entry, row) });
    json!({
        "kind": entry.kind,
        "id": entry.id,
        "name": entry.name,
        "summary": entry.summary,
        "values": entry.rows.iter().map(row).collect::<Vec<_>>(),
    })
}

/// One profile as the text of a profile file, ready to be copied, changed and kept as the maker's own.
#[must_use]
pub fn file_text(entry: &Entry) -> String {
    let mut out = format!("[[{}]]\nid = {}\nname = {}\n", entry.kind, json!(entry.id), json!(entry.name));
    // A JSON number, text, truth value or list of them is written alike in TOML; writing to a String cannot fail.
    for row in &entry.rows {
        let _ = writeln!(out, "{} = {}", row.key, row.value);
    }
    for row in &entry.rows {
        let _ = writeln!(out, "basis.{} = {}", row.key, json!(source(entry, row)));
    }
    out
}

fn source<'a>(entry: &'a Entry, row: &Row) -> &'a str {
    entry.basis.get(&row.key).map_or("no source given", String::as_str)
}

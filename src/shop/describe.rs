//! The shop in words and as data, for looking at.

pub use super::rows::Row;

use super::kinds::Profile;
use super::{find::nearest, Basis, Board, Cutter, Fastener, Latch, Machine, Shop, Slide, Washer};
use serde_json::{json, Value};
use std::fmt::Write as _;

/// A profile ready to be shown.
#[derive(Clone, Debug)]
pub struct Card {
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

/// Every profile, kind by kind, each kind sorted by id.
#[must_use]
pub fn cards(shop: &Shop) -> Vec<Card> {
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

fn add<P: Profile>(shop: &Shop, all: &mut Vec<Card>) {
    all.extend(P::shelf(shop).iter().map(|(id, profile)| Card {
        kind: P::KIND,
        id: id.clone(),
        name: profile.name().to_owned(),
        summary: profile.summary(),
        rows: profile.rows(),
        basis: profile.basis().clone(),
    }));
}

/// The list of all profiles: kind, id and main sizes, one a line.
#[must_use]
pub fn list(shop: &Shop) -> String {
    let cards = cards(shop);
    let kind_width = cards.iter().map(|card| card.kind.len()).max().unwrap_or(0);
    let id_width = cards.iter().map(|card| card.id.len()).max().unwrap_or(0);
    cards.iter().map(|card| format!("{:kind_width$}  {:id_width$}  {}\n", card.kind, card.id, card.summary)).collect()
}

/// The same list as data.
#[must_use]
pub fn list_json(shop: &Shop) -> Value {
    let short = |card: &Card| json!({ "kind": card.kind, "id": card.id, "name": card.name, "summary": card.summary });
    Value::Array(cards(shop).iter().map(short).collect())
}

/// The profiles of one id (a board and a machine may share one).
///
/// # Errors
/// The nearest ids, when there is none.
pub fn with_id(shop: &Shop, id: &str) -> Result<Vec<Card>, Vec<String>> {
    let all = cards(shop);
    let near = nearest(id, all.iter().map(|card| card.id.as_str()));
    let found: Vec<Card> = all.into_iter().filter(|card| card.id == id).collect();
    if found.is_empty() {
        return Err(near);
    }
    Ok(found)
}

/// Everything about one profile: each value with its unit and where it comes from.
#[must_use]
pub fn text(card: &Card) -> String {
    let mut out = format!("{} {}\n{}\n\n", card.kind, card.id, card.name);
    let key_width = card.rows.iter().map(|row| row.key.len()).max().unwrap_or(0);
    for row in &card.rows {
        // Writing to a String cannot fail.
        let _ = writeln!(out, "{:key_width$}  {}", row.key, row.text);
        let _ = writeln!(out, "{:key_width$}    {}", "", source(card, row));
    }
    out
}

/// The same as data.
#[must_use]
pub fn json(card: &Card) -> Value {
    let row = |row: &Row| json!({ "key": row.key, "value": row.value, "unit": row.unit, "basis": source(card, row) });
    json!({
        "kind": card.kind,
        "id": card.id,
        "name": card.name,
        "summary": card.summary,
        "values": card.rows.iter().map(row).collect::<Vec<_>>(),
    })
}

fn source<'a>(card: &'a Card, row: &Row) -> &'a str {
    card.basis.get(&row.key).map_or("no source given", String::as_str)
}

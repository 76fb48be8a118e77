//! `[[stow]]`, `[pin]` and `[[override]]`: what is carried, what is fixed, what is overridden.

use super::table::Table;
use super::tree::Value;
use super::{Length, Text, Written};
use crate::diag::Span;
use crate::units::Mm;

/// `[[stow]]`.
#[derive(Clone, Debug)]
pub struct Stow {
    /// `name`.
    pub name: Text,
    /// `size`: length, width, height.
    pub size: Option<Written<[Mm; 3]>>,
    /// `mass` in kg.
    pub mass_kg: Option<Written<f64>>,
    /// `in`: where it goes.
    pub place: Option<Text>,
    /// `quantity`.
    pub quantity: Option<Written<u32>>,
    /// `this_way_up`: its height must stay its height.
    pub this_way_up: Option<Written<bool>>,
    /// `air` it needs all round and above.
    pub air: Option<Length>,
    /// `stackable`: others of its kind may stand on it.
    pub stackable: Option<Written<bool>>,
    /// Where it is written.
    pub span: Span,
}

/// One line of `[pin]`: a derived size's name and the maker's figure.
#[derive(Clone, Debug)]
pub struct Pin {
    /// The size's name.
    pub name: Text,
    /// The figure.
    pub value: Length,
}

/// One of `rubs = [{ where, by, had }]`: what a try in card found.
#[derive(Clone, Debug)]
pub struct Rub {
    /// `where`: words of a gap's name.
    pub place: Option<Text>,
    /// `by`: how far it was too much.
    pub by: Option<Length>,
    /// `had`: the air that the tried design had there.
    pub had: Option<Length>,
    /// Where it is written.
    pub span: Span,
}

/// `[[together]]`: parts to be cut beside each other from one sheet.
#[derive(Clone, Debug)]
pub struct Together {
    /// `parts`, by id or name.
    pub parts: Vec<Text>,
    /// Where it is written.
    pub span: Span,
}

/// `[[override]]`.
#[derive(Clone, Debug)]
pub struct Override {
    /// `finding`: its code.
    pub finding: Option<Text>,
    /// `part` it concerns.
    pub part: Option<Text>,
    /// `reason`.
    pub reason: Option<Text>,
    /// Where it is written.
    pub span: Span,
}

pub(super) fn together(mut table: Table<'_>) -> Together {
    let desk = table.desk;
    let names_none = table.get("parts").is_none_or(|node| matches!(&node.value, Value::List(items) if items.is_empty()));
    let list = table.list("parts");
    if names_none {
        table.missing("parts", "[\"lower left drawer front\", \"lower right drawer front\"]");
    }
    let parts = list.into_iter().filter_map(|(called, node)| desk.text(&called, node)).collect();
    let together = Together { parts, span: table.span };
    table.finish();
    together
}

pub(super) fn stow(mut table: Table<'_>, index: usize) -> Stow {
    let span = table.span;
    let name = table.own_name("stow", index);
    let stow = Stow {
        name,
        size: table.need("size", "[400, 300, 160]", Table::lengths),
        mass_kg: table.need("mass", "11", Table::amount),
        place: table.text("in"),
        quantity: table.count("quantity"),
        this_way_up: table.flag("this_way_up"),
        air: table.length("air"),
        stackable: table.flag("stackable"),
        span,
    };
    table.finish();
    stow
}

pub(super) fn pins(table: &Table<'_>) -> Vec<Pin> {
    table
        .entries()
        .iter()
        .filter_map(|entry| {
            let value = table.desk.length(&format!("`{}` of [pin]", entry.key), &entry.node)?;
            Some(Pin { name: Written { value: entry.key.clone(), span: entry.key_span }, value })
        })
        .collect()
}

pub(super) fn rub(mut table: Table<'_>) -> Rub {
    let rub = Rub {
        place: table.need("where", "\"left wheel arch\"", Table::text),
        by: table.need("by", "4", Table::length),
        had: table.length("had"),
        span: table.span,
    };
    table.finish();
    rub
}

pub(super) fn over_ride(mut table: Table<'_>) -> Override {
    let over_ride = Override {
        finding: table.need("finding", "\"...\"", Table::text),
        part: table.text("part"),
        reason: table.need("reason", "\"...\"", Table::text),
        span: table.span,
    };
    table.finish();
    over_ride
}

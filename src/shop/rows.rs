//! A profile's values as rows: key, text with its unit, and the same as data.

use crate::units::{decimal, Mm};
use serde_json::{json, Value};

/// One value of a profile.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Its key, as the profile's file writes it: `thickness_min`, `router.clearance`.
    pub key: String,
    /// As text, with its unit.
    pub text: String,
    /// As data, in the shape the profile's file has it; a length is in mm.
    pub value: Value,
    /// The unit of `value`; empty for a word or a count.
    pub unit: &'static str,
}

impl Row {
    fn new(key: &str, text: String, value: Value, unit: &'static str) -> Self {
        Self { key: key.to_owned(), text, value, unit }
    }

    /// A length.
    pub(super) fn length(key: &str, length: Mm) -> Self {
        Self::new(key, format!("{} mm", shown(length.0)), round(length.0), "mm")
    }

    /// A number with its unit.
    pub(super) fn number(key: &str, number: f64, unit: &'static str) -> Self {
        Self::new(key, format!("{} {unit}", shown(number)).trim_end().to_owned(), round(number), unit)
    }

    /// A count.
    pub(super) fn count(key: &str, count: u32) -> Self {
        Self::new(key, count.to_string(), json!(count), "")
    }

    /// A word or a text.
    pub(super) fn word(key: &str, word: &str) -> Self {
        Self::new(key, word.to_owned(), json!(word), "")
    }

    /// Several words.
    pub(super) fn words(key: &str, words: &[String]) -> Self {
        Self::new(key, words.join(", "), json!(words), "")
    }

    /// Yes or no.
    pub(super) fn flag(key: &str, flag: bool) -> Self {
        Self::new(key, if flag { "yes" } else { "no" }.to_owned(), json!(flag), "")
    }

    /// Lengths of one thing, joined by `between`: `2500 x 1250 mm`.
    pub(super) fn lengths(key: &str, lengths: &[Mm], between: &str) -> Self {
        let value = Value::Array(lengths.iter().map(|length| round(length.0)).collect());
        Self::new(key, format!("{} mm", join(lengths, between)), value, "mm")
    }

    /// Groups of lengths.
    pub(super) fn groups<'a>(key: &str, groups: impl IntoIterator<Item = &'a [Mm]>, between: &str) -> Self {
        let mut texts = Vec::new();
        let mut values = Vec::new();
        for group in groups {
            texts.push(join(group, between));
            values.push(Value::Array(group.iter().map(|length| round(length.0)).collect()));
        }
        Self::new(key, format!("{} mm", texts.join(", ")), Value::Array(values), "mm")
    }

    /// Anything else.
    pub(super) fn other(key: &str, text: String, value: Value, unit: &'static str) -> Self {
        Self::new(key, text, value, unit)
    }
}

/// Decimals shown: enough for 1/64 in and a chip load.
const PLACES: usize = 3;
/// Data keeps this part of a unit, so that a fraction of an inch stays what it is.
const KEPT: f64 = 1e6;

fn kept(number: f64) -> f64 {
    (number * KEPT).round() / KEPT
}

fn shown(number: f64) -> String {
    decimal(kept(number), PLACES)
}

fn round(number: f64) -> Value {
    json!(kept(number))
}

fn join(lengths: &[Mm], between: &str) -> String {
    lengths.iter().map(|length| shown(length.0)).collect::<Vec<_>>().join(between)
}

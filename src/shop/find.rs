//! Looking profiles up by id, with the nearest ids when there is none of that name.

use super::{Board, Cutter, Fastener, Latch, Machine, Shop, Slide, Washer};
use std::collections::BTreeMap;

/// How many near names a suggestion holds at most.
const MOST_SUGGESTED: usize = 3;

/// The names nearest to `wanted`, nearest first, at most three; empty when none comes close.
///
/// Close means: at most a third of the letters differ (two in a short name), or one name holds the other.
#[must_use]
pub fn nearest<'a>(wanted: &str, names: impl IntoIterator<Item = &'a str>) -> Vec<String> {
    let wanted = wanted.to_lowercase();
    let allowed = (wanted.chars().count() / 3).max(2);
    let mut close: Vec<(usize, &str)> = names
        .into_iter()
        .filter_map(|name| {
            let lower = name.to_lowercase();
            let distance = strsim::damerau_levenshtein(&wanted, &lower);
            let holds = wanted.len() >= 3 && (lower.contains(&wanted) || (lower.len() >= 3 && wanted.contains(&lower)));
            (holds || distance <= allowed && distance < wanted.chars().count()).then_some((distance, name))
        })
        .collect();
    close.sort_unstable();
    close.truncate(MOST_SUGGESTED);
    close.into_iter().map(|(_, name)| name.to_owned()).collect()
}

fn find<'a, T>(profiles: &'a BTreeMap<String, T>, id: &str) -> Result<&'a T, Vec<String>> {
    profiles.get(id).ok_or_else(|| nearest(id, profiles.keys().map(String::as_str)))
}

impl Shop {
    /// The board of this id.
    ///
    /// # Errors
    /// The nearest ids, when there is none.
    pub fn board(&self, id: &str) -> Result<&Board, Vec<String>> {
        find(&self.boards, id)
    }

    /// The cutter or drill of this id.
    ///
    /// # Errors
    /// The nearest ids, when there is none.
    pub fn cutter(&self, id: &str) -> Result<&Cutter, Vec<String>> {
        find(&self.cutters, id)
    }

    /// The machine of this id.
    ///
    /// # Errors
    /// The nearest ids, when there is none.
    pub fn machine(&self, id: &str) -> Result<&Machine, Vec<String>> {
        find(&self.machines, id)
    }

    /// The slide of this id.
    ///
    /// # Errors
    /// The nearest ids, when there is none.
    pub fn slide(&self, id: &str) -> Result<&Slide, Vec<String>> {
        find(&self.slides, id)
    }

    /// The latch of this id.
    ///
    /// # Errors
    /// The nearest ids, when there is none.
    pub fn latch(&self, id: &str) -> Result<&Latch, Vec<String>> {
        find(&self.latches, id)
    }

    /// The fastener of this id.
    ///
    /// # Errors
    /// The nearest ids, when there is none.
    pub fn fastener(&self, id: &str) -> Result<&Fastener, Vec<String>> {
        find(&self.fasteners, id)
    }

    /// The washer of this id.
    ///
    /// # Errors
    /// The nearest ids, when there is none.
    pub fn washer(&self, id: &str) -> Result<&Washer, Vec<String>> {
        find(&self.washers, id)
    }
}

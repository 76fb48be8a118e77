//! One table of a profile file, handing out its values by key and collecting everything wrong with them.

use super::file::{File, Reference, Sign};
use super::value::{length, number, type_name};
use super::{codes, find::nearest};
use crate::diag::{Code, Finding};
use crate::units::Mm;
use std::collections::BTreeSet;
use std::ops::{Range, RangeInclusive};
use toml::de::{DeTable, DeValue};
use toml::Spanned;

/// One table being read.
pub(super) struct Fields<'a> {
    file: &'a File<'a>,
    table: &'a DeTable<'a>,
    at: Range<usize>,
    /// What messages call the table: ``board `birch-ply-15` ``.
    what: String,
    /// Prefix of this table's keys within the profile: `router.`.
    prefix: String,
    asked: BTreeSet<&'static str>,
    /// Full keys of the values present, in the order asked for.
    keys: Vec<String>,
}

impl<'a> Fields<'a> {
    /// Starts reading a table.
    pub(super) fn new(file: &'a File<'a>, table: &'a DeTable<'a>, at: Range<usize>, what: String) -> Self {
        Self { file, table, at, what, prefix: String::new(), asked: BTreeSet::new(), keys: Vec::new() }
    }

    /// Whether a key is there; asking makes it known.
    pub(super) fn has(&mut self, key: &'static str) -> bool {
        self.asked.insert(key);
        self.table.contains_key(key)
    }

    /// Makes a finding about one value.
    pub(super) fn complain(&self, code: Code, at: Range<usize>, message: &str, remedy: impl Into<String>) {
        self.file.add(Finding::stop(code, format!("{}: {message}", self.what)).at(self.file.span(at)).remedy(remedy));
    }

    /// Where a key's value stands; the table itself when it is not there.
    pub(super) fn place(&self, key: &str) -> Range<usize> {
        self.table.get(key).map_or_else(|| self.at.clone(), Spanned::span)
    }

    /// Says that two values do not go together, pointing at `key`.
    pub(super) fn clash(&self, key: &str, message: &str, remedy: &str) {
        self.complain(codes::BAD_VALUE, self.place(key), message, remedy);
    }

    /// Asks for a second look at a size outside what is sold (common practice, no source), as a slip of units gives.
    pub(super) fn likely(&self, key: &str, sizes: &[Mm], sold: RangeInclusive<f64>) {
        let Some(odd) = sizes.iter().find(|size| !sold.contains(&size.0)) else { return };
        let message = format!("{}: `{}{key}` is {odd} mm, hardly a size that is sold", self.what, self.prefix);
        let finding = Finding::caution(codes::UNLIKELY_SIZE, message)
            .at(self.file.span(self.place(key)))
            .limit(format!("{} to {} mm, common practice, no source", sold.start(), sold.end()))
            .remedy("a bare number is in mm; write a text with its unit for inches: \"3/4 in\"");
        self.file.add(finding);
    }

    /// Says that a key is needed here.
    pub(super) fn missing(&self, key: &str, why: &str) {
        let message = format!("`{}{key}` is missing: {why}", self.prefix);
        self.complain(codes::MISSING_KEY, self.at.clone(), &message, format!("add `{key}`"));
    }

    /// Says that this table holds nothing.
    pub(super) fn empty(&self, remedy: &str) {
        let message = format!("`{}` is empty", self.prefix.trim_end_matches('.'));
        self.complain(codes::MISSING_KEY, self.at.clone(), &message, remedy);
    }

    fn get(&mut self, key: &'static str) -> Option<&'a Spanned<DeValue<'a>>> {
        self.asked.insert(key);
        let found = self.table.get(key);
        if found.is_some() {
            let full = format!("{}{key}", self.prefix);
            if !self.keys.contains(&full) {
                self.keys.push(full);
            }
        } else {
            let message = format!("`{}{key}` is missing", self.prefix);
            self.complain(codes::MISSING_KEY, self.at.clone(), &message, format!("add `{key}`"));
        }
        found
    }

    fn wrong_type(&self, key: &str, value: &Spanned<DeValue<'_>>, wanted: &str) {
        let message = format!("`{}{key}` is {}, it must be {wanted}", self.prefix, type_name(value.get_ref()));
        self.complain(codes::WRONG_TYPE, value.span(), &message, format!("write {wanted}"));
    }

    fn bad(&self, key: &str, value: &Spanned<DeValue<'_>>, wanted: &str) {
        let message = format!("`{}{key}` must be {wanted}", self.prefix);
        self.complain(codes::BAD_VALUE, value.span(), &message, format!("write {wanted}"));
    }

    /// A text with something in it.
    pub(super) fn text(&mut self, key: &'static str) -> Option<String> {
        let value = self.get(key)?;
        let DeValue::String(text) = value.get_ref() else {
            self.wrong_type(key, value, "a text");
            return None;
        };
        if text.trim().is_empty() || text.chars().any(char::is_control) {
            self.bad(key, value, "one line of text");
            return None;
        }
        Some(text.to_string())
    }

    /// The id of another profile.
    pub(super) fn reference(&mut self, key: &'static str) -> Option<Reference> {
        let at = self.place(key);
        self.text(key).map(|id| Reference { id, at })
    }

    /// Ids of other profiles; at least one.
    pub(super) fn references(&mut self, key: &'static str) -> Option<Vec<Reference>> {
        self.list(key, "a list of ids", |value| match value.get_ref() {
            DeValue::String(id) => Some(Reference { id: id.to_string(), at: value.span() }),
            _ => None,
        })
    }

    /// True or false.
    pub(super) fn flag(&mut self, key: &'static str) -> Option<bool> {
        let value = self.get(key)?;
        let flag = value.get_ref().as_bool();
        if flag.is_none() {
            self.wrong_type(key, value, "true or false");
        }
        flag
    }

    /// One of some words.
    pub(super) fn choice<T: Copy>(&mut self, key: &'static str, words: &[(&str, T)]) -> Option<T> {
        let word = self.text(key)?;
        let found = words.iter().find(|(name, _)| *name == word).map(|(_, value)| *value);
        if found.is_none() {
            let all: Vec<String> = words.iter().map(|(name, _)| format!("`{name}`")).collect();
            let close = nearest(&word, words.iter().map(|(name, _)| *name));
            let remedy = close
                .first()
                .map_or_else(|| format!("write one of {}", all.join(", ")), |name| format!("did you mean `{name}`?"));
            let message = format!("`{}{key}` is `{word}`, it must be one of {}", self.prefix, all.join(", "));
            self.complain(codes::BAD_VALUE, self.place(key), &message, remedy);
        }
        found
    }

    /// A length.
    pub(super) fn length(&mut self, key: &'static str, sign: Sign) -> Option<Mm> {
        let value = self.get(key)?;
        self.length_of(key, value, sign)
    }

    fn length_of(&self, key: &str, value: &Spanned<DeValue<'_>>, sign: Sign) -> Option<Mm> {
        let length = match length(value.get_ref()) {
            Ok(length) => length,
            Err(Some(why)) => {
                let message = format!("`{}{key}`: {why}", self.prefix);
                self.complain(
                    codes::BAD_VALUE,
                    value.span(),
                    &message,
                    "write a length, as 15 (mm), \"15 mm\" or \"1/2 in\"",
                );
                return None;
            }
            Err(None) => {
                self.wrong_type(key, value, "a length, as 15 (mm), \"15 mm\" or \"1/2 in\"");
                return None;
            }
        };
        if sign.allows(length.0) {
            return Some(length);
        }
        self.bad(key, value, sign.words());
        None
    }

    /// A number.
    pub(super) fn number(&mut self, key: &'static str, sign: Sign) -> Option<f64> {
        let value = self.get(key)?;
        let Some(number) = number(value.get_ref()) else {
            match value.get_ref() {
                DeValue::Float(_) | DeValue::Integer(_) => self.bad(key, value, "a finite number"),
                _ => self.wrong_type(key, value, "a number"),
            }
            return None;
        };
        if sign.allows(number) {
            return Some(number);
        }
        self.bad(key, value, sign.words());
        None
    }

    /// A whole number within limits.
    pub(super) fn whole(&mut self, key: &'static str, least: u32, most: u32) -> Option<u32> {
        let value = self.get(key)?;
        let DeValue::Integer(digits) = value.get_ref() else {
            self.wrong_type(key, value, "a whole number");
            return None;
        };
        let whole = u32::from_str_radix(digits.as_str(), digits.radix()).ok().filter(|n| (least..=most).contains(n));
        if whole.is_none() {
            self.bad(key, value, &format!("a whole number from {least} to {most}"));
        }
        whole
    }

    /// Two positive numbers, the first no larger than the second.
    pub(super) fn number_window(&mut self, key: &'static str) -> Option<(f64, f64)> {
        let pair = self.list(key, "a list of 2 numbers", |value| number(value.get_ref()))?;
        match pair[..] {
            [low, high] if low > 0.0 && low <= high => Some((low, high)),
            _ => {
                let message = format!("`{}{key}` must be [least, largest], both more than 0", self.prefix);
                self.clash(key, &message, "write two numbers in that order");
                None
            }
        }
    }

    /// A fixed count of lengths.
    pub(super) fn lengths<const N: usize>(&mut self, key: &'static str, sign: Sign) -> Option<[Mm; N]> {
        let value = self.get(key)?;
        self.lengths_of(key, value, sign)
    }

    fn lengths_of<const N: usize>(&self, key: &str, value: &Spanned<DeValue<'_>>, sign: Sign) -> Option<[Mm; N]> {
        let Some(items) = value.get_ref().as_array().filter(|items| items.len() == N) else {
            self.wrong_type(key, value, &format!("a list of {N} lengths"));
            return None;
        };
        let mut all = [Mm::ZERO; N];
        let mut good = true;
        for (place, item) in all.iter_mut().zip(items.iter()) {
            match self.length_of(key, item, sign) {
                Some(length) => *place = length,
                None => good = false,
            }
        }
        good.then_some(all)
    }

    /// Two lengths, the first no larger than the second.
    pub(super) fn window(&mut self, key: &'static str) -> Option<(Mm, Mm)> {
        let [low, high] = self.lengths::<2>(key, Sign::Positive)?;
        self.in_order(key, &[low, high]).then_some((low, high))
    }

    /// Whether lengths rise or stay; says so when they do not.
    pub(super) fn in_order(&self, key: &str, lengths: &[Mm]) -> bool {
        let rises = lengths.windows(2).all(|pair| pair[0] <= pair[1]);
        if !rises {
            self.clash(key, &format!("`{}{key}` must rise from the least to the largest", self.prefix), "swap them");
        }
        rises
    }

    /// Any count of lengths from one up.
    pub(super) fn any_lengths(&mut self, key: &'static str) -> Option<Vec<Mm>> {
        let value = self.get(key)?;
        let Some(items) = value.get_ref().as_array().filter(|items| !items.is_empty()) else {
            self.wrong_type(key, value, "a list of lengths");
            return None;
        };
        let read: Vec<Option<Mm>> = items.iter().map(|item| self.length_of(key, item, Sign::Positive)).collect();
        read.into_iter().collect()
    }

    /// Any count of groups of lengths from one up.
    pub(super) fn groups<const N: usize>(&mut self, key: &'static str, sign: Sign) -> Option<Vec<[Mm; N]>> {
        let value = self.get(key)?;
        let Some(items) = value.get_ref().as_array().filter(|items| !items.is_empty()) else {
            self.wrong_type(key, value, &format!("a list of lists of {N} lengths"));
            return None;
        };
        let read: Vec<Option<[Mm; N]>> = items.iter().map(|item| self.lengths_of(key, item, sign)).collect();
        read.into_iter().collect()
    }

    /// A list read item by item; at least one.
    pub(super) fn list<T>(
        &mut self,
        key: &'static str,
        wanted: &str,
        read: impl Fn(&Spanned<DeValue<'a>>) -> Option<T>,
    ) -> Option<Vec<T>> {
        let value = self.get(key)?;
        let Some(items) = value.get_ref().as_array().filter(|items| !items.is_empty()) else {
            self.wrong_type(key, value, wanted);
            return None;
        };
        let mut all = Vec::new();
        let mut good = true;
        for item in items {
            if let Some(item) = read(item) {
                all.push(item);
            } else {
                self.wrong_type(key, item, &format!("an item of {wanted}"));
                good = false;
            }
        }
        good.then_some(all)
    }

    /// A value that may be left out, and the usual one then.
    pub(super) fn or_usual<T>(
        &mut self,
        key: &'static str,
        usual: T,
        read: impl FnOnce(&mut Self, &'static str) -> Option<T>,
    ) -> Option<T> {
        if self.has(key) {
            read(self, key)
        } else {
            Some(usual)
        }
    }

    /// What a table within this one is read as; its values' keys carry the table's name before them.
    pub(super) fn inner<T>(&mut self, key: &'static str, read: impl FnOnce(&mut Fields<'a>) -> Option<T>) -> Option<T> {
        let mut inner = self.table(key)?;
        let value = read(&mut inner);
        self.keys.extend(inner.finish());
        value
    }

    fn table(&mut self, key: &'static str) -> Option<Fields<'a>> {
        self.asked.insert(key);
        let Some(value) = self.table.get(key) else {
            let message = format!("`{}{key}` is missing", self.prefix);
            self.complain(codes::MISSING_KEY, self.at.clone(), &message, format!("add `{key}`"));
            return None;
        };
        let DeValue::Table(table) = value.get_ref() else {
            self.wrong_type(key, value, "a table");
            return None;
        };
        let mut inner = Self::new(self.file, table, value.span(), self.what.clone());
        inner.prefix = format!("{}{key}.", self.prefix);
        Some(inner)
    }

    /// Reports every key that nobody asked for and gives the full keys of the values that are there.
    pub(super) fn finish(self) -> Vec<String> {
        let mut unknown: Vec<(&str, Range<usize>)> = self
            .table
            .iter()
            .filter(|(key, _)| !self.asked.contains(key.get_ref().as_ref()))
            .map(|(key, _)| (key.get_ref().as_ref(), key.span()))
            .collect();
        unknown.sort_by_key(|(_, at)| at.start);
        for (key, at) in unknown {
            let remedy = match nearest(key, self.asked.iter().copied()).first() {
                Some(name) => format!("did you mean `{name}`?"),
                None => format!("take it out; known here: {}", self.asked.iter().copied().collect::<Vec<_>>().join(", ")),
            };
            self.complain(codes::UNKNOWN_KEY, at, &format!("unknown key `{}{key}`", self.prefix), remedy);
        }
        self.keys
    }
}

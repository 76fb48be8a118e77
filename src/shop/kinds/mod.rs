//! One file per kind of profile: how it is read and how it is shown.

mod board;
mod cutter;
mod fastener;
mod laser;
mod latch;
mod machine;
mod slide;
mod washer;

use super::fields::Fields;
use super::file::Reference;
use super::rows::Row;
use super::{Basis, Shop};
use std::collections::BTreeMap;

/// Names of other profiles that must exist.
#[derive(Default)]
pub(super) struct Needs {
    /// Fasteners.
    pub(super) fasteners: Vec<Reference>,
    /// Cutters.
    pub(super) cutters: Vec<Reference>,
}

/// A kind of profile.
pub(super) trait Profile: Sized {
    /// The name of its arrays in a file, and of the kind in lists.
    const KIND: &'static str;

    /// Reads one; `None` when it cannot be used, with the reasons kept in the file.
    fn read(id: String, fields: &mut Fields<'_>, needs: &mut Needs) -> Option<Self>;
    /// Its values.
    fn rows(&self) -> Vec<Row>;
    /// Its main sizes in one line.
    fn summary(&self) -> String;
    /// In words.
    fn name(&self) -> &str;
    /// Sources of its values.
    fn basis(&self) -> &Basis;
    /// The same, to fill in.
    fn basis_mut(&mut self) -> &mut Basis;
    /// Where the shop keeps its kind.
    fn shelf(shop: &Shop) -> &BTreeMap<String, Self>;
    /// The same, to fill.
    fn shelf_mut(shop: &mut Shop) -> &mut BTreeMap<String, Self>;
}

/// The part of [`Profile`] that is the same for every kind.
macro_rules! stored {
    ($shelf:ident) => {
        fn name(&self) -> &str {
            &self.name
        }

        fn basis(&self) -> &crate::shop::Basis {
            &self.basis
        }

        fn basis_mut(&mut self) -> &mut crate::shop::Basis {
            &mut self.basis
        }

        fn shelf(shop: &crate::shop::Shop) -> &std::collections::BTreeMap<String, Self> {
            &shop.$shelf
        }

        fn shelf_mut(shop: &mut crate::shop::Shop) -> &mut std::collections::BTreeMap<String, Self> {
            &mut shop.$shelf
        }
    };
}
use stored;

/// The word that stands for a value in a table of words.
fn word<T: PartialEq>(words: &[(&'static str, T)], value: &T) -> &'static str {
    words.iter().find(|(_, other)| other == value).map_or("", |(word, _)| word)
}

//! What every part of settling needs at hand: look-ups, findings, assumptions, and written figures as `Dim`s.

use super::codes;
use super::defaults::PRACTICE;
use super::BoardId;
use crate::diag::{Code, Finding, Span, Texts};
use crate::dim::{Dim, Source, SourceKind};
use crate::project::{did_you_mean, Length, Project, Text};
use crate::shop::Shop;
use crate::units::{shown, Mm};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The work in hand.
pub(super) struct Bench<'a> {
    pub(super) project: &'a Project,
    pub(super) shop: &'a Shop,
    pub(super) texts: &'a Texts,
    pub(super) findings: Vec<Finding>,
    pub(super) assumptions: Vec<String>,
    /// Something needed could not be settled, so there is no whole design.
    pub(super) lost: bool,
}

/// Something needed is not there; what and why was reported.
#[derive(Debug)]
pub(super) struct Lost;

impl Bench<'_> {
    pub(super) fn report(&mut self, finding: Finding) {
        self.findings.push(finding);
    }

    /// Notes a default in use, once.
    pub(super) fn assume(&mut self, sentence: String) {
        if !self.assumptions.contains(&sentence) {
            self.assumptions.push(sentence);
        }
    }

    /// A length in the maker's unit.
    pub(super) fn show(&self, length: Mm) -> String {
        shown(length, self.project.units)
    }

    /// A figure the maker chose, under its name.
    pub(super) fn chosen(length: &Length, label: &str) -> Dim {
        Dim::source(Source {
            key: format!("chosen:{label}:{}", length.span.start),
            label: label.to_owned(),
            kind: SourceKind::Chosen,
            nominal: length.value,
            minus: Mm::ZERO,
            plus: Mm::ZERO,
            basis: "written in the project".to_owned(),
            span: Some(length.span),
        })
        .named(label)
    }

    /// A figure taken by default; the assumption is noted once for all parts of its kind.
    pub(super) fn assumed(&mut self, value: Mm, what: &str, label: &str) -> Dim {
        self.assume(format!("{what}: {} where nothing else is written ({PRACTICE}).", self.show(value)));
        Dim::source(Source {
            key: format!("assumed:{what}"),
            label: what.to_owned(),
            kind: SourceKind::Assumed,
            nominal: value,
            minus: Mm::ZERO,
            plus: Mm::ZERO,
            basis: PRACTICE.to_owned(),
            span: None,
        })
        .named(label)
    }

    /// The maker's figure if there is one, else the default.
    pub(super) fn chosen_or(&mut self, length: Option<&Length>, default: Mm, what: &str, label: &str) -> Dim {
        match length {
            Some(length) => {
                self.zero_or_more(length, label);
                Self::chosen(length, label)
            }
            None => self.assumed(default, what, label),
        }
    }

    /// A figure that must be over zero.
    pub(super) fn positive(&mut self, length: &Length, label: &str) -> Dim {
        self.check_sign(length.value > Mm::ZERO, length, label, "over zero");
        self.check_largest(length.value, length.span, label);
        Self::chosen(length, label)
    }

    /// The same, when it is written at all.
    pub(super) fn positive_if(&mut self, length: Option<&Length>, label: &str) -> Option<Dim> {
        length.map(|length| self.positive(length, label))
    }

    /// Reports a figure below zero.
    pub(super) fn zero_or_more(&mut self, length: &Length, label: &str) {
        self.check_sign(length.value >= Mm::ZERO, length, label, "zero or more");
        self.check_largest(length.value, length.span, label);
    }

    fn check_sign(&mut self, fine: bool, length: &Length, label: &str, wanted: &str) {
        if !fine {
            let message = format!("the {label} is {}", self.show(length.value));
            self.report(
                Finding::stop(codes::SIZE_NOT_POSITIVE, message)
                    .at(length.span)
                    .limit(wanted)
                    .remedy(format!("write a length that is {wanted}")),
            );
        }
    }

    fn check_largest(&mut self, value: Mm, span: Span, label: &str) {
        if value.abs() > super::defaults::LARGEST {
            let message = format!("the {label} is {}", self.show(value));
            self.report(
                super::plausible::absurd(message, value, span, &|mm| mm.abs() <= super::defaults::LARGEST)
                    .limit(format!("10 m for any part of a vehicle fit-out ({PRACTICE})")),
            );
        }
    }

    /// Looks a profile up; an unknown id is reported with the nearest known ones.
    pub(super) fn profile<T: Clone>(
        &mut self,
        profiles: &BTreeMap<String, T>,
        kind: &str,
        id: &str,
        span: Option<Span>,
    ) -> Option<Arc<T>> {
        if let Some(profile) = profiles.get(id) {
            return Some(Arc::new(profile.clone()));
        }
        self.lost = true;
        let ids: Vec<&str> = profiles.keys().map(String::as_str).collect();
        let finding = Finding::stop(codes::PROFILE_UNKNOWN, format!("the shop has no {kind} `{id}`")).at(span);
        self.report(finding.remedy(did_you_mean(id, ids.iter().copied()).unwrap_or_else(|| known(kind, &ids))));
        None
    }

    /// Resolves a board's name; an unknown one is reported.
    pub(super) fn board(&mut self, name: &Text) -> Option<BoardId> {
        let names = self.project.boards.iter().map(|board| board.name.value.as_str());
        self.find(name, "board", names).map(BoardId)
    }

    /// The place of a name in a list; an unknown one is reported with the nearest.
    pub(super) fn find<'n>(
        &mut self,
        name: &Text,
        kind: &str,
        names: impl Iterator<Item = &'n str> + Clone,
    ) -> Option<usize> {
        let found = names.clone().position(|known| known == name.value);
        if found.is_none() {
            self.lost = true;
            self.unknown_name(name, kind, names);
        }
        found
    }

    /// Reports a name nothing carries.
    pub(super) fn unknown_name<'n>(&mut self, name: &Text, kind: &str, names: impl Iterator<Item = &'n str>) {
        let names: Vec<&str> = names.collect();
        let remedy = did_you_mean(&name.value, names.iter().copied()).unwrap_or_else(|| known(kind, &names));
        self.report(
            Finding::stop(codes::NAME_UNKNOWN, format!("there is no {kind} \"{}\"", name.value))
                .at(name.span)
                .remedy(remedy),
        );
    }

    /// Reports something that a later stage could not do without.
    pub(super) fn stop(&mut self, code: Code, message: String, span: Span, remedy: &str) {
        self.report(Finding::stop(code, message).at(span).remedy(remedy));
    }
}

/// A remedy that lists what there is, up to eight.
pub(super) fn known(kind: &str, all: &[&str]) -> String {
    match all.len() {
        0 => format!("there is no {kind} at all yet; add one"),
        1..=8 => format!("there is: {}", all.join(", ")),
        more => format!("there are {more}, such as: {}", all[..8].join(", ")),
    }
}

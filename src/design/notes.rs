//! Stow items, pins, overrides, and the names everything goes by.

use super::bench::Bench;
use super::carcass::cell_name;
use super::{codes, Override, Pin, Rub, Stow};
use crate::diag::{Code, Finding};
use crate::project::{did_you_mean, Length, Project, Text};

impl Bench<'_> {
    pub(super) fn stows(&mut self) -> Vec<Stow> {
        let project = self.project;
        let places = self.places();
        let mut stows = Vec::new();
        for written in &project.stows {
            let name = &written.name.value;
            if let Some(size) = &written.size {
                self.all_positive(size, &format!("size of stow \"{name}\""));
            }
            if let Some(place) = &written.place {
                let known = places.iter().map(String::as_str);
                if !places.contains(&place.value) {
                    self.unknown_name(place, "cell, top or pull-out", known);
                }
            }
            let (Some(size), Some(mass)) = (&written.size, &written.mass_kg) else {
                self.lost = true;
                continue;
            };
            let side = |i: usize, what: &str| {
                Self::chosen(&Length { value: size.value[i], span: size.span }, &format!("{name} {what}"))
            };
            stows.push(Stow {
                name: name.clone(),
                size: [side(0, "length"), side(1, "width"), side(2, "height")],
                mass_kg: mass.value,
                place: written.place.as_ref().map(|place| place.value.clone()),
                quantity: written.quantity.as_ref().map_or(1, |quantity| quantity.value),
                this_way_up: written.this_way_up.as_ref().is_some_and(|flag| flag.value),
                air: written.air.as_ref().map(|air| self.positive(air, &format!("air round {name}"))),
                stackable: written.stackable.as_ref().is_some_and(|flag| flag.value),
                span: Some(written.span),
            });
        }
        stows
    }

    /// Every place a stow item can be in: cells, a carcass, its top, a pull-out.
    fn places(&self) -> Vec<String> {
        let mut places = Vec::new();
        for carcass in &self.project.carcasses {
            let name = &carcass.name.value;
            places.extend([name.clone(), format!("{name}.top")]);
            if carcass.columns.is_empty() {
                places.push(format!("{name}.inside"));
            }
            for column in &carcass.columns {
                let full = format!("{name}.{}", column.name.value);
                let count = column.cells.len().max(1);
                places.extend((0..count).map(|index| cell_name(&full, index, count)));
            }
        }
        places.extend(self.project.pull_outs.iter().map(|pull_out| pull_out.name.value.clone()));
        places
    }

    pub(super) fn pins(&mut self) -> Vec<Pin> {
        let project = self.project;
        project
            .pins
            .iter()
            .map(|pin| Pin {
                name: pin.name.value.clone(),
                value: self.positive(&pin.value, &format!("{} as pinned", pin.name.value)),
                span: Some(pin.value.span),
            })
            .collect()
    }

    pub(super) fn overrides(&mut self) -> Vec<Override> {
        let project = self.project;
        let mut overrides = Vec::new();
        for written in &project.overrides {
            let (Some(finding), Some(reason)) = (&written.finding, &written.reason) else {
                self.lost = true;
                continue;
            };
            overrides.push(Override {
                code: finding.value.clone(),
                part: written.part.as_ref().map(|part| part.value.clone()),
                reason: reason.value.clone(),
                span: Some(written.span),
            });
        }
        overrides
    }

    /// Places where a mock-up rubbed; what is wrong with one was reported when it was read, or is reported here.
    pub(super) fn rubs(&mut self) -> Vec<Rub> {
        let project = self.project;
        let mut rubs = Vec::new();
        for written in &project.rubs {
            let (Some(place), Some(by)) = (&written.place, &written.by) else { continue };
            self.positive(by, "amount by which the mock-up rubbed");
            if let Some(had) = &written.had {
                self.zero_or_more(had, "air that the tried design had");
            }
            rubs.push(Rub {
                place: place.value.clone(),
                by: by.value,
                had: written.had.as_ref().map(|had| had.value),
                span: Some(written.span),
            });
        }
        rubs
    }

    /// Names that would be taken for each other, or that would break the names built from them.
    pub(super) fn names(&mut self) {
        let project = self.project;
        let carcasses = project.carcasses.iter().map(|c| ("carcass", &c.name));
        let columns = project.carcasses.iter().flat_map(|c| &c.columns).map(|c| ("column", &c.name));
        let pull_outs = project.pull_outs.iter().map(|p| ("pull-out", &p.name));
        let panels = project.panels.iter().map(|p| ("panel", &p.name));
        let boards = project.boards.iter().map(|b| ("board", &b.name));
        for (kind, name) in carcasses.clone().chain(columns) {
            if name.value.contains('.') {
                let message = format!("the {kind} name \"{}\" has a dot in it", name.value);
                self.stop(codes::NAME_UNFIT, message, name.span, "a dot joins carcass and column: use a blank or a hyphen");
            }
        }
        let units: Vec<(&str, &Text)> = carcasses.chain(pull_outs).chain(panels).collect();
        for (kind, name) in units.iter().copied().chain(boards) {
            if name.value.chars().any(char::is_control) {
                let message = format!("the {kind} name \"{}\" holds a control character", name.value.escape_debug());
                self.stop(codes::NAME_UNFIT, message, name.span, "use letters, figures, blanks and hyphens");
            }
        }
        for (index, (kind, name)) in units.iter().enumerate() {
            // The same name twice in one list was reported when it was read.
            let earlier = units[..index].iter().find(|(other, first)| other != kind && first.value == name.value);
            if let Some((other, first)) = earlier {
                let line = self.texts.place(first.span).line;
                let message = format!("the {kind} \"{}\" has the same name as the {other} of line {line}", name.value);
                self.stop(codes::NAME_CLASH, message, name.span, "give one of them another name");
            }
        }
    }
}

/// Overrides of findings that no stage can make or that cannot be overridden; `known` is every code there is.
#[must_use]
pub fn idle_overrides(project: &Project, known: &[Code]) -> Vec<Finding> {
    let named = project.overrides.iter().filter_map(|written| written.finding.as_ref());
    named
        .filter_map(|finding| match known.iter().find(|code| code.id == finding.value) {
            Some(code) if code.overridable => None,
            Some(code) => Some(
                Finding::caution(codes::OVERRIDE_IN_VAIN, format!("`{}` cannot be overridden", code.id))
                    .at(finding.span)
                    .remedy("do what that finding's remedy says, and take this override out"),
            ),
            None => Some(
                Finding::stop(codes::OVERRIDE_UNKNOWN, format!("there is no finding `{}` to override", finding.value))
                    .at(finding.span)
                    .remedy(
                        did_you_mean(&finding.value, known.iter().map(|code| code.id))
                            .unwrap_or_else(|| "write the code as the finding prints it".to_owned()),
                    ),
            ),
        })
        .collect()
}

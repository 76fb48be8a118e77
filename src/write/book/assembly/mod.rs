//! Assembly: numbered steps in the order found, each with an exploded picture and all it takes.

mod fit_out;
mod joint;
mod order;
pub(super) mod picture;

use super::hardware::hole;
use super::page::Chapter;
use super::unit::Unit;
use super::Book;
use crate::geom::Axis;
use crate::parts::{Hardware, PanelId};
use crate::share::in_order;
use crate::units::Mm;
use crate::write::hardware::merged;
use crate::write::Job;
use maud::{html, Markup};
use order::{Group, Step, WHOLE};
use std::collections::BTreeMap;

/// How far the two diagonals of a square frame may differ, in mm. Common practice, no source.
const SQUARE: f64 = 1.0;

/// All steps with their numbers.
pub(super) struct Plan {
    groups: Vec<Group>,
    /// Groups that are made of the same parts in the same way, by their indices; each list is told once.
    batches: Vec<Vec<usize>>,
    /// Number of each step that has one, by group and place in it.
    numbers: BTreeMap<fit_out::At, usize>,
}

impl Plan {
    pub(super) fn of(job: &Job, unit: &Unit) -> Self {
        let groups = order::groups(job.model);
        let batches = batches(unit, &groups);
        let mut numbers = BTreeMap::new();
        let mut number = 0;
        for batch in &batches {
            for s in 0..groups[batch[0]].steps.len() {
                // What a group begins with is told at the step that puts the first thing to it.
                if has_card(&groups[batch[0]], s) {
                    number += 1;
                }
                // A group's beginning goes by the number of its first step.
                let shown = if has_card(&groups[batch[0]], s) { number } else { number + 1 };
                numbers.extend(batch.iter().map(|g| ((*g, s), shown)));
            }
        }
        Self { groups, batches, numbers }
    }

    /// The step at which a panel is first put to others.
    pub(super) fn step_of(&self, panel: PanelId) -> Option<usize> {
        let first = |(g, group): (usize, &Group)| {
            let s = group.steps.iter().position(|s| s.panels.contains(&panel))?;
            self.numbers.get(&(g, s)).copied()
        };
        self.groups.iter().enumerate().find_map(first)
    }
}

/// Whether a step is told by itself.
fn has_card(group: &Group, step: usize) -> bool {
    step > 0 || group.steps[step].along.is_some() || group.steps.len() == 1
}

pub(super) fn chapter(book: &Book) -> Chapter {
    let plan = &book.plan;
    let list = merged(&book.job.model.hardware);
    let places = fit_out::steps(book.job.model, &plan.groups, &list);
    let body = html! {
        @if plan.groups.is_empty() {
            p { "Loose parts: nothing to put together." }
        } @else {
            p {
                "Put every joint together dry once before any glue, and label both sides of it. "
                "Each step shows what goes in, drawn out along its way; what stands already is white. \
                Boxes that are alike are made side by side: the step tells how many. Drawer fronts come last, on closed drawers."
            }
            @for batch in &plan.batches { (one(book, batch, &list, &places)) }
        }
        @let left: Vec<&Hardware> = list.iter().zip(&places).filter(|(_, p)| p.is_none()).map(|(h, _)| h).collect();
        @if !left.is_empty() { h3 { "Hardware of no step" } (pieces(book, &left, 1)) }
    };
    Chapter { anchor: "assembly", title: "Assembly", body }
}

/// Groups of the same parts, put together the same way, as one.
fn batches(unit: &Unit, groups: &[Group]) -> Vec<Vec<usize>> {
    let mut list: Vec<Vec<usize>> = Vec::new();
    let parts = |s: &Step| -> Vec<Option<usize>> { s.panels.iter().map(|p| unit.part_of.get(p).copied()).collect() };
    let alike = |a: &Group, b: &Group| {
        a.name != WHOLE
            && a.steps.len() == b.steps.len()
            && a.steps.iter().zip(&b.steps).all(|(s, t)| s.along == t.along && !s.front && parts(s) == parts(t))
    };
    for (i, group) in groups.iter().enumerate() {
        match list.iter_mut().find(|batch| alike(&groups[batch[0]], group)) {
            Some(batch) => batch.push(i),
            None => list.push(vec![i]),
        }
    }
    list
}

fn one(book: &Book, batch: &[usize], list: &[Hardware], places: &[Option<fit_out::At>]) -> Markup {
    let plan = &book.plan;
    let group = &plan.groups[batch[0]];
    let names: Vec<&str> = batch.iter().map(|i| plan.groups[*i].name.as_str()).collect();
    let heading = if group.name == WHOLE { "The whole, in its place".to_owned() } else { names.join(", ") };
    let last = group.steps.len() - 1;
    let number = |s: usize| plan.numbers.get(&(batch[0], s)).copied().unwrap_or_default();
    let here = |at: &Option<fit_out::At>, i: usize| at.is_some_and(|(g, s)| batch.contains(&g) && number(s) == number(i));
    let shown: Vec<(usize, &Step)> = group.steps.iter().enumerate().filter(|(i, _)| has_card(group, *i)).collect();
    let cards = in_order(
        &shown,
        || (),
        |(), (i, step)| {
            let hardware: Vec<&Hardware> = list.iter().zip(places).filter(|(_, at)| here(at, *i)).map(|(h, _)| h).collect();
            card(book, group, step, number(*i), *i == last, &hardware, names.len())
        },
    );
    html! {
        section.group {
            h3 { (heading) @if names.len() > 1 { ": make " (names.len()) " alike" } }
            @if group.name == WHOLE { (at_the_car(book)) }
            @for card in &cards { (card) }
        }
    }
}

/// Cautions at the vehicle, where they belong.
fn at_the_car(book: &Book) -> Markup {
    html! {
        @if book.job.design.bay.is_some() {
            div.warn {
                p { strong { "Before any new hole in the vehicle: look underneath" } " for tank, brake lines and wiring. Bolt only to the vehicle's own anchor points, by its handbook; never to those of seat belts. \
                    Keep clear of belts, buckles and airbags." }
                p { "How each unit is brought in: " a href="#motion" { "motion and loading in" } "." }
            }
        }
    }
}

fn card(book: &Book, group: &Group, step: &Step, number: usize, last: bool, hardware: &[&Hardware], each: usize) -> Markup {
    let model = book.job.model;
    let joints = joint::closed(model, step);
    let l = book.lengths;
    let drawn = picture::draw(book, &group.name, number, step);
    let begins =
        group.steps.first().filter(|f| f.along.is_none() && step.present.len() == f.panels.len() && !std::ptr::eq(*f, step));
    html! {
        article.step id={"step-" (number)} {
            h4 { "Step " (number) ": " (step.what) @if step.panels.len() == 1 { ", " (id_of(book, step)) } }
            @if let Some((picture, view)) = drawn { figure { (picture) figcaption { "Step " (number) ", " (view) "." } } }
            ol.do {
                @if let Some(first) = begins {
                    li { span.tick {} "Begin with " (first.what) @if first.panels.len() == 1 { ", " (id_of(book, first)) } "." }
                }
                li { span.tick {} @if joints.is_empty() && step.panels.len() == 1 && !step.front && group.name != WHOLE { "Keep " (step.what) " ready: it is fixed where the whole is put together." } @else { (sentence(step)) } }
                @for (kind, list) in by_kind(&joints) { li { span.tick {} (join(book, step, kind, &list)) } }
                @if step.front { (front()) }
                @if !hardware.is_empty() { li { span.tick {} "Fasten with what is listed below. Drill pilots first; drive screws by hand for the last turn." } }
                @if last && group.name != WHOLE {
                    @if let Some([above, before]) = joint::diagonals(book, group) {
                        li { span.tick {} "Check the diagonals before the glue sets: " strong { (l.said(above)) } " corner to corner seen from above, " strong { (l.said(before)) } " from the front; the two of each may differ by " (l.said(Mm(SQUARE))) " at most (common practice, no source)." }
                    }
                }
            }
            @if !hardware.is_empty() { (pieces(book, hardware, each)) }
            (expect(book, step))
        }
    }
}

/// Joints by their kind, in the order found.
fn by_kind(joints: &[joint::Joint]) -> Vec<(&str, Vec<&joint::Joint>)> {
    let mut kinds: Vec<(&str, Vec<&joint::Joint>)> = Vec::new();
    for j in joints {
        match kinds.iter_mut().find(|(kind, _)| *kind == j.kind) {
            Some((_, list)) => list.push(j),
            None => kinds.push((&j.kind, vec![j])),
        }
    }
    kinds
}

fn id_of(book: &Book, step: &Step) -> Markup {
    step.panels.first().map(|p| book.links.id(&book.job.model.panels[p.0].id)).unwrap_or_default()
}

fn sentence(step: &Step) -> String {
    let what = &step.what;
    match step.along {
        None => format!("Lay {what} ready."),
        Some(Axis::PlusX) => format!("Bring {what} in from the left."),
        Some(Axis::MinusX) => format!("Bring {what} in from the right."),
        Some(Axis::PlusY) => format!("Bring {what} in from the front."),
        Some(Axis::MinusY) => format!("Bring {what} in from the rear."),
        Some(Axis::PlusZ) => format!("Bring {what} in from below, or turn the work over."),
        Some(Axis::MinusZ) => format!("Put {what} on from above."),
    }
}

/// Glue and clamps, the joints of one kind together.
fn join(book: &Book, step: &Step, kind: &str, joints: &[&joint::Joint]) -> Markup {
    let top = book
        .job
        .design
        .carcasses
        .iter()
        .any(|c| c.top.as_ref().is_some_and(|t| t.removable) && step.what == format!("{} top", c.name));
    let clamps: u32 = joints.iter().map(|j| joint::clamps(j.length)).sum();
    let mates = html! {
        @for (i, j) in joints.iter().enumerate() { @if i > 0 { ", " } (book.links.id(&book.job.model.panels[j.mate.0].id)) }
    };
    html! {
        @if joint::is_glued(kind) && !top {
            "Glue the joint with " (mates) " (" (kind) ") on both faces and clamp it: " (clamps) " clamps, one every 250 mm (common practice, no source). Wipe off what comes out."
        } @else if kind == "groove" {
            "Let it into the groove of " (mates) " dry, without glue."
        } @else if top {
            "Screw it to " (mates) " without glue: it comes off again."
        } @else {
            "Screw it to " (mates) " (" (kind) "). Glue too, unless it must come off again."
        }
    }
}

/// How a drawer's front is set.
fn front() -> Markup {
    html! {
        li { span.tick {} "Shut the drawer. Fit the latch to the front first, as its template shows." }
        li { span.tick {} "Set the front on packers as thick as the gaps below, the same left and right, and hold it with tape." }
        li { span.tick {} "Pull the drawer out with the front, clamp front and box together, and screw from inside." }
        li { span.tick {} "Shut it, let the latch close, pull on it, then shake it hard: it must stay shut." }
    }
}

/// Fasteners of a step; `each` alike things share the list.
fn pieces(book: &Book, list: &[&Hardware], each: usize) -> Markup {
    html! {
        div.wide role="region" aria-label="Fasteners of this step" tabindex="0" {
            table.slim {
                thead { tr { th.n { "Count" } th { "Piece" } th { "Hole" } th { "Where" @if each > 1 { " (of all " (each) ")" } } } }
                tbody {
                    @for piece in list {
                        tr {
                            td.n { (piece.quantity) }
                            td { (piece.name) }
                            td { (hole(book, piece)) }
                            td { @if each > 1 { (piece.unit) ": " } (book.links.words(&piece.place)) }
                        }
                    }
                }
            }
        }
    }
}

/// The gaps that must be there once it stands.
fn expect(book: &Book, step: &Step) -> Markup {
    let (lines, more) = joint::gaps(book, step);
    let l = book.lengths;
    html! {
        @if !lines.is_empty() {
            p { strong { "Gaps to expect: " } }
            ul {
                @for line in lines {
                    li { (line.gap) ": " strong { (l.said(line.nominal)) } ", likely " (l.bare(line.likely.min)) " to " (l.bare(line.likely.max)) }
                }
                @if more { li { "and more: see " a href="#gaps" { "gaps and findings" } } }
            }
        }
    }
}

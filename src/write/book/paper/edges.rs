//! Sticks for pilots in edges, for slides, and the story stick.

use super::stick::{Mark, Stick};
use crate::design::Design;
use crate::parts::{PanelEdge, PanelId};
use crate::shop::{Slide, SlideHole};
use crate::units::{decimal, Mm};
use crate::write::book::Book;
use crate::write::cut_list::edge;
use std::collections::{BTreeMap, BTreeSet};

/// Height of a slide's strip: its screws stand on its middle.
const SLIDE: f64 = 14.0;
/// Height of a story stick's strip.
const STORY: f64 = 12.0;

/// Pilots to drill into edges: equal ones share a stick.
pub(super) fn pilots(book: &Book) -> Vec<Stick> {
    let mut sticks: BTreeMap<String, (Stick, Vec<String>)> = BTreeMap::new();
    for part in &book.job.parts.parts {
        let Some(panel) = part.panels.first().and_then(|id| book.job.model.panels.get(id.0)) else { continue };
        for note in panel.edges.iter().filter(|n| !n.screws.is_empty()) {
            let along_u = matches!(note.edge, PanelEdge::Bottom | PanelEdge::Top);
            let length = if along_u { panel.length.nominal() } else { panel.width.nominal() }.0;
            let mut at: Vec<f64> = note.screws.iter().map(|s| s.nominal().0).collect();
            at.sort_by(f64::total_cmp);
            let key: Vec<String> = at.iter().chain([&length, &part.thickness.0]).map(|x| decimal(*x, 1)).collect();
            let marks = at.iter().map(|x| Mark { at: *x, text: String::new(), point: true }).collect();
            let stick = Stick { title: String::new(), length, height: part.thickness.0, marks };
            let whose = format!("{} {}", part.id, edge(note.edge));
            sticks.entry(key.join(" ")).or_insert((stick, Vec::new())).1.push(whose);
        }
    }
    sticks
        .into_values()
        .map(|(stick, whose)| Stick { title: format!("Pilots, from the edge's own start: {}", whose.join(", ")), ..stick })
        .collect()
}

/// Holes of each slide's two members, from the front end.
pub(super) fn slides(design: &Design) -> Vec<Stick> {
    let mut used: BTreeMap<&str, &Slide> = BTreeMap::new();
    for drawer in design.carcasses.iter().flat_map(|c| &c.columns).flat_map(|c| &c.cells).filter_map(|c| c.drawer.as_ref()) {
        used.insert(&drawer.slide.id, &drawer.slide);
    }
    let stick = |slide: &Slide, what: &str, holes: &[SlideHole]| Stick {
        title: format!("{}: {what}, front end left", slide.name),
        length: slide.length.0,
        height: SLIDE,
        marks: holes.iter().map(|h| Mark { at: h.from_front.0, text: String::new(), point: true }).collect(),
    };
    used.values()
        .flat_map(|s| [stick(s, "on the upright", &s.case_holes), stick(s, "on the drawer side", &s.drawer_holes)])
        .collect()
}

/// Where every fixed board of each unit begins and ends: heights, widths, depths.
pub(super) fn story(book: &Book) -> Vec<Stick> {
    let model = book.job.model;
    let moving: BTreeSet<PanelId> = model.motions.iter().flat_map(|m| m.panels.iter().copied()).collect();
    let mut sticks = Vec::new();
    for carcass in &book.job.design.carcasses {
        let own = model
            .panels
            .iter()
            .enumerate()
            .filter(|(i, p)| p.unit == carcass.name && !moving.contains(&PanelId(*i)))
            .filter_map(|(i, p)| Some((PanelId(i), p.solid()?)));
        let own: Vec<_> = own.collect();
        for (axis, what) in
            [(2, "heights from its underside"), (0, "widths from its left side"), (1, "depths from its front")]
        {
            let low = own.iter().map(|(_, b)| b.min.to_array()[axis]).fold(f64::INFINITY, f64::min);
            let high = own.iter().map(|(_, b)| b.max.to_array()[axis]).fold(f64::NEG_INFINITY, f64::max);
            if low >= high {
                continue;
            }
            // Boards that lie across this axis: their two faces are what a stick is for.
            let mut marks: BTreeMap<i64, Vec<String>> = BTreeMap::new();
            for (id, b) in &own {
                let size = [0, 1, 2].map(|i| b.max.to_array()[i] - b.min.to_array()[i]);
                if (0..3).any(|i| size[i] < size[axis]) {
                    continue;
                }
                let name = book.unit.part_of.get(id).map_or(&model.panels[id.0].id, |p| &book.job.parts.parts[*p].id);
                for end in [b.min.to_array()[axis], b.max.to_array()[axis]] {
                    let names = marks.entry(((end - low) * 10.0).round() as i64).or_default();
                    if !names.contains(name) {
                        names.push(name.clone());
                    }
                }
            }
            let said = |names: &[String]| match names {
                [] => String::new(),
                [one] => one.clone(),
                [one, rest @ ..] => format!("{one} +{}", rest.len()),
            };
            let marks = marks
                .into_iter()
                .map(|(at, names)| Mark { at: at as f64 / 10.0, text: said(&names), point: false })
                .collect();
            let title = format!("Story stick of {}: {what}, {} in all", carcass.name, book.lengths.said(Mm(high - low)));
            sticks.push(Stick { title, length: high - low, height: STORY, marks });
        }
    }
    sticks
}

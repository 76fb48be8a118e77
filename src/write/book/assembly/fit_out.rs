//! Which piece of hardware belongs to which step: each to exactly one.

use super::order::{Group, Step, WHOLE};
use crate::parts::{Hardware, Model, PanelId};
use std::collections::BTreeMap;

/// Group and step, by index.
pub(super) type At = (usize, usize);

/// For each piece its step; `None` when there is no step at all.
pub(super) fn steps(model: &Model, groups: &[Group], list: &[Hardware]) -> Vec<Option<At>> {
    let by_name: BTreeMap<&str, PanelId> =
        model.panels.iter().enumerate().map(|(i, p)| (p.name.as_str(), PanelId(i))).collect();
    let joins = Joins::new(groups);
    list.iter()
        .map(|piece| {
            let joint = joined(&by_name, &piece.place).and_then(|(a, b)| joins.of(a, b));
            joint.or_else(|| of_unit(model, groups, piece)).or_else(|| last(groups))
        })
        .collect()
}

/// The two panels of a place such as `lower base to lower back, from below`.
fn joined(by_name: &BTreeMap<&str, PanelId>, place: &str) -> Option<(PanelId, PanelId)> {
    place.match_indices(" to ").find_map(|(at, word)| {
        let (a, b) = (&place[..at], &place[at + word.len()..]);
        let b = by_name.get(b).or_else(|| by_name.get(b.split(',').next().unwrap_or(b)))?;
        Some((*by_name.get(a)?, *b))
    })
}

/// When panels come together.
struct Joins {
    /// By panel: the steps it goes in at, in order.
    into: BTreeMap<PanelId, Vec<At>>,
}

impl Joins {
    fn new(groups: &[Group]) -> Self {
        let mut into: BTreeMap<PanelId, Vec<At>> = BTreeMap::new();
        for (g, group) in groups.iter().enumerate() {
            for (s, step) in group.steps.iter().enumerate() {
                for panel in &step.panels {
                    into.entry(*panel).or_default().push((g, s));
                }
            }
        }
        Self { into }
    }

    /// The first step after which both stand in one group, put there apart.
    fn of(&self, a: PanelId, b: PanelId) -> Option<At> {
        let (a, b) = (self.into.get(&a)?, self.into.get(&b)?);
        a.iter().find_map(|(g, s)| b.iter().find(|(h, t)| g == h && s != t).map(|(_, t)| (*g, *s.max(t))))
    }
}

/// A piece that joins no two panels by name: slides and bolts when their unit goes in, latches with the front.
fn of_unit(model: &Model, groups: &[Group], piece: &Hardware) -> Option<At> {
    let find = |wanted: &dyn Fn(&Group, &Step) -> bool| {
        groups.iter().enumerate().find_map(|(g, group)| Some((g, group.steps.iter().position(|s| wanted(group, s))?)))
    };
    let moves = model.motions.iter().any(|m| m.name == piece.unit);
    if moves && piece.place.contains("front") {
        let front = format!("{} front", piece.unit);
        if let Some(at) = find(&|_, s| s.front && s.what == front) {
            return Some(at);
        }
    }
    let own = |_: &Group, s: &Step| s.panels.iter().any(|p| model.panels[p.0].unit == piece.unit);
    find(&|g, s| g.name == WHOLE && s.what == piece.unit)
        .or_else(|| find(&|g, s| g.name == WHOLE && own(g, s)))
        .or_else(|| groups.iter().position(|g| g.name == piece.unit).map(|g| (g, groups[g].steps.len().saturating_sub(1))))
        .or_else(|| find(&own))
}

fn last(groups: &[Group]) -> Option<At> {
    let g = groups.len().checked_sub(1)?;
    Some((g, groups[g].steps.len().checked_sub(1)?))
}

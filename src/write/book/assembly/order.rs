//! The steps: groups on the bench first, then the whole, drawer fronts last.

use crate::fit;
use crate::geom::Axis;
use crate::parts::{Model, PanelId};

/// What the whole is called in the order of assembly.
pub(super) const WHOLE: &str = "all";

/// One thing put to what stands already.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Step {
    /// What goes in: a part's or a group's name.
    pub(super) what: String,
    /// Its panels.
    pub(super) panels: Vec<PanelId>,
    /// Which way it moves as it goes in; `None` for what everything else is put to.
    pub(super) along: Option<Axis>,
    /// What stands already.
    pub(super) present: Vec<PanelId>,
    /// Whether it is a drawer's front, put on last.
    pub(super) front: bool,
}

/// What is put together by itself.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Group {
    /// Its name; [`WHOLE`] for the whole.
    pub(super) name: String,
    pub(super) steps: Vec<Step>,
}

/// Groups in the order found, a drawer's front taken out of its drawer and put on when everything stands.
pub(super) fn groups(model: &Model) -> Vec<Group> {
    let fronts: Vec<(String, PanelId)> = model
        .motions
        .iter()
        .filter_map(|m| {
            let front =
                m.panels.iter().find(|id| model.panels.get(id.0).is_some_and(|p| p.name == format!("{} front", m.name)))?;
            (m.panels.len() > 1).then(|| (m.name.clone(), *front))
        })
        .collect();
    let is_front = |panels: &[PanelId]| panels.len() == 1 && fronts.iter().any(|(_, id)| *id == panels[0]);
    let mut groups: Vec<Group> = Vec::new();
    for found in fit::assemble(model).value.unwrap_or_default() {
        if found.group != WHOLE && is_front(&found.panels) {
            continue;
        }
        if groups.last().is_none_or(|g| g.name != found.group) {
            groups.push(Group { name: found.group.clone(), steps: Vec::new() });
        }
        let Some(group) = groups.last_mut() else { continue };
        let without: Vec<PanelId> = found.panels.iter().copied().filter(|id| !fronts.iter().any(|(_, f)| f == id)).collect();
        let present: Vec<PanelId> = group.steps.iter().flat_map(|s| s.panels.clone()).collect();
        let along = if present.is_empty() { None } else { found.along };
        group.steps.push(Step { what: found.what, panels: without, along, present, front: false });
    }
    if !fronts.is_empty() {
        let mut present: Vec<PanelId> = (0..model.panels.len()).map(PanelId).collect();
        present.retain(|id| !fronts.iter().any(|(_, f)| f == id) && model.panels[id.0].frame.is_some());
        let mut steps = Vec::new();
        for (_, front) in &fronts {
            let what = model.panels[front.0].name.clone();
            steps.push(Step { what, panels: vec![*front], along: Some(Axis::PlusY), present: present.clone(), front: true });
            present.push(*front);
        }
        groups.push(Group { name: "drawer fronts".to_owned(), steps });
    }
    groups
}

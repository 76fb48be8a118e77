//! The order in which parts go together: a straight way in for each, found by taking the whole apart.

use super::codes;
use super::screws::{screws, Screw};
use super::solid::{all, hull, meet, span, swept};
use crate::diag::{Checked, Finding};
use crate::geom::{Axis, Box3};
use crate::parts::{Model, PanelId};
use std::collections::{BTreeMap, BTreeSet};

/// Long enough to have left everything, in mm.
const AWAY: f64 = 1e5;
/// Directions a part may leave in, the handiest first.
const LEAVES: [Axis; 6] = [Axis::PlusZ, Axis::MinusY, Axis::PlusX, Axis::MinusX, Axis::PlusY, Axis::MinusZ];

/// One step: a part, or a group put together before, goes in.
#[derive(Clone, Debug, PartialEq)]
pub struct AssemblyStep {
    /// What is being put together: `lower left drawer`, `lower`; `all` for the whole.
    pub group: String,
    /// What goes in at this step: a panel's or a group's name.
    pub what: String,
    /// Its panels.
    pub panels: Vec<PanelId>,
    /// The direction it moves in as it goes in; `None` for the first of its group.
    pub along: Option<Axis>,
}

/// The order of assembly: each group by itself, then the groups to the whole. A part without a straight way in, or a screw that no
/// driver reaches, is a finding; what is left then follows in the order it was derived in.
#[must_use]
pub fn assemble(model: &Model) -> Checked<Vec<AssemblyStep>> {
    let solids = all(model);
    let groups = groups(model);
    let (mut steps, mut findings) = (Vec::new(), Vec::new());
    for (name, members) in &groups {
        let whole = hull(members.iter().flat_map(|id| &solids[id.0]));
        let pieces: Vec<Piece> = members
            .iter()
            .map(|id| Piece {
                name: model.panels[id.0].name.clone(),
                panels: vec![*id],
                solids: solids[id.0].clone(),
                prefer: face_outward(&solids[id.0], whole.as_ref()),
            })
            .collect();
        let screws = screws(model, members);
        take_apart(name, &pieces, &screws, model, &mut steps, &mut findings);
    }
    if groups.len() > 1 {
        let pieces: Vec<Piece> = groups
            .iter()
            .map(|(name, members)| Piece {
                name: name.clone(),
                panels: members.clone(),
                solids: members.iter().flat_map(|id| solids[id.0].clone()).collect(),
                prefer: model.motions.iter().find(|m| m.name == *name).map(|m| m.axis),
            })
            .collect();
        take_apart("all", &pieces, &[], model, &mut steps, &mut findings);
    }
    Checked::new(steps, findings)
}

/// What is put together by itself: each thing that moves, then what stands of each unit; in the order it was derived in.
fn groups(model: &Model) -> Vec<(String, Vec<PanelId>)> {
    let mut list: Vec<(String, Vec<PanelId>)> = Vec::new();
    let moving: BTreeSet<PanelId> = model.motions.iter().flat_map(|m| m.panels.iter().copied()).collect();
    for (i, panel) in model.panels.iter().enumerate() {
        let id = PanelId(i);
        if panel.frame.is_none() || moving.contains(&id) {
            continue;
        }
        match list.iter_mut().find(|(name, _)| *name == panel.unit) {
            Some((_, members)) => members.push(id),
            None => list.push((panel.unit.clone(), vec![id])),
        }
    }
    for motion in &model.motions {
        let members: Vec<PanelId> =
            motion.panels.iter().copied().filter(|id| model.panels.get(id.0).is_some_and(|p| p.frame.is_some())).collect();
        // A table has its pull-out's name, as its strips do.
        let name =
            if list.iter().any(|(n, _)| *n == motion.name) { format!("{} table", motion.name) } else { motion.name.clone() };
        if !members.is_empty() {
            list.push((name, members));
        }
    }
    list
}

/// Something that moves as one.
struct Piece {
    name: String,
    panels: Vec<PanelId>,
    solids: Vec<Box3>,
    /// The direction it would rather leave in.
    prefer: Option<Axis>,
}

/// Across a panel's faces, away from the middle of its group: the way it would be put on.
fn face_outward(solids: &[Box3], whole: Option<&Box3>) -> Option<Axis> {
    let (own, whole) = (hull(solids)?, whole?);
    let size = |i: usize| span(&own, i).1 - span(&own, i).0;
    let thin = (0..3).min_by(|a, b| size(*a).total_cmp(&size(*b)))?;
    let middle = |b: &Box3| f64::midpoint(span(b, thin).0, span(b, thin).1);
    let up = middle(&own) >= middle(whole);
    Some(match (thin, up) {
        (0, true) => Axis::PlusX,
        (0, false) => Axis::MinusX,
        (1, true) => Axis::PlusY,
        (1, false) => Axis::MinusY,
        (_, true) => Axis::PlusZ,
        (_, false) => Axis::MinusZ,
    })
}

/// Takes a group apart, the last derived first; its steps are that backwards.
fn take_apart(
    group: &str,
    pieces: &[Piece],
    screws: &[Screw],
    model: &Model,
    steps: &mut Vec<AssemblyStep>,
    findings: &mut Vec<Finding>,
) {
    let holds = Holds::new(pieces);
    let mut left: BTreeSet<usize> = (0..pieces.len()).collect();
    let mut out: Vec<(usize, Option<Axis>)> = Vec::new();
    let mut screws_told = false;
    while left.len() > 1 {
        let ready = |screwed: bool| {
            left.iter().rev().find_map(|i| {
                let axis = holds.free_way(pieces, *i, &left)?;
                (!screwed || unreachable(pieces, screws, *i, &left).is_none()).then_some((*i, axis))
            })
        };
        let next = ready(true).or_else(|| {
            // A way, but no driver's way: say so once, and go on.
            let found = ready(false)?;
            if !screws_told {
                screws_told = true;
                findings.extend(
                    unreachable(pieces, screws, found.0, &left).map(|(s, by)| no_driver(s, &pieces[by].name, model)),
                );
            }
            Some(found)
        });
        let Some((i, axis)) = next else {
            findings.push(stuck(group, pieces, &holds, &left, model));
            break;
        };
        left.remove(&i);
        out.push((i, Some(axis)));
    }
    let rest: Vec<(usize, Option<Axis>)> = left.iter().map(|i| (*i, None)).collect();
    for (i, axis) in rest.into_iter().chain(out.into_iter().rev()) {
        steps.push(AssemblyStep {
            group: group.to_owned(),
            what: pieces[i].name.clone(),
            panels: pieces[i].panels.clone(),
            along: axis.map(opposite),
        });
    }
}

/// Who holds whom, in each direction.
struct Holds {
    /// By piece and direction: the pieces in its way.
    by: Vec<[BTreeSet<usize>; 6]>,
}

impl Holds {
    fn new(pieces: &[Piece]) -> Self {
        let hulls: Vec<Option<Box3>> = pieces.iter().map(|p| hull(&p.solids)).collect();
        let by = pieces
            .iter()
            .enumerate()
            .map(|(i, piece)| {
                LEAVES.map(|axis| {
                    let Some(path) = hulls[i].map(|b| swept(&b, axis, AWAY)) else { return BTreeSet::new() };
                    (0..pieces.len())
                        .filter(|k| *k != i)
                        .filter(|k| hulls[*k].is_some_and(|b| meet(&path, &b)))
                        .filter(|k| in_way(&piece.solids, &pieces[*k].solids, axis))
                        .collect()
                })
            })
            .collect();
        Self { by }
    }

    fn free_way(&self, pieces: &[Piece], i: usize, left: &BTreeSet<usize>) -> Option<Axis> {
        let free = |axis: &Axis| LEAVES.iter().position(|a| a == axis).is_some_and(|k| self.by[i][k].is_disjoint(left));
        pieces[i].prefer.iter().chain(&LEAVES).copied().find(|axis| free(axis))
    }
}

/// Whether one meets another as it leaves. Solids in the same place from the start are another finding's business.
fn in_way(moving: &[Box3], still: &[Box3], axis: Axis) -> bool {
    moving.iter().any(|a| {
        let path = swept(a, axis, AWAY);
        still.iter().any(|b| meet(&path, b) && !meet(a, b))
    })
}

/// A screw of a piece that no driver reaches while the rest stands, and what is before it.
fn unreachable<'s>(pieces: &[Piece], screws: &'s [Screw], i: usize, left: &BTreeSet<usize>) -> Option<(&'s Screw, usize)> {
    let of = |id: PanelId| left.iter().copied().find(|k| pieces[*k].panels.contains(&id));
    screws.iter().filter(|s| pieces[i].panels.contains(&s.through) || pieces[i].panels.contains(&s.into)).find_map(|screw| {
        // Only what stands now is joined now.
        of(screw.through)?;
        of(screw.into)?;
        let by = left.iter().copied().find(|k| pieces[*k].solids.iter().any(|b| meet(b, &screw.driver)))?;
        Some((screw, by))
    })
}

fn no_driver(screw: &Screw, by: &str, model: &Model) -> Finding {
    let (through, into) = (&model.panels[screw.through.0], &model.panels[screw.into.0]);
    Finding::caution(
        codes::NO_DRIVER_WAY,
        format!("no driver reaches {} through {} into {}: {by} stands behind it", screw.id, through.name, into.name),
    )
    .part(through.id.clone())
    .part(into.id.clone())
    .at(through.span)
    .limit("200 mm straight behind the head (common practice, no source)")
    .remedy("use a right-angle driver, or another joint there")
}

fn stuck(group: &str, pieces: &[Piece], holds: &Holds, left: &BTreeSet<usize>, model: &Model) -> Finding {
    // The one that the fewest hold is the one a change would free most easily.
    let held =
        |i: usize| -> BTreeSet<usize> { holds.by[i].iter().flat_map(|set| set.intersection(left).copied()).collect() };
    let ways = |i: usize| -> BTreeMap<usize, usize> {
        let mut count = BTreeMap::new();
        for set in &holds.by[i] {
            for k in set.intersection(left) {
                *count.entry(*k).or_insert(0) += 1;
            }
        }
        count
    };
    let last = left.iter().copied().min_by_key(|i| (held(*i).len(), std::cmp::Reverse(*i))).unwrap_or(0);
    let holders: Vec<&str> = ways(last).keys().map(|k| pieces[*k].name.as_str()).collect();
    let place = if group == "all" { String::new() } else { format!(" of {group}") };
    let mut finding = Finding::stop(
        codes::NO_WAY_TO_ASSEMBLE,
        format!(
            "{}{place} has no straight way in: {} {} it in every direction",
            pieces[last].name,
            holders.join(", "),
            if holders.len() == 1 { "holds" } else { "hold" }
        ),
    )
    .limit("each part goes in along one straight line")
    .remedy("let one of them be put in later: leave out its joint, or screw it on from outside");
    for i in std::iter::once(last).chain(held(last)) {
        for id in pieces[i].panels.iter().take(1) {
            finding = finding.part(model.panels[id.0].id.clone());
        }
    }
    finding.at(pieces[last].panels.first().and_then(|id| model.panels[id.0].span))
}

fn opposite(axis: Axis) -> Axis {
    match axis {
        Axis::PlusX => Axis::MinusX,
        Axis::MinusX => Axis::PlusX,
        Axis::PlusY => Axis::MinusY,
        Axis::MinusY => Axis::PlusY,
        Axis::PlusZ => Axis::MinusZ,
        Axis::MinusZ => Axis::PlusZ,
    }
}

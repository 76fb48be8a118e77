//! The exploded picture of a step: what stands, and what goes in on its way there.

use super::order::{Step, WHOLE};
use crate::geom::{Axis, Box3, Point3};
use crate::parts::PanelId;
use crate::write::book::solid::{Body, Look, Scene, View};
use crate::write::book::Book;
use maud::Markup;

/// Air between what stands and what goes in, in the picture. In mm.
const APART: f64 = 60.0;
/// What goes in is drawn out by no more than this share of what stands, or by `LEAST`.
const SHARE: f64 = 0.5;
/// In mm.
const LEAST: f64 = 160.0;
/// What is seen of the new part, of what it would show alone, for a view to be good enough.
const SEEN: f64 = 0.4;
/// Of more panels than this only the nearest are drawn.
pub(in crate::write::book) const MOST: usize = 60;

/// Views to try, the usual first.
const VIEWS: [View; 5] = [
    View::USUAL,
    View { rear: false, left: true, below: false },
    View { rear: true, left: false, below: false },
    View { rear: false, left: false, below: true },
    View { rear: true, left: false, below: true },
];

pub(super) fn draw(book: &Book, group: &str, number: usize, step: &Step) -> Option<(Markup, String)> {
    let whole = group == WHOLE;
    let new = hull(book, &step.panels)?;
    let present = nearest(book, &step.present, &new);
    let shift = step.along.map_or([0.0; 3], |axis| way(axis, &new, hull(book, &present).as_ref()));
    let mut bodies = if whole || step.front {
        book.unit.nameless(book.job, &present, Look::Plain, [0.0; 3])
    } else {
        book.unit.bodies(book.job, &present, Look::Plain, [0.0; 3])
    };
    let old = bodies.len();
    bodies.extend(if whole || step.front {
        book.unit.nameless(book.job, &step.panels, Look::New, shift)
    } else {
        book.unit.bodies(book.job, &step.panels, Look::New, shift)
    });
    if whole || step.front {
        one_name(&mut bodies[old..], &step.what);
    }
    let ways = step.along.map(|_| {
        let middle = Point3::new(
            f64::midpoint(new.min.x, new.max.x),
            f64::midpoint(new.min.y, new.max.y),
            f64::midpoint(new.min.z, new.max.z),
        );
        [middle.plus(Point3::new(shift[0], shift[1], shift[2]), 1.0), middle]
    });
    let mut scene = Scene { bodies, ways: ways.into_iter().collect(), view: View::USUAL };
    choose_view(&mut scene, old);
    let shows = format!("Step {number}: {} {}, {}", step.what, direction(step.along), scene.view.words());
    let caption = scene.view.words();
    Some((scene.draw(97.0, 80.0, &shows), caption))
}

/// Turns the scene until enough is seen of what the picture is about.
fn choose_view(scene: &mut Scene, new: usize) {
    if new >= scene.bodies.len() {
        return;
    }
    let mut best = (0.0, View::USUAL);
    for view in VIEWS {
        scene.view = view;
        let seen = scene.seen(new);
        if seen >= SEEN {
            return;
        }
        if seen > best.0 {
            best = (seen, view);
        }
    }
    scene.view = best.1;
}

/// One name for many bodies, on the largest.
pub(in crate::write::book) fn one_name(bodies: &mut [Body], name: &str) {
    let size = |b: &Body| -> f64 {
        let one = |s: &Box3| (s.max.x - s.min.x) * (s.max.y - s.min.y) * (s.max.z - s.min.z);
        b.solids.iter().map(one).sum()
    };
    let largest = (0..bodies.len()).max_by(|a, b| size(&bodies[*a]).total_cmp(&size(&bodies[*b])));
    for (i, body) in bodies.iter_mut().enumerate() {
        body.label = if Some(i) == largest { name.to_owned() } else { String::new() };
    }
}

/// How a thing goes in, in words.
pub(super) fn direction(along: Option<Axis>) -> &'static str {
    match along {
        None => "is the first",
        Some(Axis::PlusX) => "goes in from the left",
        Some(Axis::MinusX) => "goes in from the right",
        Some(Axis::PlusY) => "goes in from the front",
        Some(Axis::MinusY) => "goes in from the rear",
        Some(Axis::PlusZ) => "goes in from below",
        Some(Axis::MinusZ) => "goes on from above",
    }
}

/// The least box round panels.
pub(in crate::write::book) fn hull(book: &Book, panels: &[PanelId]) -> Option<Box3> {
    let solids = panels.iter().filter_map(|id| book.job.model.panels.get(id.0)?.solid());
    solids.reduce(|a, b| a.around(&b))
}

/// How far out a thing is drawn, so that it is clear of what stands or at least begun to go in.
fn way(axis: Axis, new: &Box3, there: Option<&Box3>) -> [f64; 3] {
    let Some(there) = there else { return [0.0; 3] };
    let (i, sign) = (axis.index(), axis.sign());
    let (n, t) = ((new.min.to_array()[i], new.max.to_array()[i]), (there.min.to_array()[i], there.max.to_array()[i]));
    // It comes from the side it moves away from.
    let clear = if sign > 0.0 { n.1 - t.0 } else { t.1 - n.0 };
    let by = (clear.max(0.0) + APART).min((SHARE * (t.1 - t.0)).max(LEAST));
    let mut shift = [0.0; 3];
    shift[i] = -sign * by;
    shift
}

/// The panels nearest to a box, when there are too many to draw.
pub(in crate::write::book) fn nearest(book: &Book, panels: &[PanelId], to: &Box3) -> Vec<PanelId> {
    if panels.len() <= MOST {
        return panels.to_vec();
    }
    let far = |id: &PanelId| book.job.model.panels[id.0].solid().map_or(f64::INFINITY, |b| -b.overlap_depth(to));
    let mut list: Vec<(f64, PanelId)> = panels.iter().map(|id| (far(id), *id)).collect();
    list.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let mut near: Vec<PanelId> = list.into_iter().take(MOST).map(|(_, id)| id).collect();
    near.sort_unstable();
    near
}

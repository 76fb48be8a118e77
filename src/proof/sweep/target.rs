//! A finished part as areas: what must stay at each depth, and what must be open. Part frame, in mm.

use super::area;
use super::edges::Edges;
use super::reach::Shapes;
use crate::proof::job::{Contour, Operation, Part, Side};
use crate::proof::limits;
use crate::proof::shape::{Bounds, Pt, Ring};
use clipper2_rust::Paths64;
use std::cell::{OnceCell, RefCell};
use std::rc::Rc;

/// A part's areas.
#[derive(Debug)]
pub(super) struct Target<'a> {
    pub(super) part: &'a Part,
    pub(super) outline: Paths64,
    /// The outline's edges, indexed.
    pub(super) edge: Edges,
    pub(super) bounds: Bounds,
    /// Length of the outline.
    pub(super) around: f64,
    /// From above and from below; falling depth limits from the face on.
    levels: [OnceCell<Vec<Level>>; 2],
    /// Openings, holes, pockets.
    pub(super) cuts: Vec<Cut<'a>>,
    /// Conical seats.
    pub(super) cones: Vec<Cone>,
    /// Shapes of openings, shared by all parts.
    pub(super) shapes: Rc<RefCell<Shapes>>,
}

/// What must stay where a cut goes deeper than `depth`.
#[derive(Debug)]
pub(super) struct Level {
    pub(super) depth: f64,
    pub(super) keep: Edges,
}

/// Something to be opened.
#[derive(Debug)]
pub(super) struct Cut<'a> {
    pub(super) contour: &'a Contour,
    /// Islands taken out.
    pub(super) area: Paths64,
    pub(super) bounds: Bounds,
    /// From the face it starts from; `None` for through.
    pub(super) depth: Option<f64>,
}

/// A conical seat, 90 degrees included.
#[derive(Debug)]
pub(super) struct Cone {
    pub(super) side: Side,
    pub(super) centre: Pt,
    pub(super) radius: f64,
    /// Radius of the hole on the same axis.
    pub(super) bore: f64,
}

impl<'a> Target<'a> {
    /// The areas of a part. Every part of a job has one outline.
    pub(super) fn of(part: &'a Part, shapes: Rc<RefCell<Shapes>>) -> Self {
        let outline: Paths64 = part
            .contours
            .iter()
            .filter(|c| c.operation == Operation::ThroughOutside)
            .flat_map(|c| area::of(&c.ring))
            .collect();
        let cuts = cuts(part);
        let cones = cones(part);
        let around = area::edges(&outline).map(|(a, b)| a.distance(b)).sum();
        let edge = Edges::of(&outline);
        Self {
            part,
            edge,
            bounds: area::bounds(&outline),
            around,
            outline,
            levels: <[OnceCell<Vec<Level>>; 2]>::default(),
            cuts,
            cones,
            shapes,
        }
    }

    /// What must stay, by falling freedom: the face first.
    pub(super) fn levels(&self, side: Side) -> &[Level] {
        self.levels[usize::from(side == Side::Down)].get_or_init(|| levels(self, side))
    }
}

fn cuts(part: &Part) -> Vec<Cut<'_>> {
    let opens =
        |c: &&Contour| !c.island && matches!(c.operation, Operation::ThroughInside | Operation::Pocket | Operation::Drill);
    part.contours.iter().filter(opens).map(|c| cut(part, c)).collect()
}

fn cut<'a>(part: &'a Part, contour: &'a Contour) -> Cut<'a> {
    let mut area = area::of(&contour.ring);
    if contour.operation == Operation::Pocket {
        let same = |c: &&Contour| c.feature == contour.feature && c.side == contour.side && c.depth_mm == contour.depth_mm;
        let islands: Paths64 =
            part.contours.iter().filter(|c| c.island).filter(same).flat_map(|c| area::of(&c.ring)).collect();
        area = area::minus(&area, &islands);
    }
    let depth = if contour.operation == Operation::ThroughInside { None } else { contour.depth_mm };
    Cut { contour, bounds: area::bounds(&area), area, depth }
}

fn cones(part: &Part) -> Vec<Cone> {
    let round = |ring: &Ring| {
        let b = ring.bounds();
        (Pt::new(f64::midpoint(b.min.x, b.max.x), f64::midpoint(b.min.y, b.max.y)), (b.max.x - b.min.x) / 2.0)
    };
    let seats = part.contours.iter().filter(|c| c.operation == Operation::Countersink);
    let cone = |contour: &'_ Contour| {
        let (centre, radius) = round(&contour.ring);
        let holes = part.contours.iter().filter(|c| c.operation == Operation::Drill).map(|c| round(&c.ring));
        let bore = holes.filter(|(at, _)| at.distance(centre) < limits::CUT).map(|(_, r)| r).fold(0.0, f64::max);
        (centre, radius, bore)
    };
    seats
        .map(|contour| {
            let (centre, radius, bore) = cone(contour);
            Cone { side: contour.side, centre, radius, bore }
        })
        .collect()
}

/// The areas that must stay, one per depth that the part knows from that side.
fn levels(target: &Target<'_>, side: Side) -> Vec<Level> {
    let Target { outline, edge, cuts, cones, .. } = target;
    let here = |c: &&Cut<'_>| c.contour.side == side;
    let mut depths: Vec<f64> = std::iter::once(0.0).chain(cuts.iter().filter(here).filter_map(|c| c.depth)).collect();
    depths.sort_by(f64::total_cmp);
    depths.dedup_by(|a, b| (*a - *b).abs() < limits::SAME_VERTEX);
    // Cones are held to their own walls elsewhere.
    let seats: Vec<Paths64> =
        cones.iter().filter(|c| c.side == side).map(|c| area::of(&Ring::circle(c.centre, c.radius))).collect();
    let level = |depth: &f64| {
        let deeper =
            cuts.iter().filter(|c| c.depth.is_none_or(|d| c.contour.side == side && d > depth + limits::SAME_VERTEX));
        let open: Vec<&Paths64> = deeper.map(|c| &c.area).chain(&seats).collect();
        let (alone, touching) = apart(edge, &open);
        let mut keep = outline.clone();
        if !touching.is_empty() {
            keep = area::minus(outline, &area::union(&touching.into_iter().flatten().cloned().collect()));
            // Slivers between edges that should coincide are no wood.
            keep = area::squared(&area::squared(&keep, -limits::SLIVER), limits::SLIVER);
        }
        keep.extend(alone.into_iter().flatten().cloned());
        Level { depth: *depth, keep: Edges::of(&keep) }
    };
    depths.iter().map(level).collect()
}

/// Openings that lie in the part by themselves, and those that meet others or the outline.
fn apart<'o>(edge: &Edges, open: &[&'o Paths64]) -> (Vec<&'o Paths64>, Vec<&'o Paths64>) {
    let room = 4.0 * limits::SLIVER;
    let boxes: Vec<Bounds> = open.iter().map(|a| area::bounds(a).grown(room)).collect();
    let alone = |k: &usize| {
        let clear = boxes.iter().enumerate().all(|(other, b)| other == *k || !b.meets(boxes[*k]));
        clear
            && open.len() < MANY
            && area::edges(open[*k]).all(|(a, b)| edge.distance(a, b, room).is_none() && edge.holds(a))
    };
    let (alone, touching): (Vec<usize>, Vec<usize>) = (0..open.len()).partition(alone);
    let pick = |which: Vec<usize>| which.into_iter().map(|k| open[k]).collect();
    (pick(alone), pick(touching))
}

/// Parts with more openings than this are not looked through pair by pair.
const MANY: usize = 3_000;

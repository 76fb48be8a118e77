//! Where the outline must stay clean: mating edges and notches, reliefs, and where a slide's line reaches the edge.

use super::context::{bounds, Context};
use super::lay::strip;
use super::outline::Notch;
use crate::design::Design;
use crate::geom::Rect;
use crate::parts::{EdgeNote, FeatureKind, PanelEdge, Purpose};

/// How far beyond an edge or a notch the clean stretch reaches, in mm (common practice, no source).
const REACH: f64 = 1.0;

/// The stretches, in the panel frame.
pub(super) fn of_panel(cx: &Context, notches: &[Notch]) -> Vec<Rect> {
    let b = bounds(cx.panel);
    let mut clean: Vec<Rect> = Vec::new();
    for edge in joint_edges(&cx.panel.edges) {
        clean.push(strip(edge, b, REACH));
    }
    for notch in notches.iter().filter(|n| n.clean) {
        clean.push(notch.contour.bounds().inflate(REACH, REACH));
    }
    clean.extend(slides(cx, b));
    clean
}

/// Edges that are shaped for another panel. Edges that are only butted are left out: a part has to be held somewhere, and a stub
/// on a butted edge is pared off, while one on a finger or in a channel stops the assembly (common practice, no source).
fn joint_edges(notes: &[EdgeNote]) -> Vec<PanelEdge> {
    let mut edges: Vec<PanelEdge> = notes.iter().filter(|n| !n.joint.starts_with("butt")).map(|n| n.edge).collect();
    edges.sort();
    edges.dedup();
    edges
}

/// Both ends of each slide's line, as wide as the slide is high.
fn slides(cx: &Context, b: Rect) -> Vec<Rect> {
    let half = slide_height(cx.design) / 2.0 + REACH;
    let mut holes: Vec<(f64, f64)> = cx
        .panel
        .features
        .iter()
        .filter(|f| f.purpose == Purpose::Slide)
        .filter_map(|f| match &f.kind {
            FeatureKind::Hole { at, .. } | FeatureKind::Countersunk { at, .. } => {
                Some((at[0].nominal().0, at[1].nominal().0))
            }
            _ => None,
        })
        .collect();
    let mut ends = Vec::new();
    while let Some(&(x, y)) = holes.first() {
        // A slide's holes lie on one line along u or v.
        let same = |a: f64, b: f64| (a - b).abs() <= REACH;
        let along_u = holes.iter().filter(|h| same(h.1, y)).count() >= holes.iter().filter(|h| same(h.0, x)).count();
        if along_u {
            holes.retain(|h| !same(h.1, y));
            ends.push(Rect::new(b.x0 - REACH, y - half, b.x0 + REACH, y + half));
            ends.push(Rect::new(b.x1 - REACH, y - half, b.x1 + REACH, y + half));
        } else {
            holes.retain(|h| !same(h.0, x));
            ends.push(Rect::new(x - half, b.y0 - REACH, x + half, b.y0 + REACH));
            ends.push(Rect::new(x - half, b.y1 - REACH, x + half, b.y1 + REACH));
        }
    }
    ends
}

/// Height of the highest slide in the design; which slide a hole belongs to is not known here.
fn slide_height(design: &Design) -> f64 {
    design
        .carcasses
        .iter()
        .flat_map(|c| &c.columns)
        .flat_map(|c| &c.cells)
        .filter_map(|c| c.drawer.as_ref())
        .map(|d| d.slide.height.0)
        .fold(0.0, f64::max)
}

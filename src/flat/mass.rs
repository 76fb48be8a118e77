//! Mass of a part: its net volume times the board's density.

use super::{FlatCut, Operation, Side};
use crate::geom::{tolerance, Contour, Point};
use crate::units::Mm;
use std::f64::consts::PI;

/// kg of a part of this outline, thickness and density.
pub(super) fn of(outline: &Contour, cuts: &[FlatCut], thickness: Mm, density_kg_m3: f64) -> f64 {
    let removed: f64 = cuts.iter().map(|cut| volume(outline, cut, cuts, thickness.0)).sum();
    (outline.area() * thickness.0 - removed) * density_kg_m3 / MM3_PER_M3
}

const MM3_PER_M3: f64 = 1_000_000_000.0;

/// Volume a cut takes away in mm³.
fn volume(outline: &Contour, cut: &FlatCut, cuts: &[FlatCut], thickness: f64) -> f64 {
    match cut.operation {
        Operation::ThroughOutside | Operation::Mark | Operation::Fold { .. } => 0.0,
        Operation::ThroughInside => cut.contour.area().abs() * (thickness - pocketed(cut, cuts, middle(&cut.contour))),
        Operation::Pocket { depth } => {
            let islands: f64 = cut.islands.iter().map(|i| i.area().abs()).sum();
            (area_within(outline, &cut.contour) - islands) * depth.0
        }
        Operation::Drill { at, depth, .. } => {
            let deep = depth.map_or(thickness, |d| d.0);
            cut.contour.area().abs() * (deep - pocketed(cut, cuts, at)).max(0.0)
        }
        Operation::Countersink { at, diameter } => {
            let hole = cuts.iter().find_map(|c| match c.operation {
                Operation::Drill { at: centre, diameter, .. } if centre.distance(at) < tolerance::SAME_POINT => {
                    Some(diameter.0)
                }
                _ => None,
            });
            let (r, big) = (hole.unwrap_or(0.0) / 2.0, diameter.0 / 2.0);
            // A 90 degree frustum is as deep as it widens; the hole itself is counted by its own cut.
            PI * (big - r) * ((big * big + big * r + r * r) / 3.0 - r * r)
        }
    }
}

fn middle(contour: &Contour) -> Point {
    contour.bounds().center()
}

/// How deep pockets that hold a point have already gone there, from the side of the cut (from both sides for a through cut).
fn pocketed(cut: &FlatCut, cuts: &[FlatCut], at: Point) -> f64 {
    let deepest = |side: Side| {
        cuts.iter()
            .filter(|c| c.side == side && c.contour.bounds().contains(at) && c.contour.contains(at))
            .filter_map(|c| if let Operation::Pocket { depth } = c.operation { Some(depth.0) } else { None })
            .fold(0.0, f64::max)
    };
    match cut.operation {
        Operation::Drill { depth: Some(_), .. } => deepest(cut.side),
        _ => deepest(Side::Up) + deepest(Side::Down),
    }
}

/// Area of a cut within the part: what runs out over the edge takes nothing away.
fn area_within(outline: &Contour, contour: &Contour) -> f64 {
    let (o, c) = (outline.bounds(), contour.bounds());
    if c.x0 >= o.x0 && c.y0 >= o.y0 && c.x1 <= o.x1 && c.y1 <= o.y1 {
        return contour.area().abs();
    }
    outline
        .intersection(contour)
        .map_or_else(|_| contour.area().abs(), |regions| regions.iter().map(crate::geom::Region::area).sum())
}

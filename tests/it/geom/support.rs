//! Shapes to test with, and areas from an independent polygon library.

use baywright::geom::{Contour, Point, Region, Vertex};
use clipper2_rust::{area_paths, inflate_paths_64, EndType, FillRule, JoinType, Path64, Paths64, Point64};
use proptest::prelude::*;

/// Units of the integer library per mm.
pub(super) const SCALE: f64 = 1e5;

/// A column of a bar chart on a 0.5 mm lattice standing on a base, with holes: ties everywhere, as in finger-jointed parts.
pub(super) fn lattice_region() -> impl Strategy<Value = Region> {
    let columns = prop::collection::vec((4u32..60, 0u32..50), 3..14);
    let holes = prop::collection::vec((2u32..14, 2u32..14, 4u32..16, prop::bool::ANY), 0..3);
    (columns, holes).prop_map(|(columns, holes)| {
        let half = |n: u32| f64::from(n) / 2.0;
        let (mut x, mut points) = (0.0, vec![]);
        for (width, height) in &columns {
            points.push(Point::new(x, 40.0 + half(*height)));
            x += half(*width);
            points.push(Point::new(x, 40.0 + half(*height)));
        }
        points.push(Point::new(x, 0.0));
        points.push(Point::new(0.0, 0.0));
        let mut inner = vec![];
        let mut at = 3.0;
        for (width, height, y, round) in holes {
            let (w, h) = (half(width), half(height));
            if at + w.max(h) > x - 2.0 {
                break;
            }
            let lower = half(y) + 3.0;
            inner.push(if round {
                Contour::circle(Point::new(at + w / 2.0, lower + w / 2.0), w / 2.0).expect("circle")
            } else {
                let (a, b) = (Point::new(at, lower), Point::new(at + w, lower + h));
                Contour::polygon(&[a, Point::new(b.x, a.y), b, Point::new(a.x, b.y)]).expect("rectangle")
            });
            at += w + 2.5;
        }
        Region::new(simple(&points), inner)
    })
}

/// A polygon with repeated and collinear points taken out.
fn simple(points: &[Point]) -> Contour {
    Contour::polygon(points).expect("a bar chart has an area")
}

/// A star-shaped contour of lines and arcs about a centre, with near-equal numbers on purpose: simple by construction as long
/// as each bulge stays well inside its own sector.
pub(super) fn star() -> impl Strategy<Value = Contour> {
    let radius = prop_oneof![Just(20.0), Just(20.0 + 1e-7), Just(30.0), 12.0..40.0f64];
    let bulge = prop_oneof![Just(0.0), Just(0.0), Just(1e-7), -0.12..0.12f64];
    (prop::collection::vec((radius, bulge), 5..24), -200.0..200.0f64, -200.0..200.0f64)
        .prop_map(|(spokes, x, y)| {
            let count = spokes.len() as f64;
            let vertices: Vec<Vertex> = spokes
                .iter()
                .enumerate()
                .map(|(i, (r, bulge))| {
                    let (sin, cos) = (std::f64::consts::TAU * i as f64 / count).sin_cos();
                    Vertex { x: x + r * cos, y: y + r * sin, bulge: *bulge }
                })
                .collect();
            Contour::new(&vertices).expect("a star has an area")
        })
        .prop_filter("simple", |c| c.check_simple().is_ok())
}

pub(super) fn path(c: &Contour) -> Path64 {
    let flat = c.flattened(2e-4);
    flat.iter().map(|p| Point64::new((p.x * SCALE).round() as i64, (p.y * SCALE).round() as i64)).collect()
}

pub(super) fn paths(region: &Region) -> Paths64 {
    std::iter::once(&region.outer).chain(&region.inner).map(path).collect()
}

/// Area in mm² of integer paths, holes taken off.
pub(super) fn area(paths: &Paths64) -> f64 {
    area_paths(paths) / SCALE / SCALE
}

/// Area in mm² of the region offset outward by the other library.
pub(super) fn offset_area(region: &Region, outward: f64) -> f64 {
    let grown = inflate_paths_64(&paths(region), outward * SCALE, JoinType::Round, EndType::Polygon, 2.0, 2e-4 * SCALE);
    area(&clipper2_rust::union_subjects_64(&grown, FillRule::NonZero))
}

/// Sum of signed areas.
pub(super) fn loops_area(loops: &[Contour]) -> f64 {
    loops.iter().map(Contour::area).sum()
}

/// Sum of the areas of regions.
pub(super) fn regions_area(regions: &[Region]) -> f64 {
    regions.iter().map(Region::area).sum()
}

/// The region's numbers on few lines, for messages.
pub(super) fn shown(region: &Region) -> String {
    let line =
        |c: &Contour| c.vertices().iter().map(|v| format!("({},{},{})", v.x, v.y, v.bulge)).collect::<Vec<_>>().join(" ");
    std::iter::once(&region.outer).chain(&region.inner).map(line).collect::<Vec<_>>().join("\n  hole ")
}

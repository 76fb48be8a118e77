//! What the cutters open, down to a height.

use super::area;
use super::strokes::Stroke;
use crate::proof::shape::Pt;
use clipper2_rust::{Path64, Paths64};

/// The area opened by those strokes that `keep` lets through, as far as they run at or below the height it gives.
pub(super) fn opened<'s>(strokes: impl Iterator<Item = (&'s Stroke, f64)>) -> Paths64 {
    let mut radii: Vec<(f64, Paths64, Vec<Pt>)> = Vec::new();
    let mut end: Option<(Pt, f64)> = None;
    for (stroke, height) in strokes {
        let Some((from, to)) = stroke.between(f64::NEG_INFINITY, height) else {
            end = None;
            continue;
        };
        let (a, b) = (stroke.at(from), stroke.at(to));
        let index = radii.iter().position(|(r, _, _)| *r == stroke.radius).unwrap_or_else(|| {
            radii.push((stroke.radius, Paths64::new(), Vec::new()));
            radii.len() - 1
        });
        let (_, lines, dots) = &mut radii[index];
        if area::grid(a) == area::grid(b) {
            dots.push(a);
            end = None;
        } else {
            let goes_on = end == Some((a, stroke.radius));
            match lines.last_mut().filter(|line| goes_on && line.len() < LONGEST) {
                Some(line) => line.push(area::grid(b)),
                None => lines.push(Path64::from([area::grid(a), area::grid(b)])),
            }
            end = Some((b, stroke.radius));
        }
    }
    let swept: Paths64 = radii.iter().flat_map(|(radius, lines, dots)| area::swept(lines, &tidy(dots), *radius)).collect();
    area::union(&swept)
}

/// Longest line swept in one go: keeps the polygon library's work even.
const LONGEST: usize = 4_000;

/// Places where the cutter only went down, each once.
fn tidy(dots: &[Pt]) -> Vec<Pt> {
    let mut dots = dots.to_vec();
    dots.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    dots.dedup();
    dots
}

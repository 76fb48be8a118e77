//! Latch templates: the opening, the bolt holes and the strike of each latch, with the part's edges near them.

use super::leaf::Pen;
use super::tile::Template;
use crate::flat::{FlatCut, FlatPart, Operation};
use crate::geom::{Contour, Point, Rect, Vec2};
use crate::parts::{Face, Purpose};
use crate::units::{decimal, Mm};
use crate::write::book::Book;

/// What is shown round a latch's cuts.
const ROUND: f64 = 30.0;
/// Steps of a half turn in a straight-line copy: a chord leaves a 20 mm arc by 0.01 mm, on the side of the arc's middle.
const STEPS: f64 = 48.0;

pub(super) fn templates(book: &Book) -> Vec<Template> {
    let wanted = |c: &&FlatCut| matches!(c.purpose, Purpose::Latch | Purpose::Strike);
    book.job
        .parts
        .parts
        .iter()
        .filter_map(|part| {
            let cuts: Vec<&FlatCut> = part.cuts.iter().filter(wanted).collect();
            (!cuts.is_empty()).then(|| template(book, part, &cuts))
        })
        .collect()
}

fn template(book: &Book, part: &FlatPart, cuts: &[&FlatCut]) -> Template {
    let outside = part.outline.contour.bounds();
    let around = cuts.iter().map(|c| c.contour.bounds()).reduce(|a, b| a.union(b)).unwrap_or(outside);
    let shown = around.inset(ROUND).intersect(outside.inset(2.0));
    let from = shown.origin().to_vec2();
    let what = if cuts.iter().any(|c| c.purpose == Purpose::Latch) { "Latch" } else { "Strike" };
    let face = if part.face_up == Face::A { "inside" } else { "outside" };
    let mut made = Template {
        title: format!("{what} of {}, {}, seen on its {face} face", part.id, part.name),
        size: [shown.width(), shown.height()],
        ..Template::default()
    };
    outline(&mut made, &part.outline.contour, from, shown);
    for cut in cuts {
        outline(&mut made, &cut.contour, from, shown);
        let corner = outside.origin();
        let (at, size) = match cut.operation {
            Operation::Drill { at, diameter, .. } | Operation::Countersink { at, diameter } => (at, decimal(diameter.0, 1)),
            _ => (cut.contour.bounds().center(), String::new()),
        };
        let p = at - from;
        let place = format!("{} / {}", decimal(at.x - corner.x, 1), decimal(at.y - corner.y, 1));
        let text = if size.is_empty() { place } else { format!("{place}, hole {size}") };
        made.points.push(([p.x, p.y], text));
    }
    let note = format!(
        "figures: from left / from below, mm; board {}",
        book.lengths.area(Mm(outside.width()), Mm(outside.height()))
    );
    made.title = format!("{} ({note})", made.title);
    made
}

/// A contour's straight-line copy, where it is in sight.
fn outline(made: &mut Template, contour: &Contour, from: Vec2, shown: Rect) {
    let vertices = contour.vertices();
    for (i, v) in vertices.iter().enumerate() {
        let next = vertices[(i + 1) % vertices.len()];
        let (a, b) = (Point::new(v.x, v.y), Point::new(next.x, next.y));
        let sweep = 4.0 * v.bulge.atan();
        let count = (sweep.abs() / std::f64::consts::PI * STEPS).ceil().max(1.0) as usize;
        let mut last = a;
        for k in 1..=count {
            let p = if k == count { b } else { on_arc(a, b, v.bulge, k as f64 / count as f64) };
            let inside = |q: Point| shown.inset(1.0).contains(q);
            if inside(last) || inside(p) || count == 1 {
                let place = |q: Point| {
                    let q = q - from;
                    [q.x.clamp(-2.0, shown.width() + 2.0), q.y.clamp(-2.0, shown.height() + 2.0)]
                };
                let (s, t) = (place(last), place(p));
                if s != t {
                    made.lines.push((Pen::Firm, s, t));
                }
            }
            last = p;
        }
    }
}

/// A point on the arc from `a` to `b`, at a share of its sweep.
fn on_arc(a: Point, b: Point, bulge: f64, share: f64) -> Point {
    let sweep = 4.0 * bulge.atan();
    let chord = b - a;
    let radius = chord.hypot() / (2.0 * (sweep / 2.0).sin().abs());
    let height = radius * (sweep / 2.0).cos() * sweep.signum();
    let left = Vec2::new(-chord.y, chord.x) / chord.hypot();
    let centre = a.midpoint(b) + left * height;
    let start = (a - centre).atan2();
    centre + Vec2::from_angle(start + sweep * share) * radius
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_of_an_arc_are_on_it() {
        // A half turn from (0, 0) to (10, 0), counter-clockwise: below the chord.
        let p = on_arc(Point::new(0.0, 0.0), Point::new(10.0, 0.0), 1.0, 0.5);
        assert!((p.x - 5.0).abs() < 1e-9 && (p.y + 5.0).abs() < 1e-9, "{p:?}");
        // A quarter turn keeps its radius all along.
        let b = (std::f64::consts::PI / 8.0).tan();
        for k in 1..8 {
            let p = on_arc(Point::new(10.0, 0.0), Point::new(0.0, 10.0), b, f64::from(k) / 8.0);
            assert!((p.to_vec2().hypot() - 10.0).abs() < 1e-9, "{p:?}");
        }
    }
}

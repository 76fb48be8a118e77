//! Traced shapes: keep-outs and panels whose outline was taken from the vehicle, held against a length measured on the same thing.

use super::bench::Bench;
use super::defaults::PRACTICE;
use super::panel::crossing;
use super::{codes, KeepOut};
use crate::diag::{Finding, Span};
use crate::dim::Dim;
use crate::geom::{Contour, Prism, Vec2, Vertex};
use crate::project::{self, Length, OutlineCheck, OutlineSource, Scribed, ScribedEdge, View, Written};
use crate::units::Mm;

/// A tracing on card is good to this. Common practice, no source (checklist IN2: template 1 mm either way).
const TEMPLATE: Mm = Mm(1.0);
/// A measured length and the tracing may differ by this, or by the share below, whichever is more (checklist IN7, common practice).
const AGREES: Mm = Mm(1.0);
/// See above: 0.3 %.
const AGREES_SHARE: f64 = 0.003;

impl Bench<'_> {
    /// The outline as it lies in the view or on the panel, counter-clockwise, held against its check; `None` when it cannot be used.
    /// `own` is for a shape that the maker thought up rather than traced: it needs no check.
    pub(super) fn traced(&mut self, outline: &project::Outline, called: &str, own: bool) -> Option<Contour> {
        let contour = match &outline.source {
            OutlineSource::Points(points) => self.polygon(points, outline.span, called)?,
            OutlineSource::Drawing(drawing) => {
                // A drawing that gave no contour was reported when it was read.
                let mut contour = drawing.contour.clone()?;
                if let Err(error) = contour.check_simple() {
                    self.unfit(called, &error.to_string(), outline.span);
                    return None;
                }
                if drawing.mirrored.as_ref().is_some_and(|m| m.value) {
                    contour = contour.mirrored_x().ccw();
                }
                let at = drawing.at.as_ref().map_or([Mm::ZERO; 2], |at| at.value);
                let low = contour.bounds();
                contour.moved(Vec2::new(at[0].0 - low.x0, at[1].0 - low.y0))
            }
        };
        let points = match &outline.source {
            OutlineSource::Points(points) => points.clone(),
            OutlineSource::Drawing(_) => contour.vertices().iter().map(|v| [Mm(v.x), Mm(v.y)]).collect(),
        };
        let bounds = contour.bounds();
        let size = [Mm(bounds.width()), Mm(bounds.height())];
        if outline.check.is_some() || !own {
            self.hold_against(outline.check.as_ref(), size, &points, called, outline.span);
        }
        Some(contour)
    }

    /// Corners as a contour, counter-clockwise.
    fn polygon(&mut self, points: &[[Mm; 2]], span: Span, called: &str) -> Option<Contour> {
        let vertices: Vec<Vertex> = points.iter().map(|p| Vertex { x: p[0].0, y: p[1].0, bulge: 0.0 }).collect();
        let fault = if vertices.len() < 3 {
            "it has fewer than three corners".to_owned()
        } else if let Some((a, b)) = crossing(&vertices) {
            format!("its side {} crosses or touches its side {}", a + 1, b + 1)
        } else {
            match Contour::new(&vertices) {
                Ok(contour) => return Some(contour.ccw()),
                Err(error) => error.to_string(),
            }
        };
        self.unfit(called, &fault, span);
        None
    }

    fn unfit(&mut self, called: &str, fault: &str, span: Span) {
        let message = format!("the outline of {called} cannot be used: {fault}");
        self.stop(codes::OUTLINE_UNFIT, message, span, "list the corners in order, once round, without the first again");
    }

    /// Compares a tracing with what a tape says of the same thing; one that nothing was measured on is said.
    fn hold_against(&mut self, check: Option<&OutlineCheck>, size: [Mm; 2], points: &[[Mm; 2]], called: &str, span: Span) {
        let mut compared = false;
        if let Some(check) = check {
            let mut pairs: Vec<(String, Mm, &Length)> = Vec::new();
            pairs.extend(check.width.as_ref().map(|w| ("width all over".to_owned(), size[0], w)));
            pairs.extend(check.height.as_ref().map(|h| ("height all over".to_owned(), size[1], h)));
            if let (Some(numbers), Some(length)) = (&check.points, &check.length) {
                let [a, b] = numbers.value;
                let point = |n: u32| points.get(n as usize - 1);
                if let (Some(p), Some(q)) = (point(a), point(b)) {
                    let apart = Mm((p[0] - q[0]).0.hypot((p[1] - q[1]).0));
                    pairs.push((format!("distance from point {a} to point {b}"), apart, length));
                } else {
                    let message = format!("{called} is checked between points {a} and {b}, and has {} points", points.len());
                    self.stop(codes::OUTLINE_CHECK, message, numbers.span, "count the points from 1, in the order written");
                }
            }
            for (what, traced, measured) in pairs {
                compared = true;
                self.agrees(&what, traced, measured, called);
            }
        }
        if !compared {
            self.report(
                Finding::caution(
                    codes::OUTLINE_NOT_CHECKED,
                    format!("nothing was measured on {called} to check its tracing by"),
                )
                .at(span)
                .limit(format!("a length measured on the thing itself (checklist IN7, {PRACTICE})"))
                .remedy("measure its width all over and write `check = { width = ... }`"),
            );
        }
    }

    fn agrees(&mut self, what: &str, traced: Mm, measured: &Length, called: &str) {
        let most = AGREES.max(measured.value.abs() * AGREES_SHARE);
        let off = traced - measured.value;
        if off.abs() <= most {
            return;
        }
        let message = format!(
            "the {what} of {called} is traced as {}, measured as {}: {} off",
            self.show(traced),
            self.show(measured.value),
            self.show(off.abs())
        );
        let scale = measured.value.0 / traced.0.max(f64::MIN_POSITIVE);
        let remedy = if (scale * crate::units::MM_PER_INCH - 1.0).abs() < 0.05
            || (scale / crate::units::MM_PER_INCH - 1.0).abs() < 0.05
        {
            "give the drawing its right unit: one is in inches, the other in mm".to_owned()
        } else {
            "trace it again flat on card, or measure it again".to_owned()
        };
        self.report(
            Finding::stop(codes::OUTLINE_CHECK, message)
                .at(measured.span)
                .limit(format!("{} here: 0.3 % or 1 mm, whichever is more (checklist IN7, {PRACTICE})", self.show(most)))
                .remedy(remedy),
        );
    }

    /// A keep-out whose shape was traced in one view.
    pub(super) fn traced_keep_out(&mut self, written: &project::KeepOut, outline: &project::Outline) -> Option<KeepOut> {
        let name = &written.name.value;
        let contour = self.traced(outline, &format!("keep-out \"{name}\""), false);
        self.lost |= contour.is_none() || written.view.is_none() || written.along.is_none();
        let (contour, view, along) = (contour?, written.view.as_ref()?.value, written.along.as_ref()?);
        if along.value[1] <= along.value[0] {
            let message =
                format!("keep-out \"{name}\" reaches from {} to {}", self.show(along.value[0]), self.show(along.value[1]));
            self.stop(
                codes::SIZE_NOT_POSITIVE,
                message,
                along.span,
                "write the lower end first, and the upper one above it",
            );
        }
        let across = match view {
            View::Side => 0,
            View::Front => 1,
            View::Plan => 2,
        };
        if let Some(uncertainty) = &written.uncertainty {
            self.zero_or_more(uncertainty, &format!("uncertainty of keep-out \"{name}\""));
        }
        let reach = written.uncertainty.as_ref().map_or(TEMPLATE, |u| u.value.abs());
        let shape = Prism::new(&contour, across, along.value[0].0, along.value[1].0);
        let bounds = shape.bounds();
        let (min, max) = (bounds.min.to_array(), bounds.max.to_array());
        let ends = ["left", "front", "bottom"];
        let from = [0, 1, 2].map(|i| self.template(Mm(min[i]), outline.span, &format!("{name} {}", ends[i]), reach));
        let ends = ["width", "depth", "height"];
        let size =
            [0, 1, 2].map(|i| self.template(Mm(max[i] - min[i]), outline.span, &format!("{name} {}", ends[i]), reach));
        Some(KeepOut { name: name.clone(), from, size, shape: Some(shape), span: Some(written.span) })
    }

    fn template(&mut self, value: Mm, span: Span, label: &str, reach: Mm) -> Dim {
        self.reading(value, span, label, Some(reach)).named(label)
    }

    /// The outline of a rectangular panel with one edge that follows a scribed line.
    pub(super) fn scribed(&mut self, scribed: &Scribed, size: [Mm; 2], called: &str) -> Option<Contour> {
        let (edge, points) = (scribed.edge.as_ref()?, scribed.points.as_ref()?);
        let [length, width] = size;
        let (long, deep) = match edge.value {
            ScribedEdge::Bottom | ScribedEdge::Top => (length, width),
            ScribedEdge::Left | ScribedEdge::Right => (width, length),
        };
        self.check_scribed(points, long, deep, called)?;
        let on_edge = |p: &[Mm; 2]| match edge.value {
            ScribedEdge::Bottom => [p[0], p[1]],
            ScribedEdge::Top => [p[0], width - p[1]],
            ScribedEdge::Left => [p[1], p[0]],
            ScribedEdge::Right => [length - p[1], p[0]],
        };
        let line = || points.value.iter().map(on_edge);
        let zero = Mm::ZERO;
        // Once round, counter-clockwise, the scribed edge last but two.
        let mut corners: Vec<[Mm; 2]> = match edge.value {
            ScribedEdge::Bottom => line().chain([[length, width], [zero, width]]).collect(),
            ScribedEdge::Right => line().chain([[zero, width], [zero, zero]]).collect(),
            ScribedEdge::Top => line().rev().chain([[zero, zero], [length, zero]]).collect(),
            ScribedEdge::Left => line().rev().chain([[length, zero], [length, width]]).collect(),
        };
        corners.dedup();
        let contour = self.polygon(&corners, scribed.span, called)?;
        let apart: Vec<[Mm; 2]> = line().collect();
        let most = points.value.iter().map(|p| p[1]).fold(Mm::ZERO, Mm::max);
        self.hold_against(scribed.check.as_ref(), [long, most], &apart, called, scribed.span);
        Some(contour)
    }

    /// Scribed points run from one end of the edge to the other, and stay on the panel.
    fn check_scribed(&mut self, points: &Written<Vec<[Mm; 2]>>, long: Mm, deep: Mm, called: &str) -> Option<()> {
        let list = &points.value;
        let fault = if list.len() < 2 {
            "it has fewer than two points".to_owned()
        } else if list.windows(2).any(|w| w[1][0] <= w[0][0]) {
            "its points do not go on along the edge".to_owned()
        } else if (list[0][0]).abs() > AGREES || (list[list.len() - 1][0] - long).abs() > AGREES {
            format!(
                "its points run from {} to {} along an edge of {}",
                self.show(list[0][0]),
                self.show(list[list.len() - 1][0]),
                self.show(long)
            )
        } else if let Some(p) = list.iter().find(|p| p[1] < Mm::ZERO || p[1] >= deep) {
            format!("a point lies {} in from an edge of a panel {} deep", self.show(p[1]), self.show(deep))
        } else {
            return Some(());
        };
        let message = format!("the scribed edge of {called} cannot be used: {fault}");
        self.stop(
            codes::OUTLINE_UNFIT,
            message,
            points.span,
            "list [how far along the edge, how far in from it] from one end of the edge to the other",
        );
        None
    }
}

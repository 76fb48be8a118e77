//! Panels the builders do not know.

use super::bench::Bench;
use super::defaults::{INTO_BAY, LARGEST, OUTLINE_AND_SIZE, OVER_BAY, PRACTICE};
use super::{codes, Bay, FreeCut, FreePanel, FreeShape, GrainChoice};
use crate::diag::{Finding, Span};
use crate::dim::{Dim, Source, SourceKind};
use crate::geom::{Contour, Point3, Vec2, Vertex};
use crate::project::{self, CutShape, HoleSize, Length, PanelGrain, Written};
use crate::units::Mm;

impl Bench<'_> {
    pub(super) fn panels(&mut self, bay: Option<&Bay>) -> Vec<FreePanel> {
        let project = self.project;
        let list: Vec<Option<FreePanel>> = project.panels.iter().map(|panel| self.panel(panel, bay)).collect();
        self.lost |= list.iter().any(Option::is_none);
        list.into_iter().flatten().collect()
    }

    fn panel(&mut self, written: &project::Panel, bay: Option<&Bay>) -> Option<FreePanel> {
        let name = &written.name.value;
        let board = written.board.as_ref().and_then(|board| self.board(board));
        let called = format!("panel \"{name}\"");
        // Lower left at 0, 0, wherever it was traced.
        let outline = written.outline.as_ref().map(|outline| {
            let own = matches!(outline.source, project::OutlineSource::Points(_));
            let contour = self.traced(outline, &called, own)?;
            let low = contour.bounds();
            Some(contour.moved(Vec2::new(-low.x0, -low.y0)))
        });
        let bounds = outline.as_ref().and_then(Option::as_ref).map(Contour::bounds);
        let size = match (&written.size, bounds) {
            (Some(size), bounds) => {
                self.all_positive(size, &format!("size of panel \"{name}\""));
                if let Some(bounds) = bounds {
                    self.compare(size, [Mm(bounds.x1), Mm(bounds.y1)], name);
                }
                Some(size.clone())
            }
            (None, Some(bounds)) => {
                Some(Written { value: [Mm(bounds.x1), Mm(bounds.y1)], span: written.outline.as_ref()?.span })
            }
            (None, None) => None,
        };
        if let Some(size) = &size {
            self.check_panel(size, bay, name);
        }
        let cuts: Vec<Option<FreeCut>> =
            written.cuts.iter().enumerate().map(|(index, cut)| self.cut(cut, index + 1, size.as_ref(), name)).collect();
        let cuts: Option<Vec<FreeCut>> = cuts.into_iter().collect();
        let size = size?;
        let outline = match (&written.scribed, outline) {
            (Some(scribed), None) => Some(self.scribed(scribed, size.value, &called)),
            (Some(scribed), Some(_)) => {
                let message = format!("{called} has both an outline and a scribed edge");
                self.stop(codes::OUTLINE_UNFIT, message, scribed.span, "keep one of them");
                return None;
            }
            (None, outline) => outline,
        };
        let side = |i: usize, what: &str| {
            Self::chosen(&Length { value: size.value[i], span: size.span }, &format!("{name} {what}"))
        };
        Some(FreePanel {
            name: name.clone(),
            size: [side(0, "length"), side(1, "width")],
            outline: match outline {
                Some(outline) => Some(outline?),
                None => None,
            },
            board: board?,
            quantity: written.quantity.as_ref().map_or(1, |quantity| quantity.value),
            grain: written.grain.as_ref().map(|grain| match grain.value {
                PanelGrain::Length => GrainChoice::Length,
                PanelGrain::Width => GrainChoice::Width,
                PanelGrain::Any => GrainChoice::Any,
            }),
            cuts: cuts?,
            at: written.at.as_ref().map(|at| Point3::new(at.value[0].0, at.value[1].0, at.value[2].0)),
            span: Some(written.span),
        })
    }

    fn compare(&mut self, size: &Written<[Mm; 2]>, bounds: [Mm; 2], name: &str) {
        if (size.value[0] - bounds[0]).abs() > OUTLINE_AND_SIZE || (size.value[1] - bounds[1]).abs() > OUTLINE_AND_SIZE {
            let message = format!(
                "panel \"{name}\" is {} by {} by its size, {} by {} by its outline",
                self.show(size.value[0]),
                self.show(size.value[1]),
                self.show(bounds[0]),
                self.show(bounds[1])
            );
            self.stop(codes::OUTLINE_UNFIT, message, size.span, "take `size` out, or mend the outline");
        }
    }

    /// Holds a panel against the bay's largest size: the longer side both ways, the shorter upwards only.
    fn check_panel(&mut self, size: &Written<[Mm; 2]>, bay: Option<&Bay>, name: &str) {
        let longer = size.value[0].max(size.value[1]);
        let Some(room) = bay.and_then(Bay::largest) else { return };
        let (least, most) = (room / INTO_BAY, room * OVER_BAY);
        if longer > Mm::ZERO && longer <= LARGEST && (longer < least || longer > most) {
            let message = format!("the longer side of panel \"{name}\" is {}", self.show(longer));
            let limit = format!("{} to {} for this bay ({PRACTICE})", self.show(least), self.show(most));
            let finding = super::plausible::absurd(message, longer, size.span, &|mm| mm >= least && mm <= most);
            self.report(finding.limit(limit));
        }
    }

    /// `number` tells the panel's cuts apart in the names of their sizes.
    fn cut(&mut self, cut: &project::Cut, number: usize, size: Option<&Written<[Mm; 2]>>, panel: &str) -> Option<FreeCut> {
        let point = |at: &Written<[Mm; 2]>, what: &str| {
            let one = |i: usize, axis: &str| {
                Self::chosen(&Length { value: at.value[i], span: at.span }, &format!("{panel} cut {number}, {what} {axis}"))
            };
            [one(0, "u"), one(1, "v")]
        };
        let (shape, [low, high]) = match &cut.shape {
            CutShape::Hole { at, size } => {
                let diameter = self.hole(size, &format!("{panel} cut {number}"))?;
                let half = diameter.nominal() / 2.0;
                (FreeShape::Hole { at: point(at, "hole"), diameter }, grown(at.value, at.value, half))
            }
            CutShape::Slot { from, to, width } => {
                let width = self.positive(width, &format!("{panel} cut {number}, slot width"));
                let half = width.nominal() / 2.0;
                let shape = FreeShape::Slot { from: point(from, "slot start"), to: point(to, "slot end"), width };
                (shape, grown(from.value, to.value, half))
            }
            CutShape::CutOut { at, size, radius } => {
                self.all_positive(size, &format!("size of a cut-out of panel \"{panel}\""));
                let radius = match radius {
                    Some(radius) => {
                        self.zero_or_more(radius, &format!("{panel} cut {number}, corner radius"));
                        Self::chosen(radius, &format!("{panel} cut {number}, corner radius"))
                    }
                    None => Dim::number(Mm::ZERO, "square corners, relieved"),
                };
                let far = [at.value[0] + size.value[0], at.value[1] + size.value[1]];
                let shape = FreeShape::CutOut { at: point(at, "cut-out"), size: point(size, "cut-out size"), radius };
                (shape, grown(at.value, far, Mm::ZERO))
            }
            CutShape::Notch { at, size } => {
                self.all_positive(size, &format!("size of a notch of panel \"{panel}\""));
                let far = [at.value[0] + size.value[0], at.value[1] + size.value[1]];
                let shape = FreeShape::Notch { at: point(at, "notch"), size: point(size, "notch size") };
                (shape, grown(at.value, far, Mm::ZERO))
            }
        };
        if let Some(size) = size {
            self.check_inside(low, high, size.value, cut.span, panel);
        }
        let depth = cut.depth.as_ref().map(|depth| self.positive(depth, &format!("{panel} cut {number}, depth")));
        Some(FreeCut { shape, depth, span: Some(cut.span) })
    }

    fn check_inside(&mut self, low: [Mm; 2], high: [Mm; 2], size: [Mm; 2], span: Span, panel: &str) {
        if (0..2).any(|i| low[i] < Mm::ZERO || high[i] > size[i]) {
            let message = format!(
                "a cut of panel \"{panel}\" reaches from {}, {} to {}, {}",
                self.show(low[0]),
                self.show(low[1]),
                self.show(high[0]),
                self.show(high[1])
            );
            let limit = format!("the panel's {} by {}", self.show(size[0]), self.show(size[1]));
            self.report(
                Finding::stop(codes::CUT_OFF_PANEL, message)
                    .at(span)
                    .limit(limit)
                    .part(panel)
                    .remedy("move the cut onto the panel; use a notch for a cut that opens an edge"),
            );
        }
    }

    fn hole(&mut self, size: &HoleSize, cut: &str) -> Option<Dim> {
        let shop = self.shop;
        match size {
            HoleSize::Diameter(diameter) => Some(self.positive(diameter, &format!("{cut}, hole diameter"))),
            HoleSize::For(id) => {
                let fastener = self.profile(&shop.fasteners, "fastener", &id.value, Some(id.span))?;
                let label = format!("clearance hole for {}, normal fit", fastener.id);
                Some(Dim::source(Source {
                    key: format!("hole:{}", fastener.id),
                    label,
                    kind: SourceKind::Hardware,
                    nominal: fastener.clearance[1],
                    minus: Mm::ZERO,
                    plus: Mm::ZERO,
                    basis: fastener.basis.get("clearance").cloned().unwrap_or_else(|| "the fastener's profile".to_owned()),
                    span: Some(id.span),
                }))
            }
        }
    }
}

/// The bounds of two points, grown on all sides.
fn grown(a: [Mm; 2], b: [Mm; 2], by: Mm) -> [[Mm; 2]; 2] {
    [[a[0].min(b[0]) - by, a[1].min(b[1]) - by], [a[0].max(b[0]) + by, a[1].max(b[1]) + by]]
}

/// Two sides of a polygon that cross or touch, or neighbours that fold back on each other.
pub(super) fn crossing(corners: &[Vertex]) -> Option<(usize, usize)> {
    let n = corners.len();
    let side = |i: usize| (corners[i], corners[(i + 1) % n]);
    // Twice the signed area of the triangle a, b, p: positive when p lies to the left of a to b.
    let turn = |a: Vertex, b: Vertex, p: Vertex| (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
    let between = |a: Vertex, b: Vertex, p: Vertex| {
        p.x >= a.x.min(b.x) && p.x <= a.x.max(b.x) && p.y >= a.y.min(b.y) && p.y <= a.y.max(b.y)
    };
    for i in 0..n {
        for j in i + 1..n {
            let ((a, b), (c, d)) = (side(i), side(j));
            if j == i + 1 || (i == 0 && j == n - 1) {
                // Neighbours share a corner: only a turn straight back is a fault, and not in a flat outline of three.
                let back = (b.x - a.x) * (d.x - c.x) + (b.y - a.y) * (d.y - c.y) < 0.0;
                let straight = turn(a, b, c) == 0.0 && turn(a, b, d) == 0.0;
                if n > 3 && straight && back {
                    return Some((i, j));
                }
                continue;
            }
            let (t1, t2, t3, t4) = (turn(a, b, c), turn(a, b, d), turn(c, d, a), turn(c, d, b));
            let crosses = t1 * t2 < 0.0 && t3 * t4 < 0.0;
            let touches = (t1 == 0.0 && between(a, b, c))
                || (t2 == 0.0 && between(a, b, d))
                || (t3 == 0.0 && between(c, d, a))
                || (t4 == 0.0 && between(c, d, b));
            if crosses || touches {
                return Some((i, j));
            }
        }
    }
    None
}

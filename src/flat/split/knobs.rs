//! The joint itself: a line with round knobs.
//!
//! A knob turns left by [`TURN`], right by twice that and left again, all on one radius; turning further than a right angle makes its
//! head wider than its neck, so that the pieces cannot be pulled apart in their plane.

use super::place::Along;
use crate::flat::web::is_line;
use crate::flat::{FlatCut, FlatPart};
use crate::geom::{Contour, GeomError, Point, Rect, Vertex};

/// How far a knob's flank turns, in radians: 115 degrees, which makes the neck a fifth narrower than the head.
const TURN: f64 = 115.0 * std::f64::consts::PI / 180.0;
/// Width of a knob along the joint, in radii: 4 sin 115°.
const WIDTH: f64 = 3.625_231_148_146_6;
/// How far it reaches beyond the joint, in radii: 2 (1 − cos 115°).
pub(super) const HEIGHT: f64 = 2.845_236_523_481_4;
/// Largest distance between knobs, in radii. Common practice, no source.
const SPACING: f64 = 20.0;
/// How far a register mark reaches on either side of the joint, in mm.
pub(super) const MARK_REACH: f64 = 6.0;
/// Width of a register mark, and distance of two, in mm.
const MARK: (f64, f64) = (0.6, 3.0);

/// A joint in a part's frame.
pub(super) struct Joint {
    along: Along,
    at: f64,
    radius: f64,
    /// Middles of the knobs across the direction.
    knobs: Vec<f64>,
    bounds: Rect,
    /// Where a register mark is clear, across.
    mark: Option<f64>,
}

impl Joint {
    /// A joint with as many knobs as find room; `None` where not one does.
    pub(super) fn at(part: &FlatPart, along: Along, at: f64, radius: f64, web: f64) -> Option<Self> {
        let bounds = part.outline.contour.bounds();
        let (low, high) = along.other().of(bounds);
        let half = WIDTH * radius / 2.0;
        let margin = web.max(radius);
        let room = high - low - 2.0 * (half + margin);
        if room < 0.0 {
            return None;
        }
        let wanted = ((room / (SPACING * radius)).floor() as usize + 1).max(if room > 6.0 * half { 2 } else { 1 });
        let step = room / wanted as f64;
        let free = |middle: f64, half: f64, from: f64, to: f64| {
            let box_of = |grow: f64| match along {
                Along::X => Rect::new(from - grow, middle - half - grow, to + grow, middle + half + grow),
                Along::Y => Rect::new(middle - half - grow, from - grow, middle + half + grow, to + grow),
            };
            let grown = box_of(web);
            let corners = [(grown.x0, grown.y0), (grown.x1, grown.y0), (grown.x1, grown.y1), (grown.x0, grown.y1)];
            let inside = corners.iter().all(|(x, y)| part.outline.contour.contains(Point::new(*x, *y)));
            let vertex = |v: &Vertex| grown.contains(Point::new(v.x, v.y));
            let cut = |c: &&FlatCut| {
                let b = c.contour.bounds();
                b.x0 < grown.x1 && b.x1 > grown.x0 && b.y0 < grown.y1 && b.y1 > grown.y0
            };
            inside
                && !part.outline.contour.vertices().iter().any(vertex)
                && !part.cuts.iter().filter(|c| !is_line(c)).any(|c| cut(&c))
        };
        let knob = |middle: f64| free(middle, half, at, at + HEIGHT * radius);
        // Each knob near the middle of its share, moved aside until it is clear.
        let mut knobs: Vec<f64> = Vec::new();
        for i in 0..wanted {
            let middle = low + half + margin + step * (i as f64 + 0.5);
            let tries = (0..=(step / 2.0) as usize).flat_map(|d| [middle + d as f64, middle - d as f64]);
            let apart = |m: &f64| knobs.last().is_none_or(|last| m - last >= 2.0 * half + radius);
            knobs.extend(tries.filter(apart).find(|m| knob(*m)));
        }
        if knobs.is_empty() {
            return None;
        }
        // Beside the first knob that leaves room for it.
        let beside = knobs.iter().flat_map(|k| [k + half + radius + MARK.1, k - half - radius - MARK.1]);
        let clear = |m: &f64| {
            free(*m, MARK.1, at - MARK_REACH, at + MARK_REACH) && knobs.iter().all(|k| (k - m).abs() > half + MARK.1)
        };
        let mark = beside.into_iter().find(clear);
        let clean = match along {
            Along::X => Rect::new(at - radius, bounds.y0, at + HEIGHT * radius, bounds.y1),
            Along::Y => Rect::new(bounds.x0, at - radius, bounds.x1, at + HEIGHT * radius),
        };
        Some(Self { along, at, radius, knobs, bounds: clean, mark })
    }

    /// The stretch of both pieces that must fit.
    pub(super) fn bounds(&self) -> Rect {
        self.bounds
    }

    /// Everything before the joint, its knobs included.
    pub(super) fn low_side(&self) -> Result<Contour, GeomError> {
        // Built with the direction as y, the joint running along x from low to high; far beyond the part on the other sides.
        let (far, r) = (FAR, self.radius);
        let bulge = |turn: f64| (turn / 4.0).tan();
        let mut line: Vec<[f64; 3]> = vec![[-far, -far, 0.0], [far, -far, 0.0], [far, self.at, 0.0]];
        // Walked from right to left, so that the low side lies on the left hand.
        for middle in self.knobs.iter().rev() {
            let (right, left) = (middle + WIDTH * r / 2.0, middle - WIDTH * r / 2.0);
            let (dx, dy) = (r * TURN.sin(), r * (1.0 - TURN.cos()));
            line.push([right, self.at, bulge(-TURN)]);
            line.push([right - dx, self.at + dy, bulge(TURN)]);
            line.push([*middle, self.at + HEIGHT * r, bulge(TURN)]);
            line.push([left + dx, self.at + dy, bulge(-TURN)]);
            line.push([left, self.at, 0.0]);
        }
        line.push([-far, self.at, 0.0]);
        let vertex = |[x, y, bulge]: &[f64; 3]| match self.along {
            Along::Y => Vertex { x: *x, y: *y, bulge: *bulge },
            // Mirrored in the diagonal, which turns arcs the other way.
            Along::X => Vertex { x: *y, y: *x, bulge: -bulge },
        };
        Contour::new(&line.iter().map(vertex).collect::<Vec<_>>()).map(Contour::ccw)
    }

    /// Register marks over the joint: as many as its number says.
    pub(super) fn marks(&self, number: usize) -> Result<Vec<FlatCut>, GeomError> {
        let Some(middle) = self.mark else { return Ok(Vec::new()) };
        let first = middle - MARK.1 * (number as f64 - 1.0) / 2.0;
        (0..number)
            .map(|i| {
                let m = first + MARK.1 * i as f64;
                let (half, reach) = (MARK.0 / 2.0, MARK_REACH);
                let rect = match self.along {
                    Along::X => Rect::new(self.at - reach, m - half, self.at + reach, m + half),
                    Along::Y => Rect::new(m - half, self.at - reach, m + half, self.at + reach),
                };
                Ok(FlatCut::mark(Contour::rect(rect)?, format!("register {number}")))
            })
            .collect()
    }
}

/// Beyond any part, in mm.
const FAR: f64 = 20_000.0;

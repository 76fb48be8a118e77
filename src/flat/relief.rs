//! Corner relief: what a round cutter must take away beyond a square corner so that a square mate seats.

use super::tools::Tools;
use crate::design::ReliefStyle;
use crate::geom::{tolerance, Contour, GeomError, Rect, Relief};

/// What the corners of a rectangular cut are for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Corners {
    /// A square mate seats: relieved.
    Seat,
    /// Round with this radius, or the cutter's where that is larger.
    Round(f64),
}

/// A rectangular cut: where it is, which sides are open, which corners are real.
///
/// Sides in the order bottom, right, top, left; corners lower left, lower right, upper right, upper left.
#[derive(Clone, Copy, Debug)]
pub(super) struct Opening {
    /// The square rectangle, in the panel frame.
    pub(super) rect: Rect,
    /// Sides that run out over the panel's edge.
    pub(super) open: [bool; 4],
    /// Corners with wood around them.
    pub(super) real: [bool; 4],
    /// What the corners are for.
    pub(super) corners: Corners,
}

/// A rectangular cut as its cutter makes it.
#[derive(Clone, Debug)]
pub(super) struct Made {
    /// Counter-clockwise; run out beyond open sides.
    pub(super) contour: Contour,
    /// How each corner is made.
    pub(super) corners: [Relief; 4],
    /// Diameter of the cutter it was made for; zero on a laser.
    pub(super) cutter: f64,
}

/// Why a rectangular cut cannot be made.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Trouble {
    /// No cutter goes in; the widest that would.
    TooNarrow(f64),
    /// No cutter leaves room for the relief; the widest that would.
    NoRoom(f64),
    /// The shape itself is bad.
    Shape(GeomError),
}

/// How far a cut runs out over an open edge beyond the cutter's radius, in mm: enough for the cutter to leave the edge
/// wholly, so that the channel is full width there (common practice, no source).
pub(super) const RUN_OUT: f64 = 1.0;

impl Opening {
    /// The width a cutter must fit in: the least distance between two opposite walls; infinite when there are none.
    pub(super) fn clear(&self) -> f64 {
        let [bottom, right, top, left] = self.open;
        let x = if left || right { f64::INFINITY } else { self.rect.width() };
        let y = if bottom || top { f64::INFINITY } else { self.rect.height() };
        x.min(y)
    }

    /// Whether it runs out over an edge of a panel with these bounds and has nothing inside them.
    pub(super) fn beside(&self, bounds: Rect) -> bool {
        let r = self.rect.intersect(bounds);
        self.open.contains(&true)
            && self.rect.is_finite()
            && self.rect.width() > 0.0
            && self.rect.height() > 0.0
            && (r.width() <= 0.0 || r.height() <= 0.0)
    }

    /// The shape that the first of `cutters` (diameters) that can makes of it.
    pub(super) fn made(&self, tools: &Tools, cutters: &[f64]) -> Result<Made, Trouble> {
        let good_radius = !matches!(self.corners, Corners::Round(r) if !(r.is_finite() && r >= 0.0));
        if !(self.rect.is_finite() && good_radius) {
            return Err(Trouble::Shape(GeomError::NotFinite));
        }
        if self.rect.width() < tolerance::SAME_POINT || self.rect.height() < tolerance::SAME_POINT {
            return Err(Trouble::Shape(GeomError::Degenerate));
        }
        if tools.laser {
            let corner = match self.corners {
                Corners::Round(r) if r > 0.0 => Relief::Rounded(r),
                _ => Relief::None,
            };
            return self.drawn(self.real.map(|real| if real { corner } else { Relief::None }), 0.0);
        }
        let mut entered = false;
        for cutter in cutters.iter().copied().filter(|d| super::tools::enters(*d, self.clear())) {
            entered = true;
            let corners = match self.corners {
                Corners::Round(r) => Some(self.rounded(r.max(cutter / 2.0))),
                Corners::Seat if tools.style == ReliefStyle::None => Some(self.rounded(cutter / 2.0)),
                Corners::Seat => self.relieved(cutter / 2.0 + tools.extra, tools.style),
            };
            if let Some(corners) = corners {
                return self.drawn(corners, cutter);
            }
        }
        if entered {
            Err(Trouble::NoRoom(self.widest(tools).min(self.clear())))
        } else {
            Err(Trouble::TooNarrow(self.clear()))
        }
    }

    fn rounded(&self, radius: f64) -> [Relief; 4] {
        self.real.map(|real| if real { Relief::Rounded(radius) } else { Relief::None })
    }

    /// A relief for each real corner, or `None` when one has no room.
    fn relieved(&self, radius: f64, style: ReliefStyle) -> Option<[Relief; 4]> {
        let mut corners = [Relief::None; 4];
        for (i, corner) in corners.iter_mut().enumerate().filter(|(i, _)| self.real[*i]) {
            let (x, y) = self.room(i);
            let (along_x, along_y) = (Relief::AlongX(radius), Relief::AlongY(radius));
            let along = if x >= y { [along_x, along_y] } else { [along_y, along_x] };
            let diagonal = Relief::Diagonal(radius);
            let order = match style {
                ReliefStyle::AlongEdge => [along[0], along[1], diagonal],
                ReliefStyle::Diagonal | ReliefStyle::None => [diagonal, along[0], along[1]],
            };
            *corner = order.into_iter().find(|r| {
                let (need_x, need_y) = r.takes();
                need_x <= x && need_y <= y
            })?;
        }
        Some(corners)
    }

    /// How much of its two edges, along x and along y, a corner may take: half of an edge it shares with another real corner.
    fn room(&self, corner: usize) -> (f64, f64) {
        let (beside_x, beside_y) = ([1, 0, 3, 2][corner], [3, 2, 1, 0][corner]);
        let share = |length: f64, other: usize| if self.real[other] { length / 2.0 } else { length };
        (share(self.rect.width(), beside_x), share(self.rect.height(), beside_y))
    }

    /// Diameter of the widest cutter whose relief has room in every real corner.
    fn widest(&self, tools: &Tools) -> f64 {
        let takes = Relief::Diagonal(1.0).takes().0;
        let radius = (0..4)
            .filter(|i| self.real[*i])
            .map(|i| self.room(i))
            .map(|(x, y)| (x.min(y) / takes).max(x / 2.0).max(y / 2.0))
            .fold(f64::INFINITY, f64::min);
        (2.0 * (radius - tools.extra)).max(0.0)
    }

    fn drawn(&self, corners: [Relief; 4], cutter: f64) -> Result<Made, Trouble> {
        let out = self.run_out(cutter);
        let contour = Contour::relieved_rect(out, corners).map_err(Trouble::Shape)?;
        Ok(Made { contour, corners, cutter })
    }

    /// The rectangle, run out over its open sides by the cutter's radius and [`RUN_OUT`].
    fn run_out(&self, cutter: f64) -> Rect {
        let out = |open: bool| if open { cutter / 2.0 + RUN_OUT } else { 0.0 };
        let [bottom, right, top, left] = self.open.map(out);
        Rect::new(self.rect.x0 - left, self.rect.y0 - bottom, self.rect.x1 + right, self.rect.y1 + top)
    }
}

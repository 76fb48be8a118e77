//! Shapes of parts and cuts on paper: arcs stay arcs, y turned down.

use super::canvas::n;
use crate::geom::Contour;
use crate::write::drawing::Shape;
use std::fmt::Write as _;

/// From a drawing's millimetres (y up) to a picture's (y down).
#[derive(Clone, Copy, Debug)]
pub(super) struct Fit {
    /// Paper per mm.
    pub(super) scale: f64,
    /// Where the drawing's left edge goes.
    pub(super) left: f64,
    /// Where the drawing's lower edge goes.
    pub(super) foot: f64,
}

impl Fit {
    pub(super) fn at(self, x: f64, y: f64) -> [f64; 2] {
        [self.left + x * self.scale, self.foot - y * self.scale]
    }

    /// A closed shape as path data.
    pub(super) fn path(self, shape: &Shape) -> String {
        match shape {
            Shape::Contour(contour) => self.contour(contour),
            Shape::Circle { centre, radius } => {
                let r = n(radius * self.scale);
                let ([x0, y], [x1, _]) = (self.at(centre.x - radius, centre.y), self.at(centre.x + radius, centre.y));
                format!("M{0} {1}A{r} {r} 0 0 0 {2} {1}A{r} {r} 0 0 0 {0} {1}Z", n(x0), n(y), n(x1))
            }
        }
    }

    pub(super) fn contour(self, contour: &Contour) -> String {
        let vertices = contour.vertices();
        let mut d = String::new();
        for (i, v) in vertices.iter().enumerate() {
            let [x, y] = self.at(v.x, v.y);
            if i == 0 {
                // Writing to a String cannot fail.
                let _ = write!(d, "M{} {}", n(x), n(y));
            }
            let next = vertices[(i + 1) % vertices.len()];
            let [x1, y1] = self.at(next.x, next.y);
            if v.bulge == 0.0 {
                if i + 1 < vertices.len() {
                    let _ = write!(d, "L{} {}", n(x1), n(y1));
                }
                continue;
            }
            let chord = (x1 - x).hypot(y1 - y);
            let r = n(chord * (1.0 + v.bulge * v.bulge) / (4.0 * v.bulge.abs()));
            // y points down here: a counter-clockwise arc sweeps in the negative sense.
            let sweep = u8::from(v.bulge < 0.0);
            let _ = write!(d, "A{r} {r} 0 0 {sweep} {} {}", n(x1), n(y1));
        }
        d.push('Z');
        d
    }
}

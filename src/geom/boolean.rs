//! Union, difference and intersection of areas; arcs stay arcs.

use super::{tolerance, Contour, GeomError, Region};
use cavalier_contours::polyline::{seg_midpoint, BooleanOp, BooleanResultPline, PlineSource, Polyline};

impl Contour {
    /// What remains of this contour's area without the other's.
    ///
    /// # Errors
    /// [`GeomError::Unreliable`] when a result is not closed or its area cannot be right.
    pub fn minus(&self, other: &Contour) -> Result<Vec<Region>, GeomError> {
        self.boolean(other, BooleanOp::Not)
    }

    /// The area covered by either.
    ///
    /// # Errors
    /// As [`Contour::minus`].
    pub fn union(&self, other: &Contour) -> Result<Vec<Region>, GeomError> {
        self.boolean(other, BooleanOp::Or)
    }

    /// The area covered by both.
    ///
    /// # Errors
    /// As [`Contour::minus`].
    pub fn intersection(&self, other: &Contour) -> Result<Vec<Region>, GeomError> {
        self.boolean(other, BooleanOp::And)
    }

    fn boolean(&self, other: &Contour, op: BooleanOp) -> Result<Vec<Region>, GeomError> {
        let (a, b) = (self.clone().ccw(), other.clone().ccw());
        let result = a.pline().boolean(b.pline(), op);
        let (outers, holes) = (closed(result.pos_plines)?, closed(result.neg_plines)?);
        let area: f64 =
            outers.iter().map(|c| c.area().abs()).sum::<f64>() - holes.iter().map(|c| c.area().abs()).sum::<f64>();
        let (a, b) = (a.area(), b.area());
        let (least, most) = match op {
            BooleanOp::Not => (a - b, a),
            BooleanOp::And => (0.0, a.min(b)),
            BooleanOp::Or => (a.max(b), a + b),
            BooleanOp::Xor => ((a - b).abs(), a + b),
        };
        let slack = (a + b) * tolerance::BOOLEAN_AREA + tolerance::SLIVER_AREA;
        if area < least - slack || area > most + slack {
            return Err(GeomError::Unreliable("boolean"));
        }
        Ok(grouped(outers, holes))
    }

    /// Whether another contour, known not to cross this one, lies inside it.
    #[must_use]
    pub fn holds(&self, other: &Contour) -> bool {
        other.pline().iter_segments().next().is_some_and(|(a, b)| self.pline().winding_number(seg_midpoint(a, b)) != 0)
    }

    /// Whether the areas of two contours share anything, a touch included.
    #[must_use]
    pub fn meets(&self, other: &Contour) -> bool {
        self.crosses(other) || self.holds(other) || other.holds(self)
    }
}

impl Region {
    /// Regions from the loops of an offset: each clockwise contour goes to the smallest counter-clockwise one that holds it.
    #[must_use]
    pub fn from_loops(loops: Vec<Contour>) -> Vec<Region> {
        let (outers, holes) = loops.into_iter().partition(Contour::is_ccw);
        grouped(outers, holes)
    }

    /// What remains of the region without a contour's area.
    ///
    /// # Errors
    /// As [`Contour::minus`].
    pub fn minus_contour(&self, cut: &Contour) -> Result<Vec<Region>, GeomError> {
        // The cut swallows every inner contour it meets; islands that stay between them remain material.
        let mut cut = cut.clone().ccw();
        let (met, mut apart): (Vec<_>, Vec<_>) = self.inner.iter().cloned().partition(|h| h.meets(&cut));
        let mut islands = Vec::new();
        for hole in met {
            let mut joined = cut.union(&hole)?;
            match (joined.pop(), joined.is_empty()) {
                (Some(one), true) => {
                    islands.extend(one.inner);
                    cut = one.outer;
                }
                // Still two: they only touch.
                _ => apart.push(hole),
            }
        }
        let mut remains = Vec::new();
        for piece in self.outer.minus(&cut)? {
            let mut inner = piece.inner;
            let fresh = inner.len();
            for hole in &apart {
                if piece.outer.holds(hole) && !inner[..fresh].iter().any(|i| i.holds(hole)) {
                    inner.push(hole.clone());
                }
            }
            remains.push(Region::new(piece.outer, inner));
        }
        for island in islands {
            for part in self.outer.intersection(&island)? {
                let mut parts = vec![part];
                for hole in &self.inner {
                    parts = minus_from_all(parts, hole)?;
                }
                remains.append(&mut parts);
            }
        }
        Ok(remains)
    }

    /// What remains of the region without another's area.
    ///
    /// # Errors
    /// As [`Contour::minus`].
    pub fn minus(&self, other: &Region) -> Result<Vec<Region>, GeomError> {
        let mut remains = self.minus_contour(&other.outer)?;
        for hole in &other.inner {
            for shared in self.outer.intersection(hole)? {
                let mut parts = vec![shared];
                for own in &self.inner {
                    parts = minus_from_all(parts, own)?;
                }
                remains.append(&mut parts);
            }
        }
        Ok(remains)
    }
}

fn minus_from_all(regions: Vec<Region>, cut: &Contour) -> Result<Vec<Region>, GeomError> {
    let mut remains = Vec::with_capacity(regions.len());
    for region in regions {
        if region.outer.meets(cut) {
            remains.extend(region.minus_contour(cut)?);
        } else {
            remains.push(region);
        }
    }
    Ok(remains)
}

/// The result loops as contours, rounding slivers dropped.
fn closed(loops: Vec<BooleanResultPline<Polyline<f64>>>) -> Result<Vec<Contour>, GeomError> {
    let mut contours = Vec::with_capacity(loops.len());
    for pline in loops.into_iter().map(|l| l.pline).filter(|p| p.vertex_count() > 1) {
        if !pline.is_closed() {
            return Err(GeomError::Unreliable("boolean"));
        }
        contours.extend(Contour::from_pline(pline).ok().filter(|c| c.area().abs() > tolerance::SLIVER_AREA));
    }
    Ok(contours)
}

/// Each hole goes to the smallest outer contour that holds it.
fn grouped(outers: Vec<Contour>, mut holes: Vec<Contour>) -> Vec<Region> {
    let mut by_size: Vec<(usize, Contour)> = outers.into_iter().map(Contour::ccw).enumerate().collect();
    by_size.sort_by(|a, b| a.1.area().total_cmp(&b.1.area()));
    let mut regions: Vec<(usize, Region)> = Vec::with_capacity(by_size.len());
    for (place, outer) in by_size {
        let (inside, rest) = holes.into_iter().partition(|h| outer.holds(h));
        holes = rest;
        regions.push((place, Region::new(outer, inside)));
    }
    regions.sort_by_key(|r| r.0);
    regions.into_iter().map(|r| r.1).collect()
}

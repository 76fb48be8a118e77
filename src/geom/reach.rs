//! What a round cutter can and cannot reach, and the rings that clear a pocket.

use super::{tolerance, Contour, GeomError, Region};

impl Region {
    /// The parts of an opening or pocket that a disc of this radius, rolling inside, cannot cover: inner corners, slots that
    /// are too narrow, or all of it. Empty when the cutter reaches everything.
    ///
    /// The region less its shrunk copy grown back; what lies within [`tolerance::UNREACHED`] of covered ground is not
    /// reported, so a relief of the cutter's own radius counts as reached.
    ///
    /// # Errors
    /// As [`Region::shrunk`] and [`Contour::minus`].
    pub fn unreachable(&self, radius: f64) -> Result<Vec<Region>, GeomError> {
        if !radius.is_finite() {
            return Err(GeomError::NotFinite);
        }
        let mut left = vec![self.clone()];
        if radius <= 0.0 {
            return Ok(Vec::new());
        }
        for way in Region::from_loops(self.shrunk(radius)?) {
            for covered in Region::from_loops(way.shrunk(-(radius + tolerance::UNREACHED))?) {
                let mut rest = Vec::new();
                for part in left {
                    rest.extend(part.minus(&covered)?);
                }
                left = rest;
            }
        }
        Ok(left)
    }

    /// Pocket rings: ring k lies `first + k·step` inside the region, each computed from the region itself; the list ends before
    /// the first empty one. Contours in each ring as in [`Region::shrunk`].
    ///
    /// # Errors
    /// [`GeomError::BadStep`] when `first` is negative or the step below [`tolerance::SMALLEST_STEP`]; as [`Region::shrunk`].
    pub fn rings(&self, first: f64, step: f64) -> Result<Vec<Vec<Contour>>, GeomError> {
        if !(first.is_finite() && step.is_finite()) {
            return Err(GeomError::NotFinite);
        }
        if first < 0.0 || step < tolerance::SMALLEST_STEP {
            return Err(GeomError::BadStep { first, step });
        }
        let mut rings = Vec::new();
        // A region as wide as its bounds' shorter side is gone at half of that.
        let bounds = self.outer.bounds();
        let deepest = bounds.width().min(bounds.height()) / 2.0;
        let mut depth = first;
        while depth <= deepest + tolerance::OFFSET_DISTANCE {
            let ring = self.shrunk(depth)?;
            if ring.is_empty() {
                break;
            }
            rings.push(ring);
            depth = first + step * rings.len() as f64;
        }
        Ok(rings)
    }
}

impl Contour {
    /// The parts outside this contour that a disc of this radius, rolling round it, cannot cover: inner corners of notches and
    /// notches too narrow to enter. Empty when the cutter follows the whole contour.
    ///
    /// # Errors
    /// As [`Region::unreachable`].
    pub fn unreachable_outside(&self, radius: f64) -> Result<Vec<Region>, GeomError> {
        if !radius.is_finite() {
            return Err(GeomError::NotFinite);
        }
        let mut left = Vec::new();
        if radius <= 0.0 {
            return Ok(left);
        }
        // Grown by the radius and shrunk back, every gap the disc cannot enter stays filled.
        for grown in Region::from_loops(self.grown(radius)?) {
            // A hole of the grown contour is a place the disc fits but cannot roll to.
            let shell = Region::new(grown.outer, Vec::new());
            for filled in Region::from_loops(shell.shrunk(radius + tolerance::UNREACHED)?) {
                left.extend(filled.minus_contour(self)?);
            }
        }
        Ok(left)
    }
}

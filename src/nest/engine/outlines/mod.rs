//! Pieces by their true outline: polygons in whole numbers, laid by letting them overlap and then driving them apart.
//!
//! An outline is a set of convex parts. Two pieces overlap when the one's corner lies inside one of the sums of the one's parts
//! with the other's turned about (Minkowski sums): exact in whole numbers, and how deep it lies inside says how far they are
//! from being apart. A separation by weights on pairs that stay entangled (guided local search, Voudouris & Tsang 1999; on
//! polygons Egeblad, Nielsen & Odgaard 2007, Umetani et al. 2009) moves one piece after the other along lines to where it
//! overlaps least.

mod convex;
mod meeting;
mod separate;
mod strip;

pub use strip::{in_strip, LaidPiece, LaidStrip, Strip, StripPiece};

//! Contours: constructors, offsets, booleans, distances.

mod offsets;
mod shapes;
mod support;

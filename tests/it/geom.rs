//! Contours: constructors, offsets, booleans, distances.

mod along;
mod booleans;
mod offsets;
mod shapes;
mod space;
mod support;

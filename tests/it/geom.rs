//! Contours: constructors, offsets, booleans, distances.

mod along;
mod booleans;
mod offsets;
mod prism;
mod shapes;
mod space;
mod support;

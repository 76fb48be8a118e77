//! Contours: constructors, offsets, booleans, distances.

mod shapes;

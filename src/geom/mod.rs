//! Plane and space geometry in millimetres and radians.
//!
//! Takes: plain numbers; this and `units` are the only rooms where a bare `f64` is a length.
//! Gives: [`Contour`] (closed, lines and arcs), offsets, booleans, distances; [`Axis`], [`Point3`], [`Box3`].
//! Guarantees: a contour that exists is closed, simple, without zero-length segments, with arcs of at most a half turn.
//! Never: rounds, reads files, or knows about panels.

mod along;
mod boolean;
pub mod contour;
mod distance;
mod error;
mod mitre;
mod offset;
mod place;
mod prism;
mod reach;
mod shapes;
pub mod space;
pub mod tolerance;

pub use along::Segment;
pub use contour::{Contour, Region, Vertex};
pub use error::GeomError;
pub use kurbo::{Point, Rect, Vec2};
pub use prism::Prism;
pub use shapes::Relief;
pub use space::{Axis, Box3, Point3};

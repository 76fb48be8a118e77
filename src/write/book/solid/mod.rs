//! Pictures of what stands in space: boxes seen from a corner, everything hidden left out, exactly.
//!
//! A face of a box is hidden where anything lies on the viewer's side of its plane. So the seen part of a face is its outline on
//! paper less the outlines of all boxes, each cut off at the face's plane: no order of painting is needed, and parts that lock
//! into each other are drawn right. Everything is reckoned on an integer grid with integer directions, so that edges which
//! coincide do so exactly.

mod label;
mod scene;
mod view;
mod visible;

pub(super) use scene::{Body, Look, Scene};
pub(super) use view::View;

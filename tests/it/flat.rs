//! Panels as flat parts: outlines, cuts, faces, groups and checks.

mod built;
mod checks;
mod cuts;
mod faces;
mod groups;
mod outline;
mod random;
mod support;

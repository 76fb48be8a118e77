//! The one integration test binary.
#![allow(missing_docs, reason = "tests")]

mod book;
mod cli;
mod design;
mod fit;
mod flat;
mod geom;
mod laser;
mod load;
mod nest;
mod openings;
mod pack;
mod parts;
mod project;
mod proof;
mod sawn;
mod second_opinion;
mod shop;
mod tidy;
mod toolpath;
mod write;

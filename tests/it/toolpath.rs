//! Tool paths and the programs written from them.

pub(crate) mod bench;
mod cuts;
mod habits;
mod holding;
mod random;
mod sheets;
mod sweep;
mod text;

//! The laser: kerf, order, files and their proof; the mock-up in card.

mod kerf;
mod proof;
mod support;

//! The laser: kerf, order, files and their proof; the mock-up in card.

mod kerf;
mod mock_up;
mod pages;
mod proof;
mod rubs;
mod split;
mod support;

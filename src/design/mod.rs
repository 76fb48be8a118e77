//! The settled design: every default applied, every profile looked up, every written size a `Dim`.
//!
//! Takes: [`Project`](crate::project) and [`Shop`](crate::shop::Shop).
//! Gives: [`Design`].
//! Guarantees: names are unique, references resolve, sizes are positive and plausible for the bay.
//! Never: derives a panel, or reads a file.

mod additions;
mod bay;
mod bench;
mod boards;
mod carcass;
mod closure;
pub mod codes;
mod coupon;
mod defaults;
mod drawer;
mod mock_up;
mod notes;
mod order;
mod panel;
mod plausible;
mod process;
mod settle;
mod trace;
mod types;
mod vehicle;

pub use coupon::{coupon, no_coupon, PRESS_LADDER};
pub(crate) use defaults::READINGS_WANTED;
pub use mock_up::{about_boards, mock_up, MockUp, MockUpWish, Scale};
pub use notes::idle_overrides;
pub use settle::settle;
pub use types::*;
pub use vehicle::{AccelerationSet, Prices, Vehicle};

//! Mass, strength, restraint and stowing, against published values, a second way of working them out, and planted faults.

mod cost;
mod faults;
mod formulas;
mod goods;
mod page;
mod random;
mod restraint;
mod second_opinion;
mod support;

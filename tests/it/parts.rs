//! Panels in the bay: trade facts, joints proved as solids, holes that line up, pins, explanations, and the fit of it all.

mod bolts;
mod cuttable;
mod fit;
mod holes;
mod joints;
mod pins;
mod random;
mod solids;
mod support;
mod trade;
mod why;

//! The fit checks: planted faults, motion, loading, assembly, readings, other boards.

mod planted;

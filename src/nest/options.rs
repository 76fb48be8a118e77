//! How the nesting is to be done.

use super::types::Effort;
use std::fmt;

/// How hard to look, from which seed, on how many threads, and who watches.
#[derive(Clone, Copy)]
pub struct Options<'a> {
    /// How hard to look.
    pub effort: Effort,
    /// Seed of the random choices; kept in the pack so that a layout can be made again.
    pub seed: u64,
    /// Threads to use, at least 1; never changes the layout.
    pub threads: usize,
    /// Told between rounds of search, and asked whether to go on.
    pub watch: Option<&'a dyn Watch>,
}

impl Default for Options<'_> {
    fn default() -> Self {
        Self { effort: Effort::Quick, seed: 1, threads: 1, watch: None }
    }
}

impl fmt::Debug for Options<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Options")
            .field("effort", &self.effort)
            .field("seed", &self.seed)
            .field("threads", &self.threads)
            .field("watched", &self.watch.is_some())
            .finish()
    }
}

/// Someone who looks on: shows progress, and may stop the search with the best layout so far.
pub trait Watch: Sync {
    /// Called between rounds; false stops the search.
    fn go_on(&self, progress: Progress) -> bool;
}

/// How far the search of one board is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Progress {
    /// Which of the boards that have parts, from 0.
    pub board: usize,
    /// How many boards have parts.
    pub boards: usize,
    /// Share of this board's work done, 0 to 1.
    pub done: f64,
    /// Sheets of the best layout so far.
    pub sheets: usize,
    /// Whether it is proved that no layout is better.
    pub proved_best: bool,
}

impl Effort {
    /// The engine's work units for a whole job; about 60 million are a second on a desk machine of 2024 (measured).
    #[must_use]
    pub fn work(self) -> u64 {
        match self {
            Self::Draft => 1_000_000,
            Self::Quick => 60_000_000,
            Self::Thorough => 600_000_000,
            Self::Exhaustive => 20_000_000_000,
        }
    }
}

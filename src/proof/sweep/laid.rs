//! One copy of a part with everything that is cut near it.

use super::left::Opened;
use super::strokes::{Run, Stroke};
use super::target::Target;
use crate::proof::fault::quoted;
use crate::proof::job::{Held, Placement};
use crate::proof::shape::Bounds;

/// A copy of a part on its sheet; all in the part's own frame.
#[derive(Clone, Copy, Debug)]
pub(super) struct Laid<'l> {
    pub(super) target: &'l Target<'l>,
    /// The strokes near it, in order of running.
    pub(super) strokes: &'l [Stroke],
    /// The sheet's programs.
    pub(super) runs: &'l [Run<'l>],
    /// What the strokes open.
    pub(super) opened: &'l Opened,
    /// The sheet.
    pub(super) sheet: Bounds,
    pub(super) spot: Spot<'l>,
    /// What was planned of it on its sheet.
    pub(super) placement: &'l Placement,
}

impl Laid<'_> {
    /// The tabs planned along a cut, if the pack says so.
    pub(super) fn held(&self, feature: &str) -> Option<&Held> {
        self.placement.held.iter().find(|held| held.feature == feature)
    }
}

/// A part on a sheet, for messages.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spot<'a> {
    pub(super) sheet: &'a str,
    pub(super) part: &'a str,
    pub(super) copy: usize,
}

impl Spot<'_> {
    pub(super) fn words(&self) -> String {
        format!("{}, part {} copy {}", self.sheet, quoted(self.part).trim_matches('"'), self.copy)
    }
}

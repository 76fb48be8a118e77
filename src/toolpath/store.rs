//! Work that is the same for every copy of a part, done once: tool-centre contours, and the moves that clear an area.
//!
//! All of it is in the part's face frame: the part's own, with y turned to −y where the sheet lies turned over.

use super::moves::Moves;
use crate::geom::{Contour, GeomError};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

/// Tool-centre contours of a cut; `None` inside when the cutter cannot reach all of it.
pub(super) type Centre = Result<Option<Vec<Contour>>, GeomError>;

/// A cut of a part as it lies under the cutter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Of {
    /// Index into the flat parts.
    pub(super) part: usize,
    /// Index into the part's cuts; `None` for its outline.
    pub(super) cut: Option<usize>,
    /// Whether the sheet lies turned over.
    pub(super) over: bool,
}

/// A cut with the numbers its work depends on, by their bits.
type Key<const N: usize> = (Of, [u64; N]);

/// The piece that falls out when a cutter runs round an opening.
#[derive(Clone, Copy, Debug)]
pub(super) struct Slug {
    /// Its longer side; nought when nothing is left.
    pub(super) largest: f64,
    /// Nowhere wide enough to carry a tab.
    pub(super) thin: bool,
}

/// What has been computed so far.
#[derive(Debug, Default)]
pub(super) struct Store {
    centres: RefCell<BTreeMap<Key<1>, Rc<Centre>>>,
    cleared: RefCell<BTreeMap<Key<4>, Option<Rc<Moves>>>>,
    slugs: RefCell<BTreeMap<Key<1>, Slug>>,
}

impl Store {
    /// The tool-centre contours of a cut for a cutter's radius.
    pub(super) fn centre(&self, of: Of, radius: f64, work: impl FnOnce() -> Centre) -> Rc<Centre> {
        let key = (of, [radius.to_bits()]);
        if let Some(kept) = self.centres.borrow().get(&key) {
            return Rc::clone(kept);
        }
        let made = Rc::new(work());
        self.centres.borrow_mut().insert(key, Rc::clone(&made));
        made
    }

    /// What falls out of an opening cut with a cutter of this diameter.
    pub(super) fn slug(&self, of: Of, across: f64, work: impl FnOnce() -> Slug) -> Slug {
        let key = (of, [across.to_bits()]);
        if let Some(kept) = self.slugs.borrow().get(&key) {
            return *kept;
        }
        let made = work();
        self.slugs.borrow_mut().insert(key, made);
        made
    }

    /// The moves that clear a cut's area with a cutter of this radius and feed, from a top down to a floor.
    pub(super) fn cleared(
        &self,
        of: Of,
        [radius, feed, top, floor]: [f64; 4],
        work: impl FnOnce() -> Option<Moves>,
    ) -> Option<Rc<Moves>> {
        let key = (of, [radius, feed, top, floor].map(f64::to_bits));
        if let Some(kept) = self.cleared.borrow().get(&key) {
            return kept.clone();
        }
        let made = work().map(Rc::new);
        self.cleared.borrow_mut().insert(key, made.clone());
        made
    }
}

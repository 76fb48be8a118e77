//! What the search needs from a sheet that is being filled.

use super::pieces::Grown;

/// A piece on a sheet, grown by the gap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Placed {
    pub(super) piece: u32,
    pub(super) x: i32,
    pub(super) y: i32,
    pub(super) w: i32,
    pub(super) h: i32,
    pub(super) quarters: u8,
}

/// How to rate a place for a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rule {
    /// Least left over on the tighter side.
    ShortSide,
    /// Least left over on the wider side.
    LongSide,
    /// Least left over in area.
    Area,
    /// Longest contact with neighbours and edges.
    Contact,
}

/// A sheet being filled.
pub(super) trait Surface: Clone {
    /// A place for a piece.
    type Nook: Copy;

    /// An empty sheet of a kind.
    fn blank(g: &Grown, kind: usize) -> Self;

    /// The best place for a piece by a rule: its rating (lower is better, comparable between sheets) and the place.
    fn best(&self, g: &Grown, id: u32, rule: Rule, work: &mut u64) -> Option<(i64, Self::Nook)>;

    /// Puts a piece there.
    fn put(&mut self, g: &Grown, id: u32, nook: Self::Nook);

    /// Takes off every piece that `gone` names (index into [`Surface::placed`]) and pushes its id.
    fn take(&mut self, g: &Grown, gone: &mut dyn FnMut(usize, &Placed) -> bool, ids: &mut Vec<u32>);

    /// What lies on it.
    fn placed(&self) -> Vec<Placed>;

    /// How many lie on it.
    fn len(&self) -> usize;

    /// Their area.
    fn used(&self) -> i64;
}

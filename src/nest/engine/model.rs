//! What the engine takes and gives. All lengths are whole numbers of one unit (0.01 mm when called by the stage).

use std::collections::BTreeMap;
use std::fmt;

/// Pieces to be laid on sheets.
#[derive(Clone, Debug)]
pub struct Problem {
    /// The different pieces.
    pub items: Vec<Item>,
    /// The true shape of some pieces, by index into `items`; the others are rectangles. Saws only see rectangles.
    pub shapes: BTreeMap<usize, Shape>,
    /// The different sheets.
    pub sheets: Vec<SheetKind>,
    /// Rectangles (left, lower, right, upper side) of some sheets, by index into `sheets`, that no piece may lie on. Only where
    /// pieces may lie anywhere; a saw's sheets must be given without.
    pub defects: BTreeMap<usize, Vec<[i64; 4]>>,
    /// Least distance between two pieces; a saw's kerf. None is kept to the sheet's edge.
    pub gap: i64,
    /// How pieces may lie.
    pub cut: CutRule,
}

/// A kind of rectangular piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Item {
    /// Along x and y, unturned.
    pub size: [i64; 2],
    /// How it may be turned.
    pub turns: Turns,
    /// How many.
    pub count: u32,
}

/// How a piece may be turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Turns {
    /// As given, or by a half turn.
    Fixed,
    /// By a quarter or three.
    Quarter,
    /// Any of the four.
    Any,
}

/// A piece that does not fill its rectangle: rectangles, in its own frame from its lower left corner, that together cover it.
///
/// They may overlap. What they leave free inside the piece's rectangle is open to other pieces.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Shape {
    /// Left, lower, right and upper side of each.
    pub cover: Vec<[i64; 4]>,
}

/// A kind of sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SheetKind {
    /// Usable size along x and y.
    pub size: [i64; 2],
    /// How many there are; `None` for as many as needed.
    pub count: Option<u32>,
    /// What one costs; the sum is made least.
    pub cost: u64,
}

/// What layouts are allowed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CutRule {
    /// Anywhere, apart by the gap.
    Free,
    /// Every piece can be cut out by straight cuts from edge to edge, the gap being the kerf.
    Guillotine,
    /// The same with at most this many stages of cuts one way, the trimming of pieces and of the sheet's edges included.
    Staged(u8),
}

/// How much work to spend and how.
#[derive(Clone, Copy)]
pub struct Settings<'a> {
    /// Work units: about one look at one free rectangle each; 0 for one constructive pass only.
    pub work: u64,
    /// Seed of the random choices.
    pub seed: u64,
    /// Threads to use; never changes the result.
    pub threads: usize,
    /// Asked between rounds; false stops the search.
    pub ask: Option<&'a Ask<'a>>,
}

/// Told how far the search is; answers whether to go on.
pub type Ask<'a> = dyn Fn(Glance) -> bool + Sync + 'a;

/// How far a search is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glance {
    /// Share of the work done, 0 to 1.
    pub done: f64,
    /// Sheets of the best packing so far.
    pub sheets: usize,
    /// Whether it is proved best.
    pub optimal: bool,
}

impl fmt::Debug for Settings<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Settings")
            .field("work", &self.work)
            .field("seed", &self.seed)
            .field("threads", &self.threads)
            .field("asked", &self.ask.is_some())
            .finish()
    }
}

/// A layout.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Packing {
    /// Sheets in use.
    pub sheets: Vec<PackedSheet>,
    /// Pieces (index, copies) that found no place because the stock is used up or no sheet is large enough.
    pub unplaced: Vec<(usize, u32)>,
    /// Sum of the sheets' costs.
    pub cost: u64,
    /// No packing of all pieces costs less (proved).
    pub bound: u64,
    /// Every piece is placed and the cost equals the bound.
    pub optimal: bool,
}

/// One sheet of a layout.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackedSheet {
    /// Index into [`Problem::sheets`].
    pub kind: usize,
    /// What lies on it.
    pub spots: Vec<Spot>,
}

/// One piece on a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Spot {
    /// Index into [`Problem::items`].
    pub item: usize,
    /// Lower left corner.
    pub at: [i64; 2],
    /// Size as it lies.
    pub size: [i64; 2],
    /// How it is turned, in quarters counter-clockwise.
    pub quarters: u8,
}

//! The design's types. Outside sizes and places are in the bay frame: x right, y into the vehicle, z up.

mod additions;
mod bay;
mod carcass;
mod drawer;
mod panel;
mod process;

pub use additions::{Edge, Lip, PlayAbove, PullOut};
pub use bay::{Access, Anchor, Bay, KeepOut, OpenDoor, Opening};
pub use carcass::{Back, BackPlace, Carcass, CarcassPlace, Cell, Column, JointKind, Lid, Sides, Size, Top, UprightStyle};
pub use drawer::{BottomStyle, Drawer, DrawerFasteners, FingerPull, FrontFit, Reveal};
pub use panel::{FreeCut, FreePanel, FreeShape, GrainChoice};
pub use process::{JointClearance, ProcessChoice, ReliefStyle, Saw};

use super::{MockUp, Prices, Vehicle};
use crate::diag::Span;
use crate::dim::Dim;
use crate::shop::{Board, SheetSize};
use crate::units::{Mm, Unit};
use std::sync::Arc;

/// Everything that is to be built, settled.
#[derive(Clone, Debug)]
pub struct Design {
    /// Title.
    pub title: String,
    /// The unit the maker thinks in.
    pub units: Unit,
    /// The measured bay, when there is one.
    pub bay: Option<Bay>,
    /// The vehicle's figures, as far as given.
    pub vehicle: Option<Vehicle>,
    /// What things cost the maker, as far as given.
    pub prices: Option<Prices>,
    /// Boards in use; [`BoardId`] indexes this.
    pub boards: Vec<BoardUse>,
    /// Machine, cutters and joint habits.
    pub process: ProcessChoice,
    /// Carcasses, each after the one it stands on.
    pub carcasses: Vec<Carcass>,
    /// Pull-outs.
    pub pull_outs: Vec<PullOut>,
    /// Lips.
    pub lips: Vec<Lip>,
    /// Panels the builders do not know.
    pub panels: Vec<FreePanel>,
    /// What is to be carried.
    pub stows: Vec<Stow>,
    /// Parts to be cut beside each other.
    pub together: Vec<Together>,
    /// Sizes the maker fixed.
    pub pins: Vec<Pin>,
    /// Stoppers the maker overrode.
    pub overrides: Vec<Override>,
    /// Where a mock-up rubbed.
    pub rubs: Vec<Rub>,
    /// Defaults and guesses in use, one sentence each, for the pack's first page.
    pub assumptions: Vec<String>,
    /// What it is a mock-up with; `None` for the real thing.
    pub mock_up: Option<MockUp>,
}

/// Index into [`Design::boards`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BoardId(pub usize);

/// A board as used in this project.
#[derive(Clone, Debug)]
pub struct BoardUse {
    /// The name the project gives it: `carcass`.
    pub name: String,
    /// Its profile.
    pub profile: Arc<Board>,
    /// Thickness of the batch: one source, from readings or from the class.
    pub thickness: Dim,
    /// Readings in mm, as taken; empty when the class stands in.
    pub readings: Vec<Mm>,
    /// Sheets and offcuts to cut from, in order of preference.
    pub stock: Vec<StockSheet>,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// Parts that are cut beside each other from one sheet, so that the grain runs on.
#[derive(Clone, Debug)]
pub struct Together {
    /// Ids or names of parts, in order.
    pub parts: Vec<String>,
    /// Where it is written.
    pub span: Option<Span>,
}

/// A size of sheet or an offcut at hand.
#[derive(Clone, Debug, PartialEq)]
pub struct StockSheet {
    /// Its size; length along the grain.
    pub size: SheetSize,
    /// How many; `None` for as many as needed.
    pub count: Option<u32>,
    /// Price of one in the maker's currency, when given.
    pub price: Option<f64>,
    /// Rectangles that no part may touch: x, y of the corner nearest the sheet's, length, width.
    pub defects: Vec<[Mm; 4]>,
}

/// Something to be carried.
#[derive(Clone, Debug)]
pub struct Stow {
    /// Its name.
    pub name: String,
    /// Length, width, height.
    pub size: [Dim; 3],
    /// kg.
    pub mass_kg: f64,
    /// The cell, drawer or top it goes in, as written.
    pub place: Option<String>,
    /// How many.
    pub quantity: u32,
    /// Whether its height must stay its height.
    pub this_way_up: bool,
    /// Whether others of its kind may stand on it.
    pub stackable: bool,
    /// Air it needs all round and above, for what breathes or gets warm.
    pub air: Option<Dim>,
    /// Where it is declared.
    pub span: Option<Span>,
}

/// A derived size the maker fixed.
#[derive(Clone, Debug)]
pub struct Pin {
    /// The size's name, as `why` prints it.
    pub name: String,
    /// The maker's figure.
    pub value: Dim,
    /// Where it is written.
    pub span: Option<Span>,
}

/// A place where a mock-up rubbed when it was tried.
#[derive(Clone, Debug, PartialEq)]
pub struct Rub {
    /// Words of the name of the gap there.
    pub place: String,
    /// How much it was too much.
    pub by: Mm,
    /// The air that the tried design had there; `None` when not written.
    pub had: Option<Mm>,
    /// Where it is written.
    pub span: Option<Span>,
}

/// A stopper the maker overrode.
#[derive(Clone, Debug)]
pub struct Override {
    /// The finding's code.
    pub code: String,
    /// The part it concerns; `None` for all.
    pub part: Option<String>,
    /// Why, in the maker's words; printed in the pack.
    pub reason: String,
    /// Where it is written.
    pub span: Option<Span>,
}

//! What the maker wrote: a project file with every value's place in it, and nothing filled in.
//!
//! Takes: the text of a project file (and of the files it is based on), and of drawings it names.
//! Gives: [`Project`], the same content as typed values with spans.
//! Guarantees: lengths are finite millimetres; every unknown key, wrong type and unreadable length was reported, all in one go.
//! Never: applies a default, looks up a profile, or reads a file.

pub mod codes;

mod additions;
mod bay;
mod carcass;
mod drawer;
mod drawing;
mod measure;
mod notes;
mod offcuts;
mod outline;
mod panel;
mod read;
mod shop;
mod starter;
mod table;
mod tree;
mod types;
mod vehicle;

pub use additions::{Lip, LipEdge, Play, PullOut};
pub use bay::{Access, Anchor, Bay, KeepOut, Measured, OpenDoor, Opening, Square, View};
pub use carcass::{Back, Carcass, Cell, Column, Joint, Lid, Size, Top};
pub use drawer::{Bottom, Drawer, FingerPull, Reveal};
pub use drawing::import;
pub use notes::{Override, Pin, Rub, Stow, Together};
pub use offcuts::take_offcuts;
pub use outline::{Drawing, Outline, OutlineCheck, OutlineSource, Scribed, ScribedEdge};
pub use panel::{Cut, CutShape, HoleSize, Panel, PanelGrain};
pub use read::{based_on, read};
pub use shop::{BoardText, Defect, Joints, Relief, SawText, ShopChoice, Stock};
pub use starter::{starter, StarterAnswers};
pub(crate) use table::did_you_mean;
pub use types::{Choice, Length, Project, Text, Written};
pub use vehicle::{Accelerations, LoadSide, Prices, Vehicle, VehicleClass};

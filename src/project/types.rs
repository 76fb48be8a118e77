//! What the maker wrote, whole: the parts are typed in the files that read them.

use super::{
    Bay, BoardText, Carcass, Drawing, Joints, Lip, OutlineSource, Override, Panel, Pin, Prices, PullOut, Rub, SawText,
    ShopChoice, Stow, Together, Vehicle,
};
use crate::diag::Span;
use crate::units::{Mm, Unit};

/// A value and where it is written.
#[derive(Clone, Debug, PartialEq)]
pub struct Written<T> {
    /// The value.
    pub value: T,
    /// Where.
    pub span: Span,
}

/// A length and where it is written.
pub type Length = Written<Mm>;

/// A name or other text and where it is written.
pub type Text = Written<String>;

/// Something that may be left to its default, put away with `false`, or given.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Choice<T> {
    /// Not mentioned.
    #[default]
    Default,
    /// `false`.
    Off,
    /// Given.
    Given(T),
}

/// A project file as written, nothing filled in. A required value that is missing or unreadable is `None` and was reported.
#[derive(Clone, Debug)]
pub struct Project {
    /// `title`.
    pub title: Option<Text>,
    /// `units` of the main file.
    pub units: Unit,
    /// `[bay]`.
    pub bay: Option<Bay>,
    /// `[vehicle]`.
    pub vehicle: Option<Vehicle>,
    /// `[prices]`.
    pub prices: Option<Prices>,
    /// `[boards.NAME]`.
    pub boards: Vec<BoardText>,
    /// `[shop]`.
    pub shop: ShopChoice,
    /// `[saw]`.
    pub saw: SawText,
    /// `[joints]`.
    pub joints: Joints,
    /// `[[carcass]]`.
    pub carcasses: Vec<Carcass>,
    /// `[[pull_out]]`.
    pub pull_outs: Vec<PullOut>,
    /// `[[lip]]`.
    pub lips: Vec<Lip>,
    /// `[[panel]]`.
    pub panels: Vec<Panel>,
    /// `[[stow]]`.
    pub stows: Vec<Stow>,
    /// `[[together]]`.
    pub together: Vec<Together>,
    /// `[pin]`.
    pub pins: Vec<Pin>,
    /// `[[override]]`.
    pub overrides: Vec<Override>,
    /// `rubs`.
    pub rubs: Vec<Rub>,
    /// The main file from start to end.
    pub span: Span,
}

impl Project {
    /// The drawings it names, to be filled in.
    pub fn drawings(&mut self) -> impl Iterator<Item = &mut Drawing> {
        let keep_outs = self.bay.iter_mut().flat_map(|b| &mut b.keep_outs).filter_map(|k| k.outline.as_mut());
        let panels = self.panels.iter_mut().filter_map(|p| p.outline.as_mut());
        keep_outs.chain(panels).filter_map(|outline| match &mut outline.source {
            OutlineSource::Drawing(drawing) => Some(drawing),
            OutlineSource::Points(_) => None,
        })
    }
}

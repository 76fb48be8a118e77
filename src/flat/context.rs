//! What every step on one panel needs, and how it reports.

use super::codes;
use super::relief::{Made, Trouble};
use super::tools::Tools;
use crate::design::Design;
use crate::diag::{Code, Finding};
use crate::geom::{tolerance, Contour, Rect};
use crate::parts::{Feature, Model, Panel};
use crate::units::{decimal, Mm};

/// One panel on its way to a flat part.
pub(super) struct Context<'a> {
    pub(super) design: &'a Design,
    pub(super) model: &'a Model,
    pub(super) tools: &'a Tools,
    pub(super) panel: &'a Panel,
    pub(super) findings: &'a mut Vec<Finding>,
    /// Findings about features, each with the ids of those it fits; told by [`Context::tell`].
    pub(super) gathered: Vec<(Finding, Vec<String>)>,
}

/// Stands in a message for the features it is about.
pub(super) const WHICH: &str = "{which}";

impl Context<'_> {
    /// Adds a finding about a feature of this panel; [`WHICH`] in its message stands for the feature. Features with the same
    /// message share a finding.
    pub(super) fn say(&mut self, feature: &Feature, finding: Finding) {
        let finding = finding.part(&self.panel.id).at(feature.span.or(self.panel.span));
        if let Some((_, ids)) = self.gathered.iter_mut().rev().find(|(other, _)| *other == finding) {
            ids.push(feature.id.clone());
        } else {
            self.gathered.push((finding, vec![feature.id.clone()]));
        }
    }

    /// Gives on what was gathered.
    pub(super) fn tell(self) {
        for (mut finding, ids) in self.gathered {
            let names: Vec<String> = ids.iter().map(|id| format!("`{id}`")).collect();
            let each = if names.len() > 1 { "each of " } else { "" };
            finding.message = finding.message.replace(WHICH, &format!("{each}{}", names.join(", ")));
            self.findings.push(finding);
        }
    }

    /// A stop about a feature, with what to do.
    pub(super) fn stop(&mut self, feature: &Feature, code: Code, message: String, remedy: &str) {
        self.say(feature, Finding::stop(code, message).remedy(remedy));
    }

    /// A cut that could not be made becomes a finding.
    pub(super) fn made(&mut self, feature: &Feature, made: Result<Made, Trouble>, cutters: &[f64]) -> Option<Made> {
        match made {
            Ok(made) => {
                self.tight(feature, made.cutter);
                Some(made)
            }
            Err(Trouble::TooNarrow(width)) => {
                self.too_narrow(feature, width, cutters);
                None
            }
            Err(Trouble::NoRoom(widest)) => {
                let remedy = if widest > 0.0 {
                    format!("use a cutter of at most {} mm, or make the cut larger", mm(widest))
                } else {
                    "make the cut larger".to_owned()
                };
                let smallest = mm(cutters.iter().copied().fold(f64::INFINITY, f64::min));
                let text = format!(
                    "{WHICH} has no room for the corner relief of a {smallest} mm cutter; the widest that fits is {} mm",
                    mm(widest)
                );
                self.stop(feature, codes::RELIEF_DOES_NOT_FIT, text, &remedy);
                None
            }
            Err(Trouble::Shape(error)) => {
                self.stop(feature, codes::CUT_SHAPE_BAD, format!("{WHICH} cannot be drawn: {error}"), "correct its size");
                None
            }
        }
    }

    /// A cut narrower than every cutter that might cut it.
    pub(super) fn too_narrow(&mut self, feature: &Feature, width: f64, cutters: &[f64]) {
        let smallest = mm(cutters.iter().copied().fold(f64::INFINITY, f64::min));
        let text = format!("{WHICH} is {} mm wide, too narrow for the {smallest} mm cutter", mm(width));
        let remedy = format!("use a cutter of at most {} mm, or make the cut at least {smallest} mm wide", mm(width));
        self.stop(feature, codes::TOO_NARROW_FOR_CUTTER, text, &remedy);
    }

    /// A caution for a channel hardly wider than its cutter.
    fn tight(&mut self, feature: &Feature, cutter: f64) {
        let width = super::cuts::clear_width(self.panel, feature);
        let need = cutter * TIGHT_RATIO;
        if cutter > 0.0 && width < need - tolerance::SAME_POINT {
            let text = format!("{WHICH} is {} mm wide for a {} mm cutter", mm(width), mm(cutter));
            self.say(
                feature,
                Finding::caution(codes::TIGHT_FOR_CUTTER, text)
                    .limit(format!("{} mm: 1.05 cutter diameters, common practice, no source", mm(need)))
                    .remedy("use a thinner cutter, or cut slowly and measure the result"),
            );
        }
    }

    /// Nominal thickness of the panel in mm.
    pub(super) fn thickness(&self) -> Mm {
        self.panel.thickness.nominal()
    }
}

/// A channel should be this much wider than its cutter (common practice, no source).
const TIGHT_RATIO: f64 = 1.05;

/// A length in mm for a message, fine enough to tell a near miss.
pub(super) fn mm(length: f64) -> String {
    decimal(length, 4)
}

/// The panel's rectangle: that of its free outline, when it has one.
pub(super) fn bounds(panel: &Panel) -> Rect {
    panel
        .outline
        .as_ref()
        .map_or_else(|| Rect::new(0.0, 0.0, panel.length.nominal().0, panel.width.nominal().0), Contour::bounds)
}

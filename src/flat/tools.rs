//! What the machine at hand can cut: the diameters of its cutters and drills.

use super::codes;
use crate::design::{ProcessChoice, ReliefStyle};
use crate::diag::Finding;
use crate::geom::tolerance;
use crate::shop::{CutterKind, Process};
use crate::units::Mm;

/// Cutters and drills as far as shapes depend on them. Diameters in mm.
#[derive(Debug)]
pub(super) struct Tools {
    /// A laser: no radius, no blind cuts.
    pub(super) laser: bool,
    /// Diameter of the cutter for outlines; zero on a laser.
    pub(super) outline: f64,
    /// The outline cutter and all that are smaller, large ones first; empty on a laser.
    pub(super) routers: Vec<f64>,
    drills: Vec<f64>,
    /// How corners are relieved.
    pub(super) style: ReliefStyle,
    /// Relief radius beyond the cutter's.
    pub(super) extra: f64,
}

impl Tools {
    /// The tools of a process. A router without a cutter is a finding, and `None`.
    pub(super) fn of(process: &ProcessChoice, findings: &mut Vec<Finding>) -> Option<Self> {
        let laser = matches!(process.machine.process, Process::Laser(_));
        let is_drill = |kind: CutterKind| matches!(kind, CutterKind::Drill);
        let chosen = process.outline_cutter.and_then(|i| process.cutters.get(i)).filter(|c| !is_drill(c.kind));
        let outline = chosen.or_else(|| process.cutters.iter().find(|c| !is_drill(c.kind))).map(|c| c.diameter.0);
        let extra = process.relief_extra.0;
        if laser {
            let style = ReliefStyle::None;
            return Some(Self { laser, outline: 0.0, routers: Vec::new(), drills: Vec::new(), style, extra });
        }
        let Some(outline) = outline else {
            findings.push(
                Finding::stop(codes::NO_CUTTER, format!("{} has 0 cutters that are not drills", process.machine.name))
                    .remedy("add a router cutter to the machine's list of cutters"),
            );
            return None;
        };
        let mut routers: Vec<f64> =
            process.cutters.iter().filter(|c| !is_drill(c.kind) && c.diameter.0 <= outline).map(|c| c.diameter.0).collect();
        routers.sort_by(|a, b| b.total_cmp(a));
        routers.dedup();
        let drills = process.cutters.iter().filter(|c| is_drill(c.kind)).map(|c| c.diameter.0).collect();
        Some(Self { laser, outline, routers, drills, style: process.relief, extra })
    }

    /// Cutters that can go along a channel of this width, the outline cutter first.
    pub(super) fn entering(&self, width: f64) -> impl Iterator<Item = f64> + '_ {
        self.routers.iter().copied().filter(move |d| enters(*d, width))
    }

    /// The smallest router cutter at hand.
    pub(super) fn smallest(&self) -> f64 {
        self.routers.last().copied().unwrap_or(0.0)
    }

    /// Whether a round hole of this diameter can be drilled, or bored with a router cutter.
    ///
    /// On a laser, a hole of less than half the board's thickness chars shut (common practice, no source).
    pub(super) fn makes_hole(&self, diameter: f64, thickness: Mm) -> bool {
        if self.laser {
            return diameter >= thickness.0 / 2.0;
        }
        self.drills.iter().any(|d| (d - diameter).abs() <= tolerance::DRILL_MATCH)
            || self.entering(diameter).next().is_some()
    }
}

/// Whether a cutter fits between two walls.
pub(super) fn enters(diameter: f64, width: f64) -> bool {
    diameter <= width + tolerance::SAME_POINT
}

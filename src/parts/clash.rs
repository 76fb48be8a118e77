//! Screws inside the wood: where each runs, and whether another would meet it.

use super::builder::Builder;
use super::{FeatureKind, PanelId};
use crate::units::Mm;

/// Least wood between two screws in one board, or between a screw and a hole. Common practice, no source.
pub(super) const BETWEEN: Mm = Mm(2.0);
/// How far a screw's head looks for something in its way.
const HEAD_LOOKS: f64 = 1.0;

/// A screw or hole in the bay: a straight round thing.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rod {
    /// One end of its middle line.
    pub(super) from: [f64; 3],
    /// The other.
    pub(super) to: [f64; 3],
    /// Half of its diameter.
    pub(super) radius: Mm,
}

impl Rod {
    /// Wood between two rods; negative when they meet. Both run along an axis of the bay, so the boxes round their middle lines
    /// say how far apart the lines are.
    fn apart(&self, other: &Self) -> Mm {
        let squares: f64 = (0..3)
            .map(|i| {
                let (a, b) = (self.from[i].min(self.to[i]), self.from[i].max(self.to[i]));
                let (c, d) = (other.from[i].min(other.to[i]), other.from[i].max(other.to[i]));
                (c - b).max(a - d).max(0.0).powi(2)
            })
            .sum();
        Mm(squares.sqrt()) - self.radius - other.radius
    }
}

impl Builder<'_> {
    /// Whether a screw would meet one that is already there.
    pub(super) fn meets_rod(&self, rod: &Rod) -> bool {
        self.rods.iter().any(|other| rod.apart(other) < BETWEEN)
    }

    /// Whether a round hole in a panel, with this much wood wanted round it, comes upon something cut there.
    pub(super) fn meets_cut(&self, panel: PanelId, at: [Mm; 2], keep: Mm) -> bool {
        self.at(panel).features.iter().any(|f| {
            let (low, high) = match &f.kind {
                FeatureKind::Hole { at: c, diameter } | FeatureKind::Countersunk { at: c, diameter, .. } => {
                    let r = diameter.nominal() / 2.0;
                    let [u, v] = [c[0].nominal(), c[1].nominal()];
                    return Mm((at[0] - u).0.hypot((at[1] - v).0)) - r < keep;
                }
                FeatureKind::Slot { from, to, width } => {
                    let r = width.nominal() / 2.0;
                    let ends =
                        |i: usize| (from[i].nominal().min(to[i].nominal()) - r, from[i].nominal().max(to[i].nominal()) + r);
                    ([ends(0).0, ends(1).0], [ends(0).1, ends(1).1])
                }
                FeatureKind::Rectangle { at, size, .. }
                | FeatureKind::EdgeNotch { at, size, .. }
                | FeatureKind::Groove { at, size } => (
                    [at[0].nominal(), at[1].nominal()],
                    [at[0].nominal() + size[0].nominal(), at[1].nominal() + size[1].nominal()],
                ),
                FeatureKind::Free(contour) => {
                    let b = contour.bounds();
                    ([Mm(b.x0), Mm(b.y0)], [Mm(b.x1), Mm(b.y1)])
                }
            };
            let off = |i: usize| (low[i] - at[i]).max(at[i] - high[i]).max(Mm::ZERO);
            Mm(off(0).0.hypot(off(1).0)) < keep
        })
    }

    /// The panel that stands in the way of a screw's head, on the outside of the panel it goes through.
    ///
    /// A panel lying flat against that one does not count: the screw is driven before the two are put together.
    pub(super) fn in_the_way_of_head(
        &self,
        field: PanelId,
        axis: usize,
        at: [f64; 3],
        outward: f64,
        radius: Mm,
    ) -> Option<PanelId> {
        let r = radius.0;
        let mut low = [at[0] - r, at[1] - r, at[2] - r];
        let mut high = [at[0] + r, at[1] + r, at[2] + r];
        (low[axis], high[axis]) =
            if outward > 0.0 { (at[axis], at[axis] + HEAD_LOOKS) } else { (at[axis] - HEAD_LOOKS, at[axis]) };
        self.model.panels.iter().enumerate().map(|(i, p)| (PanelId(i), p)).find_map(|(id, panel)| {
            let frame = panel.frame.as_ref()?;
            let flat = 3 - frame.u.index() - frame.v.index() == axis;
            if id == field || flat {
                return None;
            }
            let solid = panel.solid()?;
            let (min, max) = (solid.min.to_array(), solid.max.to_array());
            (0..3).all(|i| min[i] < high[i] - 0.01 && max[i] > low[i] + 0.01).then_some(id)
        })
    }
}

//! Bolts that stand upright through panels lying on each other, and what of them stands out above and below.

use super::builder::Builder;
use super::{codes, Depth, Feature, FeatureKind, PanelId, Purpose};
use crate::diag::Finding;
use crate::dim::Dim;
use crate::shop::Fastener;
use crate::units::Mm;

/// Height of a nut in diameters of its thread: 0.8 to 0.9 (ISO 4032, from memory).
const NUT_DIAMETERS: f64 = 0.9;
/// Thread left standing beyond a nut when it is cut off there. Common practice, no source.
const TAIL: Mm = Mm(1.0);
/// Air kept between a washer and an upright. Common practice, no source.
const WASHER_AIR: Mm = Mm(2.0);

/// An upright bolt.
#[derive(Clone)]
pub(super) struct Bolt {
    /// Id of its holes.
    pub(super) id: String,
    /// Bay x and y.
    pub(super) at: [Dim; 2],
    pub(super) fastener: Fastener,
}

/// What stands out of a panel's face at a bolt.
#[derive(Clone, Debug)]
pub(super) struct Standing {
    /// The panel.
    pub(super) panel: PanelId,
    /// Whether it stands above the panel, or hangs below it.
    pub(super) above: bool,
    /// Bay x and y.
    pub(super) at: [Mm; 2],
    /// Half of the washer's diameter.
    pub(super) radius: Mm,
    /// How far it stands out.
    pub(super) height: Mm,
}

impl Bolt {
    fn standing(&self, panel: PanelId, above: bool, height: Mm) -> Standing {
        let at = [self.at[0].nominal(), self.at[1].nominal()];
        Standing { panel, above, at, radius: washer_radius(&self.fastener), height }
    }

    /// The head on a panel, with its washer.
    pub(super) fn head_on(&self, panel: PanelId) -> Standing {
        self.standing(panel, true, self.fastener.head_height + washer_height(&self.fastener))
    }

    /// The head below a panel, with its washer.
    pub(super) fn head_under(&self, panel: PanelId) -> Standing {
        self.standing(panel, false, self.fastener.head_height + washer_height(&self.fastener))
    }

    /// The nut below a panel, with its washer and what is left of the thread.
    pub(super) fn nut_under(&self, panel: PanelId) -> Standing {
        let height = self.fastener.diameter * NUT_DIAMETERS + washer_height(&self.fastener) + TAIL;
        self.standing(panel, false, height)
    }
}

fn washer_height(bolt: &Fastener) -> Mm {
    bolt.washer.map_or(Mm::ZERO, |w| w[2])
}

/// Half of the diameter of whatever is widest at a bolt.
pub(super) fn washer_radius(bolt: &Fastener) -> Mm {
    bolt.washer.map_or(bolt.head_diameter, |w| w[1].max(bolt.head_diameter)) / 2.0
}

/// Whether a bolt goes through a panel with its whole hole and some wood round it.
pub(super) fn fits(b: &Builder<'_>, panel: PanelId, bolt: &Bolt) -> bool {
    let Some(solid) = b.at(panel).solid() else { return false };
    let keep = bolt.fastener.clearance[1].0;
    let (min, max) = (solid.min.to_array(), solid.max.to_array());
    (0..2).all(|i| bolt.at[i].nominal().0 > min[i] + keep && bolt.at[i].nominal().0 < max[i] - keep)
}

/// Cuts a bolt's clearance hole.
pub(super) fn drill(b: &mut Builder<'_>, panel: PanelId, bolt: &Bolt) {
    let at = [bolt.at[0].clone(), bolt.at[1].clone(), Dim::zero()];
    let Some(local) = b.at(panel).frame.as_ref().map(|f| f.local(&at)) else { return };
    let span = b.at(panel).span;
    let diameter = Dim::number(bolt.fastener.clearance[1], format!("{} clearance", bolt.fastener.name));
    b.cut(
        panel,
        Feature {
            id: bolt.id.clone(),
            kind: FeatureKind::Hole { at: local, diameter },
            depth: Depth::Through,
            purpose: Purpose::Clearance,
            mate: None,
            span,
        },
    );
}

/// The nearest x to the one wanted at which a washer clears every upright, and how far from an upright's face that is; stays
/// within `low` to `high` when it can.
pub(super) fn clear_x(b: &Builder<'_>, uprights: &[PanelId], wanted: &Dim, bolt: &Fastener, (low, high): (Mm, Mm)) -> Dim {
    let keep = washer_radius(bolt) + WASHER_AIR;
    let walls: Vec<(Mm, Mm)> =
        uprights.iter().filter_map(|id| b.at(*id).solid()).map(|s| (Mm(s.min.x) - keep, Mm(s.max.x) + keep)).collect();
    let clear = |x: Mm| walls.iter().all(|(from, to)| x <= *from || x >= *to);
    let x = wanted.nominal();
    if clear(x) {
        return wanted.clone();
    }
    let best = walls
        .iter()
        .flat_map(|(from, to)| [*from, *to])
        .filter(|edge| clear(*edge) && *edge >= low && *edge <= high)
        .min_by(|a, c| (*a - x).abs().total_cmp(&(*c - x).abs()));
    best.map_or_else(|| wanted.clone(), |edge| wanted + &Dim::number(edge - x, "moved clear of the upright"))
}

/// Says so when a bolt's washer would lie on or under an upright.
pub(super) fn keep_off(b: &mut Builder<'_>, bolt: &Bolt, uprights: &[PanelId], unit: &str) {
    let radius = washer_radius(&bolt.fastener).0;
    let [x, y] = [bolt.at[0].nominal().0, bolt.at[1].nominal().0];
    let hit = uprights.iter().find_map(|id| {
        let panel = b.at(*id);
        let solid = panel.solid()?;
        let gap = (solid.min.x - x).max(x - solid.max.x);
        let beside = y > solid.min.y - radius && y < solid.max.y + radius;
        (beside && gap < radius).then(|| (panel.id.clone(), panel.name.clone(), Mm(radius - gap)))
    });
    if let Some((id, name, short)) = hit {
        b.findings.push(
            Finding::stop(
                codes::BOLT_UNDER_UPRIGHT,
                format!("the washer of {} at {} mm from the left runs {short} mm into {name}", bolt.id, Mm(x)),
            )
            .part(id)
            .remedy(format!("move {unit} or that upright by {short} mm")),
        );
    }
}

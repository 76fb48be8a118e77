//! A place for fingers in the front, with room behind it in the box.

use super::Plan;
use crate::design::{BottomStyle, FingerPull};
use crate::dim::Dim;
use crate::parts::builder::Builder;
use crate::parts::{Depth, Feature, FeatureKind, PanelId, Purpose};
use crate::units::Mm;

/// Wood that stays in the box front below the room for fingers. Common practice, no source.
const LEFT_BELOW: Mm = Mm(20.0);

/// A round-cornered notch in the middle of the front's upper edge, or a hole below it; where the box front stands behind it, the
/// same is cut there.
pub(super) fn cut(b: &mut Builder<'_>, plan: &Plan<'_>, [front, box_front]: [PanelId; 2], pull: &FingerPull) {
    let (length, width) = (b.at(front).length.clone(), b.at(front).width.clone());
    let (Some(outer), Some(inner)) = (b.at(front).frame.clone(), b.at(box_front).frame.clone()) else { return };
    let feature = |kind| Feature {
        id: "grip".into(),
        kind,
        depth: Depth::Through,
        purpose: Purpose::Grip,
        mate: None,
        span: plan.drawer.span,
    };
    // Left end, lower end and width of the place, as far as the box front is concerned.
    let (left, low, wide, radius) = match pull {
        FingerPull::Notch { width: wide, depth } => {
            let at = [(&length - wide) * 0.5, &width - depth];
            let radius = depth * 0.5;
            let kind =
                FeatureKind::EdgeNotch { at: at.clone(), size: [wide.clone(), depth.clone()], radius: Some(radius.clone()) };
            b.cut(front, feature(kind));
            let [u, v] = at;
            (u, v, wide.clone(), radius)
        }
        FingerPull::Hole { diameter } => {
            let at = [&length * 0.5, &width - &(diameter * 1.25)];
            b.cut(front, feature(FeatureKind::Hole { at: at.clone(), diameter: diameter.clone() }));
            let half = diameter * 0.5;
            (&at[0] - &half, &at[1] - &half, diameter.clone(), diameter * 0.25)
        }
    };
    let bay = [&outer.origin[0] + &left, Dim::zero(), &outer.origin[2] + &low];
    let [u, v] = inner.local(&bay);
    let depth = &b.at(box_front).width - &v;
    let bottom = match plan.drawer.bottom {
        BottomStyle::Under => Mm::ZERO,
        BottomStyle::Between | BottomStyle::Groove => b.thickness(plan.drawer.bottom_board).nominal(),
    };
    if depth.nominal() > Mm::ZERO && v.nominal() >= LEFT_BELOW + bottom {
        let radius = Dim::least(vec![radius, &depth * 0.5]);
        b.cut(box_front, feature(FeatureKind::EdgeNotch { at: [u, v], size: [wide, depth], radius }));
    }
}

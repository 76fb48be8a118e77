//! Running dimensions along the four sides of a part.

use crate::flat::FlatPart;
use crate::parts::{Face, FeatureKind, Panel};
use crate::units::Mm;

/// A cut that ends this near to an edge, in mm, reaches it.
const REACHES: f64 = 0.5;

/// Steps along each side, from the lower left corner as drawn; the ends left out.
#[derive(Clone, Debug, Default)]
pub(super) struct Steps {
    pub(super) bottom: Vec<f64>,
    pub(super) top: Vec<f64>,
    pub(super) left: Vec<f64>,
    pub(super) right: Vec<f64>,
}

/// A rectangle of a panel's frame in the part's, as it lies: left, low, right, high.
pub(super) fn as_drawn(panel: &Panel, face_up: Face, at: [Mm; 2], size: [Mm; 2]) -> [f64; 4] {
    let [u, v] = at.map(|x| x.0);
    let [du, dv] = size.map(|x| x.0);
    let length = panel.length.nominal().0;
    match face_up {
        Face::A => [u, v, u + du, v + dv],
        Face::B => [length - u - du, v, length - u, v + dv],
    }
}

/// Whether a part is a whole panel and not a piece of one.
pub(super) fn is_all_of(part: &FlatPart, panel: &Panel) -> bool {
    (part.length.0 - panel.length.nominal().0).abs() < REACHES && (part.width.0 - panel.width.nominal().0).abs() < REACHES
}

/// Where the outline of a panel steps in and out.
pub(super) fn of(panel: &Panel, face_up: Face) -> Steps {
    let (length, width) = (panel.length.nominal().0, panel.width.nominal().0);
    let mut steps = Steps::default();
    for feature in &panel.features {
        let (FeatureKind::EdgeNotch { at, size, .. } | FeatureKind::Groove { at, size }) = &feature.kind else { continue };
        let pick = |d: &[crate::dim::Dim; 2]| [d[0].nominal(), d[1].nominal()];
        let [x0, y0, x1, y1] = as_drawn(panel, face_up, pick(at), pick(size));
        if y0 < REACHES {
            steps.bottom.extend([x0, x1]);
        }
        if y1 > width - REACHES {
            steps.top.extend([x0, x1]);
        }
        if x0 < REACHES {
            steps.left.extend([y0, y1]);
        }
        if x1 > length - REACHES {
            steps.right.extend([y0, y1]);
        }
    }
    for (list, end) in
        [(&mut steps.bottom, length), (&mut steps.top, length), (&mut steps.left, width), (&mut steps.right, width)]
    {
        list.retain(|x| *x > REACHES && *x < end - REACHES);
        list.sort_by(f64::total_cmp);
        list.dedup_by(|a, b| (*a - *b).abs() < crate::geom::tolerance::SAME_CUT);
    }
    steps
}

/// Moves labels along a line so that none covers another: each `pitch` apart at least, inside `from` to `to`, as near to their
/// places as that allows. `None` when there are too many.
pub(super) fn spread(places: &[f64], pitch: f64, from: f64, to: f64) -> Option<Vec<f64>> {
    if places.len() as f64 * pitch > to - from + pitch {
        return None;
    }
    // Lumps of labels that touch lie centred on the mean of their places.
    let mut lumps: Vec<(f64, usize)> = Vec::new();
    for place in places {
        lumps.push((place.clamp(from, to), 1));
        while let [.., (a, n), (b, m)] = lumps[..] {
            let half = |count: usize| count as f64 * pitch / 2.0;
            if b - half(m) >= a + half(n) {
                break;
            }
            let middle = (a * n as f64 + b * m as f64) / (n + m) as f64;
            let half = (n + m - 1) as f64 * pitch / 2.0;
            lumps.truncate(lumps.len() - 2);
            lumps.push((middle.clamp((from + half).min(to), (to - half).max(from)), n + m));
        }
    }
    let spot = |(middle, n): (f64, usize)| (0..n).map(move |k| middle + (k as f64 - (n - 1) as f64 / 2.0) * pitch);
    Some(lumps.into_iter().flat_map(spot).collect())
}

#[cfg(test)]
mod tests {
    use super::spread;
    use proptest::prelude::*;

    #[test]
    fn labels_keep_their_places_where_they_can() {
        assert_eq!(spread(&[10.0, 50.0], 5.0, 0.0, 100.0), Some(vec![10.0, 50.0]));
        assert_eq!(spread(&[10.0, 11.0], 5.0, 0.0, 100.0), Some(vec![8.0, 13.0]));
        assert_eq!(spread(&[0.0, 1.0], 5.0, 0.0, 100.0), Some(vec![0.0, 5.0]));
        assert_eq!(spread(&[1.0; 30], 5.0, 0.0, 100.0), None);
    }

    proptest! {
        #[test]
        fn none_covers_another(mut places in proptest::collection::vec(0.0..100.0f64, 1..20)) {
            places.sort_by(f64::total_cmp);
            let spots = spread(&places, 5.0, 0.0, 100.0).expect("twenty fit");
            prop_assert_eq!(spots.len(), places.len());
            for pair in spots.windows(2) {
                prop_assert!(pair[1] - pair[0] > 5.0 - 1e-9, "{:?}", spots);
            }
            prop_assert!(spots[0] >= -1e-9 && spots[spots.len() - 1] <= 100.0 + 1e-9, "{:?}", spots);
        }
    }
}

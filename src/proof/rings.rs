//! Pairs the contours of a drawing with those of the design, whatever their order, start vertex or turning sense.

use super::limits;
use super::shape::{segment_distance, Bounds, Ring};

/// How two sets of contours compare.
#[derive(Debug, Default)]
pub(super) struct Pairing {
    /// For each contour found, the expected one it is.
    pub(super) pairs: Vec<Option<usize>>,
    /// Expected contours that were not found.
    pub(super) missing: Vec<usize>,
    /// Largest distance of a vertex or arc from its counterpart among the pairs, and the expected contour.
    pub(super) worst: Option<(f64, usize)>,
    /// Largest difference of areas over length of contour among the pairs, in mm.
    pub(super) area: f64,
}

/// Pairs two sets. Contours further apart than `limit` are no pair.
pub(super) fn pair(expected: &[&Ring], found: &[&Ring], limit: f64) -> Pairing {
    let bounds: Vec<Bounds> = found.iter().map(|r| r.bounds()).collect();
    let mut order: Vec<usize> = (0..found.len()).collect();
    order.sort_by(|a, b| bounds[*a].min.x.total_cmp(&bounds[*b].min.x));
    let mut looks = 0;
    let mut pairing = Pairing { pairs: vec![None; found.len()], ..Pairing::default() };
    for (index, ring) in expected.iter().enumerate() {
        let wanted = ring.bounds();
        let first = order.partition_point(|i| bounds[*i].min.x < wanted.min.x - 2.0 * limit);
        let last = order.partition_point(|i| bounds[*i].min.x <= wanted.min.x + 2.0 * limit);
        looks += last.saturating_sub(first);
        if looks > limits::PAIRINGS {
            pairing.missing.push(index);
            continue;
        }
        let near = order[first..].iter().take_while(|i| bounds[**i].min.x <= wanted.min.x + 2.0 * limit);
        let free = near.filter(|i| pairing.pairs[**i].is_none() && bounds[**i].differs(wanted) <= 2.0 * limit);
        let best = free.map(|i| (*i, apart(ring, found[*i], limit))).min_by(|a, b| a.1.total_cmp(&b.1));
        match best.filter(|(_, distance)| *distance <= limit) {
            Some((i, distance)) => {
                pairing.pairs[i] = Some(index);
                if pairing.worst.is_none_or(|(worst, _)| distance > worst) {
                    pairing.worst = Some((distance, index));
                }
                pairing.area = pairing.area.max((ring.area().abs() - found[i].area().abs()).abs());
            }
            None => pairing.missing.push(index),
        }
    }
    pairing
}

/// Most distances measured for one pair of rings.
const COMPARISONS: usize = 4_000_000;

/// The largest distance between two rings, at vertices and middles of arcs.
fn apart(a: &Ring, b: &Ring, limit: f64) -> f64 {
    if let (Some((p, r)), Some((q, s))) = (a.as_circle(), b.as_circle()) {
        return p.distance(q) + (r - s).abs();
    }
    let direct = aligned(a, b).min(aligned(a, &b.reversed()));
    // Other vertices on the same line: measure every vertex against the other ring, as far as that stays cheap.
    if direct <= limit || a.0.len() == b.0.len() || a.0.len().saturating_mul(b.0.len()) > COMPARISONS {
        return direct;
    }
    let one_way = |from: &Ring, to: &Ring| from.probes().map(|p| to.distance_to(p)).fold(0.0, f64::max);
    one_way(a, b).max(one_way(b, a))
}

/// The same when both have the same vertices in the same order.
fn aligned(a: &Ring, b: &Ring) -> f64 {
    let n = a.0.len();
    let Some(start) = a.0.first().filter(|_| n == b.0.len()) else { return f64::INFINITY };
    let shift = (0..n).min_by(|i, j| b.0[*i].at.distance(start.at).total_cmp(&b.0[*j].at.distance(start.at))).unwrap_or(0);
    let mut worst = 0.0_f64;
    for i in 0..n {
        let (p, q) = (a.0[i], b.0[(i + shift) % n]);
        worst = worst.max(p.at.distance(q.at));
        let (p_next, q_next) = (a.0[(i + 1) % n].at, b.0[(i + shift + 1) % n].at);
        if p.bulge.abs() >= limits::STRAIGHT_BULGE || q.bulge.abs() >= limits::STRAIGHT_BULGE {
            let middle = super::shape::middle(p.at, p_next, p.bulge);
            worst = worst.max(segment_distance(middle, q.at, q_next, q.bulge));
        }
    }
    worst
}

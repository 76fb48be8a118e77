//! Is a layout in a strip what it claims to be?

use crate::nest::engine::{LaidPiece, LaidStrip, Strip};

type Corner = [i64; 2];

/// Everything that is wrong with a layout in a strip, in words; empty when it is sound. All in whole numbers: pieces may touch,
/// but no two may have any area in common.
#[must_use]
pub fn strip(strip: &Strip, laid: &LaidStrip) -> Vec<String> {
    let mut faults = Vec::new();
    let mut counts = vec![0u32; strip.pieces.len()];
    let mut rings: Vec<Vec<Vec<Corner>>> = Vec::new();
    for p in &laid.pieces {
        let Some(piece) = strip.pieces.get(p.piece) else {
            faults.push(format!("piece {} is unknown", p.piece));
            rings.push(Vec::new());
            continue;
        };
        counts[p.piece] += 1;
        if !piece.quarters.contains(&p.quarters) {
            faults.push(format!("piece {} is turned by {} quarters", p.piece, p.quarters));
        }
        rings.push(lying(&piece.outline, p));
    }
    for (k, piece) in strip.pieces.iter().enumerate().filter(|(k, p)| counts[*k] != p.count) {
        faults.push(format!("piece {k} is laid {} times instead of {}", counts[k], piece.count));
    }
    for (p, own) in laid.pieces.iter().zip(&rings) {
        let out = |c: &Corner| c[0] < 0 || c[1] < 0 || c[0] > 2 * laid.length || c[1] > 2 * strip.width;
        if own.iter().flatten().any(out) {
            faults.push(format!("piece {} at {:?} reaches out of the strip", p.piece, p.at));
        }
    }
    for (i, a) in rings.iter().enumerate() {
        for (j, b) in rings.iter().enumerate().skip(i + 1) {
            if a.iter().any(|a| b.iter().any(|b| overlap(a, b))) {
                let at = |k: usize| laid.pieces[k].at;
                faults.push(format!(
                    "piece {} at {:?} and {} at {:?} overlap",
                    laid.pieces[i].piece,
                    at(i),
                    laid.pieces[j].piece,
                    at(j)
                ));
            }
        }
    }
    faults
}

/// A piece's polygons where they lie, in half steps, so that the middle between two corners is a whole number too.
fn lying(outline: &[Vec<Corner>], p: &LaidPiece) -> Vec<Vec<Corner>> {
    let mut rings = outline.to_vec();
    for c in rings.iter_mut().flatten() {
        for _ in 0..p.quarters {
            *c = [-c[1], c[0]];
        }
    }
    let low = [0, 1].map(|d| rings.iter().flatten().map(|c| c[d]).min().unwrap_or(0));
    for c in rings.iter_mut().flatten() {
        *c = [0, 1].map(|d| 2 * (c[d] - low[d] + p.at[d]));
    }
    rings
}

/// On which side of the line from a to b a point lies.
fn side(a: Corner, b: Corner, p: Corner) -> i64 {
    ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])).signum()
}

fn edges(ring: &[Corner]) -> impl Iterator<Item = (Corner, Corner)> + '_ {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}

/// Whether a point lies on an edge, its ends included.
fn on(p: Corner, (a, b): (Corner, Corner)) -> bool {
    side(a, b, p) == 0 && (0..2).all(|d| p[d] >= a[d].min(b[d]) && p[d] <= a[d].max(b[d]))
}

/// Whether two simple polygons have area in common.
fn overlap(a: &[Corner], b: &[Corner]) -> bool {
    let ends =
        |r: &[Corner], d: usize| (r.iter().map(|c| c[d]).min().unwrap_or(0), r.iter().map(|c| c[d]).max().unwrap_or(0));
    if (0..2).any(|d| ends(a, d).1 <= ends(b, d).0 || ends(b, d).1 <= ends(a, d).0) {
        return false;
    }
    let crosses = |s: (Corner, Corner), t: (Corner, Corner)| {
        side(s.0, s.1, t.0) * side(s.0, s.1, t.1) < 0 && side(t.0, t.1, s.0) * side(t.0, t.1, s.1) < 0
    };
    if edges(a).any(|s| edges(b).any(|t| crosses(s, t))) {
        return true;
    }
    // No edges cross: between the other's corners on it, each edge lies wholly inside, outside or on the other's border.
    let middles = |a: &[Corner], b: &[Corner]| -> Vec<Where> {
        edges(a)
            .flat_map(|(p, q)| {
                let mut stops: Vec<Corner> = b.iter().copied().filter(|c| on(*c, (p, q))).chain([p, q]).collect();
                stops.sort_by_key(|c| (c[0] - p[0]).abs() + (c[1] - p[1]).abs());
                stops.dedup();
                let halves: Vec<Corner> =
                    stops.windows(2).map(|w| [0, 1].map(|d| i64::midpoint(w[0][d], w[1][d]))).collect();
                halves.into_iter().map(|m| place(m, b)).collect::<Vec<_>>()
            })
            .collect()
    };
    let (ab, ba) = (middles(a, b), middles(b, a));
    // All of one's border on the other's: the same polygon.
    ab.iter().chain(&ba).any(|w| *w == Where::Inside) || ab.iter().all(|w| *w == Where::Border)
}

#[derive(Clone, Copy, PartialEq)]
enum Where {
    Inside,
    Border,
    Outside,
}

/// Where a point lies of a simple polygon.
fn place(p: Corner, ring: &[Corner]) -> Where {
    if edges(ring).any(|e| on(p, e)) {
        return Where::Border;
    }
    let right = |(a, b): &(Corner, Corner)| (a[1] > p[1]) != (b[1] > p[1]) && (side(*a, *b, p) > 0) == (b[1] > a[1]);
    if edges(ring).filter(right).count() % 2 == 1 {
        Where::Inside
    } else {
        Where::Outside
    }
}

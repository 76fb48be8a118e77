//! Polygons cut into convex parts, and sums of such.

/// A point, or a step from one to another.
pub(super) type Corner = [i64; 2];

/// Twice the area of a triangle, positive when it runs counter-clockwise.
pub(super) fn turn(a: Corner, b: Corner, c: Corner) -> i64 {
    (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

/// Twice a polygon's area, positive when it runs counter-clockwise.
fn doubled_area(ring: &[Corner]) -> i64 {
    ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum()
}

/// The ring counter-clockwise, without repeated points and points within a straight line.
pub(super) fn tidied(ring: &[Corner]) -> Vec<Corner> {
    let mut ring = ring.to_vec();
    if doubled_area(&ring) < 0 {
        ring.reverse();
    }
    let mut i = 0;
    let mut kept = 0;
    while ring.len() > 2 && kept < ring.len() {
        let n = ring.len();
        i %= n;
        if turn(ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]) == 0 {
            ring.remove(i);
            kept = 0;
        } else {
            i += 1;
            kept += 1;
        }
    }
    ring
}

/// Convex parts that make up a simple polygon; `None` when it crosses itself or has no area.
pub(super) fn convex_parts(ring: &[Corner]) -> Option<Vec<Vec<Corner>>> {
    let mut left = tidied(ring);
    let mut parts: Vec<Vec<Corner>> = Vec::new();
    while left.len() > 3 {
        let n = left.len();
        let ear = (0..n).find(|&i| {
            let (a, b, c) = (left[(i + n - 1) % n], left[i], left[(i + 1) % n]);
            let within = |p: Corner| turn(a, b, p) >= 0 && turn(b, c, p) >= 0 && turn(c, a, p) >= 0;
            turn(a, b, c) > 0 && left.iter().all(|&p| [a, b, c].contains(&p) || !within(p))
        })?;
        parts.push(vec![left[(ear + n - 1) % n], left[ear], left[(ear + 1) % n]]);
        left.remove(ear);
        left = tidied(&left);
    }
    if left.len() < 3 {
        return (!parts.is_empty()).then_some(parts);
    }
    parts.push(left);
    join(&mut parts);
    Some(parts)
}

/// Joins parts over a common edge as long as the result is convex (after Hertel & Mehlhorn 1983).
fn join(parts: &mut Vec<Vec<Corner>>) {
    'again: loop {
        for i in 0..parts.len() {
            for j in i + 1..parts.len() {
                if let Some(one) = joined(&parts[i], &parts[j]) {
                    parts[i] = one;
                    parts.swap_remove(j);
                    continue 'again;
                }
            }
        }
        return;
    }
}

fn joined(a: &[Corner], b: &[Corner]) -> Option<Vec<Corner>> {
    let (n, m) = (a.len(), b.len());
    for i in 0..n {
        for j in 0..m {
            if a[i] == b[(j + 1) % m] && a[(i + 1) % n] == b[j] {
                let mut ring: Vec<Corner> = (1..=n).map(|k| a[(i + k) % n]).collect();
                ring.extend((2..m).map(|k| b[(j + k) % m]));
                let r = ring.len();
                let convex = (0..r).all(|k| turn(ring[k], ring[(k + 1) % r], ring[(k + 2) % r]) >= 0);
                return convex.then(|| tidied(&ring));
            }
        }
    }
    None
}

/// The convex hull, counter-clockwise, without points within its edges.
pub(super) fn hull(mut points: Vec<Corner>) -> Vec<Corner> {
    points.sort_unstable();
    points.dedup();
    let chain = |points: &mut dyn Iterator<Item = Corner>| {
        let mut line: Vec<Corner> = Vec::new();
        for p in points {
            while line.len() > 1 && turn(line[line.len() - 2], line[line.len() - 1], p) <= 0 {
                line.pop();
            }
            line.push(p);
        }
        line.pop();
        line
    };
    let mut ring = chain(&mut points.iter().copied());
    ring.extend(chain(&mut points.iter().rev().copied()));
    ring
}

/// Where a second convex part's origin may not lie if the two are not to overlap, seen from the first's.
pub(super) fn sum(first: &[Corner], second: &[Corner]) -> Vec<Corner> {
    hull(first.iter().flat_map(|a| second.iter().map(|b| [a[0] - b[0], a[1] - b[1]])).collect())
}

/// Turned by quarters counter-clockwise about the origin.
pub(super) fn turned(p: Corner, quarters: u8) -> Corner {
    match quarters % 4 {
        0 => p,
        1 => [-p[1], p[0]],
        2 => [-p[0], -p[1]],
        _ => [p[1], -p[0]],
    }
}

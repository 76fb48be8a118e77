//! Four-cornered convex shapes in a plane, and the distance between two of them.

/// Corners in order round, in mm.
pub(super) type Quad = [[f64; 2]; 4];

/// An upright rectangle by its ends on both axes.
pub(super) fn rectangle(a: (f64, f64), b: (f64, f64)) -> Quad {
    [[a.0, b.0], [a.1, b.0], [a.1, b.1], [a.0, b.1]]
}

/// The distance of two convex shapes; negative by the least overlap when they meet.
pub(super) fn apart(a: &Quad, b: &Quad) -> f64 {
    let normals = |p: &Quad| -> Vec<[f64; 2]> {
        (0..4)
            .map(|i| {
                let (s, e) = (p[i], p[(i + 1) % 4]);
                let d = [e[0] - s[0], e[1] - s[1]];
                let length = d[0].hypot(d[1]).max(f64::MIN_POSITIVE);
                [d[1] / length, -d[0] / length]
            })
            .collect()
    };
    let reach = |p: &Quad, n: [f64; 2]| {
        let along = p.map(|q| q[0] * n[0] + q[1] * n[1]);
        (along.iter().copied().fold(f64::INFINITY, f64::min), along.iter().copied().fold(f64::NEG_INFINITY, f64::max))
    };
    // Parted along the normal of one of their sides, or not at all; what is left are corners facing each other.
    let parted = normals(a)
        .into_iter()
        .chain(normals(b))
        .map(|n| {
            let ((a0, a1), (b0, b1)) = (reach(a, n), reach(b, n));
            (b0 - a1).max(a0 - b1)
        })
        .fold(f64::NEG_INFINITY, f64::max);
    if parted <= 0.0 {
        return parted;
    }
    let point_to_side = |p: [f64; 2], s: [f64; 2], e: [f64; 2]| {
        let d = [e[0] - s[0], e[1] - s[1]];
        let square = (d[0] * d[0] + d[1] * d[1]).max(f64::MIN_POSITIVE);
        let t = (((p[0] - s[0]) * d[0] + (p[1] - s[1]) * d[1]) / square).clamp(0.0, 1.0);
        (p[0] - s[0] - d[0] * t).hypot(p[1] - s[1] - d[1] * t)
    };
    let from = |p: &Quad, q: &Quad| {
        (0..4)
            .flat_map(|i| (0..4).map(move |k| (i, k)))
            .map(|(i, k)| point_to_side(p[i], q[k], q[(k + 1) % 4]))
            .fold(f64::INFINITY, f64::min)
    };
    from(a, b).min(from(b, a))
}

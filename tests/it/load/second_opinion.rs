//! A plate worked out by finite differences, as a second opinion on the series.

use super::support::near;
use baywright::fit::load::bending::plate::Plate;
use proptest::prelude::*;

/// Cells each way.
const N: usize = 32;
/// The same, for indices that may run over an edge.
const CELLS: i64 = 32;
/// Unknowns in a row.
const ROW: usize = N - 1;

/// Deflection in the middle of a simply supported plate by finite differences, solved by elimination in the band; `load` is in
/// N/mm² at a node.
fn by_differences(plate: &Plate, load: impl Fn(f64, f64) -> f64) -> f64 {
    let (hx, hy) = (plate.a / N as f64, plate.b / N as f64);
    let mixed = plate.d12 + 2.0 * plate.dk;
    let (cx, cy, cxy) = (plate.d1 / hx.powi(4), plate.d2 / hy.powi(4), 2.0 * mixed / (hx * hx * hy * hy));
    let stencil = [
        (0, 0, 6.0 * cx + 6.0 * cy + 4.0 * cxy),
        (1, 0, -4.0 * cx - 2.0 * cxy),
        (-1, 0, -4.0 * cx - 2.0 * cxy),
        (0, 1, -4.0 * cy - 2.0 * cxy),
        (0, -1, -4.0 * cy - 2.0 * cxy),
        (2, 0, cx),
        (-2, 0, cx),
        (0, 2, cy),
        (0, -2, cy),
        (1, 1, cxy),
        (1, -1, cxy),
        (-1, 1, cxy),
        (-1, -1, cxy),
    ];
    let size = ROW * ROW;
    let (mut matrix, mut right) = (vec![vec![0.0_f64; size]; size], vec![0.0_f64; size]);
    // A simply supported edge mirrors the deflection with the other sign.
    let fold = |x: i64| -> (i64, f64) {
        let n = CELLS;
        if x < 0 {
            (-x, -1.0)
        } else if x > n {
            (2 * n - x, -1.0)
        } else {
            (x, 1.0)
        }
    };
    for i in 1..CELLS {
        for k in 1..CELLS {
            let row = (i - 1) as usize * ROW + (k - 1) as usize;
            right[row] = load(i as f64 * hx, k as f64 * hy);
            for (x, y, c) in stencil {
                let ((a, s), (b, r)) = (fold(i + x), fold(k + y));
                if a > 0 && a < CELLS && b > 0 && b < CELLS {
                    matrix[row][(a - 1) as usize * ROW + (b - 1) as usize] += c * s * r;
                }
            }
        }
    }
    let band = 2 * ROW;
    for p in 0..size {
        for row in p + 1..(p + band + 1).min(size) {
            let factor = matrix[row][p] / matrix[p][p];
            if factor != 0.0 {
                let end = (p + band + 1).min(size);
                let pivot = matrix[p][p..end].to_vec();
                for (to, from) in matrix[row][p..end].iter_mut().zip(pivot) {
                    *to -= factor * from;
                }
                right[row] -= factor * right[p];
            }
        }
    }
    for p in (0..size).rev() {
        let known: f64 = (p + 1..(p + band + 1).min(size)).map(|c| matrix[p][c] * right[c]).sum();
        right[p] = (right[p] - known) / matrix[p][p];
    }
    right[(N / 2 - 1) * ROW + N / 2 - 1]
}

#[test]
fn differences_agree_with_the_series_under_a_spread_load() {
    let square = Plate::isotropic(400.0, 400.0, 10_000.0, 0.3, 9.0);
    near(by_differences(&square, |_, _| 0.002), square.uniform(0.002).deflection, 0.01, "square");
    // A drawer bottom of 9 mm birch.
    let bottom = Plate::orthotropic(383.0, 676.0, 11_395.0, 6_105.0, 620.0, 9.15);
    near(by_differences(&bottom, |_, _| 0.0005), bottom.uniform(0.0005).deflection, 0.01, "bottom");
}

#[test]
fn differences_agree_with_the_series_under_a_patch() {
    let bottom = Plate::orthotropic(400.0, 600.0, 11_395.0, 6_105.0, 620.0, 9.15);
    let (u, v, p) = (200.0, 300.0, 150.0);
    // Nodes on the patch's border carry half, at its corners a quarter.
    let part = |x: f64, middle: f64, size: f64| {
        let d = (x - middle).abs() - size / 2.0;
        if d < -1e-6 {
            1.0
        } else if d < 1e-6 {
            0.5
        } else {
            0.0
        }
    };
    let load = |x: f64, y: f64| p / (u * v) * part(x, 200.0, u) * part(y, 300.0, v);
    near(by_differences(&bottom, load), bottom.patch(p, u, v).deflection, 0.01, "patch");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 6, ..ProptestConfig::default() })]
    /// Any board's proportions.
    #[test]
    fn differences_agree_with_the_series(ratio in 0.6_f64..1.7, e in 3000.0_f64..14_000.0, across in 0.3_f64..1.0, t in 6.0_f64..21.0) {
        let plate = Plate::orthotropic(400.0, 400.0 * ratio, e, e * across, 620.0, t);
        let (one, two) = (by_differences(&plate, |_, _| 0.001), plate.uniform(0.001).deflection);
        prop_assert!((one - two).abs() < 0.02 * two, "{one} {two}");
    }

    /// A patch never bends less than the same load spread all over, nor more than a point.
    #[test]
    fn a_patch_lies_between(u in 10.0_f64..390.0, v in 10.0_f64..390.0) {
        let plate = Plate::orthotropic(400.0, 400.0, 11_000.0, 6_000.0, 620.0, 9.0);
        let w = plate.patch(100.0, u, v).deflection;
        prop_assert!(w >= plate.uniform(100.0 / 160_000.0).deflection * 0.999);
        prop_assert!(w <= plate.patch(100.0, 0.0, 0.0).deflection * 1.001);
    }
}

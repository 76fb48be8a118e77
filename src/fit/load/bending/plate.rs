//! A thin rectangular plate, simply supported on four edges: Navier's double series, isotropic or orthotropic.
//!
//! Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., articles 28 to 30 and 85.

use std::f64::consts::PI;

/// Odd terms each way; the deflection is then within a millionth, the moment of a spread load within a thousandth.
const TERMS: u32 = 100;

/// Stiffnesses in N mm, sides in mm.
#[derive(Clone, Copy, Debug)]
pub struct Plate {
    /// Side along which `d1` bends.
    pub a: f64,
    /// The other side.
    pub b: f64,
    /// Bending along `a`.
    pub d1: f64,
    /// Bending along `b`.
    pub d2: f64,
    /// Coupling of the two curvatures (Poisson).
    pub d12: f64,
    /// Half of the twisting term: the series' mixed term is `2 (d12 + 2 dk)`.
    pub dk: f64,
}

/// What a load does to a plate.
#[derive(Clone, Copy, Debug, Default)]
pub struct PlateBent {
    /// Deflection in the middle, mm.
    pub deflection: f64,
    /// Moment along `a` per mm of width in the middle, N.
    pub m1: f64,
    /// Moment along `b` per mm of width in the middle, N.
    pub m2: f64,
}

impl Plate {
    /// A plate of one stiffness: E in N/mm², thickness in mm.
    #[must_use]
    pub fn isotropic(a: f64, b: f64, e: f64, poisson: f64, t: f64) -> Self {
        let d = e * t.powi(3) / (12.0 * (1.0 - poisson * poisson));
        Self { a, b, d1: d, d2: d, d12: poisson * d, dk: d * (1.0 - poisson) / 2.0 }
    }

    /// A plate with a grain: E along `a` and along `b` and the in-plane shear modulus, all in N/mm². The small Poisson terms of
    /// plywood are left out, which makes it a little softer.
    #[must_use]
    pub fn orthotropic(a: f64, b: f64, e_a: f64, e_b: f64, shear: f64, t: f64) -> Self {
        let i = t.powi(3) / 12.0;
        Self { a, b, d1: e_a * i, d2: e_b * i, d12: 0.0, dk: shear * i }
    }

    /// Under a load of `q` N/mm² all over.
    #[must_use]
    pub fn uniform(&self, q: f64) -> PlateBent {
        self.series(|m, n| 16.0 * q / (PI * PI * m * n))
    }

    /// Under `p` N spread over a rectangle of `u` along `a` and `v` along `b`, in the middle; both zero for a point.
    #[must_use]
    pub fn patch(&self, p: f64, u: f64, v: f64) -> PlateBent {
        let spread = |k: f64, part: f64, side: f64| {
            let x = k * PI * part / (2.0 * side);
            if x > 0.0 {
                x.sin() / x
            } else {
                1.0
            }
        };
        self.series(|m, n| {
            // Both sines in the middle are +1 or -1 and come twice, so their signs go.
            let sign = (m * PI / 2.0).sin() * (n * PI / 2.0).sin();
            4.0 * p / (self.a * self.b) * sign * spread(m, u, self.a) * spread(n, v, self.b)
        })
    }

    /// Sums the series in the middle for load coefficients.
    fn series(&self, load: impl Fn(f64, f64) -> f64) -> PlateBent {
        let mut bent = PlateBent::default();
        for i in 0..TERMS {
            for k in 0..TERMS {
                let (m, n) = (f64::from(2 * i + 1), f64::from(2 * k + 1));
                let (x, y) = ((m / self.a).powi(2), (n / self.b).powi(2));
                let stiff = self.d1 * x * x + 2.0 * (self.d12 + 2.0 * self.dk) * x * y + self.d2 * y * y;
                let at_middle = (m * PI / 2.0).sin() * (n * PI / 2.0).sin();
                let w = load(m, n) * at_middle / (PI.powi(4) * stiff);
                bent.deflection += w;
                bent.m1 += w * PI * PI * (self.d1 * x + self.d12 * y);
                bent.m2 += w * PI * PI * (self.d2 * y + self.d12 * x);
            }
        }
        bent
    }
}

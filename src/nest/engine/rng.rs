//! The engine's own random numbers: the same on every machine, from a seed.

/// A 64-bit mixing generator (`SplitMix64`; Steele, Lea, Flood 2014, constants from memory).
#[derive(Clone, Debug)]
pub(super) struct Rng(u64);

impl Rng {
    /// A stream of its own for each seed and lane.
    pub(super) fn new(seed: u64, lane: u64) -> Self {
        let mut rng = Self(seed ^ lane.wrapping_mul(0xD1B5_4A32_D192_ED03));
        rng.next();
        rng
    }

    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Below `n`; 0 when `n` is 0.
    pub(super) fn below(&mut self, n: usize) -> usize {
        ((u128::from(self.next()) * n as u128) >> 64) as usize
    }

    /// Below `n` as a length; 0 when `n` is not positive.
    pub(super) fn within(&mut self, n: i32) -> i32 {
        i32::try_from(self.below(usize::try_from(n).unwrap_or(0))).unwrap_or(0)
    }

    /// From 0 (included) to 1 (excluded).
    pub(super) fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// True in `percent` of a hundred calls.
    pub(super) fn chance(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }
}

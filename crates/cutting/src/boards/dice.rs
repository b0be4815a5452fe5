//! Chance that is the same every time.

/// `SplitMix64` of G. L. Steele, D. Lea and C. H. Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014.
#[derive(Clone, Debug)]
pub(super) struct Dice(u64);

impl Dice {
    /// Dice of a seed, and of a number that tells dice of the same seed apart.
    pub fn new(seed: u64, number: u64) -> Self {
        let mut dice = Self(seed ^ number.wrapping_mul(0xD134_2543_DE82_EF95));
        dice.next();
        dice
    }

    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// A number from 0 to one less than `below`; 0 where that is 0.
    pub fn below(&mut self, below: usize) -> usize {
        // The high half of a product: even enough for numbers far below 2⁶⁴, and without a division.
        ((u128::from(self.next()) * below as u128) >> 64) as usize
    }

    /// A number from 0 up to, not including, 1.
    pub fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }
}

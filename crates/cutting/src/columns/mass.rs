//! Masses in whole milligrams, so that what bears its load to the last figure does bear it.

/// Milligrams in a kilogram.
const MILLIGRAMS: f64 = 1e6;

/// More than [`super::MOST_THINGS`] of the heaviest things weigh together, and far from where sums in 64 bits end.
const ANYTHING: u64 = 1 << 60;

/// A mass in whole milligrams; `kilograms` must be 0 or more.
pub(super) fn milligrams(kilograms: f64) -> u64 {
    let rounded = (kilograms * MILLIGRAMS).round();
    if rounded >= ANYTHING as f64 { ANYTHING } else { rounded as u64 }
}

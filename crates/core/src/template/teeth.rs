//! A row of teeth as a table from one datum.

use crate::model::Feature;

/// A seat in a row, from the first end of its part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tooth {
    /// Its number, from 1 at the first end.
    pub number: u32,
    /// Its level seat; of a half circle its lowest point, mm.
    pub seat: f64,
    /// Where its slope ends and the flat tip above begins; of a half circle its highest point, mm.
    pub tip: f64,
}

/// The teeth of a row; none of any other cut.
pub(super) fn of(feature: &Feature) -> Vec<Tooth> {
    let row = match *feature {
        Feature::Teeth { first, pitch, crest, count, .. } => Some((first, pitch, pitch - crest, count)),
        Feature::HalfRounds { first, pitch, radius, count } => Some((first, pitch, 2.0 * radius, count)),
        _ => None,
    };
    let Some((first, pitch, high, count)) = row else { return Vec::new() };
    (0..count)
        .map(|index| {
            let seat = first + pitch * f64::from(index);
            Tooth { number: index + 1, seat, tip: seat + high }
        })
        .collect()
}

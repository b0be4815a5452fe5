//! Cuts that follow each other in a row, kept as one box: what its name tells of them.

use super::Feature;
use super::prism_box::PrismBox;
use crate::length::trimmed_to;

/// How the cuts of a row follow each other along the part. Their name tells it, as in `teeth, every 32, flat 2`; the box round all of them tells the rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Row {
    /// From one to the next, mm.
    pub pitch: f64,
    /// From where one ends to where the next begins, mm.
    pub flat: f64,
}

impl Row {
    /// That of a cut; none where it is no row.
    pub fn of(feature: &Feature) -> Option<Row> {
        match *feature {
            Feature::Teeth { pitch, crest, .. } => Some(Row { pitch, flat: crest }),
            Feature::HalfRounds { pitch, radius, .. } => Some(Row { pitch, flat: pitch - 2.0 * radius }),
            Feature::HoleRow { pitch, diameter, .. } => Some(Row { pitch, flat: pitch - diameter }),
            _ => None,
        }
    }

    /// The name of a row of such cuts.
    pub fn named(&self, cuts: &str) -> String {
        let mm = |mm: f64| trimmed_to(mm, 6);
        format!("{cuts}, every {}, flat {}", mm(self.pitch), mm(self.flat))
    }

    /// What a name tells; none where it tells of no row, or of none that could be.
    fn told(name: &str) -> Option<Row> {
        let mut words = name.split(", ").skip(1);
        let number = |words: Option<&str>, word: &str| words?.strip_prefix(word)?.trim().parse::<f64>().ok();
        let (pitch, flat) = (number(words.next(), "every ")?, number(words.next(), "flat ")?);
        (pitch.is_finite() && pitch > 0.0 && flat.is_finite() && flat < pitch).then_some(Row { pitch, flat })
    }

    /// How long each of them is, mm.
    pub fn long(&self) -> f64 {
        self.pitch - self.flat
    }
}

/// No part has more cuts in a row than this.
const MOST: f64 = 10_000.0;

impl PrismBox {
    /// How the cuts in it follow each other, where it is kept for a row of them.
    pub(crate) fn row(&self) -> Option<Row> {
        Row::told(&self.0)
    }

    /// How many cuts of a row are in it.
    pub(crate) fn count(&self, row: &Row) -> u32 {
        ((self.extent(0) + row.flat) / row.pitch).round().clamp(0.0, MOST) as u32
    }

    /// What is out of step in another row against this one, in words that "off" and an amount go after, and by how much its last cut or the length of each is
    /// off, mm; none where either is no row.
    pub(crate) fn out_of_step(&self, other: &PrismBox) -> Option<(String, f64)> {
        let (planned, there) = (self.row()?, other.row()?);
        let kind = self.0.split(',').next().unwrap_or_default();
        let mm = |mm: f64| trimmed_to(mm, 3);
        // What a pitch is off adds up along the row.
        let last = f64::from(self.count(&planned).min(other.count(&there)).saturating_sub(1));
        let adds_up = (planned.pitch - there.pitch).abs() * last;
        let longer = (planned.long() - there.long()).abs();
        Some(if adds_up > longer {
            (format!("{kind} every {} mm, not every {} mm: the last is", mm(there.pitch), mm(planned.pitch)), adds_up)
        } else {
            (format!("{kind} {} mm long, not {} mm: each is", mm(there.long()), mm(planned.long())), longer)
        })
    }
}

#[cfg(test)]
mod tests {
    use glam::DVec3;

    use super::*;

    /// Sixteen teeth every 32 from 28 up, 16 deep, are told by their box and their name; those every 40 are another row though they begin and end as they do.
    #[test]
    fn a_row_of_teeth_is_told_by_its_box_and_its_name() {
        let size = DVec3::new(800.0, 34.0, 20.0);
        let teeth = Feature::Teeth { first: 28.0, pitch: 32.0, seat: 16.0, crest: 2.0, count: 16 };
        let boxes = teeth.boxes(size);
        assert_eq!(boxes, [PrismBox("teeth, every 32, flat 2".to_owned(), [28.0, 18.0, 0.0], [539.875, 34.0, 20.0])]);
        assert_eq!(boxes[0].as_feature(size), Some(teeth));
        let rounds = Feature::HalfRounds { first: 28.0, pitch: 32.0, radius: 12.0, count: 3 };
        assert_eq!(rounds.boxes(size)[0].as_feature(size), Some(rounds));
        let sparse = PrismBox("teeth, every 40, flat 2".to_owned(), [28.0, 18.0, 0.0], [539.875, 34.0, 20.0]);
        // 13 teeth every 40: the last of them is 12 × 8 off.
        let (what, by) = boxes[0].out_of_step(&sparse).expect("two rows");
        assert_eq!(what, "teeth every 40 mm, not every 32 mm: the last is");
        assert!((by - 96.0).abs() < 1e-9, "{by}");
        assert!((boxes[0].unlike(&sparse) - 96.0).abs() < 1e-9);
        // What is no row, or one that could not be, tells of none.
        for name in ["teeth", "groove, through", "teeth, every 0, flat 0", "teeth, every 2, flat 3", "teeth, every x, flat 1"] {
            assert_eq!(PrismBox(name.to_owned(), [0.0; 3], [1.0; 3]).row(), None, "{name}");
        }
    }
}

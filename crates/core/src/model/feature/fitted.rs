//! Cuts as they are there: told by the boxes of wood that they take.

use glam::DVec3;

use super::super::PrismBox;
use super::super::prism_box::{AT, MOST_PRISMS};
use super::super::row::Row;
use super::{Face, Feature, Stop};

/// The round of a hole is as wide one way as the other, to so much, mm.
const ROUND: f64 = 0.1;

impl Feature {
    /// This cut as it is there: one of `pieces` boxes that it takes, now planned to be `now`, is `then`, in a blank of `size`.
    ///
    /// What can't be told by its box stays as it is planned.
    pub(crate) fn fitted_to(&self, now: &PrismBox, then: &PrismBox, pieces: usize, size: DVec3) -> Feature {
        let boxed = || then.as_feature(size).unwrap_or_else(|| self.clone());
        if pieces > 1 {
            return boxed();
        }
        let at = |axis: usize| f64::midpoint(then.1[axis], then.2[axis]);
        match *self {
            _ if now.unlike(then) <= AT || (then.row().is_none() && self.prisms(size).len() > MOST_PRISMS) => self.clone(),
            Feature::Mortise { face, along, round, .. } if then.reaches(face, size) => {
                let (length, width, depth) = pocket(then, face, along);
                Feature::Mortise { face, centre: then.middle(), along, length, width, depth, round }
            }
            Feature::Recess { face, along, round, .. } if then.reaches(face, size) => {
                let (length, width, depth) = pocket(then, face, along);
                Feature::Recess { face, centre: then.middle(), along, length, width, depth, round }
            }
            Feature::Groove { face, stop, .. } if then.reaches(face, size) && face.axis() != 0 => {
                groove(then, face, stop, size, at(3 - face.axis()))
            }
            _ => boxed(),
        }
    }
}

impl PrismBox {
    /// The cut that its name and its box tell; none where it comes out of no face of a blank of `size`.
    pub(crate) fn as_feature(&self, size: DVec3) -> Option<Feature> {
        let faces = [Face::FaceSide, Face::BackSide, Face::FaceEdge, Face::BackEdge, Face::FirstEnd, Face::SecondEnd];
        let open: Vec<Face> = faces.into_iter().filter(|face| self.reaches(*face, size)).collect();
        let empty = (0..3).any(|axis| self.extent(axis) <= AT);
        let shallow = |face: &&Face| self.extent(face.axis());
        let face = *open.first().filter(|_| !empty)?;
        let along =
            |face: Face| (0..3).filter(|axis| *axis != face.axis()).max_by(|a, b| self.extent(*a).total_cmp(&self.extent(*b))).unwrap_or(0);
        let (word, is_square) = (self.0.split(',').next().unwrap_or_default(), self.0.ends_with("square"));
        let of_groove = open.iter().filter(|face| face.axis() != 0).min_by(|a, b| shallow(a).total_cmp(&shallow(b)));
        if let Some(row) = self.row() {
            return self.as_row(word, &row, face);
        }
        Some(match (word, of_groove) {
            ("mortise", _) => {
                let (length, width, depth) = pocket(self, face, along(face));
                Feature::Mortise { face, centre: self.middle(), along: along(face), length, width, depth, round: !is_square }
            }
            ("hole", _) if is_round(self, face) => {
                let (diameter, _, depth) = pocket(self, face, along(face));
                Feature::Hole { face, centre: self.middle(), diameter, depth, sink: 0.0 }
            }
            ("groove", Some(face)) => {
                groove(self, *face, Stop::Round, size, f64::midpoint(self.1[3 - face.axis()], self.2[3 - face.axis()]))
            }
            _ => {
                let (length, width, depth) = pocket(self, face, along(face));
                Feature::Recess { face, centre: self.middle(), along: along(face), length, width, depth, round: false }
            }
        })
    }

    /// The row of cuts that it is kept for, bored into `face` where they are holes.
    fn as_row(&self, word: &str, row: &Row, face: Face) -> Option<Feature> {
        let (first, pitch, count, deep) = (self.1[0], row.pitch, self.count(row), self.extent(1));
        match word {
            "teeth" => Some(Feature::Teeth { first, pitch, seat: deep, crest: row.flat, count }),
            "half rounds" => Some(Feature::HalfRounds { first, pitch, radius: deep, count }),
            "row of holes" => {
                let middle = DVec3::new(first + row.long() / 2.0, self.middle().y, self.middle().z);
                Some(Feature::HoleRow { face, first: middle, pitch, count, diameter: row.long(), depth: self.extent(face.axis()) })
            }
            _ => None,
        }
    }

    /// Whether it comes out of a face of a blank of `size`.
    fn reaches(&self, face: Face, size: DVec3) -> bool {
        let axis = face.axis();
        if face.is_first() { self.1[axis] <= AT } else { self.2[axis] >= size[axis] - AT }
    }

    fn middle(&self) -> DVec3 {
        (DVec3::from(self.1) + DVec3::from(self.2)) / 2.0
    }
}

/// Length along an axis, width and depth of a box as a pocket in a face.
fn pocket(of: &PrismBox, face: Face, along: usize) -> (f64, f64, f64) {
    let deep = face.axis();
    let across = (0..3).find(|axis| *axis != deep && *axis != along).unwrap_or(along);
    (of.extent(along), of.extent(across), of.extent(deep))
}

fn is_round(of: &PrismBox, face: Face) -> bool {
    let mut across = (0..3).filter(|axis| *axis != face.axis()).map(|axis| of.extent(axis));
    matches!((across.next(), across.next()), (Some(a), Some(b)) if (a - b).abs() <= ROUND)
}

/// A groove that takes a box of wood, what its cutter leaves where it stops counted.
fn groove(then: &PrismBox, face: Face, stop: Stop, size: DVec3, centre: f64) -> Feature {
    let (width, depth) = (then.extent(3 - face.axis()), then.extent(face.axis()));
    let through = [then.1[0] <= AT, then.2[0] >= size.x - AT];
    let beyond = through.map(|out| if out { 0.0 } else { stop.run_out(width, depth) });
    Feature::Groove { face, centre, width, depth, from: then.1[0] + beyond[0], to: then.2[0] - beyond[1], through, stop }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SIZE: DVec3 = DVec3::new(600.0, 48.0, 24.0);

    /// A groove that was cut 15 deep where 9 are planned now; a mortise that lies 6 farther along.
    #[test]
    fn a_cut_becomes_what_its_box_says() {
        let groove = |depth: f64| Feature::Groove {
            face: Face::FaceEdge,
            centre: 12.0,
            width: 6.2,
            depth,
            from: 40.0,
            to: 600.0,
            through: [false, true],
            stop: Stop::Ramp { diameter: 50.0 },
        };
        let mortise = |at: f64| Feature::Mortise {
            face: Face::BackSide,
            centre: DVec3::new(at, 24.0, 12.0),
            along: 0,
            length: 40.0,
            width: 8.0,
            depth: 15.0,
            round: true,
        };
        for (planned, made) in [(groove(9.0), groove(15.0)), (mortise(100.0), mortise(106.0))] {
            let [now, then] = [&planned, &made].map(|feature| feature.boxes(SIZE));
            let fitted = planned.fitted_to(&now[0], &then[0], 1, SIZE);
            assert!(fitted.boxes(SIZE)[0].unlike(&then[0]) < 1e-9, "{fitted:?}");
            let told = then[0].as_feature(SIZE).expect("it comes out of a face");
            assert_eq!(told.name(), made.name());
            assert!(told.boxes(SIZE)[0].unlike(&then[0]) < 1e-9, "{told:?}");
        }
    }
}

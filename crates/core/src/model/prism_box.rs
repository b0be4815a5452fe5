//! The room that a cut takes of its blank, to keep and to compare.

use casewright_solid::{Axis, Facets, Prism};
use glam::{DVec2, DVec3};
use serde::{Deserialize, Serialize};

use super::Feature;
use super::row::Row;

/// What a cut is called, and how the cuts of a row follow each other, and the box of wood it takes: its least and its greatest corner along L from the first end, W from the
/// face edge and T from the face side, mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PrismBox(pub String, pub [f64; 3], pub [f64; 3]);

impl PrismBox {
    /// How far the box reaches beyond another on its worst side, mm; negative where it lies well inside.
    pub fn beyond(&self, other: &PrismBox) -> f64 {
        (0..3).map(|axis| self.beyond_on(other, axis)).fold(f64::NEG_INFINITY, f64::max)
    }

    /// The same along one axis, 0 to 2.
    pub fn beyond_on(&self, other: &PrismBox, axis: usize) -> f64 {
        (other.1[axis] - self.1[axis]).max(self.2[axis] - other.2[axis])
    }

    /// How unlike two boxes are: the most by which one of their six sides differs, or by which the cuts of a row are out of step, mm.
    pub fn unlike(&self, other: &PrismBox) -> f64 {
        let step = self.out_of_step(other).map_or(0.0, |(_, by)| by);
        self.beyond(other).max(other.beyond(self)).max(step)
    }

    /// The same farther from the first end by `off`, mm, in a part `length` long; what reaches an end stays at it.
    #[must_use]
    pub fn moved_along(&self, off: f64, length: f64) -> PrismBox {
        let (at_first, at_second) = (self.1[0] <= AT, self.2[0] >= length - AT);
        let in_an_end = (at_first || at_second) && !self.is_groove();
        let mut moved = self.clone();
        if !in_an_end {
            moved.1[0] += if at_first { 0.0 } else { off };
            moved.2[0] += if at_second { 0.0 } else { off };
        }
        moved
    }

    /// The same in a part whose extent along `axis` is `now` instead of `before`, mm: what reaches the far end or face stays at it.
    #[must_use]
    pub fn in_longer(&self, axis: usize, before: f64, now: f64) -> PrismBox {
        let mut moved = self.clone();
        if self.2[axis] >= before - AT {
            moved.2[axis] += now - before;
            let begins_there = self.1[axis] > AT && !(axis == 0 && self.is_groove());
            moved.1[axis] += if begins_there { now - before } else { 0.0 };
        }
        moved
    }

    /// What is left of it of a part of which only the stretch from `from` to `to` along L remains, mm; none where nothing is.
    #[must_use]
    pub fn sawn(&self, (from, to): (f64, f64)) -> Option<PrismBox> {
        let mut left = self.clone();
        left.1[0] = self.1[0].max(from) - from;
        left.2[0] = self.2[0].min(to) - from;
        if let Some(row) = self.row() {
            // A row ends with a whole cut, though some of it is sawn off.
            let before = ((from - self.1[0]) / row.pitch).floor().max(0.0) * row.pitch;
            let after = ((self.2[0] - to) / row.pitch).floor().max(0.0) * row.pitch;
            (left.1[0], left.2[0]) = (self.1[0] + before - from, self.2[0] - after - from);
        }
        (left.2[0] > left.1[0] + AT).then_some(left)
    }

    /// A groove runs out at an end of its part; any other cut that reaches an end is a joint in it, as deep as it was.
    fn is_groove(&self) -> bool {
        self.0.starts_with("groove")
    }

    /// Its extent along an axis, 0 to 2, mm.
    pub fn extent(&self, axis: usize) -> f64 {
        self.2[axis] - self.1[axis]
    }
}

/// A side nearer to an end or a face than this reaches it, mm.
pub(super) const AT: f64 = 1e-3;

/// A cut of more prisms than this is kept as one box round all, as a row is.
pub(super) const MOST_PRISMS: usize = 4;

impl Feature {
    /// The boxes of wood it takes out of a blank of `size`.
    pub(crate) fn boxes(&self, size: DVec3) -> Vec<PrismBox> {
        let within = |(low, high): (DVec3, DVec3)| (low.max(DVec3::ZERO).min(size), high.max(DVec3::ZERO).min(size));
        let mut boxes: Vec<(DVec3, DVec3)> = self.prisms(size).iter().map(|prism| within(prism_bounds(prism))).collect();
        let row = Row::of(self);
        let name = row.map_or_else(|| self.name().to_owned(), |row| row.named(self.name()));
        if boxes.len() > MOST_PRISMS || row.is_some() {
            let all = boxes.iter().copied().reduce(|all, one| (all.0.min(one.0), all.1.max(one.1)));
            boxes = all.into_iter().collect();
        }
        boxes.into_iter().map(|(from, to)| PrismBox(name.clone(), from.to_array(), to.to_array())).collect()
    }
}

/// The box round a prism, where it stands out of its blank too.
pub(crate) fn prism_bounds(prism: &Prism) -> (DVec3, DVec3) {
    // Four facets to a turn touch a round where it is widest along the axes.
    let points = prism.profile.facets(Facets::PerTurn(4));
    let low = points.iter().copied().fold(DVec2::INFINITY, DVec2::min);
    let high = points.iter().copied().fold(DVec2::NEG_INFINITY, DVec2::max);
    let place = |along: f64, across: DVec2| match prism.axis {
        Axis::L => DVec3::new(along, across.x, across.y),
        Axis::W => DVec3::new(across.y, along, across.x),
        Axis::T => DVec3::new(across.x, across.y, along),
    };
    (place(prism.from, low), place(prism.to, high))
}

#[cfg(test)]
mod tests {
    use super::super::{Face, Stop};
    use super::*;

    #[test]
    fn a_mortise_and_a_groove_take_the_boxes_that_a_marking_gauge_would_set_out() {
        let size = DVec3::new(600.0, 48.0, 24.0);
        let mortise = Feature::Mortise {
            face: Face::FirstEnd,
            centre: DVec3::new(0.0, 24.0, 12.0),
            along: 1,
            length: 22.0,
            width: 8.0,
            depth: 26.5,
            round: true,
        };
        assert_eq!(mortise.boxes(size), [PrismBox("mortise".to_owned(), [0.0, 13.0, 8.0], [26.5, 35.0, 16.0])]);
        let groove = Feature::Groove {
            face: Face::FaceEdge,
            centre: 12.0,
            width: 6.2,
            depth: 9.0,
            from: 0.0,
            to: 600.0,
            through: [true, true],
            stop: Stop::Round,
        };
        let boxes = groove.boxes(size);
        assert_eq!(boxes.len(), 1);
        let wanted = PrismBox(String::new(), [0.0, 0.0, 8.9], [600.0, 9.0, 15.1]);
        assert!(boxes[0].unlike(&wanted) < 1e-9, "{boxes:?}");
    }
}

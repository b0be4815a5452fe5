//! Ends worked to a shape: tails and tongues, the gaps between them, and the sockets they go into.

use casewright_solid::Prism;
use glam::DVec3;

use super::channels::from_face;
use super::{Face, Shaping, end, flag, range, side};
use crate::joint::{OVERSHOOT, polygon_prism};
use crate::length::trimmed as mm;

/// An end left as one tail or tongue across the whole width. Figures in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tail {
    /// At the second end; else at the first.
    pub second_end: bool,
    /// Along L.
    pub length: f64,
    /// From and to along T at the end.
    pub at_end: [f64; 2],
    /// From and to along T at the shoulder.
    pub at_shoulder: [f64; 2],
}

impl Shaping for Tail {
    fn name(&self) -> &'static str {
        if straight(self.at_end, self.at_shoulder) { "tongue" } else { "tail" }
    }

    fn describe(&self) -> String {
        let Tail { second_end, length, at_end, at_shoulder } = *self;
        format!(
            "{} long at the {}, {} from the face side at the end, {} at the shoulder",
            mm(length),
            end(second_end),
            range(at_end),
            range(at_shoulder)
        )
    }

    fn figures(&self) -> Vec<f64> {
        let Tail { second_end, length, at_end, at_shoulder } = *self;
        vec![flag(second_end), length, at_end[0], at_end[1], at_shoulder[0], at_shoulder[1]]
    }

    fn shift_along(&mut self, by: f64) {
        if !self.second_end {
            self.length += by;
        }
    }

    fn prisms(&self, size: DVec3) -> Vec<Prism> {
        let Tail { second_end, length, at_end, at_shoulder } = *self;
        // Both walls carried on past the end.
        let past = |wall: usize| at_end[wall] + (at_end[wall] - at_shoulder[wall]) / length * OVERSHOOT;
        let corner = |l: f64, t: f64| DVec3::new(if second_end { size.x - l } else { l }, 0.0, t);
        let cut = |wall: usize, out: f64| {
            let wood = if wall == 0 { at_end[0].max(at_shoulder[0]) > 0.0 } else { at_end[1].min(at_shoulder[1]) < size.z };
            let corners = [corner(-OVERSHOOT, past(wall)), corner(length, at_shoulder[wall]), corner(length, out), corner(-OVERSHOOT, out)];
            wood.then(|| polygon_prism(1, -OVERSHOOT, size.y + OVERSHOOT, &corners)).flatten()
        };
        [cut(0, -2.0 * OVERSHOOT), cut(1, size.z + 2.0 * OVERSHOOT)].into_iter().flatten().collect()
    }
}

/// A gap in an end through the thickness: between tails, fingers or tenons. Figures in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndGap {
    /// At the second end; else at the first.
    pub second_end: bool,
    /// From and to along W at the end; runs out at an edge that it reaches.
    pub at_end: [f64; 2],
    /// From and to along W at its bottom.
    pub at_bottom: [f64; 2],
    /// Along L.
    pub length: f64,
}

impl Shaping for EndGap {
    fn name(&self) -> &'static str {
        "gap in the end"
    }

    fn describe(&self) -> String {
        let bottom =
            if straight(self.at_end, self.at_bottom) { String::new() } else { format!(", {} at its bottom", range(self.at_bottom)) };
        format!("{} deep in the {}, {} from the face edge{bottom}", mm(self.length), end(self.second_end), range(self.at_end))
    }

    fn figures(&self) -> Vec<f64> {
        let EndGap { second_end, at_end, at_bottom, length } = *self;
        vec![flag(second_end), at_end[0], at_end[1], at_bottom[0], at_bottom[1], length]
    }

    fn shift_along(&mut self, by: f64) {
        if !self.second_end {
            self.length += by;
        }
    }

    fn prisms(&self, size: DVec3) -> Vec<Prism> {
        let EndGap { second_end, at_end, at_bottom, length } = *self;
        let walls = Walls { mouth: at_end, bottom: at_bottom, depth: length }.past_edges(size.y);
        let corner = |l: f64, w: f64| DVec3::new(if second_end { size.x - l } else { l }, w, 0.0);
        polygon_prism(2, -OVERSHOOT, size.z + OVERSHOOT, &walls.corners(-OVERSHOOT, length).map(|(l, w)| corner(l, w)))
            .into_iter()
            .collect()
    }
}

/// A pocket in an end that a tail goes into: open at the end and at one side. Figures in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Socket {
    /// At the second end; else at the first.
    pub second_end: bool,
    /// Open at the back side; else at the face side.
    pub back_side: bool,
    /// From and to along W at the side at which it is open; runs out at an edge that it reaches.
    pub at_side: [f64; 2],
    /// From and to along W at its bottom.
    pub at_bottom: [f64; 2],
    /// Along L.
    pub length: f64,
    /// Along T; runs through when that is the thickness.
    pub depth: f64,
}

impl Shaping for Socket {
    fn name(&self) -> &'static str {
        "socket"
    }

    fn describe(&self) -> String {
        let Socket { second_end, back_side, at_side, at_bottom, length, depth } = *self;
        format!(
            "{} long in the {}, {} deep from the {}, {} from the face edge there and {} at its bottom",
            mm(length),
            end(second_end),
            mm(depth),
            side(back_side),
            range(at_side),
            range(at_bottom)
        )
    }

    fn figures(&self) -> Vec<f64> {
        let Socket { second_end, back_side, at_side, at_bottom, length, depth } = *self;
        vec![flag(second_end), flag(back_side), at_side[0], at_side[1], at_bottom[0], at_bottom[1], length, depth]
    }

    fn shift_along(&mut self, by: f64) {
        if !self.second_end {
            self.length += by;
        }
    }

    fn prisms(&self, size: DVec3) -> Vec<Prism> {
        let Socket { second_end, back_side, at_side, at_bottom, length, depth } = *self;
        let (from, to) = if second_end { (size.x - length, size.x + OVERSHOOT) } else { (-OVERSHOOT, length) };
        let walls = Walls { mouth: at_side, bottom: at_bottom, depth }.past_edges(size.y);
        let bottom = if depth >= size.z { depth + OVERSHOOT } else { depth };
        let face = if back_side { Face::BackSide } else { Face::FaceSide };
        let corners = walls.corners(-OVERSHOOT, bottom).map(|(deep, w)| DVec3::new(0.0, w, from_face(face, size, deep)));
        polygon_prism(0, from, to, &corners).into_iter().collect()
    }
}

/// Whether two walls stand square, given their places at both ends.
fn straight(a: [f64; 2], b: [f64; 2]) -> bool {
    a.iter().zip(b).all(|(a, b)| (a - b).abs() < 1e-9)
}

/// Two walls that lean, from the mouth of a cut to its bottom.
struct Walls {
    mouth: [f64; 2],
    bottom: [f64; 2],
    depth: f64,
}

impl Walls {
    /// A wall that lies in an edge, or beyond it, is none: the cut runs out there.
    fn past_edges(mut self, width: f64) -> Walls {
        if self.mouth[0].max(self.bottom[0]) <= 0.0 {
            (self.mouth[0], self.bottom[0]) = (-OVERSHOOT, -OVERSHOOT);
        }
        if self.mouth[1].min(self.bottom[1]) >= width {
            (self.mouth[1], self.bottom[1]) = (width + OVERSHOOT, width + OVERSHOOT);
        }
        self
    }

    fn at(&self, wall: usize, deep: f64) -> f64 {
        self.mouth[wall] + (self.bottom[wall] - self.mouth[wall]) * deep / self.depth
    }

    /// The corners between two depths, as (depth, W).
    fn corners(&self, from: f64, to: f64) -> [(f64, f64); 4] {
        [(from, self.at(0, from)), (from, self.at(1, from)), (to, self.at(1, to)), (to, self.at(0, to))]
    }
}

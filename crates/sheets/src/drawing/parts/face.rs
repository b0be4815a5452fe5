//! A face of a part as a view shows it: its first end, or its face side, at the left.

use casewright_core::model::Face;
use casewright_solid::view::{Body, Looking, Sight, look};
use casewright_solid::{Pose, Shape};
use glam::{DVec2, DVec3};

/// From where a face is looked at: which axis of the part runs to the right and which up, and whether it runs so or against it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Facing {
    pub right: (usize, f64),
    pub up: (usize, f64),
}

impl Facing {
    /// The part is rolled over, never turned end for end: on every side and edge the first end is at the left. The ends are seen as they lie beside the face side.
    pub fn at(face: Face) -> Facing {
        let (right, up) = match face {
            Face::FaceSide => ((0, 1.0), (1, -1.0)),
            Face::BackSide => ((0, 1.0), (1, 1.0)),
            Face::FaceEdge => ((0, 1.0), (2, 1.0)),
            Face::BackEdge => ((0, 1.0), (2, -1.0)),
            Face::FirstEnd => ((2, -1.0), (1, -1.0)),
            Face::SecondEnd => ((2, 1.0), (1, -1.0)),
        };
        Facing { right, up }
    }

    /// How wide and how high the face is, mm.
    pub fn extent(self, size: DVec3) -> DVec2 {
        DVec2::new(size[self.right.0], size[self.up.0])
    }

    /// Where a place of the part lies on paper, mm, from the upper left corner of the face.
    pub fn paper(self, at: DVec3, size: DVec3, scale: f64) -> DVec2 {
        let x = if self.right.1 > 0.0 { at[self.right.0] } else { size[self.right.0] - at[self.right.0] };
        let y = if self.up.1 > 0.0 { size[self.up.0] - at[self.up.0] } else { at[self.up.0] };
        DVec2::new(x, y) / scale
    }

    /// The edges that are seen, full size, from the upper left corner of the face.
    pub fn lines(self, shape: &Shape, size: DVec3) -> Vec<(DVec2, DVec2)> {
        let vector = |(axis, sign): (usize, f64)| DVec3::AXES[axis] * sign;
        let Some(sight) = Sight::new(vector(self.right), vector(self.up)) else { return Vec::new() };
        let bodies = [Body { shape, pose: Pose::IDENTITY }];
        let on_paper = |at: DVec2| {
            let x = at.x + if self.right.1 < 0.0 { size[self.right.0] } else { 0.0 };
            let y = if self.up.1 > 0.0 { size[self.up.0] } else { 0.0 } - at.y;
            DVec2::new(x, y)
        };
        look(&bodies, &sight, Looking::default()).seen(|_| true).iter().map(|line| (on_paper(line.a), on_paper(line.b))).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Each view looks at its own face: right by up is toward the viewer, out of the face.
    #[test]
    fn every_view_looks_at_its_face() {
        for face in [Face::FaceSide, Face::BackSide, Face::FaceEdge, Face::BackEdge, Face::FirstEnd, Face::SecondEnd] {
            let Facing { right, up } = Facing::at(face);
            let near = (DVec3::AXES[right.0] * right.1).cross(DVec3::AXES[up.0] * up.1);
            let out = DVec3::AXES[face.axis()] * if face.is_first() { -1.0 } else { 1.0 };
            assert_eq!(near, out, "{face:?}");
        }
    }
}

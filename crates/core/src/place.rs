//! Where parts stand: the six directions of the case, and the pose of a part from the box it fills.

use casewright_solid::Pose;
use glam::{DMat3, DVec3};

/// One of the six directions of the case.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Dir {
    /// To the right.
    PlusX,
    /// To the left.
    MinusX,
    /// Up.
    PlusY,
    /// Down.
    MinusY,
    /// To the front.
    PlusZ,
    /// To the back.
    MinusZ,
}

impl Dir {
    /// All six.
    pub const ALL: [Dir; 6] = [Dir::PlusX, Dir::MinusX, Dir::PlusY, Dir::MinusY, Dir::PlusZ, Dir::MinusZ];

    /// The unit vector.
    pub fn vector(self) -> DVec3 {
        match self {
            Dir::PlusX => DVec3::X,
            Dir::MinusX => -DVec3::X,
            Dir::PlusY => DVec3::Y,
            Dir::MinusY => -DVec3::Y,
            Dir::PlusZ => DVec3::Z,
            Dir::MinusZ => -DVec3::Z,
        }
    }

    /// 0 for x, 1 for y, 2 for z.
    pub fn axis(self) -> usize {
        match self {
            Dir::PlusX | Dir::MinusX => 0,
            Dir::PlusY | Dir::MinusY => 1,
            Dir::PlusZ | Dir::MinusZ => 2,
        }
    }

    /// +1 or −1.
    pub fn sign(self) -> f64 {
        match self {
            Dir::PlusX | Dir::PlusY | Dir::PlusZ => 1.0,
            Dir::MinusX | Dir::MinusY | Dir::MinusZ => -1.0,
        }
    }

    /// The other way.
    #[must_use]
    pub fn opposite(self) -> Dir {
        match self {
            Dir::PlusX => Dir::MinusX,
            Dir::MinusX => Dir::PlusX,
            Dir::PlusY => Dir::MinusY,
            Dir::MinusY => Dir::PlusY,
            Dir::PlusZ => Dir::MinusZ,
            Dir::MinusZ => Dir::PlusZ,
        }
    }

    /// The direction nearest to a vector; its largest component decides.
    pub fn nearest(vector: DVec3) -> Dir {
        let size = vector.abs();
        let (axis, value) = if size.x >= size.y && size.x >= size.z {
            (0, vector.x)
        } else if size.y >= size.z {
            (1, vector.y)
        } else {
            (2, vector.z)
        };
        Dir::along(axis, value)
    }

    /// The direction of axis 0, 1 or 2 with the sign of `sign`.
    pub fn along(axis: usize, sign: f64) -> Dir {
        match (axis, sign < 0.0) {
            (0, false) => Dir::PlusX,
            (0, true) => Dir::MinusX,
            (1, false) => Dir::PlusY,
            (1, true) => Dir::MinusY,
            (_, false) => Dir::PlusZ,
            (_, true) => Dir::MinusZ,
        }
    }

    /// The trade's words for it.
    pub fn words(self) -> &'static str {
        match self {
            Dir::PlusX => "to the right",
            Dir::MinusX => "to the left",
            Dir::PlusY => "up",
            Dir::MinusY => "down",
            Dir::PlusZ => "to the front",
            Dir::MinusZ => "to the back",
        }
    }
}

/// An upright box in the case: its least and greatest corner, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Block {
    /// Left, lowest, backmost corner.
    pub min: DVec3,
    /// Right, highest, foremost corner.
    pub max: DVec3,
}

impl Block {
    /// From the ranges along x, y and z.
    pub fn new(x: (f64, f64), y: (f64, f64), z: (f64, f64)) -> Block {
        Block { min: DVec3::new(x.0, y.0, z.0), max: DVec3::new(x.1, y.1, z.1) }
    }

    /// Its middle.
    pub fn centre(&self) -> DVec3 {
        (self.min + self.max) / 2.0
    }

    /// Its extent.
    pub fn size(&self) -> DVec3 {
        self.max - self.min
    }

    /// The same, so far away.
    #[must_use]
    pub fn moved(&self, by: DVec3) -> Block {
        Block { min: self.min + by, max: self.max + by }
    }
}

/// How a part lies: its face side and face edge look in these directions; the grain follows from them.
///
/// ```text
///                 W (from the face edge)
///                 ▲
///        ┌────────┴──────────────────┐
///        │                           │      the face side is T = 0, toward you;
///  ──────┼───────────────────────────┼─▶ L  the face edge is W = 0; the first end is L = 0
/// ```
///
/// All marking out is measured from those, so local coordinates are the maker's own figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lie {
    /// Which way the face side looks.
    pub face: Dir,
    /// Which way the face edge looks; square to `face`.
    pub edge: Dir,
}

impl Lie {
    /// The pose of a part that fills `block` and lies so, and its L × W × T.
    pub fn pose(self, block: &Block) -> (Pose, DVec3) {
        let thick = -self.face.vector();
        let wide = -self.edge.vector();
        let long = wide.cross(thick);
        let basis = DMat3::from_cols(long, wide, thick);
        let extent = block.size();
        let size = DVec3::new(long.dot(extent).abs(), wide.dot(extent).abs(), thick.dot(extent).abs());
        // The local origin is the corner of the block from which all three axes lead inward.
        let inward = long + wide + thick;
        let origin = DVec3::select(inward.cmpgt(DVec3::ZERO), block.min, block.max);
        (Pose { basis, origin }, size)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_lie_is_right_handed_and_fills_its_block() {
        let block = Block::new((10.0, 110.0), (20.0, 70.0), (30.0, 42.0));
        let mut seen = 0;
        for face in Dir::ALL {
            for edge in Dir::ALL {
                if face.axis() == edge.axis() {
                    continue;
                }
                let (pose, size) = Lie { face, edge }.pose(&block);
                assert!((pose.basis.determinant() - 1.0).abs() < 1e-12);
                let (a, b) = (pose.point(DVec3::ZERO), pose.point(size));
                assert!((a.min(b) - block.min).length() < 1e-12 && (a.max(b) - block.max).length() < 1e-12);
                // The face side, T = 0, is the side of the block toward `face`.
                let out = (pose.point(size / 2.0 * DVec3::new(1.0, 1.0, 0.0)) - block.centre()).dot(face.vector());
                assert!(out > 0.0);
                seen += 1;
            }
        }
        assert_eq!(seen, 24);
    }
}

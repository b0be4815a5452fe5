//! Pieces of one size.

use super::super::ground::Ground;

/// All pieces of one size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Sort {
    pub size: [i64; 2],
    pub turn: bool,
    pub count: u32,
}

impl Sort {
    /// The sorts of a ground.
    pub fn all(ground: &Ground) -> Vec<Self> {
        let mut sorts: Vec<Self> = Vec::new();
        for kind in &ground.kinds {
            match sorts.iter_mut().find(|sort| sort.size == kind.size && sort.turn == kind.turn) {
                Some(sort) => sort.count += kind.count,
                None => sorts.push(Self { size: kind.size, turn: kind.turn, count: kind.count }),
            }
        }
        sorts
    }

    /// How far it goes one way as it lies.
    pub fn extent(&self, way: usize, turned: bool) -> i64 {
        if turned { self.size[1 - way] } else { self.size[way] }
    }

    pub fn area(&self) -> f64 {
        self.size[0] as f64 * self.size[1] as f64
    }

    /// The positions in which it goes into a room.
    pub fn lies(&self, room: [i64; 2]) -> [bool; 2] {
        [false, true].map(|turned| (!turned || self.turn) && (0..2).all(|way| self.extent(way, turned) <= room[way]))
    }
}

//! What it means that a moving part strikes one that stands.

use glam::DVec3;

use super::body::Body;
use super::{Cell, Cells};
use crate::pose::Pose;

/// Where a part that moves goes deeper into one that stands than it may.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hit {
    /// How deep it comes to stand in the other in the course of the move if nothing stops it, mm: of the deepest pair of convex pieces the
    /// least way that would part them, whichever way. Where a part is made of thin pieces it is really deeper.
    pub depth: f64,
    /// Where it first goes deeper than it may, in the world, mm.
    pub at: DVec3,
    /// How far it has come by then: mm along a straight way, radians of a turn. Zero when it stands too deep from the start.
    pub after: f64,
}

/// The cells of two parts in one frame, each made ready for separating axes when that is first asked.
pub(super) struct Bodies<'a> {
    cells: Vec<&'a Cell>,
    pose: Pose,
    placed: Vec<Option<Body>>,
}

impl<'a> Bodies<'a> {
    /// The cells of a placed part that `wanted` picks by the box around each, given in the frame of the world.
    pub fn of(cells: &'a Cells, pose: Pose, wanted: impl Fn(DVec3, DVec3) -> bool) -> Self {
        let picked = |cell: &&Cell| {
            let (min, max) = pose.bounds_of_box(cell.min, cell.max);
            wanted(min, max)
        };
        let cells: Vec<&Cell> = cells.pieces.iter().filter(picked).collect();
        let placed = vec![None; cells.len()];
        Self { cells, pose, placed }
    }

    pub fn count(&self) -> usize {
        self.cells.len()
    }

    /// A cell in its own frame.
    pub fn cell(&self, index: usize) -> &'a Cell {
        self.cells[index]
    }

    /// The upright box around a cell where it stands.
    pub fn bounds(&self, index: usize) -> (DVec3, DVec3) {
        let cell = self.cells[index];
        self.pose.bounds_of_box(cell.min, cell.max)
    }

    /// A cell where it stands.
    pub fn body(&mut self, index: usize) -> &Body {
        let (cell, pose) = (self.cells[index], &self.pose);
        self.placed[index].get_or_insert_with(|| Body::of(cell).mapped(pose))
    }
}

/// The middle of what two cells have in common, or of what the boxes around them have, in the frame of the second.
pub(super) fn middle(a: &Cell, a_in_b: &Pose, b: &Cell) -> DVec3 {
    let placed = Cell::of_hull(a.to_hull().mapped(a_in_b));
    let common = placed.to_hull().common(&b.to_hull()).map(|hull| hull.volume_and_centre());
    match common {
        Some((volume, centre)) if volume > 0.0 => centre,
        _ => (placed.min.max(b.min) + placed.max.min(b.max)) / 2.0,
    }
}

/// Whether two boxes share more than `slack` along every axis.
pub(super) fn share(a: (DVec3, DVec3), b: (DVec3, DVec3), slack: f64) -> bool {
    (a.1.min(b.1) - a.0.max(b.0)).min_element() > slack
}

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

/// The cells of a part where it stands, each made ready for separating axes when that is first asked.
pub(super) struct Placed<'a> {
    cells: &'a Cells,
    pose: Pose,
    bodies: Vec<Option<Body>>,
}

impl<'a> Placed<'a> {
    pub fn new(cells: &'a Cells, pose: Pose) -> Self {
        Self { cells, pose, bodies: Vec::new() }
    }

    /// A cell where it stands.
    pub fn body(&mut self, piece: usize) -> &Body {
        if self.bodies.is_empty() {
            self.bodies.resize(self.cells.count(), None);
        }
        self.bodies[piece].get_or_insert_with(|| self.cells.body(piece).mapped(&self.pose))
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

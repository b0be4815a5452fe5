//! How much room is left between two parts.

use glam::DVec3;

use super::distance::nearest;
use super::overlap::overlap;
use super::{Cell, Cells};
use crate::pose::Pose;

/// The room between two placed parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clearance {
    /// The least distance between them, mm; zero when they touch or overlap.
    pub distance: f64,
    /// A point of the first as near to the second as any, in the world, mm. Where the two overlap, a point inside both.
    pub on_a: DVec3,
    /// A point of the second as near to the first as any, in the world, mm; the same as `on_a` where they overlap.
    pub on_b: DVec3,
}

/// The least distance between two placed parts, found on their convex pieces exactly: corner against side, edge against edge.
///
/// Curves are the facets of the [`Cells`], which lie inside the true outline of a cut: between two rounds it may come out too great by up
/// to the chord error of both.
pub fn clearance(a: &Cells, pose_a: &Pose, b: &Cells, pose_b: &Pose) -> Clearance {
    if let Some(common) = overlap(a, pose_a, b, pose_b) {
        let centre = common.deepest_at;
        return Clearance { distance: 0.0, on_a: centre, on_b: centre };
    }
    let b_in_a = pose_a.inverse().then_of(pose_b);
    let square = b_in_a.is_square();
    let placed: Vec<Cell> = b
        .pieces
        .iter()
        .map(|cell| match &cell.hull {
            None if square => {
                let (min, max) = b_in_a.bounds_of_box(cell.min, cell.max);
                Cell::of_box(min, max)
            }
            _ => Cell::of_hull(cell.to_hull().mapped(&b_in_a)),
        })
        .collect();
    match nearest(&a.pieces, &placed) {
        Some(found) => Clearance { distance: found.distance, on_a: pose_a.point(found.on_a), on_b: pose_a.point(found.on_b) },
        // Cells hold at least one piece, so there always is a nearest pair.
        None => Clearance { distance: f64::INFINITY, on_a: pose_a.origin, on_b: pose_b.origin },
    }
}

//! Whether two groups of cuts meet inside a part.

use glam::DVec3;

use super::distance::nearest;
use super::overlap::overlap;
use super::{Cells, subtract};
use crate::cutter::{GRID, snap3};
use crate::facet::Facets;
use crate::pose::Pose;
use crate::solid::{Prism, Solid, SolidError};

/// How two voids in one blank lie to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum VoidGap {
    /// They meet.
    Overlapping {
        /// The volume they have in common, mm³.
        volume: f64,
        /// The centre of that volume, mm.
        centre: DVec3,
    },
    /// Material is left between them, or they only touch.
    Apart {
        /// The least distance between them, mm; zero when they touch.
        distance: f64,
        /// Midway between two points as near as any, mm.
        at: DVec3,
    },
}

/// Facets to the turn at which voids are measured: a circle's chords then stay within a
/// thousandth of its radius.
const PER_TURN: u32 = 72;

/// How near two groups of prisms come to each other inside a blank of `size`; nothing when
/// either takes nothing from the blank.
///
/// Exact for prisms of straight outlines; arcs are faceted from within, so that a distance may
/// come out up to a thousandth of the radii too great.
///
/// # Errors
/// [`SolidError`] when a number is not usable; `prism` counts through `a`, then `b`.
pub fn void_gap(size: DVec3, a: &[Prism], b: &[Prism]) -> Result<Option<VoidGap>, SolidError> {
    let both = Solid { size, prisms: [a, b].concat() };
    let cutters = both.checked_cutters(Facets::PerTurn(PER_TURN), GRID)?;
    let size = snap3(size, GRID);
    let split = cutters.partition_point(|c| (c.prism as usize) < a.len());
    let (of_a, of_b) = cutters.split_at(split);
    let voids = (Cells::new(subtract::voids(size, of_a)), Cells::new(subtract::voids(size, of_b)));
    let (Ok(of_a), Ok(of_b)) = voids else {
        return Ok(None);
    };
    if let Some(common) = overlap(&of_a, &Pose::IDENTITY, &of_b, &Pose::IDENTITY) {
        return Ok(Some(VoidGap::Overlapping { volume: common.volume, centre: common.centre }));
    }
    Ok(nearest(&of_a.pieces, &of_b.pieces).map(|n| VoidGap::Apart { distance: n.distance, at: n.middle() }))
}

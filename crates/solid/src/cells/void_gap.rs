//! Whether two groups of cuts meet inside a part.

use glam::DVec3;

use super::distance::{Nearest, between, between_boxes};
use super::overlap::overlap;
use super::{Cell, Cells, subtract};
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
    Ok(nearest(&of_a.pieces, &of_b.pieces).map(|n| VoidGap::Apart { distance: n.distance, at: n.middle }))
}

/// The nearest pair of cells; those whose boxes lie farther apart than the best are not asked.
fn nearest(a: &[Cell], b: &[Cell]) -> Option<Nearest> {
    let mut pairs: Vec<(f64, &Cell, &Cell)> = a.iter().flat_map(|x| b.iter().map(move |y| (between_boxes(x, y).distance, x, y))).collect();
    pairs.sort_by(|x, y| x.0.total_cmp(&y.0));
    let mut best: Option<Nearest> = None;
    for (at_least, x, y) in pairs {
        if best.is_some_and(|b| b.distance <= at_least) {
            break;
        }
        let found = between(x, y);
        if best.is_none_or(|b| found.distance < b.distance) {
            best = Some(found);
        }
    }
    best
}

//! A part as what is cut from a blank.

use std::hash::{DefaultHasher, Hash, Hasher};

use glam::DVec3;
use thiserror::Error;

use crate::axis::Axis;
use crate::cells::{self, Cells};
use crate::cutter::{Cutter, GRID};
use crate::facet::Facets;
use crate::profile::{MAX_COORDINATE, Profile, ProfileError, hash_number};
use crate::shape::{self, Shape};

/// Material taken away: a profile swept along one axis of the blank between two depths.
///
/// It may stick out of the blank, overlap other prisms and end flush with faces.
#[derive(Clone, Debug, PartialEq)]
pub struct Prism {
    /// The axis it is swept along.
    pub axis: Axis,
    /// Where the sweep begins, mm from the blank's origin along `axis`.
    pub from: f64,
    /// Where it ends, mm; beyond `from`.
    pub to: f64,
    /// The outline across the axis, in (u, v) of [`Axis::u`] and [`Axis::v`], mm.
    pub profile: Profile,
}

/// A rectangular blank from the origin to `size`, less prisms.
///
/// Equal solids have equal shapes: [`Solid::key`], or the value itself as a key through
/// [`Hash`] and [`Eq`], lets equal parts share one.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid {
    /// L × W × T of the blank, mm; each above zero.
    pub size: DVec3,
    /// What is cut away.
    pub prisms: Vec<Prism>,
}

/// Why a solid has no shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum SolidError {
    /// A size of the blank is not a number, zero, negative or above a kilometre.
    #[error("the blank's size along {axis:?} is not a length above zero")]
    Size {
        /// The axis of the size.
        axis: Axis,
    },
    /// A prism's depths are not numbers, out of range, or `to` does not lie beyond `from`.
    #[error("prism {prism}: `from` and `to` are not two depths in rising order")]
    Depth {
        /// The number of the prism, from 0.
        prism: usize,
    },
    /// A prism's outline is not usable.
    #[error("prism {prism}: {reason}")]
    Profile {
        /// The number of the prism, from 0.
        prism: usize,
        /// What is wrong with it.
        reason: ProfileError,
    },
    /// The prisms leave nothing of the blank.
    #[error("nothing is left of the blank")]
    Empty,
    /// No closed surface was found. Cuts that miss each other by some ten-thousandths of a
    /// millimetre can do this; making them meet or part clearly helps.
    #[error("the cuts leave a surface that does not close")]
    Open,
}

impl Solid {
    /// A blank with nothing cut from it.
    pub fn blank(size: DVec3) -> Self {
        Self { size, prisms: Vec::new() }
    }

    /// The surface of the solid.
    ///
    /// # Errors
    /// [`SolidError`] when a number is not usable, nothing is left, or the surface does not
    /// close.
    pub fn shape(&self, facets: Facets) -> Result<Shape, SolidError> {
        self.check()?;
        shape::evaluate(self, facets)
    }

    /// The solid as convex cells that share no volume, arcs in `per_turn` facets.
    ///
    /// # Errors
    /// [`SolidError`] when a number is not usable or nothing is left.
    pub fn cells(&self, per_turn: u32) -> Result<Cells, SolidError> {
        self.check()?;
        cells::of_solid(self, Facets::PerTurn(per_turn))
    }

    /// A number that equal solids share, and others almost never: a key for caches that live
    /// no longer than the program.
    pub fn key(&self) -> u64 {
        let mut hasher = DefaultHasher::new();
        self.hash(&mut hasher);
        hasher.finish()
    }

    fn check(&self) -> Result<(), SolidError> {
        for axis in Axis::ALL {
            let size = self.size[axis.index()];
            // Written so that a size that is not a number fails too.
            if !(size > 0.0 && size <= MAX_COORDINATE) {
                return Err(SolidError::Size { axis });
            }
        }
        for (prism, cut) in self.prisms.iter().enumerate() {
            let within = |depth: f64| depth.abs() <= MAX_COORDINATE;
            let rising = cut.from < cut.to && within(cut.from) && within(cut.to);
            if !rising {
                return Err(SolidError::Depth { prism });
            }
            cut.profile.check_numbers().map_err(|reason| SolidError::Profile { prism, reason })?;
        }
        Ok(())
    }

    /// [`Solid::cutters`] of a solid whose numbers have not been checked.
    pub(crate) fn checked_cutters(&self, facets: Facets, grid: f64) -> Result<Vec<Cutter>, SolidError> {
        self.check()?;
        self.cutters(facets, grid)
    }

    /// The prisms that reach into the blank, faceted and on the grid of `grid` steps to the mm.
    pub(crate) fn cutters(&self, facets: Facets, grid: f64) -> Result<Vec<Cutter>, SolidError> {
        let size = crate::cutter::snap3(self.size, grid);
        let mut cutters = Vec::with_capacity(self.prisms.len());
        for (prism, cut) in self.prisms.iter().enumerate() {
            match Cutter::new(prism, cut, facets, grid) {
                Ok(cutter) if cutter.reaches_into(size) => cutters.push(cutter),
                Ok(_) => {}
                // Nothing is left of an outline as thin as the steps of a coarser grid, and it takes nothing.
                Err(ProfileError::NoArea) if grid < GRID => {}
                Err(reason) => return Err(SolidError::Profile { prism, reason }),
            }
        }
        Ok(cutters)
    }
}

impl Eq for Solid {}

impl Hash for Solid {
    fn hash<H: Hasher>(&self, state: &mut H) {
        for size in self.size.to_array() {
            hash_number(size, state);
        }
        self.prisms.hash(state);
    }
}

impl Hash for Prism {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.axis.hash(state);
        hash_number(self.from, state);
        hash_number(self.to, state);
        self.profile.hash(state);
    }
}

#[cfg(test)]
mod tests {
    use super::{Prism, Solid, SolidError};
    use crate::cutter::GRID;
    use crate::{Axis, Facets, Profile, ProfileError};
    use glam::{DVec2, DVec3};

    /// Held against the height of the outline: a few thousandths of a thousandth, which only the finest grid can tell.
    #[test]
    fn an_outline_thinner_than_a_coarse_grid_takes_nothing_there() {
        let sliver = vec![DVec2::new(8.0, 20.0), DVec2::new(8.000_003, 12.0), DVec2::new(8.000_015, 8.0)];
        let prism = Prism { axis: Axis::T, from: 5.0, to: 8.0, profile: Profile::polygon(sliver).expect("an outline") };
        let solid = Solid { size: DVec3::splat(20.0), prisms: vec![prism] };
        let count = |grid| solid.cutters(Facets::PerTurn(12), grid).map(|cutters| cutters.len());
        assert_eq!(count(GRID), Ok(1));
        assert_eq!(count(256.0), Ok(0));
        let point = Prism { axis: Axis::T, from: 0.0, to: 5.0, profile: Profile::circle(DVec2::ZERO, 0.0) };
        let of_point = Solid { prisms: vec![point], ..solid };
        let reason = ProfileError::NoArea;
        assert_eq!(of_point.cutters(Facets::PerTurn(12), GRID).err(), Some(SolidError::Profile { prism: 0, reason }));
    }
}

//! A solid as convex pieces that share no volume.

mod body;
pub(crate) mod clearance;
mod convex_parts;
mod distance;
mod hull;
pub(crate) mod moves;
pub(crate) mod overlap;
mod subtract;
pub(crate) mod sweep;
pub(crate) mod turn;
pub(crate) mod void_gap;

use glam::DVec3;

use self::hull::Hull;
use crate::cutter::{GRID, snap3};
use crate::facet::Facets;
use crate::solid::{Solid, SolidError};

/// Pieces thinner than this are nothing, mm.
pub(crate) const THIN: f64 = 1e-6;

/// A convex piece: an upright box, unless it has a hull.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Cell {
    pub min: DVec3,
    pub max: DVec3,
    pub hull: Option<Hull>,
}

impl Cell {
    pub fn of_box(min: DVec3, max: DVec3) -> Self {
        Self { min, max, hull: None }
    }

    pub fn of_hull(hull: Hull) -> Self {
        let (min, max) = hull.bounds();
        Self { min, max, hull: Some(hull) }
    }

    pub fn to_hull(&self) -> Hull {
        match &self.hull {
            Some(hull) => hull.clone(),
            None => Hull::of_box(self.min, self.max),
        }
    }

    pub fn volume(&self) -> f64 {
        match &self.hull {
            Some(hull) => hull.volume_and_centre().0,
            None => (self.max - self.min).element_product(),
        }
    }

    /// Whether the boxes around two cells share more than a touch.
    fn meets(&self, min: DVec3, max: DVec3) -> bool {
        (self.max.min(max) - self.min.max(min)).min_element() > THIN
    }
}

/// A solid as convex cells that share no volume, in the part's own frame.
///
/// Made by [`Solid::cells`]; asked by [`overlap()`](crate::overlap()), [`sweep()`](crate::sweep()), [`turn()`](crate::turn()) and
/// [`clearance()`](crate::clearance()).
#[derive(Clone, Debug, PartialEq)]
pub struct Cells {
    pieces: Vec<Cell>,
    min: DVec3,
    max: DVec3,
}

impl Cells {
    fn new(cells: Vec<Cell>) -> Result<Self, SolidError> {
        let boxes = || cells.iter().map(|c| (c.min, c.max));
        let (min, max) = boxes().reduce(|a, b| (a.0.min(b.0), a.1.max(b.1))).ok_or(SolidError::Empty)?;
        Ok(Self { pieces: cells, min, max })
    }

    /// The volume of all cells together, mm³.
    pub fn volume(&self) -> f64 {
        self.pieces.iter().map(Cell::volume).sum()
    }

    /// The least and the greatest corner of the box around the cells, mm.
    pub fn bounds(&self) -> (DVec3, DVec3) {
        (self.min, self.max)
    }

    /// How many cells there are.
    pub fn count(&self) -> usize {
        self.pieces.len()
    }
}

/// The cells of a solid whose numbers have been checked.
pub(crate) fn of_solid(solid: &Solid, facets: Facets) -> Result<Cells, SolidError> {
    let cutters = solid.cutters(facets, GRID)?;
    let size = snap3(solid.size, GRID);
    Cells::new(subtract::blank_less(size, &cutters))
}

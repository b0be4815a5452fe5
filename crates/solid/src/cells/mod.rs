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

use std::ops::ControlFlow;
use std::sync::OnceLock;

use glam::DVec3;

use self::body::Body;
use self::hull::Hull;
use crate::box_tree::{Bounds, BoxTree};
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
#[derive(Clone, Debug)]
pub struct Cells {
    pieces: Vec<Cell>,
    /// Over the boxes around the pieces.
    tree: BoxTree,
    /// The pieces made ready for separating axes, each when that is first asked.
    bodies: Vec<OnceLock<Body>>,
    min: DVec3,
    max: DVec3,
}

impl Cells {
    fn new(cells: Vec<Cell>) -> Result<Self, SolidError> {
        let tree = BoxTree::over((0..cells.len()).collect(), |i| (cells[i].min, cells[i].max)).ok_or(SolidError::Empty)?;
        let (min, max) = tree.nodes[0].around;
        let bodies = vec![OnceLock::new(); cells.len()];
        Ok(Self { pieces: cells, tree, bodies, min, max })
    }

    /// The numbers of the pieces for which `may` holds of the box around them. It must hold of every box around one of which it holds.
    fn pieces_where(&self, may: impl Fn(Bounds) -> bool) -> Vec<usize> {
        let mut found = Vec::new();
        let _all = self.tree.near(&may, &mut |piece| {
            if may(self.piece_bounds(piece)) {
                found.push(piece);
            }
            ControlFlow::Continue(())
        });
        found
    }

    fn piece_bounds(&self, piece: usize) -> Bounds {
        (self.pieces[piece].min, self.pieces[piece].max)
    }

    fn body(&self, piece: usize) -> &Body {
        self.bodies[piece].get_or_init(|| Body::of(&self.pieces[piece]))
    }

    /// The same cells stretched along each axis from the part's own origin, as wood swells; factors above zero.
    #[must_use]
    pub fn stretched(&self, by: DVec3) -> Self {
        let pieces: Vec<Cell> = self
            .pieces
            .iter()
            .map(|cell| match &cell.hull {
                Some(hull) => Cell::of_hull(hull.stretched(by)),
                None => Cell::of_box(cell.min * by, cell.max * by),
            })
            .collect();
        let bodies = vec![OnceLock::new(); pieces.len()];
        // Stretching keeps which box is in which.
        let tree = self.tree.mapped(|(min, max)| (min * by, max * by));
        Self { pieces, tree, bodies, min: self.min * by, max: self.max * by }
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

/// What was made ready of them makes no difference.
impl PartialEq for Cells {
    fn eq(&self, other: &Self) -> bool {
        self.pieces == other.pieces
    }
}

/// The cells of a solid whose numbers have been checked.
pub(crate) fn of_solid(solid: &Solid, facets: Facets) -> Result<Cells, SolidError> {
    let cutters = solid.cutters(facets, GRID)?;
    let size = snap3(solid.size, GRID);
    Cells::new(subtract::blank_less(size, &cutters))
}

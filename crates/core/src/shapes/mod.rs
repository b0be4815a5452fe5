//! Real solids of all parts: shapes to look at, cells to test against each other; what they weigh and what their faces are called.

pub mod flat;
mod mass;
mod named;

use std::collections::HashMap;
use std::sync::Arc;

use casewright_solid::{Cells, Facets, Shape, Solid, SolidError};

pub use mass::Mass;
pub use named::{NamedEdge, NamedFace};

use crate::model::{Model, PartId};

/// Greatest distance between a round and the facets that stand for it on screen and in volumes, mm.
pub const CHORD_ERROR: f64 = 0.05;

/// Facets a full turn for overlaps: the same for every radius, so that a tenon's rounds nest in its mortise's.
const FACETS_A_TURN: u32 = 16;

/// The solids of a model, a part each; equal parts share one.
#[derive(Clone, Debug, Default)]
pub struct Solids {
    parts: Vec<Result<Arc<Made>, SolidError>>,
}

/// A solid made: its shape and its cells.
#[derive(Debug)]
pub struct Made {
    /// Surface, edges, volume.
    pub shape: Arc<Shape>,
    /// Convex pieces.
    pub cells: Cells,
    /// The solid it was made from, in the part's own measures.
    pub solid: Solid,
}

impl Solids {
    /// The solid of a part; an error when its cuts leave nothing of it.
    ///
    /// # Errors
    /// As [`Solid::shape`].
    pub fn of(&self, part: PartId) -> Result<&Arc<Made>, &SolidError> {
        self.parts[part.0].as_ref()
    }

    /// The shape of a part, where it has one.
    pub fn shape(&self, part: PartId) -> Option<&Arc<Shape>> {
        self.parts.get(part.0)?.as_ref().ok().map(|made| &made.shape)
    }

    /// The cells of a part, where it has a shape.
    pub fn cells(&self, part: PartId) -> Option<&Cells> {
        self.parts.get(part.0)?.as_ref().ok().map(|made| &made.cells)
    }
}

/// Solids made before; what has not changed is not made again.
#[derive(Clone, Debug, Default)]
pub struct ShapeCache {
    made: HashMap<u64, Vec<Arc<Made>>>,
}

impl ShapeCache {
    /// One that knows the solids of a model.
    pub fn of(solids: &Solids) -> ShapeCache {
        let mut made: HashMap<u64, Vec<Arc<Made>>> = HashMap::new();
        for part in solids.parts.iter().flatten() {
            let alike = made.entry(part.solid.key()).or_default();
            if !alike.iter().any(|known| Arc::ptr_eq(known, part)) {
                alike.push(Arc::clone(part));
            }
        }
        ShapeCache { made }
    }

    /// The solids of a model. Keeps what this model uses and forgets the rest.
    pub fn shape(&mut self, model: &Model) -> Solids {
        let mut kept: HashMap<u64, Vec<Arc<Made>>> = HashMap::with_capacity(self.made.len());
        let parts = model
            .parts
            .iter()
            .map(|part| {
                let solid = part.solid();
                let key = solid.key();
                let known = |cache: &HashMap<u64, Vec<Arc<Made>>>| cache.get(&key)?.iter().find(|made| made.solid == solid).cloned();
                if let Some(made) = known(&kept) {
                    return Ok(made);
                }
                let made = if let Some(made) = known(&self.made) {
                    made
                } else {
                    let shape = Arc::new(solid.shape(Facets::ChordError(CHORD_ERROR))?);
                    Arc::new(Made { shape, cells: solid.cells(FACETS_A_TURN)?, solid })
                };
                kept.entry(key).or_default().push(Arc::clone(&made));
                Ok(made)
            })
            .collect();
        self.made = kept;
        Solids { parts }
    }
}

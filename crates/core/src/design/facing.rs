//! What is glued onto sheets in the shop: lippings on their edges, veneer on their faces.
//!
//! ```text
//! facing: (
//!     floor: (lipping: 8, edges: FaceEdge),
//!     panel: (veneer: Bought),
//! )
//! ```

use serde::{Deserialize, Serialize};

use super::MakeUp;
use super::shop::is_default;
use crate::length::Length;

/// What is glued onto the sheets of a case.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Facings {
    /// Onto the panels.
    #[serde(skip_serializing_if = "is_default")]
    pub panel: Facing,
    /// Onto the floors.
    #[serde(skip_serializing_if = "is_default")]
    pub floor: Facing,
}

/// What is glued onto a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Facing {
    /// How thick the solid strips on its edges are, of the timber of the carcase, mm; 0 for none.
    pub lipping: Length,
    /// On which edges.
    pub edges: Lipped,
    /// Whether the lippings are within its size as drawn, so that the sheet is sawn smaller by them; else it comes out larger by them.
    pub within: bool,
    /// Veneer that is glued onto both of its faces here, of the timber of the carcase: a face and its balancing sheet.
    pub veneer: Veneered,
}

impl Default for Facing {
    fn default() -> Facing {
        Facing { lipping: Length::mm(0.0), edges: Lipped::FaceEdge, within: true, veneer: Veneered::No }
    }
}

/// Which edges of a sheet have lippings.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Lipped {
    /// The face edge, along its length.
    #[default]
    FaceEdge,
    /// Both edges along its length.
    LongEdges,
    /// All round: those along its length first, the others between or over them.
    AllRound,
}

/// Whether a sheet is veneered in the shop.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Veneered {
    /// It is not.
    #[default]
    No,
    /// With bought veneer.
    Bought,
    /// With veneer sawn here.
    Sawn,
}

impl Facing {
    /// How thick its veneer is on one face, mm.
    pub fn veneer(&self, make_up: &MakeUp) -> f64 {
        match self.veneer {
            Veneered::No => 0.0,
            Veneered::Bought => make_up.bought_veneer.to_mm(),
            Veneered::Sawn => make_up.sawn_veneer.to_mm(),
        }
    }

    /// How many lippings lie along its length, and how many across it.
    pub fn lippings(&self) -> [usize; 2] {
        match (self.lipping.to_mm() > 0.0, self.edges) {
            (false, _) => [0, 0],
            (true, Lipped::FaceEdge) => [1, 0],
            (true, Lipped::LongEdges) => [2, 0],
            (true, Lipped::AllRound) => [2, 2],
        }
    }

    /// Length and width of its faces for a part of that length, width and thickness, mm, with the lippings that are glued onto it: what veneer covers.
    pub fn faces(&self, [length, width, _]: [f64; 3]) -> [f64; 2] {
        let [along, across] = if self.within { [0, 0] } else { self.lippings() };
        let more = |count: usize| count as f64 * self.lipping.to_mm();
        [length + more(across), width + more(along)]
    }

    /// What is sawn of the sheet for a part of that length, width and thickness, mm: less what is glued onto it.
    pub fn sawn(&self, [length, width, thickness]: [f64; 3], make_up: &MakeUp) -> [f64; 3] {
        let [along, across] = if self.within { self.lippings() } else { [0, 0] };
        let off = |count: usize| count as f64 * self.lipping.to_mm();
        [length - off(across), width - off(along), thickness - 2.0 * self.veneer(make_up)]
    }
}

//! How much wood must stay: the rules that several checks share.

use crate::model::{Material, Part};
use crate::timber::find_species;

/// What a wall's thickness is held against.
pub(super) const WALL_SOURCE: &str = "a wall of 3 mm in hardwood, 5 mm in softwood: common practice, no source";

/// The least wall between two cuts, mm: 3 in hardwood and sheets, 5 in softwood (common practice, no source).
pub(super) fn least_wall(part: &Part) -> f64 {
    if of_softwood(part) { 5.0 } else { 3.0 }
}

/// The least wood beside a mortise, mm: 6 in hardwood, 8 in softwood (common practice, no source). Sheets have no grain that
/// splits there; they need what must stay behind a blind hole.
pub(super) fn least_cheek(part: &Part) -> f64 {
    match part.material {
        Material::Solid(_) if of_softwood(part) => 8.0,
        Material::Solid(_) => 6.0,
        Material::Sheet(_) => LEAST_BEHIND,
    }
}

/// Under this much wood beside a mortise a joint is at risk in any timber, mm (common practice, no source: never under 5).
pub(super) const WEAK_CHEEK: f64 = 5.0;

/// The least wood left behind a blind mortise, mm (common practice, no source: at least 4 behind a blind hole).
pub const LEAST_BEHIND: f64 = 4.0;

/// The least wood between a cut and the end of the part, along the grain, mm: 12 to 15 in hardwood (common practice, no source).
pub const LEAST_END: f64 = 12.0;

/// A timber that the table does not know counts as softwood, which needs the thicker walls.
fn of_softwood(part: &Part) -> bool {
    match &part.material {
        Material::Solid(species) => find_species(species).is_none_or(|species| species.softwood),
        Material::Sheet(_) => false,
    }
}

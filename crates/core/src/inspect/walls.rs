//! How much wood must stay: what the checks hold walls against. Joints leave as much by the same rules.

pub(super) use crate::joint::room::{LEAST_BEHIND, LEAST_END, least_cheek, least_wall};

/// What a wall's thickness is held against.
pub(super) const WALL_SOURCE: &str = "a wall of 3 mm in hardwood, 5 mm in softwood: common practice, no source";

/// Under this much wood beside a mortise a joint is at risk in any timber, mm (common practice, no source: never under 5).
pub(super) const WEAK_CHEEK: f64 = 5.0;

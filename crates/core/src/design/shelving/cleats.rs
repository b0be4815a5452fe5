//! Shelves on cleats that are fixed to the posts and dividers.

use serde::{Deserialize, Serialize};

use super::ShelfOf;
use crate::length::Length;

/// Cleats that are fixed, alike in every bay that has them.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct FixedCleats {
    /// Height, mm.
    pub height: Length,
    /// Thickness along the width of the case, mm.
    pub thickness: Length,
    /// From the floor of the bay up to the lower edge of a cleat at the lowest level, mm.
    pub first: Length,
    /// From level to level, mm.
    pub step: Length,
    /// What fixes them.
    #[serde(skip_serializing_if = "crate::design::shop::is_default")]
    pub by: CleatsBy,
    /// What the shelves on them are made of.
    pub of: ShelfOf,
}

/// What fixes cleats.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum CleatsBy {
    /// Glue, across the grain of the uprights.
    #[default]
    Glue,
    /// A screw into each upright.
    Screws,
}

impl Default for FixedCleats {
    /// 30 × 20, level by level 16 (common practice, no source).
    fn default() -> FixedCleats {
        FixedCleats {
            height: Length::mm(30.0),
            thickness: Length::mm(20.0),
            first: Length::mm(64.0),
            step: Length::mm(16.0),
            by: CleatsBy::Glue,
            of: ShelfOf::Solid,
        }
    }
}

//! Shelves whose ends are let into the posts and dividers.

use serde::{Deserialize, Serialize};

use crate::design::Ruled;
use crate::length::Length;

/// Housed shelves, alike in every bay that has them.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Housed {
    /// From the floor of the bay up to the lower face of a shelf at the lowest level, mm.
    pub first: Length,
    /// From level to level, mm.
    pub step: Length,
    /// How far inside the front edge of a shelf its housings stop, mm; 0 where they run out in front: then it is slid in after glue-up.
    pub stop: Length,
    /// Depth of the housings, mm.
    #[serde(skip_serializing_if = "crate::design::shop::is_default")]
    pub depth: Ruled,
    /// Width of the housings less the thickness of the shelf, mm.
    #[serde(skip_serializing_if = "crate::design::shop::is_default")]
    pub fit: Ruled,
}

impl Default for Housed {
    /// They run out in front, so that a floor can be laid in before the shelves are slid in.
    fn default() -> Housed {
        Housed { first: Length::mm(96.0), step: Length::mm(16.0), stop: Length::ZERO, depth: Ruled::ByRule, fit: Ruled::ByRule }
    }
}

//! Where the piece will stand, and what it must pass on the way there.

use serde::{Deserialize, Serialize};

use crate::length::Length;

/// Where the piece will stand, and the narrowest of each kind on the way. A size of 0 is not known, and nothing is judged by it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Site {
    /// From wall to wall of the niche, where it stands in one, mm.
    pub width: Length,
    /// From the floor to the ceiling, or to what hangs over it, mm.
    pub height: Length,
    /// From the wall behind it to the front of the niche, or to where nothing may stand, mm.
    pub depth: Length,
    /// Left free beside it at either wall, for scribing or for walls out of true, mm.
    pub scribe: Length,
    /// How far the skirting stands out from the wall behind it, mm.
    pub skirting: Length,
    /// The narrowest door on the way.
    pub door: Passage,
    /// The narrowest flight of stairs: its width, and the height over its nosings.
    pub stairs: Passage,
    /// Where the stairs turn: how deep the landing is, from the last step to the wall, mm; it is as wide as they are.
    pub landing: Length,
    /// The lift.
    pub lift: Cabin,
}

/// An opening to pass, clear, mm.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Passage {
    /// From side to side.
    pub width: Length,
    /// Upward.
    pub height: Length,
}

/// The room in a lift, clear, mm.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Cabin {
    /// From side to side.
    pub width: Length,
    /// From door to back.
    pub depth: Length,
    /// Upward.
    pub height: Length,
}

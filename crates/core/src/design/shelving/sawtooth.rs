//! Adjustable shelves: sawtooth standards, loose cleats, slats.

use serde::{Deserialize, Serialize};

use super::ShelfOf;
use crate::design::shop::is_default;
use crate::length::Length;

/// Sawtooth standards with loose cleats and slats.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sawtooth {
    /// From tooth to tooth, mm.
    pub pitch: Length,
    /// Depth of a seat, mm.
    pub seat: Length,
    /// Flat left at the tip of a tooth, mm.
    pub crest: Length,
    /// Width of a standard behind its seats, mm.
    pub backing: Length,
    /// Thickness of the standards, mm.
    pub thickness: Length,
    /// From the floor of the bay up to the lowest seat, mm.
    pub first: Length,
    /// What the teeth look like.
    #[serde(default, skip_serializing_if = "is_default")]
    pub teeth: Teeth,
    /// What stands at a divider between two bays that both have standards.
    #[serde(default, skip_serializing_if = "is_default")]
    pub mid: MidStandards,
    /// What keeps cleats from sliding out of the teeth toward the outside.
    #[serde(default, skip_serializing_if = "is_default")]
    pub spacers: Spacers,
    /// What the shelves are made of.
    #[serde(default, skip_serializing_if = "is_default")]
    pub of: ShelfOf,
    /// The cleats.
    pub cleat: Cleat,
    /// The slats.
    pub slats: Slats,
}

/// What the teeth of standards look like.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Teeth {
    /// A level seat, and a slope up to the tip of the next.
    #[default]
    Sloped,
    /// Half circles: holes bored along the middle of a strip of double width, which is then ripped. The seat is the radius.
    HalfRound,
}

/// What stands at a divider between two bays that both have standards.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum MidStandards {
    /// A standard to each bay.
    #[default]
    TwoStrips,
    /// One as thick as the divider, for both.
    OnePiece,
}

/// What keeps cleats from sliding out of the teeth toward the outside.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Spacers {
    /// Whatever stands there: a panel, a rail.
    #[default]
    None,
    /// Upright strips: at the dividers between the standards of both bays or beside those of one, and at the sides where a panel or rails leave
    /// room for one.
    Strips,
}

/// The loose cleats in the teeth.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cleat {
    /// Height, mm.
    pub height: Length,
    /// Thickness along the width of the case, mm.
    pub thickness: Length,
    /// How much shorter than from riser to riser, mm.
    pub play: Length,
}

/// The slats that make a shelf.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Slats {
    /// How many a shelf.
    pub count: u32,
    /// Width of each, mm.
    pub width: Length,
    /// Thickness of each, mm.
    pub thickness: Length,
    /// Free room at each end, and round what they are notched for, mm.
    pub play: Length,
    /// How far the foremost slat stands back from the front of the posts, mm.
    pub set_back: Length,
    /// What decides how thick they are.
    #[serde(default, skip_serializing_if = "is_default")]
    pub thick_by: ThickBy,
}

/// What decides how thick the slats are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum ThickBy {
    /// The maker.
    #[default]
    AsDecided,
    /// The load: no less than the maker decided, and thicker where a shelf with its boxes one high would sag further than it is made for.
    Load,
}

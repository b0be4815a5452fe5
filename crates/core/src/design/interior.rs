//! How the room inside is divided: a tree of openings.

use serde::{Deserialize, Serialize};

use super::Shelves;
use crate::length::Length;

/// The room inside, or a part of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Opening {
    /// A bay with what stands in it.
    Leaf(Fitting),
    /// Divided into several openings.
    Split(Split),
}

/// An opening divided by upright dividers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Split {
    /// Which way it is divided.
    pub along: Along,
    /// What stands between two neighbours.
    pub divider: Divider,
    /// The openings, from the left.
    pub bays: Vec<Bay>,
}

/// The direction in which an opening is divided.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Along {
    /// Side by side along the width.
    Width,
}

/// A divider: a stile in front, a muntin at the back, cross rails between them above and below.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Divider {
    /// Width of stile and muntin along the width of the case, mm.
    pub width: Length,
    /// Width (height as it stands) of the cross rails, mm.
    pub cross_rail: Length,
}

/// One of the openings of a split.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bay {
    /// How much of the width it takes.
    pub size: BaySize,
    /// What it is.
    pub opening: Opening,
}

/// How much of the width an opening takes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum BaySize {
    /// So much clear width, mm.
    Clear(Length),
    /// A share of what the clear widths leave.
    Share(f64),
}

/// What stands in a bay.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Fitting {
    /// Adjustable shelves of slats on cleats in sawtooth standards.
    Sawtooth(Shelves),
    /// Adjustable solid shelves on pins in rows of holes.
    Pins(Shelves),
    /// Shelves on cleats that are fixed.
    Cleats(Shelves),
    /// Solid shelves housed in posts and dividers.
    Housed(Shelves),
    /// Nothing.
    Empty,
}

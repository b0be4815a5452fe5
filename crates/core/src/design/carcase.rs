//! The outside of a case: posts, frames and what closes it below.

use serde::{Deserialize, Serialize};

use super::shop::is_default;
use super::{Top, Wall};
use crate::length::Length;

/// The outside of the case.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Carcase {
    /// Over the posts, left to right, mm.
    pub width: Length,
    /// From the floor to the upper face of the top, mm.
    pub height: Length,
    /// Over the posts, front to back, mm.
    pub depth: Length,
    /// Section of the four corner posts.
    pub post: Section,
    /// Rails of all frames.
    pub rails: Rails,
    /// Left side.
    pub left: Side,
    /// Right side.
    pub right: Side,
    /// Back.
    pub back: Side,
    /// What closes it above.
    pub top: Top,
    /// What closes it below.
    pub bottom: Bottom,
    /// Whether it is fastened to the wall behind it.
    #[serde(default, skip_serializing_if = "is_default")]
    pub wall: Wall,
}

/// A section, seen from above for an upright part.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Section {
    /// Along the width of the case, mm.
    pub width: Length,
    /// Along the depth of the case, mm.
    pub depth: Length,
}

/// The rails of the frames.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rails {
    /// Thickness of every rail, mm.
    pub thickness: Length,
    /// Width (height as it stands) of the rails under the top, mm.
    pub top: Length,
    /// Width of the rails at the bottom, mm.
    pub bottom: Length,
    /// Width of the rails between, where a frame has any, mm.
    pub middle: Length,
    /// From the floor to the lower edge of the bottom rails, mm.
    pub foot: Length,
    /// How far the rails stand back from the outer face of the posts, mm.
    pub reveal: Length,
}

/// One side of the carcase.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Side {
    /// Rails between posts, with or without panels.
    Frame(Frame),
    /// Nothing: no rails, no panel.
    Open,
}

/// A frame of posts, rails and muntins.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Frame {
    /// How many rails stand between the top and the bottom rail, evenly spaced.
    pub middle_rails: u32,
    /// What fills the frame.
    pub filling: Filling,
}

/// What fills a frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Filling {
    /// Sheet panels in grooves.
    Panel,
    /// Nothing.
    Open,
}

/// What closes the case below.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Bottom {
    /// Sheet on bearers, laid bay by bay after glue-up.
    LooseFloor(LooseFloor),
    /// Nothing.
    Open,
}

/// A floor that goes in after glue-up.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LooseFloor {
    /// Free room round each piece, mm.
    pub clearance: Length,
    /// Section of the bearers glued to the front and back rails: width and height alike, mm.
    pub bearer: Length,
    /// In how many pieces the floor of a bay is, and how two meet.
    #[serde(default, skip_serializing_if = "is_default")]
    pub pieces: FloorPieces,
}

/// The floor of a bay: in one piece, or in two that meet in the middle of it, from front to back, so that both lie on both bearers.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum FloorPieces {
    /// In one.
    #[default]
    One,
    /// In two, edge to edge.
    Butted,
    /// In two, the right one halved over the left one.
    Lapped,
}

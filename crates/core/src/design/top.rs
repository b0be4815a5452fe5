//! What closes a case above: a solid top, how its edges are worked, what holds it down.

use serde::{Deserialize, Serialize};

use super::{Clips, Plates, SlottedStrips, TopFixing};
use crate::length::Length;

/// What closes the case above.
#[allow(clippy::large_enum_variant, reason = "a design has one top")]
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Top {
    /// A slab of boards glued edge to edge, its grain along the width.
    Slab(Slab),
    /// Nothing.
    Open,
}

/// A solid top.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Slab {
    /// Thickness, mm.
    pub thickness: Length,
    /// Over the front of the posts, mm.
    pub over_front: Length,
    /// Over the back of the posts, mm.
    pub over_back: Length,
    /// Over the posts on the left and on the right, mm.
    pub over_sides: Length,
    /// How its edges are worked.
    #[serde(default)]
    pub edges: Edges,
    /// What holds it down and lets it move.
    #[serde(default)]
    pub fixing: TopFixing,
    /// Wooden buttons; and, for whatever holds the top, how they are spread and which line stays where it is.
    pub buttons: Buttons,
    /// Metal clips.
    #[serde(default)]
    pub clips: Clips,
    /// Figure-eight plates.
    #[serde(default)]
    pub plates: Plates,
    /// Screws in slotted strips.
    #[serde(default)]
    pub strips: SlottedStrips,
}

/// How the edges of a solid top are worked. Breaking the arrises by 0.5 to 1 mm is bench work and not among it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Edges {
    /// What is taken off.
    pub shape: EdgeShape,
    /// Radius of the round, or width of the chamfer on both faces, mm.
    pub size: Length,
    /// Which arrises.
    pub arrises: Arrises,
    /// Along which edges.
    pub sides: EdgeSides,
}

impl Default for Edges {
    /// Square; 3 mm on the upper arrises of front and ends as soon as it is not.
    fn default() -> Self {
        Edges { shape: EdgeShape::default(), size: Length::mm(3.0), arrises: Arrises::default(), sides: EdgeSides::default() }
    }
}

/// What is taken off an arris.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum EdgeShape {
    /// Nothing.
    #[default]
    Square,
    /// A quarter round.
    Round,
    /// A chamfer at 45°.
    Chamfer,
}

/// Which arrises of an edge are worked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Arrises {
    /// The upper ones.
    #[default]
    Upper,
    /// The lower ones: the edge seems lighter from above.
    Lower,
    /// Both.
    Both,
}

/// Along which edges of a top its arrises are worked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum EdgeSides {
    /// Front and both ends; the back stands against a wall.
    #[default]
    FrontAndEnds,
    /// All round.
    AllRound,
}

/// Wooden buttons under a solid top: screwed to the top, their tongues in slots of the rails.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Buttons {
    /// Length along the grain, tongue included, mm.
    pub length: Length,
    /// Width along the rail, mm.
    pub width: Length,
    /// Thickness, mm.
    pub thickness: Length,
    /// Length and thickness of the tongue, mm.
    pub tongue: Length,
    /// From a post, muntin or cross rail to the middle of the first button, mm.
    pub first: Length,
    /// Greatest distance from button to button, mm.
    pub spacing: Length,
    /// The line of the top that stays where it is.
    pub fixed: FixedLine,
}

/// The line of a solid top that stays where it is while the rest moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum FixedLine {
    /// The front stays: all movement shows at the back.
    Front,
    /// The middle stays: half shows at each edge.
    Centre,
    /// The back stays: all movement shows at the front.
    Back,
}

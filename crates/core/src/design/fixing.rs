//! What holds a solid top down and lets it move.

use serde::{Deserialize, Serialize};

use crate::length::Length;

/// What holds a solid top down and lets it move.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum TopFixing {
    /// Wooden buttons with their tongues in slots of the rails.
    #[default]
    Buttons,
    /// Offset metal clips with their tongues in kerfs of the rails.
    Clips,
    /// Figure-eight plates, let into the rails.
    Plates,
    /// Screws through slots in strips that are glued to the rails.
    SlottedScrews,
}

/// Offset metal clips: screwed to the top, their tongues in kerfs of the rails.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Clips {
    /// Length across the rail, tongue included, mm.
    pub length: Length,
    /// Width along the rail, mm.
    pub width: Length,
    /// Thickness of the metal, mm.
    pub metal: Length,
    /// From the underside of the top to the upper face of the tongue, mm.
    pub offset: Length,
    /// Width of the kerf upward, mm.
    pub kerf: Length,
    /// Depth of the kerf, mm.
    pub depth: Length,
}

impl Default for Clips {
    /// A kerf of 3.2 by 9.5, as a saw cuts it (Tabletop fasteners, a maker's class page, 2010); the clip: common practice, no source.
    fn default() -> Clips {
        let mm = Length::mm;
        Clips { length: mm(32.0), width: mm(18.0), metal: mm(2.0), offset: mm(11.0), kerf: mm(3.2), depth: mm(9.5) }
    }
}

/// Figure-eight plates: one ring screwed into the upper edge of a rail, the other to the top.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Plates {
    /// Diameter of each ring, mm.
    pub diameter: Length,
    /// From the middle of one ring to the middle of the other, mm.
    pub centres: Length,
    /// Thickness of the metal, mm.
    pub metal: Length,
    /// How much deeper its recess is than the plate is thick, mm.
    pub deeper: Length,
}

impl Default for Plates {
    /// Common practice, no source.
    fn default() -> Plates {
        let mm = Length::mm;
        Plates { diameter: mm(17.0), centres: mm(15.0), metal: mm(2.5), deeper: mm(0.2) }
    }
}

/// Strips glued to the inner faces of the top rails, with slots across the top's grain for screws.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct SlottedStrips {
    /// Section of the strips, width and height alike, mm.
    pub section: Length,
    /// Diameter of the shank of the screws, mm.
    pub shank: Length,
    /// Diameter of the washers under their heads, mm.
    pub washer: Length,
}

impl Default for SlottedStrips {
    /// A shank of 5; strip and washer: common practice, no source.
    fn default() -> SlottedStrips {
        let mm = Length::mm;
        SlottedStrips { section: mm(24.0), shank: mm(5.0), washer: mm(14.0) }
    }
}

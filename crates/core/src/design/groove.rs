//! Grooves for panels, and the cutter that makes them.

use serde::{Deserialize, Serialize};

use crate::length::Length;

/// Grooves for panels.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Groove {
    /// Depth, mm.
    pub depth: Length,
    /// How far short of the bottom of the groove the panel ends, mm.
    pub play: Length,
    /// How the width is found.
    pub width_by: GrooveWidth,
    /// Groove less panel in thickness, when the width follows the sheet, mm.
    pub fit: Length,
    /// Width of the groove when it is the maker's own, mm.
    pub own_width: Length,
    /// How wide the cutter that makes the grooves cuts, mm: the diameter of a round cutter, the thickness of a slot cutter.
    pub cutter: Length,
    /// What kind of cutter it is.
    #[serde(default)]
    pub cutter_kind: CutterKind,
    /// Diameter of the slot cutter or saw, when it is one, mm.
    #[serde(default = "slot_cutter")]
    pub cutter_diameter: Length,
    /// How panels pass what the cutter leaves where a groove stops.
    #[serde(default)]
    pub corners: PanelCorners,
}

/// How a panel passes what the cutter leaves where its groove stops.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum PanelCorners {
    /// Its corners stay square: the groove is at full depth as far as they reach, and runs out beyond.
    #[default]
    Square,
    /// Its corners are cut off: the groove runs out where the panel ends.
    CutOff,
}

/// What kind of cutter makes a groove.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum CutterKind {
    /// A round cutter that plunges: a groove stops half round.
    #[default]
    Round,
    /// A slot cutter, or a saw: a groove stops in a ramp.
    Slot,
}

/// The slot cutter that is taken until the maker says which: 40 mm (common practice, no source).
fn slot_cutter() -> Length {
    Length::mm(40.0)
}

/// How the width of a groove is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum GrooveWidth {
    /// The measured thickness of the sheet and the fit.
    FromSheet,
    /// The maker's own width.
    Own,
}

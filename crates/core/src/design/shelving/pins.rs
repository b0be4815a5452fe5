//! Shelves on pins in rows of holes.

use serde::{Deserialize, Serialize};

use crate::design::Ruled;
use crate::length::Length;

/// Rows of holes in the posts and dividers, and the pins in them; alike in every bay that has them.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Pins {
    /// From hole to hole, mm.
    pub pitch: Length,
    /// From the floor of the bay up to the middle of the lowest hole, mm: every row is set out from there.
    pub first: Length,
    /// What stays clear above the highest hole, at least, mm.
    pub clear: Length,
    /// Diameter of the holes, mm.
    pub diameter: Length,
    /// Depth of the holes, which are stopped, mm.
    pub depth: Length,
    /// How far a pin stands out of its hole, mm.
    pub reach: Length,
    /// How much thinner a pin is than its hole, mm.
    pub fit: Length,
    /// From the front of the posts back to the front rows, mm.
    #[serde(skip_serializing_if = "crate::design::shop::is_default")]
    pub front: Ruled,
    /// From the back of the posts to the back rows, mm.
    #[serde(skip_serializing_if = "crate::design::shop::is_default")]
    pub back: Ruled,
    /// What the pins are made of.
    #[serde(skip_serializing_if = "crate::design::shop::is_default")]
    pub of: PinOf,
}

/// What pins are made of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum PinOf {
    /// Bought, of steel.
    #[default]
    Steel,
    /// Turned of the shelving's timber.
    Wood,
}

impl Default for Pins {
    /// Holes of 5 every 32, 37 from the edges (the 32 mm system of cabinet making; read). Holes 10 to 13 deep: common practice, no source.
    fn default() -> Pins {
        Pins {
            pitch: Length::mm(32.0),
            first: Length::mm(96.0),
            clear: Length::mm(96.0),
            diameter: Length::mm(5.0),
            depth: Length::mm(12.0),
            reach: Length::mm(10.0),
            fit: Length::mm(0.1),
            front: Ruled::ByRule,
            back: Ruled::ByRule,
            of: PinOf::Steel,
        }
    }
}

/// From an edge to its row of holes, mm: the 32 mm system of cabinet making (read).
const SETBACK: f64 = 37.0;
/// Wood that is left from a row of holes to the inner edge of what it is bored in, mm (common practice, no source: never under 5 beside a mortise).
const INNER_EDGE: f64 = 5.0;

impl Pins {
    /// How many holes a row has between two levels that are so far apart: the first, and one every pitch while enough stays clear above.
    pub fn holes(&self, between: f64) -> u32 {
        let room = between - self.first.to_mm() - self.clear.to_mm();
        if room < -1e-9 { 0 } else { (room / self.pitch.to_mm() + 1e-9).floor() as u32 + 1 }
    }

    /// Height of a hole's middle over the floor of the bay, counted from 1, mm.
    pub fn height(&self, hole: u32) -> f64 {
        self.first.to_mm() + self.pitch.to_mm() * (f64::from(hole) - 1.0)
    }

    /// From the outer face of an upright so deep to its row, by rule, mm: 37, or in one that is less deep as far in as leaves wood beside the holes, so that the
    /// shelf, which ends inside of the frame, lies on the pins.
    pub fn setback(&self, upright: f64) -> f64 {
        SETBACK.min((upright - self.diameter.to_mm() / 2.0 - INNER_EDGE).max(upright / 2.0))
    }
}

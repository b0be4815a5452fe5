//! Shelves: what each system is made of, a file a system.

mod board;
mod cleats;
mod housed;
mod pins;
mod sawtooth;

use serde::{Deserialize, Serialize};

pub use board::{Board, ShelfOf};
pub use cleats::{CleatsBy, FixedCleats};
pub use housed::Housed;
pub use pins::{PinOf, Pins};
pub use sawtooth::{Cleat, MidStandards, Sawtooth, Slats, Spacers, Teeth, ThickBy};

use super::{Design, Fitting, Opening};
use crate::joint::seat::seat_height;

/// The shelves of a bay.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shelves {
    /// The level on which each shelf lies, counted from the lowest, which is 1: a tooth, a hole, or a step of those that are fixed.
    pub shelves: Vec<u32>,
}

/// What holds the shelves of a bay.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum System {
    /// Loose cleats in sawtooth standards.
    Sawtooth,
    /// Pins in rows of holes.
    Pins,
    /// Cleats that are fixed.
    Cleats,
    /// The ends of the shelves are let in.
    Housed,
}

impl System {
    /// All.
    pub const ALL: [System; 4] = [System::Sawtooth, System::Pins, System::Cleats, System::Housed];

    /// In a few words.
    pub fn words(self) -> &'static str {
        match self {
            System::Sawtooth => "loose cleats in sawtooth standards",
            System::Pins => "pins in rows of holes",
            System::Cleats => "cleats that are fixed",
            System::Housed => "housings",
        }
    }

    /// The upper face of a shelf at the lowest of its levels over the floor of the bay, as a design has it, and from level to level, mm.
    pub fn levels(self, design: &Design) -> (f64, f64) {
        let Design { sawtooth, pins, cleats, housed, shelf, .. } = design;
        let board = |of: ShelfOf| match of {
            ShelfOf::Slats => sawtooth.slats.thickness.to_mm(),
            ShelfOf::Solid => shelf.thickness.to_mm(),
        };
        match self {
            System::Sawtooth => {
                let under = seat_height(sawtooth, 1) + sawtooth.cleat.height.to_mm();
                (under + board(sawtooth.of), sawtooth.pitch.to_mm())
            }
            System::Pins => {
                let pin = (pins.diameter.to_mm() - pins.fit.to_mm()) / 2.0;
                (pins.first.to_mm() + pin + shelf.thickness.to_mm(), pins.pitch.to_mm())
            }
            System::Cleats => (cleats.first.to_mm() + cleats.height.to_mm() + board(cleats.of), cleats.step.to_mm()),
            System::Housed => (housed.first.to_mm() + shelf.thickness.to_mm(), housed.step.to_mm()),
        }
    }

    /// Whether a design has it in some bay.
    pub fn is_in(self, opening: &Opening) -> bool {
        match opening {
            Opening::Leaf(fitting) => fitting.system() == Some(self),
            Opening::Split(split) => split.bays.iter().any(|bay| self.is_in(&bay.opening)),
        }
    }
}

impl Opening {
    /// What holds the shelves of the last of its bays that has some; none where there are none.
    pub fn system(&self) -> Option<System> {
        match self {
            Opening::Leaf(fitting) => fitting.system(),
            Opening::Split(split) => split.bays.iter().rev().find_map(|bay| bay.opening.system()),
        }
    }
}

impl Fitting {
    /// What holds the shelves; none where there are none.
    pub fn system(&self) -> Option<System> {
        match self {
            Fitting::Sawtooth(_) => Some(System::Sawtooth),
            Fitting::Pins(_) => Some(System::Pins),
            Fitting::Cleats(_) => Some(System::Cleats),
            Fitting::Housed(_) => Some(System::Housed),
            Fitting::Empty => None,
        }
    }

    /// The shelves.
    pub fn shelves(&self) -> Option<&Shelves> {
        match self {
            Fitting::Sawtooth(shelves) | Fitting::Pins(shelves) | Fitting::Cleats(shelves) | Fitting::Housed(shelves) => Some(shelves),
            Fitting::Empty => None,
        }
    }

    /// The shelves, to be changed.
    pub fn shelves_mut(&mut self) -> Option<&mut Shelves> {
        match self {
            Fitting::Sawtooth(shelves) | Fitting::Pins(shelves) | Fitting::Cleats(shelves) | Fitting::Housed(shelves) => Some(shelves),
            Fitting::Empty => None,
        }
    }

    /// Shelves held by a system; nothing without one.
    pub fn of(system: Option<System>, shelves: Shelves) -> Fitting {
        match system {
            Some(System::Sawtooth) => Fitting::Sawtooth(shelves),
            Some(System::Pins) => Fitting::Pins(shelves),
            Some(System::Cleats) => Fitting::Cleats(shelves),
            Some(System::Housed) => Fitting::Housed(shelves),
            None => Fitting::Empty,
        }
    }
}

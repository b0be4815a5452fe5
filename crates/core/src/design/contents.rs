//! The things it must hold, and the room they need about them.

use std::ops::RangeInclusive;

use serde::{Deserialize, Serialize};

use super::shop::is_default;
use crate::length::Length;

/// Outside sizes that a thing may have, mm.
pub const SIZES: RangeInclusive<f64> = 1.0..=3000.0;
/// Weights that a thing may have, kg.
pub const MASSES: RangeInclusive<f64> = 0.0..=500.0;
/// How many there may be of a kind.
pub const COUNTS: RangeInclusive<f64> = 0.0..=10_000.0;
/// How far things may nest, mm.
pub const NESTS: RangeInclusive<f64> = 0.0..=1000.0;
/// By how much their number may grow, %.
pub const SPARES: RangeInclusive<f64> = 0.0..=1000.0;

/// One kind of thing to be kept.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BoxKind {
    /// What it is called.
    pub name: String,
    /// Outside size from left to right as it stands on the shelf, mm.
    pub width: Length,
    /// Outside size from front to back, mm.
    pub depth: Length,
    /// Outside size upward, mm.
    pub height: Length,
    /// Weight of one, full, kg.
    pub mass: f64,
    /// How many there are.
    pub count: u32,
    /// How far one sinks into the one on which it stands, mm; less than its height.
    #[serde(default, skip_serializing_if = "is_default")]
    pub nests: Length,
    /// Which ways it may stand or lie.
    #[serde(default, skip_serializing_if = "is_default")]
    pub lies: Lies,
    /// What may stand on it.
    #[serde(default, skip_serializing_if = "is_default")]
    pub bears: Bears,
    /// How it is taken from its place.
    #[serde(default, skip_serializing_if = "is_default")]
    pub taken: Taken,
    /// How many more there may be one day, % of what there are.
    #[serde(default, skip_serializing_if = "is_default")]
    pub spare: f64,
}

impl BoxKind {
    /// One of a kind, of which nothing is known but its size and weight.
    pub fn new(name: impl Into<String>, [width, depth, height]: [f64; 3], mass: f64, count: u32) -> BoxKind {
        BoxKind {
            name: name.into(),
            width: Length::mm(width),
            depth: Length::mm(depth),
            height: Length::mm(height),
            mass,
            count,
            nests: Length::default(),
            lies: Lies::default(),
            bears: Bears::default(),
            taken: Taken::default(),
            spare: 0.0,
        }
    }

    /// How many it must be able to hold: what there are, and their growth, rounded up to whole ones.
    pub fn wanted(&self) -> u32 {
        // A hair less, so that 10 % of 20 is 2 and not 3 for a rounding error.
        let more = (f64::from(self.count) * self.spare / 100.0 - 1e-9).ceil().max(0.0);
        self.count.saturating_add(more as u32)
    }
}

/// Which ways a thing may stand or lie. Its front, where its label is, stays in front where that can be.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Lies {
    /// As it stands.
    #[default]
    AsItStands,
    /// Also a quarter turn round, one of its sides in front.
    Turned,
    /// Also laid on one of its sides.
    OnItsSide,
    /// Also laid on its back.
    OnItsBack,
    /// On any face, any way round.
    AnyWay,
}

/// What may stand on a thing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Bears {
    /// Others of its kind, as many as the room takes.
    #[default]
    Others,
    /// One more of its kind: they stand two high at most.
    One,
    /// Others of its kind, and things of other kinds that are no larger in plan and no heavier than it.
    Any,
    /// Nothing.
    Nothing,
}

/// How a thing is taken from its place.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Taken {
    /// Pulled out to the front, a hand over it.
    #[default]
    ByTheFront,
    /// Lifted first: out of the one below, and over its rim.
    Lifted,
}

/// The room that must stay free about things, and how high heavy ones may stand. All of it is common practice, no source; the maker may set other figures.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct HandRoom {
    /// Between things that stand side by side, and at both ends of their row.
    pub beside: Length,
    /// Over what is pulled out to the front.
    pub over: Length,
    /// Over what is lifted, besides how far it nests.
    pub lift: Length,
    /// Behind; the front may be flush with the front of the shelf.
    pub behind: Length,
    /// What doors that stand open take of the width of a bay: things are pulled out past them.
    pub doors: Length,
    /// From what weight on a thing is heavy, kg.
    pub heavy: f64,
    /// The highest shelf on which a heavy thing may stand, mm above the floor.
    pub heavy_up_to: Length,
    /// Heavy things are easily lifted from here, mm above the floor.
    pub knee: Length,
    /// And up to here.
    pub elbow: Length,
}

impl Default for HandRoom {
    /// 2 to 5 an item in width, 20 to 40 over it for a hand and 25 for a lid, 20 and the nest for lifting out of a stack, a little behind;
    /// nothing over 10 kg above 1500; knee and elbow of a grown-up who stands, from memory.
    fn default() -> HandRoom {
        HandRoom {
            beside: Length::mm(2.0),
            over: Length::mm(25.0),
            lift: Length::mm(20.0),
            behind: Length::mm(5.0),
            doors: Length::mm(0.0),
            heavy: 10.0,
            heavy_up_to: Length::mm(1500.0),
            knee: Length::mm(500.0),
            elbow: Length::mm(1050.0),
        }
    }
}

//! What the case is judged by under load, and what holds it to the wall.

use serde::{Deserialize, Serialize};

use super::shop::is_default;
use crate::length::Length;
use crate::{stability, strength};

/// How long the load stays, what is put on the top, and how much is too much. All are the program's own figures and no standard's; the
/// maker may set others.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Limits {
    /// For how long the shelves stay loaded, years: a sag grows up to ten.
    pub years: f64,
    /// What may be put on the top, kg to the square metre.
    pub on_top: f64,
    /// How far a part may sag.
    #[serde(skip_serializing_if = "is_default")]
    pub sag: strength::Limits,
    /// The push at its top edge under which a case that is not anchored must stay, N.
    pub push: f64,
    /// How many times as high as deep a case that is not anchored may be.
    pub slender: f64,
    /// What one person lifts, kg.
    pub lift: f64,
    /// How high a case with drawers may be that is not anchored, mm.
    pub with_drawers: Length,
    /// What an open drawer must bear at its front, all others open too, without tipping a case that is not anchored, kg.
    pub on_drawer: f64,
}

/// What one person lifts in ideal conditions, kg: the load constant of the NIOSH lifting equation, 51 lb (read). It is then reduced for
/// reach, height and grip; a real lift allows less.
pub const LIFT: f64 = 23.0;

/// What may be put on a top until the maker says otherwise, kg/m²: ANSI/KCMA A161.1 loads shelves and bottoms of kitchen cabinets with
/// 15 lb/ft² (read in a summary).
pub const ON_TOP: f64 = 73.0;

impl Default for Limits {
    fn default() -> Limits {
        let stands = stability::Limits::default();
        Limits {
            years: strength::CREEP_YEARS,
            on_top: ON_TOP,
            sag: strength::Limits::default(),
            push: stands.push,
            slender: stands.slender,
            lift: LIFT,
            with_drawers: Length::mm(stands.with_drawers),
            on_drawer: stands.on_drawer,
        }
    }
}

impl Limits {
    /// From where on the case is to be anchored.
    pub fn stands(&self) -> stability::Limits {
        let Limits { push, slender, with_drawers, on_drawer, .. } = *self;
        stability::Limits { push, slender, with_drawers: with_drawers.to_mm(), on_drawer }
    }
}

/// Whether the case is fastened to the wall behind it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Wall {
    /// It stands by itself.
    #[default]
    Free,
    /// It is anchored to the structure of the building.
    Anchored(Anchors),
}

/// What holds a case to the wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Anchors {
    /// How many fixings share the pull; they sit at the middle of the back's top rail.
    pub fixings: u32,
}

impl Default for Anchors {
    /// One at each end, so that the case can't turn away from the wall (common practice, no source).
    fn default() -> Anchors {
        Anchors { fixings: 2 }
    }
}

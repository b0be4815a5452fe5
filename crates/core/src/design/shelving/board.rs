//! Solid shelves: a board glued up, its grain from side to side.

use serde::{Deserialize, Serialize};

use crate::design::{Design, Dimension, Ruled};
use crate::length::Length;
use crate::model::Material;
use crate::timber::Rates;

/// What a shelf that lies on cleats is made of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum ShelfOf {
    /// Slats with gaps between them.
    #[default]
    Slats,
    /// One solid board.
    Solid,
}

/// A solid shelf, alike in all bays that have one.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Board {
    /// Thickness, mm.
    pub thickness: Length,
    /// Free room at each end, mm.
    pub play: Length,
    /// From the front of the posts to its front edge, mm.
    pub set_back: Length,
    /// Room left behind it for it to grow across its width, and in its notches, mm; by rule what it grows to the wettest and 1 more.
    #[serde(skip_serializing_if = "crate::design::shop::is_default")]
    pub room: Ruled,
}

impl Default for Board {
    /// 2.5 shorter in all than the opening (common practice, no source: 2 to 3 on pins).
    fn default() -> Board {
        Board { thickness: Length::mm(22.0), play: Length::mm(1.25), set_back: Length::mm(12.0), room: Ruled::ByRule }
    }
}

/// Free room besides what a board grows across its grain, mm (common practice, no source: 1 and the computed movement).
const FREE: f64 = 1.0;

impl Board {
    /// The room that a board so wide needs by rule to grow across its grain to the wettest, mm: never less than none.
    pub fn room_by_rule(design: &Design, width: f64) -> f64 {
        let grows = growth(design, width).max(0.0) + FREE;
        (grows * 10.0).ceil() / 10.0
    }
}

/// How much a board of the shelving's timber grows across a width from as built to the wettest, mm.
fn growth(design: &Design, width: f64) -> f64 {
    let timber = &design.timber;
    let rates = Rates::of(&Material::Solid(timber.shelving.clone()), timber.sawn.shelving, &timber.timbers());
    width * rates.along(Dimension::Width) * (timber.moisture.wettest() - timber.moisture.built)
}

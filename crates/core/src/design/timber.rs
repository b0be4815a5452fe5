//! Timber, sheets, finish and moisture.

use serde::{Deserialize, Serialize};

use super::shop::is_default;
use super::{Facings, Kerfs, Moisture, OwnSheet, OwnSpecies, Rough};
use crate::length::Length;
use crate::timber::{Sawn, Timbers};

/// Timber, sheets and moisture.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Timber {
    /// Species of the carcase: posts, rails, stiles, muntins, bearers.
    pub frame: String,
    /// Species of the top and its buttons.
    pub top: String,
    /// Species of standards, cleats and slats.
    pub shelving: String,
    /// The sheet for the panels.
    pub panel: Sheet,
    /// The sheet for the floor.
    pub floor: Sheet,
    /// What is glued onto the sheets in the shop.
    #[serde(default, skip_serializing_if = "is_default")]
    pub facing: Facings,
    /// How the solid timber was sawn.
    #[serde(default, skip_serializing_if = "is_default")]
    pub sawn: SawnAs,
    /// What it is finished with.
    #[serde(default, skip_serializing_if = "is_default")]
    pub finish: Finish,
    /// How it is coated.
    #[serde(default, skip_serializing_if = "is_default")]
    pub coating: Coating,
    /// Moisture of the timber.
    pub moisture: Moisture,
    /// The sticks that solid parts are crosscut from.
    pub sticks: Sticks,
    /// How much larger than finished they are roughed out.
    #[serde(default, skip_serializing_if = "is_default")]
    pub rough: Rough,
    /// Species that the tables do not have.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub own_species: Vec<OwnSpecies>,
    /// Sheets that the tables do not have.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub own_sheets: Vec<OwnSheet>,
    /// What the maker keeps in a file of own timber besides; it is no part of the design.
    #[serde(skip)]
    pub library: Timbers,
}

impl Timber {
    /// What the saws take of boards, or of sheets.
    pub fn kerfs(&self, sheets: bool) -> Kerfs {
        self.rough.kerfs(self.sticks.kerf.to_mm(), sheets)
    }
}

/// What a piece is finished with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Finish {
    /// It is not decided yet.
    #[default]
    Open,
    /// Nothing, or soap, or wax.
    Bare,
    /// A drying oil, such as linseed or tung, or what has some in it.
    DryingOil,
    /// Lacquer, varnish or shellac without oil.
    Film,
}

impl Finish {
    /// What is bought for it, to be named in a list.
    pub fn stuff(self) -> &'static str {
        match self {
            Finish::Open => "finish, still to be decided",
            Finish::Bare => "soap or wax, if any",
            Finish::DryingOil => "drying oil",
            Finish::Film => "lacquer, varnish or shellac",
        }
    }
}

/// How a piece is coated.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Coating {
    /// How many coats.
    pub coats: u32,
    /// What a litre covers in one coat, m².
    pub covers: f64,
}

impl Default for Coating {
    /// Three coats of 10 m² a litre (from memory; the tin tells).
    fn default() -> Coating {
        Coating { coats: 3, covers: 10.0 }
    }
}

/// How the solid timber was sawn, by what it is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SawnAs {
    /// The carcase.
    #[serde(default)]
    pub frame: Sawn,
    /// The top and its buttons.
    #[serde(default)]
    pub top: Sawn,
    /// Standards, cleats and slats.
    #[serde(default)]
    pub shelving: Sawn,
}

/// Sheet goods as sold and as measured.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sheet {
    /// Product, by its name in the table of sheet goods.
    pub product: String,
    /// Thickness it is sold as, mm.
    pub nominal: Length,
    /// Thickness measured on the sheet in the shop, mm. Grooves follow this one.
    pub measured: Length,
}

/// Sticks of one section, from which solid parts are crosscut.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sticks {
    /// Length, mm.
    pub length: Length,
    /// Width of the saw cut, mm.
    pub kerf: Length,
    /// Cut off each end, mm.
    pub trim: Length,
}

//! What a stuff bears: the figures that a section needs, and those that stresses are held against.

use std::borrow::Cow;

use thiserror::Error;

use super::{Board, Layer};
use crate::model::Material;
use crate::timber::{How, Known, Timbers};

/// The share of the modulus of elasticity that is taken for the shear modulus where none was measured: a sixteenth (Wood Handbook
/// FPL-GTR-282, chapter 9).
pub const SHEAR_SHARE: f64 = 1.0 / 16.0;

/// What a stuff bears. Figures of timber are means of small clear pieces at 12 % moisture, no design values.
#[derive(Clone, Debug, PartialEq)]
pub struct Properties {
    /// What it is called.
    pub name: String,
    /// Modulus of elasticity along the beam, N/mm².
    pub modulus: Known,
    /// Shear modulus, N/mm².
    pub shear_modulus: Known,
    /// Density, kg/m³.
    pub density: Option<Known>,
    /// The stress at which it breaks in bending, N/mm².
    pub rupture: Option<Known>,
    /// The stress at which it breaks in shear along the grain, N/mm².
    pub shear: Option<Known>,
    /// The stress across the grain at the proportional limit, N/mm².
    pub across: Option<Known>,
    /// Specific gravity, a plain number: what screws hold by.
    pub gravity: Option<Known>,
    /// What kind of stuff it is, where that is told: how much of its strength it keeps under a load that stays.
    pub board: Option<Board>,
}

/// Why a stuff can't be reckoned with.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum PropertiesError {
    /// No table has it.
    #[error("{name} is in no table; name one that is, or give its modulus of elasticity")]
    NotKnown {
        /// What was asked for.
        name: String,
    },
    /// Its stiffness is not known.
    #[error("no modulus of elasticity is known for {name}; give one, or choose another stuff")]
    NoModulus {
        /// Its name.
        name: String,
    },
}

impl Properties {
    /// A stuff of which only the modulus of elasticity is given, N/mm²; the shear modulus is a sixteenth of it.
    pub fn plain(name: impl Into<String>, modulus: f64) -> Properties {
        Properties::with_modulus(name, Known::new(modulus, How::Maker, GIVEN))
    }

    /// A stuff of a known modulus of elasticity.
    fn with_modulus(name: impl Into<String>, modulus: Known) -> Properties {
        let shear_modulus = modulus.derived(modulus.value * SHEAR_SHARE);
        let shear_modulus = Known { source: Cow::Borrowed(SHEAR_SOURCE), ..shear_modulus };
        Properties {
            name: name.into(),
            modulus,
            shear_modulus,
            density: None,
            rupture: None,
            shear: None,
            across: None,
            gravity: None,
            board: None,
        }
    }

    /// What a part is made of, as the tables and the maker's own have it; of a sheet along its face grain.
    ///
    /// # Errors
    ///
    /// When no table has it, or its modulus of elasticity is not known.
    pub fn of(material: &Material, timbers: &Timbers) -> Result<Properties, PropertiesError> {
        let not_known = |name: &str| PropertiesError::NotKnown { name: name.to_owned() };
        let modulus = |modulus: Option<&Known>, name: &str| modulus.cloned().ok_or(PropertiesError::NoModulus { name: name.to_owned() });
        if let Some(species) = timbers.wood(material) {
            let name = timbers.name(material);
            return Ok(Properties {
                density: species.density.clone(),
                rupture: species.mor.clone(),
                shear: species.shear.clone(),
                across: species.compression.clone(),
                gravity: species.gravity.clone(),
                board: Some(Board::Timber),
                ..Properties::with_modulus(name, modulus(species.moe.as_ref(), name)?)
            });
        }
        match material {
            Material::Solid(id) => Err(not_known(id)),
            Material::Sheet(id) => {
                let sheet = timbers.sheet(id).ok_or_else(|| not_known(id))?;
                let plain = Properties::with_modulus(&sheet.name, modulus(sheet.moe.as_ref(), &sheet.name)?);
                Ok(Properties { density: sheet.density.clone(), rupture: sheet.mor.clone(), board: Board::of(material), ..plain })
            }
            Material::Bought(name) => Err(not_known(name)),
        }
    }

    /// What a part is made of bears across its grain, or across the face grain of a sheet. Solid wood has `share` of its modulus there;
    /// how strong it is across the grain no table tells. A sheet whose modulus across is not known is taken to be alike both ways.
    ///
    /// # Errors
    ///
    /// As [`of`](Properties::of).
    pub fn across(material: &Material, timbers: &Timbers, share: f64) -> Result<Properties, PropertiesError> {
        let along = Properties::of(material, timbers)?;
        let sheet = match material {
            Material::Sheet(id) => timbers.sheet(id).filter(|sheet| sheet.boards.is_none()),
            Material::Solid(_) | Material::Bought(_) => None,
        };
        let (modulus, rupture) = if let Some(sheet) = sheet {
            (sheet.moe_cross.clone().unwrap_or_else(|| along.modulus.clone()), sheet.mor_cross.clone())
        } else {
            let modulus = along.modulus.derived(along.modulus.value * share);
            (Known { how: How::Memory, source: Cow::Borrowed(ACROSS_SOURCE), ..modulus }, None)
        };
        let across = Properties::with_modulus(along.name.clone(), modulus);
        Ok(Properties { density: along.density, rupture, across: along.across, gravity: along.gravity, board: along.board, ..across })
    }

    /// The same with another modulus of elasticity, N/mm²; the shear modulus follows.
    #[must_use]
    pub fn with_own_modulus(self, modulus: f64) -> Properties {
        let own = Properties::plain("", modulus);
        Properties { modulus: own.modulus, shear_modulus: own.shear_modulus, ..self }
    }

    /// The same with a measured shear modulus, N/mm².
    #[must_use]
    pub fn with_shear_modulus(self, shear_modulus: f64) -> Properties {
        Properties { shear_modulus: Known::new(shear_modulus, How::Maker, GIVEN), ..self }
    }

    /// The same with a given density, kg/m³.
    #[must_use]
    pub fn with_density(self, density: f64) -> Properties {
        Properties { density: Some(Known::new(density, How::Maker, GIVEN)), ..self }
    }

    /// A rectangle of it in a section: `width` across the beam, `top` and `bottom` from the highest level down, mm.
    pub fn layer(&self, width: f64, top: f64, bottom: f64) -> Layer {
        Layer {
            width,
            top,
            bottom,
            modulus: self.modulus.value,
            shear_modulus: self.shear_modulus.value,
            density: self.density.as_ref().map(|density| density.value),
        }
    }
}

const GIVEN: &str = "given";
const ACROSS_SOURCE: &str = "a share of the modulus along the grain, Wood Handbook FPL-GTR-282, table 5-1";
const SHEAR_SOURCE: &str = "a sixteenth of the modulus of elasticity, Wood Handbook FPL-GTR-282, chapter 9";

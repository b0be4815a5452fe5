//! What a stuff bears: the figures that a section needs.

use super::Layer;

/// The share of the modulus of elasticity that is taken for the shear modulus where none was measured: a sixteenth (Wood Handbook
/// FPL-GTR-282, chapter 9).
pub const SHEAR_SHARE: f64 = 1.0 / 16.0;

/// What a stuff bears.
#[derive(Clone, Debug, PartialEq)]
pub struct Properties {
    /// What it is called.
    pub name: String,
    /// Modulus of elasticity along the beam, N/mm².
    pub modulus: f64,
    /// Shear modulus, N/mm².
    pub shear_modulus: f64,
    /// Density, kg/m³, where known.
    pub density: Option<f64>,
}

impl Properties {
    /// A stuff of which only the modulus of elasticity is known, N/mm²; the shear modulus is a sixteenth of it.
    pub fn plain(name: impl Into<String>, modulus: f64) -> Properties {
        Properties { name: name.into(), modulus, shear_modulus: modulus * SHEAR_SHARE, density: None }
    }

    /// A rectangle of it in a section: `width` across the beam, `top` and `bottom` from the highest level down, mm.
    pub fn layer(&self, width: f64, top: f64, bottom: f64) -> Layer {
        Layer { width, top, bottom, modulus: self.modulus, shear_modulus: self.shear_modulus, density: self.density }
    }
}

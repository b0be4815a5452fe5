//! What a beam is across: how stiff it is in bending and in shear, and where it is stressed most.

use thiserror::Error;

use super::Properties;

/// One rectangle of a section; rectangles may lie over each other or side by side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layer {
    /// Across the beam, mm.
    pub width: f64,
    /// From the highest level of the section down to its upper face, mm.
    pub top: f64,
    /// From the highest level of the section down to its lower face, mm.
    pub bottom: f64,
    /// Modulus of elasticity along the beam, N/mm².
    pub modulus: f64,
    /// Shear modulus, N/mm².
    pub shear_modulus: f64,
    /// Density, kg/m³, where known.
    pub density: Option<f64>,
}

/// Why a section is none.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum SectionError {
    /// A size or a modulus is not above zero and finite.
    #[error("{name} of a section is {found}; it must be above 0")]
    NotPositive {
        /// Which.
        name: &'static str,
        /// What was found.
        found: f64,
    },
    /// There are no rectangles.
    #[error("a section needs one rectangle at the least")]
    Empty,
    /// Between two levels there is nothing, so that the parts above and below do not act together.
    #[error("the section has nothing at {at} mm from its top; its rectangles must touch")]
    Apart {
        /// The level from the top, mm.
        at: f64,
    },
}

/// A section of one or more rectangles that act as one.
///
/// Different stuffs are taken together by the rule of the transformed section: each counts by its modulus (statics). The shear stiffness
/// is that of the energy of the shear stress over the section; for one rectangle it is G·5/6·b·h, as in the Wood Handbook.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    layers: Vec<Layer>,
    /// From the top down, mm.
    neutral: f64,
    /// N·mm².
    bending: f64,
    /// N.
    shear: f64,
    /// Greatest shear stress in N/mm² for a shear force of 1 N.
    peak_shear: f64,
}

impl Section {
    /// A rectangle, laid flat: `width` across the beam and `thickness` upward, mm.
    ///
    /// # Errors
    ///
    /// When a size is not above zero.
    pub fn rectangle(width: f64, thickness: f64, of: &Properties) -> Result<Section, SectionError> {
        Section::of(vec![of.layer(width, 0.0, thickness)])
    }

    /// A shelf with a strip glued under it: both `width`s across the beam, mm. The strip lies along the whole shelf.
    ///
    /// # Errors
    ///
    /// When a size is not above zero.
    pub fn strip_under(shelf: (f64, f64, &Properties), strip: (f64, f64, &Properties)) -> Result<Section, SectionError> {
        let (width, thickness, of) = shelf;
        let (strip_width, strip_height, strip_of) = strip;
        Section::of(vec![of.layer(width, 0.0, thickness), strip_of.layer(strip_width, thickness, thickness + strip_height)])
    }

    /// A shelf with a strip glued to its edge, flush above and reaching below it when it is higher; the strip's width is across the beam.
    ///
    /// # Errors
    ///
    /// When a size is not above zero.
    pub fn strip_on_edge(shelf: (f64, f64, &Properties), strip: (f64, f64, &Properties)) -> Result<Section, SectionError> {
        let (width, thickness, of) = shelf;
        let (strip_width, strip_height, strip_of) = strip;
        Section::of(vec![of.layer(width, 0.0, thickness), strip_of.layer(strip_width, 0.0, strip_height)])
    }

    /// Any rectangles that touch.
    ///
    /// # Errors
    ///
    /// When there is none, when one has no size or stiffness, or when they leave a gap between two levels.
    pub fn of(layers: Vec<Layer>) -> Result<Section, SectionError> {
        if layers.is_empty() {
            return Err(SectionError::Empty);
        }
        for layer in &layers {
            let figures = [
                ("the width", layer.width),
                ("the thickness", layer.bottom - layer.top),
                ("the modulus of elasticity", layer.modulus),
                ("the shear modulus", layer.shear_modulus),
            ];
            if let Some((name, found)) = figures.into_iter().find(|(_, figure)| !(*figure > 0.0 && figure.is_finite())) {
                return Err(SectionError::NotPositive { name, found });
            }
        }
        let stiff: f64 = layers.iter().map(Layer::stiff).sum();
        let neutral = layers.iter().map(|layer| layer.stiff() * layer.centre()).sum::<f64>() / stiff;
        let bending = layers.iter().map(|layer| layer.bending_about(neutral)).sum();
        let mut section = Section { layers, neutral, bending, shear: 0.0, peak_shear: 0.0 };
        let levels = section.levels();
        for pair in levels.windows(2) {
            if section.width_between(pair[0], pair[1]) <= 0.0 {
                return Err(SectionError::Apart { at: pair[0].midpoint(pair[1]) });
            }
        }
        section.shear = 1.0 / levels.windows(2).map(|pair| section.shear_energy(pair[0], pair[1])).sum::<f64>();
        section.peak_shear = levels.windows(2).map(|pair| section.shear_between(pair[0], pair[1])).fold(0.0, f64::max);
        Ok(section)
    }

    /// Its rectangles.
    pub fn layers(&self) -> &[Layer] {
        &self.layers
    }

    /// Stiffness in bending, E·I, N·mm².
    pub fn bending(&self) -> f64 {
        self.bending
    }

    /// Stiffness in shear, G·A′, N.
    pub fn shear(&self) -> f64 {
        self.shear
    }

    /// From the top of the section down to where bending stresses nothing, mm.
    pub fn neutral(&self) -> f64 {
        self.neutral
    }

    /// kg a millimetre of length, where the density of everything in it is known.
    pub fn kg_per_mm(&self) -> Option<f64> {
        self.layers.iter().map(|layer| Some(layer.density? * 1e-9 * layer.area())).sum()
    }

    /// The greatest bending stress under a moment, N/mm², wherever in the section it is.
    pub fn bending_stress(&self, moment: f64) -> f64 {
        let farthest = |layer: &Layer| (layer.top - self.neutral).abs().max((layer.bottom - self.neutral).abs());
        self.layers.iter().map(|layer| moment.abs() * layer.modulus * farthest(layer) / self.bending).fold(0.0, f64::max)
    }

    /// The greatest shear stress under a shear force, N/mm²; 1.5 V/(b·h) in a rectangle.
    pub fn shear_stress(&self, force: f64) -> f64 {
        force.abs() * self.peak_shear
    }

    /// All levels at which something begins or ends, and the neutral one, from the top down.
    fn levels(&self) -> Vec<f64> {
        let mut levels: Vec<f64> = self.layers.iter().flat_map(|layer| [layer.top, layer.bottom]).chain([self.neutral]).collect();
        levels.sort_by(f64::total_cmp);
        levels.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        levels
    }

    fn between(&self, from: f64, to: f64) -> impl Iterator<Item = &Layer> {
        let middle = from.midpoint(to);
        self.layers.iter().filter(move |layer| layer.top < middle && middle < layer.bottom)
    }

    fn width_between(&self, from: f64, to: f64) -> f64 {
        self.between(from, to).map(|layer| layer.width).sum()
    }

    /// The first moment of what lies below a level, by modulus, N·mm: what drives the shear flow there.
    fn below(&self, level: f64) -> f64 {
        let part = |layer: &Layer| {
            let top = layer.top.max(level);
            let high = (layer.bottom - top).max(0.0);
            layer.modulus * layer.width * high * (top + high / 2.0 - self.neutral)
        };
        self.layers.iter().map(part).sum()
    }

    /// The shear stress for 1 N, at its greatest between two neighbouring levels; the flow is monotone between them.
    fn shear_between(&self, from: f64, to: f64) -> f64 {
        self.below(from).abs().max(self.below(to).abs()) / (self.bending * self.width_between(from, to))
    }

    /// The shear strain energy of 1 N between two neighbouring levels, doubled, 1/N: Gauss's rule of three points is exact for the
    /// fourth power.
    fn shear_energy(&self, from: f64, to: f64) -> f64 {
        let stiff: f64 = self.between(from, to).map(|layer| layer.shear_modulus * layer.width).sum();
        let (middle, half) = (from.midpoint(to), (to - from) / 2.0);
        let at = |x: f64| (self.below(middle + half * x) / self.bending).powi(2);
        let outer = 0.6_f64.sqrt();
        half * (5.0 * at(-outer) + 8.0 * at(0.0) + 5.0 * at(outer)) / 9.0 / stiff
    }
}

impl Layer {
    fn area(&self) -> f64 {
        self.width * (self.bottom - self.top)
    }

    fn centre(&self) -> f64 {
        self.top.midpoint(self.bottom)
    }

    fn stiff(&self) -> f64 {
        self.modulus * self.area()
    }

    fn bending_about(&self, neutral: f64) -> f64 {
        let high = self.bottom - self.top;
        self.stiff() * (high * high / 12.0 + (self.centre() - neutral).powi(2))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stuff(modulus: f64) -> Properties {
        Properties::plain("stuff", modulus)
    }

    /// Wood Handbook FPL-GTR-282, equation 9-2: I = b·h³/12, A′ = 5/6·b·h; shear stress 1.5 V/(b·h) by statics.
    #[test]
    fn a_rectangle_is_as_the_handbook_has_it() {
        let shelf = Section::rectangle(250.0, 19.0, &stuff(12_500.0)).expect("a section");
        assert!((shelf.bending() / (12_500.0 * 250.0 * 19.0_f64.powi(3) / 12.0) - 1.0).abs() < 1e-12);
        assert!((shelf.shear() / (12_500.0 / 16.0 * 5.0 / 6.0 * 250.0 * 19.0) - 1.0).abs() < 1e-12);
        assert!((shelf.shear_stress(100.0) - 150.0 / (250.0 * 19.0)).abs() < 1e-12);
        assert!((shelf.bending_stress(1e5) - 1e5 * 6.0 / (250.0 * 361.0)).abs() < 1e-9);
    }

    /// A lip 20 wide and 45 high on the edge of a 19 × 280 shelf of the same wood, flush above: 2.76 times as stiff (derived by statics).
    #[test]
    fn a_lip_stiffens_a_shelf() {
        let oak = stuff(12_500.0);
        let bare = Section::rectangle(280.0, 19.0, &oak).expect("a section");
        let lipped = Section::strip_on_edge((280.0, 19.0, &oak), (20.0, 45.0, &oak)).expect("a section");
        assert!((lipped.bending() / bare.bending() - 2.76).abs() < 0.005, "{}", lipped.bending() / bare.bending());
        let under = Section::strip_under((280.0, 19.0, &oak), (20.0, 45.0, &oak)).expect("a section");
        assert!(under.bending() > lipped.bending(), "lower down it does more");
    }

    /// By the transformed section: a strip twice as stiff is as good as one twice as wide.
    #[test]
    fn a_stiffer_strip_counts_as_a_wider_one() {
        let (soft, hard) = (stuff(3000.0), stuff(6000.0));
        let stiff = Section::strip_on_edge((280.0, 18.0, &soft), (20.0, 40.0, &hard)).expect("a section");
        let wide = Section::strip_on_edge((280.0, 18.0, &soft), (40.0, 40.0, &soft)).expect("a section");
        assert!((stiff.bending() / wide.bending() - 1.0).abs() < 1e-12 && (stiff.neutral() - wide.neutral()).abs() < 1e-9);
        assert!(stiff.bending_stress(1e5) > 1.9 * wide.bending_stress(1e5), "the stiffer strip takes the stress");
        // Cut into layers it is the same section.
        let layer = |top: f64, bottom: f64| soft.layer(100.0, top, bottom);
        let whole = Section::of(vec![layer(0.0, 30.0)]).expect("a section");
        let cut = Section::of(vec![layer(0.0, 7.0), layer(7.0, 19.0), layer(19.0, 30.0)]).expect("a section");
        assert!((whole.shear() / cut.shear() - 1.0).abs() < 1e-9 && (whole.bending() / cut.bending() - 1.0).abs() < 1e-9);
        assert!((whole.shear_stress(1.0) / cut.shear_stress(1.0) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn what_is_no_section_is_told() {
        let wood = stuff(10_000.0);
        assert_eq!(Section::of(Vec::new()), Err(SectionError::Empty));
        assert!(matches!(Section::rectangle(0.0, 19.0, &wood), Err(SectionError::NotPositive { name: "the width", .. })));
        assert!(matches!(Section::rectangle(100.0, f64::NAN, &wood), Err(SectionError::NotPositive { .. })));
        let apart = Section::of(vec![wood.layer(100.0, 0.0, 10.0), wood.layer(100.0, 20.0, 30.0)]);
        assert_eq!(apart, Err(SectionError::Apart { at: 12.5 }));
    }
}

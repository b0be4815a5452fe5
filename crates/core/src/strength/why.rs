//! Why a beam sags as it does: the figures that can be asked.

use super::creep::{CREEP_SOURCE, YEARS};
use super::{Bent, Creep, Extreme, Properties, Sag, Section, Span, allowed_bending, allowed_shear, creep};
use crate::timber::How;
use crate::worked::Worked;

const BENDING: (&str, &str) = (
    "E·I·w⁗ = q between supports, held at them and where the load makes a step; 5/384·W·L³/(E·I) for one span under an even load",
    "Euler and Bernoulli; Wood Handbook FPL-GTR-282, equation 9-2",
);
const SHEAR: (&str, &str) = ("ks·W·L/(G·A′)", "Wood Handbook FPL-GTR-282, equation 9-2");

/// What a beam of one section and stuff bears, and how it came to sag: what the [`Worked`] figures of it tell.
#[derive(Clone, Copy, Debug)]
pub struct Borne<'a> {
    /// What it is made of.
    pub of: &'a Properties,
    /// Its section.
    pub section: &'a Section,
    /// All loads on it but its own weight, N.
    pub load: f64,
}

impl Borne<'_> {
    /// The greatest sag of a span at once, mm.
    pub fn at_once(&self, span: &Span) -> Worked {
        let Sag { load, own_weight, shear } = span.sag;
        let length = Worked::given("span", span.to - span.from, "mm");
        let modulus = Worked::known("modulus of elasticity E", &self.of.modulus, "N/mm²");
        let inertia = Worked::given("second moment of area I", self.section.bending() / self.of.modulus.value, "mm⁴");
        let weighs = Worked::given("load W", self.load, "N");
        let parts = vec![
            Worked::by("bending under the load", load, "mm", BENDING, vec![weighs, length.clone(), modulus.clone(), inertia.clone()]),
            Worked::by("bending under its own weight", own_weight, "mm", BENDING, self.own(vec![length.clone(), modulus, inertia])),
            Worked::by("shear", shear, "mm", SHEAR, vec![length, Worked::known("shear modulus G", &self.of.shear_modulus, "N/mm²")]),
        ];
        let sum = ("bending under the load + bending under its own weight + shear", "arithmetic");
        Worked::by("sag at once", span.sag.total(), "mm", sum, parts)
    }

    fn own(&self, mut inputs: Vec<Worked>) -> Vec<Worked> {
        inputs.extend(self.of.density.as_ref().map(|density| Worked::known("density", density, "kg/m³")));
        inputs
    }

    /// The greatest bending stress, and what is allowed where that is known, N/mm².
    pub fn bending_stress(&self, bent: &Bent) -> (Worked, Option<Worked>) {
        (stress("bending stress", bent.bending_stress(), "M·y/I; 6·M/(b·h²) in a rectangle"), allowed_bending(self.of))
    }

    /// The greatest shear stress, and what is allowed where that is known, N/mm².
    pub fn shear_stress(&self, bent: &Bent) -> (Worked, Option<Worked>) {
        (stress("shear stress", bent.shear_stress(), "V·S/(I·b); 1.5·V/(b·h) in a rectangle"), allowed_shear(self.of))
    }
}

fn stress(name: &'static str, extreme: Extreme, formula: &'static str) -> Worked {
    Worked::by(name, extreme.value, "N/mm²", (formula, "statics"), vec![Worked::given("at", extreme.at, "mm")])
}

/// A sag at once after so many years under the same load.
pub fn after(at_once: Worked, of: Creep, years: f64) -> Worked {
    let factor = creep(of, years);
    // The two ends are published; the way between them is recalled.
    let how = if years > 0.0 && years < YEARS { How::Memory } else { How::Read };
    let factor = Worked::by("creep", factor, "", (CREEP_SOURCE, "ours"), vec![Worked::given("years", years, "")]).obtained(how);
    let value = at_once.value * factor.value;
    Worked::by("sag after creep", value, "mm", ("sag at once × creep", "arithmetic"), vec![at_once, factor])
}

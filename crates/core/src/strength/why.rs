//! Why a beam sags as it does: the figures that can be asked.

use super::creep::{CREEP_SOURCE, YEARS};
use super::{
    Bent, Board, Creep, GRAVITY, Load, Properties, Reaction, Sag, Section, ServiceClass, Span, allowed_bending, allowed_shear, creep,
    eurocode_known,
};
use crate::timber::How;
use crate::worked::{Basis, Worked, figure};

const ONE_SPAN: (&str, &str) = (
    "sum over the loads: P·b·x·(L² − b² − x²)/(6·L·E·I) at x of a span L, from the support on that side of the load, b from the load to the other; \
     a spread load summed over its length, which for an even one is 5/384·W·L³/(E·I) in the middle; one beyond a support lifts the span",
    "Euler and Bernoulli, superposed; Wood Handbook FPL-GTR-282, equation 9-2, for the even load",
);
const BENDING: (&str, &str) = (
    "E·I·w⁗ = q between the supports, held at all of them and where the load makes a step",
    "Euler and Bernoulli; solved exactly, piece by piece",
);
const SHEAR: (&str, &str) =
    ("M/(G·A′) at that place, less what M is at the supports; ks·W·L/(G·A′)", "Wood Handbook FPL-GTR-282, equation 9-2");
const SHEAR_OF_MANY: (&str, &str) =
    ("∫V/(G·A′) along the beam, held at all its supports", "Wood Handbook FPL-GTR-282, equation 9-2; solved exactly");

/// What a beam of one section and stuff bears, and how it came to sag: what the [`Worked`] figures of it tell.
#[derive(Clone, Copy, Debug)]
pub struct Borne<'a> {
    /// What it is made of.
    pub of: &'a Properties,
    /// Its section.
    pub section: &'a Section,
    /// All loads on it but its own weight.
    pub loads: &'a [Load],
    /// How it bends under them.
    pub bent: &'a Bent,
}

impl Borne<'_> {
    /// The greatest sag of a span at once, mm.
    pub fn at_once(&self) -> Worked {
        let span = self.bent.worst();
        let Sag { load, own_weight, shear } = span.sag;
        let formula = if self.one_span(&span).is_some() { ONE_SPAN } else { BENDING };
        let mut loads = self.stiffness(&span);
        if self.one_span(&span).is_none() {
            let held = |reaction: &Reaction| if reaction.moment == 0.0 { "support at" } else { "built in at" };
            loads.extend(self.bent.reactions().iter().map(|reaction| Worked::given(held(reaction), reaction.at, "mm")));
        }
        loads.extend(self.loads.iter().filter(|load| load.total() != 0.0).map(|load| self.of_load(&span, *load, "load")));
        let own = if own_weight == 0.0 {
            Worked::given("bending under its own weight, which is left out", 0.0, "mm")
        } else {
            let mut own = self.stiffness(&span);
            own.extend(self.own().map(|load| self.of_load(&span, load, "own weight")));
            own.extend(self.of.density.as_ref().map(|density| Worked::known("density", density, "kg/m³")));
            Worked::by("bending under its own weight", own_weight, "mm", formula, own)
        };
        let parts = vec![Worked::by("bending under the load", load, "mm", formula, loads), own, self.shear(&span, shear)];
        let sum = ("bending under the load + bending under its own weight + shear", "arithmetic");
        Worked::by("sag at once", span.sag.total(), "mm", sum, parts)
    }

    /// What all of it is reckoned with: the span and how stiff it is.
    fn stiffness(&self, span: &Span) -> Vec<Worked> {
        vec![
            Worked::given("span", span.to - span.from, "mm"),
            Worked::given("greatest sag x, from its first support", span.at - span.from, "mm"),
            Worked::known("modulus of elasticity E", &self.of.modulus, "N/mm²"),
            self.inertia(),
        ]
    }

    fn inertia(&self) -> Worked {
        let name = "second moment of area I";
        let value = self.section.bending() / self.of.modulus.value;
        match self.rectangle() {
            Some([width, height]) => {
                let inputs = vec![Worked::given("width b", width, "mm"), Worked::given("height h", height, "mm")];
                Worked::by(name, value, "mm⁴", ("b·h³/12", "statics"), inputs)
            }
            None => Worked::given(name, value, "mm⁴"),
        }
    }

    /// Width and height of a section that is one rectangle, mm.
    fn rectangle(&self) -> Option<[f64; 2]> {
        if let [layer] = self.section.layers() { Some([layer.width, layer.bottom - layer.top]) } else { None }
    }

    /// Its own weight as a load, where its density is known.
    fn own(&self) -> Option<Load> {
        let per_mm = self.section.kg_per_mm()? * GRAVITY;
        Some(Load::Spread { from: 0.0, to: self.bent.length(), per_mm })
    }

    /// What a load adds to the sag; where it lies on more than two supports, or is built in, only the load and its place.
    fn of_load(&self, span: &Span, load: Load, name: &str) -> Worked {
        let (place, from_to) = match load {
            Load::Point { at, .. } => (format!("at {} mm", figure(at)), [at; 2]),
            Load::Spread { from, to, .. } => (format!("from {} to {} mm", figure(from), figure(to)), [from, to]),
        };
        let told = Worked::given(format!("{name} {place}"), load.total(), "N");
        let Some([first, second]) = self.one_span(span) else { return told };
        let (length, x) = (second - first, span.at - first);
        let one = |at: f64| unit_sag(length, at - first, x) / self.section.bending();
        let value = match load {
            Load::Point { at, force } => force * one(at),
            Load::Spread { from, to, per_mm } => {
                // Between these every part is a cubic in the place of the load, for which Simpson's rule is exact.
                let mut stops = vec![from, to];
                stops.extend([first, second, span.at].into_iter().filter(|at| *at > from_to[0] && *at < from_to[1]));
                stops.sort_by(f64::total_cmp);
                let simpson = |a: f64, b: f64| (b - a) / 6.0 * (one(a) + 4.0 * one(a.midpoint(b)) + one(b));
                per_mm * stops.windows(2).map(|pair| simpson(pair[0], pair[1])).sum::<f64>()
            }
        };
        Worked::by(format!("by the {name} {place}"), value, "mm", ("its share of that sum", "statics"), vec![told])
    }

    /// The two supports of a beam that lies on no more, where that span sags most between them.
    fn one_span(&self, span: &Span) -> Option<[f64; 2]> {
        match self.bent.reactions() {
            [first, second] if !span.overhang && first.moment == 0.0 && second.moment == 0.0 => Some([first.at, second.at]),
            _ => None,
        }
    }

    fn shear(&self, span: &Span, shear: f64) -> Worked {
        let area = Worked::given("area A′ that counts", self.section.shear() / self.of.shear_modulus.value, "mm²");
        let area = match self.rectangle() {
            Some(_) => {
                Worked::by("area A′ that counts", area.value, "mm²", ("5/6·b·h", "Wood Handbook FPL-GTR-282, equation 9-2"), Vec::new())
            }
            None => area,
        };
        let mut inputs = vec![Worked::known("shear modulus G", &self.of.shear_modulus, "N/mm²"), area];
        if let Some([first, second]) = self.one_span(span) {
            let along = (span.at - first) / (second - first);
            let ends = self.bent.moment_at(first) * (1.0 - along) + self.bent.moment_at(second) * along;
            let moment = self.bent.moment_at(span.at) - ends;
            inputs.insert(0, Worked::given(format!("moment M at {} mm", figure(span.at)), moment, "N·mm"));
            Worked::by("shear", shear, "mm", SHEAR, inputs)
        } else {
            inputs.insert(0, Worked::given("span", span.to - span.from, "mm"));
            Worked::by("shear", shear, "mm", SHEAR_OF_MANY, inputs)
        }
    }

    /// The greatest bending stress, and what is allowed where that is known, N/mm².
    pub fn bending_stress(&self) -> (Worked, Option<Worked>) {
        let found = self.bent.bending_stress();
        let inertia = self.inertia();
        let inputs = vec![
            Worked::given(format!("moment M at {} mm", figure(found.at)), self.bent.moment_at(found.at).abs(), "N·mm"),
            Worked::given("distance y from the neutral plane to the face", self.section.bending_stress(1.0) * inertia.value, "mm"),
            inertia,
        ];
        let stress = Worked::by("bending stress", found.value, "N/mm²", ("M·y/I; 6·M/(b·h²) in a rectangle", "statics"), inputs);
        (stress, allowed_bending(self.of))
    }

    /// The greatest shear stress, and what is allowed where that is known, N/mm².
    pub fn shear_stress(&self) -> (Worked, Option<Worked>) {
        let found = self.bent.shear_stress();
        let peak = self.section.shear_stress(1.0);
        let force = Worked::given(format!("shear force V at {} mm", figure(found.at)), found.value / peak, "N");
        let mut inputs = vec![force];
        match self.rectangle() {
            Some([width, height]) => inputs.extend([Worked::given("width b", width, "mm"), Worked::given("height h", height, "mm")]),
            None => inputs.push(Worked::given("S/(I·b)", peak, "1/mm²")),
        }
        let stress = Worked::by("shear stress", found.value, "N/mm²", ("V·S/(I·b); 1.5·V/(b·h) in a rectangle", "statics"), inputs);
        (stress, allowed_shear(self.of))
    }
}

/// E·I times the sag at `x` of a beam on two supports, 0 and `length`, under a load of 1 N at `at`, which may be beyond a support.
fn unit_sag(length: f64, at: f64, x: f64) -> f64 {
    if at < 0.0 {
        at * x * (length - x) * (2.0 * length - x) / (6.0 * length)
    } else if at > length {
        (length - at) * x * (length * length - x * x) / (6.0 * length)
    } else {
        let (x, b) = if x <= at { (x, length - at) } else { (length - x, at) };
        b * x * (length * length - b * b - x * x) / (6.0 * length)
    }
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

/// What EN 1995-1-1 makes of the same sag in the end, all of the load lasting, in a heated room: for comparison, and nothing is judged by it.
/// Nothing where the standard has no factor for the stuff or one near it.
pub fn after_by_eurocode(at_once: &Worked, board: Board) -> Option<Worked> {
    let factor = eurocode_known(board, ServiceClass::One)?;
    let name = format!("k_def of {}, {}", board.words(), ServiceClass::One.words());
    let inputs = vec![Worked { basis: Basis::Given, ..at_once.clone() }, Worked::known(name, &factor, "")];
    let formula = ("sag at once × (1 + k_def), all of the load lasting", "EN 1995-1-1, 2.2.3, its form");
    let value = at_once.value * (1.0 + factor.value);
    Some(Worked::by("sag in the end by EN 1995-1-1, for comparison", value, "mm", formula, inputs).obtained(How::Memory))
}

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
/// A span of a beam on more supports, or built in: that of a simple one, and what the moments over its supports take from it.
const BENDING: (&str, &str) = (
    "sum over the loads on this span, as if it lay alone: P·b·x·(L² − b² − x²)/(6·L·E·I), a spread load summed over its length; \
     and what the moments over its two supports bend it by",
    "Euler and Bernoulli, superposed",
);
const BY_MOMENTS: (&str, &str) =
    ("(M₁·(2·L²·x − 3·L·x² + x³) + M₂·(L²·x − x³)) / (6·L·E·I), M below 0 where it lifts the span", "Euler and Bernoulli");
const MOMENTS: &str = "at every support between two spans M₁·L₁ + 2·M₂·(L₁ + L₂) + M₃·L₂ = −6·E·I × the turn there of both spans if each lay \
                       alone; at an outer support what stands out beyond it makes it, at one that is built in nothing turns";
const THREE_MOMENTS: (&str, &str) = (MOMENTS, "Clapeyron's three moments; solved by stiffness");
const SHIFTED: (&str, &str) = (
    "M with k less M without, from M₁·(L₁ − k/L₁) + 2·M₂·(L₁ + L₂ + k/(2·L₁) + k/(2·L₂)) + M₃·(L₂ − k/L₂), k = 6·E·I/(G·A′), on the left of the three moments",
    "Clapeyron's three moments with the turn by shear; solved by stiffness",
);
/// An end that stands out over its last support.
const STANDS_OUT: (&str, &str) = (
    "turn at the support × s + sum over the loads that stand out: P·s²·(3·a − s)/(6·E·I), or P·a²·(3·s − a)/(6·E·I) where s is beyond it; s and a from the support",
    "Euler and Bernoulli, superposed",
);
const SHEAR: (&str, &str) =
    ("M₀/(G·A′), M₀ at x of that span as if it lay alone; ks·W·L/(G·A′)", "Wood Handbook FPL-GTR-282, equation 9-2");
const SHEAR_OF_MANY: (&str, &str) = (
    "M₀/(G·A′), M₀ at x of that span as if it lay alone, + what the moments over its supports change by, by the formula of moments above",
    "Wood Handbook FPL-GTR-282, equation 9-2; the moments solved by stiffness",
);
const SHEAR_BEYOND: (&str, &str) =
    ("∫V/(G·A′) from the support on + turn at the support by shear × s", "Wood Handbook FPL-GTR-282, equation 9-2; solved exactly");

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
        let formula = if self.one_span(&span).is_some() {
            ONE_SPAN
        } else if span.overhang {
            STANDS_OUT
        } else {
            BENDING
        };
        let mut loads = self.stiffness(&span);
        loads.extend(self.loads.iter().filter(|load| load.total() != 0.0).map(|load| self.of_load(&span, *load, "load")));
        loads.extend(self.by_supports(&span, 0));
        let own = if own_weight == 0.0 {
            Worked::given("bending under its own weight, which is left out", 0.0, "mm")
        } else {
            let mut own = self.stiffness(&span);
            own.extend(self.own().map(|load| self.of_load(&span, load, "own weight")));
            own.extend(self.by_supports(&span, 1));
            own.extend(self.of.density.as_ref().map(|density| Worked::known("density", density, "kg/m³")));
            Worked::by("bending under its own weight", own_weight, "mm", formula, own)
        };
        let parts = vec![Worked::by("bending under the load", load, "mm", formula, loads), own, self.shear(&span, shear)];
        let sum = ("bending under the load + bending under its own weight + shear", "arithmetic");
        Worked::by("sag at once", span.sag.total(), "mm", sum, parts)
    }

    /// What all of it is reckoned with: the span and how stiff it is.
    fn stiffness(&self, span: &Span) -> Vec<Worked> {
        let place = if span.overhang {
            Worked::given("greatest sag s, from its support", (span.at - foot(span)).abs(), "mm")
        } else {
            Worked::given("greatest sag x, from its first support", span.at - span.from, "mm")
        };
        vec![
            Worked::given("span L", span.to - span.from, "mm"),
            place,
            Worked::known("modulus of elasticity E", &self.of.modulus, "N/mm²"),
            self.inertia(),
        ]
    }

    /// What the supports of a span add to its sag where the beam goes on beyond one of them or is built in: by the moments there, or by the turn
    /// from which an end stands out; by the load (0) or by the own weight (1). Then all the supports, from which that follows.
    fn by_supports(&self, span: &Span, of: usize) -> Vec<Worked> {
        let mut told = Vec::new();
        if span.overhang {
            let turn = outward(span, self.bent.slopes_apart(foot(span))[of]);
            told.push(Worked::by("turn at the support", turn, "mm/mm", THREE_MOMENTS, Vec::new()));
        } else if self.one_span(span).is_none() {
            let moments = [span.from, span.to].map(|at| (at, self.bent.moments_apart(at)[of]));
            told.push(self.by_moments("by the moments over its supports", span, moments, ("moment", THREE_MOMENTS)));
        }
        let held = |reaction: &Reaction| if reaction.moment == 0.0 { "support at" } else { "built in at" };
        told.extend(self.bent.reactions().iter().map(|reaction| Worked::given(held(reaction), reaction.at, "mm")));
        told.push(Worked::given("the beam ends at", self.bent.length(), "mm"));
        told
    }

    fn by_moments(
        &self,
        name: &'static str,
        span: &Span,
        moments: [(f64, f64); 2],
        (called, by): (&str, (&'static str, &'static str)),
    ) -> Worked {
        let (length, x) = (span.to - span.from, span.at - span.from);
        let [first, second] = moments.map(|(_, moment)| moment);
        let bends = first * (2.0 * length.powi(2) * x - 3.0 * length * x.powi(2) + x.powi(3)) + second * (length.powi(2) * x - x.powi(3));
        let value = bends / (6.0 * length * self.section.bending());
        let each = |(index, (at, moment)): (usize, (f64, f64))| {
            let name = format!("{called} M{} at {} mm", ["₁", "₂"][index], figure(at));
            Worked::by(name, moment, "N·mm", by, Vec::new())
        };
        Worked::by(name, value, "mm", BY_MOMENTS, moments.into_iter().enumerate().map(each).collect())
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

    /// What a load adds to the sag of a span as if that lay alone, or of an end that stands out as if it were built in at its support.
    fn of_load(&self, span: &Span, load: Load, name: &str) -> Worked {
        let place = match load {
            Load::Point { at, .. } => format!("at {} mm", figure(at)),
            Load::Spread { from, to, .. } => format!("from {} to {} mm", figure(from), figure(to)),
        };
        let told = Worked::given(format!("{name} {place}"), load.total(), "N");
        // Of a beam that goes on beyond a support or is built in, only what lies on this span: the rest is in the moments there.
        let alone = self.one_span(span);
        let [first, second] = alone.unwrap_or([span.from, span.to]);
        let (length, x) = (second - first, span.at - first);
        let one = |at: f64| {
            let unit = if span.overhang {
                unit_beyond((at - foot(span)).abs(), (span.at - foot(span)).abs())
            } else {
                unit_sag(length, at - first, x)
            };
            unit / self.section.bending()
        };
        let here = |at: f64| alone.is_some() || (first..=second).contains(&at);
        let value = match load {
            Load::Point { at, force } => {
                if here(at) {
                    force * one(at)
                } else {
                    0.0
                }
            }
            Load::Spread { from, to, per_mm } => {
                let (from, to) = if alone.is_some() { (from, to) } else { (from.max(first), to.min(second)) };
                // Between these every part is a cubic in the place of the load, for which Simpson's rule is exact.
                let mut stops = vec![from, to];
                stops.extend([first, second, span.at].into_iter().filter(|at| *at > from && *at < to));
                stops.sort_by(f64::total_cmp);
                let simpson = |a: f64, b: f64| (b - a) / 6.0 * (one(a) + 4.0 * one(a.midpoint(b)) + one(b));
                if to > from { per_mm * stops.windows(2).map(|pair| simpson(pair[0], pair[1])).sum::<f64>() } else { 0.0 }
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

    /// The part of its sag at a place between its supports that is by shear, mm from its first end.
    pub fn shear_at(&self, at: f64) -> Worked {
        let at = at.clamp(0.0, self.bent.length());
        // Right over a support it belongs to the span rather than to what stands out.
        let here = self.bent.spans().into_iter().filter(|span| (span.from..=span.to).contains(&at)).min_by_key(|span| span.overhang);
        let here = here.unwrap_or_else(|| self.bent.worst());
        let sag = self.bent.sag_at(at);
        self.shear(&Span { at, sag, ..here }, sag.shear)
    }

    fn shear(&self, span: &Span, shear: f64) -> Worked {
        let area = Worked::given("area A′ that counts", self.section.shear() / self.of.shear_modulus.value, "mm²");
        let area = match self.rectangle() {
            Some([width, height]) => {
                let inputs = vec![Worked::given("width b", width, "mm"), Worked::given("height h", height, "mm")];
                Worked::by("area A′ that counts", area.value, "mm²", ("5/6·b·h", "Wood Handbook FPL-GTR-282, equation 9-2"), inputs)
            }
            None => area,
        };
        let mut inputs = vec![Worked::known("shear modulus G", &self.of.shear_modulus, "N/mm²"), area];
        if span.overhang {
            let turn = outward(span, self.bent.slopes_apart(foot(span))[2]);
            inputs.insert(0, Worked::given("span L", span.to - span.from, "mm"));
            inputs.push(Worked::given("turn at the support by shear", turn, "mm/mm"));
            return Worked::by("shear", shear, "mm", SHEAR_BEYOND, inputs);
        }
        let (first, second) = self.one_span(span).map_or((span.from, span.to), |[first, second]| (first, second));
        let along = (span.at - first) / (second - first);
        let ends = self.bent.moment_at(first) * (1.0 - along) + self.bent.moment_at(second) * along;
        inputs.insert(0, Worked::given(format!("moment M₀ at {} mm", figure(span.at)), self.bent.moment_at(span.at) - ends, "N·mm"));
        if self.one_span(span).is_some() {
            return Worked::by("shear", shear, "mm", SHEAR, inputs);
        }
        let changes = [first, second].map(|at| (at, self.bent.moment_by_shear(at)));
        inputs.extend(self.stiffness(span));
        inputs.push(self.by_moments("by the moments that shear shifts", span, changes, ("change of moment", SHIFTED)));
        Worked::by("shear", shear, "mm", SHEAR_OF_MANY, inputs)
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

/// E·I times the sag so far out, `s`, of an end built in at its support under a load of 1 N at `a` from there.
fn unit_beyond(a: f64, s: f64) -> f64 {
    if s <= a { s * s * (3.0 * a - s) / 6.0 } else { a * a * (3.0 * s - a) / 6.0 }
}

/// The support over which an end stands out, mm from the first end of the beam.
fn foot(span: &Span) -> f64 {
    if span.from <= 0.0 { span.to } else { span.from }
}

/// A sag at once after so many years under the same load.
pub fn after(at_once: Worked, of: Creep, years: f64) -> Worked {
    let factor = creep(of, years);
    // The two ends are published; the way between them is recalled.
    let how = if years > 0.0 && years < YEARS { How::Memory } else { How::Read };
    let inputs = vec![Worked::given("years", years, ""), Worked::given("from 10 years on", creep(of, YEARS), "")];
    let factor = Worked::by("creep", factor, "", (CREEP_SOURCE, "ours"), inputs).obtained(how);
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

/// A slope toward the free end of what stands out.
fn outward(span: &Span, slope: f64) -> f64 {
    if span.from < foot(span) { -slope } else { slope }
}

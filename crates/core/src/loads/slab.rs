//! A solid shelf on its pins: it lies on points and not on lines, so it is bent both ways at once, most of all along the lines between its pins.

use std::sync::Arc;

use super::bending::Spans;
use super::lying::Lying;
use crate::strength::{Bent, BentPlate, Borne, Load, Patch, Plate, PlateError, Properties, Sag, Section, Stiffness};
use crate::timber::How;
use crate::worked::{Worked, figure};

const PLATE: (&str, &str) = (
    "an orthotropic plate on these points under these loads: the shape of least energy among products of Legendre polynomials, eight each way \
     (Ritz); E·t³/12 each way, G·t³/12 in twist, Poisson's ratios left out",
    "Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, in its form; held against finite elements",
);
const MOMENT: (&str, &str) =
    ("E·t³/12 × curvature of that plate", "Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, in its form");

/// Samples along a line before the greatest is sought between them.
const SAMPLES: usize = 16;
/// The same each way over a plate.
const COARSE: usize = 12;

/// A board on points under its load, and as a beam each way, of which its shear is taken and what its edges stand out by.
#[derive(Debug, PartialEq)]
pub(super) struct Slab {
    plate: Plate,
    thickness: f64,
    /// Under the load, and under its own weight.
    bent: [BentPlate; 2],
    loads: [Vec<Patch>; 2],
    /// From side to side and from front to back.
    beams: [BeamOf; 2],
}

/// A board as a beam.
#[derive(Debug, PartialEq)]
pub(super) struct BeamOf {
    pub of: Arc<Properties>,
    pub section: Section,
    pub loads: Vec<Load>,
    pub bent: Bent,
}

impl BeamOf {
    fn borne(&self) -> Borne<'_> {
        Borne { of: &self.of, section: &self.section, loads: &self.loads, bent: &self.bent }
    }
}

/// Where a slab is bent most for its length in one way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Farthest {
    /// From its left end and its back edge, mm.
    pub at: [f64; 2],
    /// The length by which it is judged, mm.
    pub length: f64,
    pub sag: Sag,
}

impl Slab {
    /// A board that lies on points, mm from its left end and its back edge, under loads on it; its beams are those from side to side and from
    /// front to back.
    ///
    /// # Errors
    /// When the points don't keep it from rocking.
    pub fn of([lying, other]: [&Lying; 2], points: Vec<[f64; 2]>, loads: Vec<Patch>, beams: [BeamOf; 2]) -> Result<Slab, PlateError> {
        let size = [lying.to - lying.from, other.to - other.from];
        let inertia = lying.thickness.powi(3) / 12.0;
        let twist = lying.of.shear_modulus.value.max(other.of.shear_modulus.value) * inertia;
        let stiff = Stiffness { along: lying.of.modulus.value * inertia, across: other.of.modulus.value * inertia, coupling: 0.0, twist };
        let own = beams[0].section.kg_per_mm().map(|kg| kg * size[0] * crate::strength::GRAVITY);
        let own: Vec<Patch> = own.map(|force| Patch { from: [0.0; 2], to: size, force }).into_iter().collect();
        let plate = Plate { size, stiff, points };
        let bent = plate.solve([&loads, &own])?;
        Ok(Slab { plate, thickness: lying.thickness, bent, loads: [loads, own], beams })
    }

    /// How far a place is down at once, mm from the left end and the back edge.
    pub fn sag(&self, at: [f64; 2]) -> Sag {
        let at = [0, 1].map(|axis| at[axis].clamp(0.0, self.plate.size[axis]));
        let [load, own_weight] = self.bent.each_ref().map(|bent| bent.sag(at));
        let shear = [0, 1].map(|axis| self.beams[axis].bent.sag_at(at[axis]).shear);
        Sag { load, own_weight, shear: shear.iter().sum() }
    }

    /// What each point bears, N.
    pub fn bears(&self) -> Vec<f64> {
        let [load, own] = &self.bent;
        load.bears().iter().zip(own.bears()).map(|(load, own)| (load + own).max(0.0)).collect()
    }

    /// Where it sags most for its length: along the lines from pin to pin, with what stands out beyond them, which counts twice; in the middle
    /// by the way across it from pin to pin.
    pub fn farthest(&self, spans: Spans) -> Farthest {
        let lines = |axis: usize| -> Vec<Farthest> { self.lines(axis).into_iter().flat_map(|line| self.along(line, axis)).collect() };
        let all: Vec<Farthest> = match spans {
            Spans::SideToSide => lines(0),
            Spans::FrontToBack => lines(1),
            Spans::Middle => vec![self.middle()],
        };
        let share = |one: &Farthest| one.sag.total() / one.length;
        let nothing = Farthest { at: [0.0; 2], length: 1.0, sag: Sag::default() };
        all.into_iter().max_by(|a, b| share(a).total_cmp(&share(b))).unwrap_or(nothing)
    }

    /// The pairs of points that stand on a line along an axis: the front pins and the back pins, or those of either side.
    fn lines(&self, axis: usize) -> Vec<[[f64; 2]; 2]> {
        let middle = |axis: usize| {
            let places = self.plate.points.iter().map(|point| point[axis]);
            places.clone().fold(f64::INFINITY, f64::min).midpoint(places.fold(f64::NEG_INFINITY, f64::max))
        };
        let (here, other) = (middle(axis), middle(1 - axis));
        let side = |far: bool| {
            let of_side = || self.plate.points.iter().filter(move |point| (point[1 - axis] > other) == far);
            let first = of_side().find(|point| point[axis] <= here)?;
            let second = of_side().find(|point| point[axis] > here)?;
            Some([*first, *second])
        };
        [side(false), side(true)].into_iter().flatten().collect()
    }

    /// The greatest sag between two points, and of what stands out beyond either.
    fn along(&self, [first, second]: [[f64; 2]; 2], axis: usize) -> Vec<Farthest> {
        let on = |at: f64| {
            let share = (at - first[axis]) / (second[axis] - first[axis]);
            let mut place = first;
            place[axis] = at;
            place[1 - axis] += share * (second[1 - axis] - first[1 - axis]);
            place
        };
        let (from, to) = (first[axis], second[axis]);
        let at = greatest(from, to, SAMPLES, |at| self.sag(on(at)).total());
        let between = Farthest { at: on(at), length: to - from, sag: self.sag(on(at)) };
        let beyond = [(0.0, from), (self.plate.size[axis], (self.plate.size[axis] - to))].map(|(at, out)| {
            let sag = self.sag(on(at));
            (out > 1.0 && sag.total() > 0.0).then(|| Farthest { at: on(at), length: 2.0 * out, sag })
        });
        std::iter::once(between).chain(beyond.into_iter().flatten()).collect()
    }

    /// The lowest place between the points, by the length from a pin to the one across.
    fn middle(&self) -> Farthest {
        let reach = [0, 1].map(|axis| {
            let places = self.plate.points.iter().map(|point| point[axis]);
            [places.clone().fold(f64::INFINITY, f64::min), places.fold(f64::NEG_INFINITY, f64::max)]
        });
        let [across, deep] = reach;
        let down = |x: f64, z: f64| self.sag([x, z]).total();
        let step = |[from, to]: [f64; 2], index: usize| from + (to - from) * index as f64 / COARSE as f64;
        let grid = (0..=COARSE).flat_map(|i| (0..=COARSE).map(move |j| [i, j])).map(|[i, j]| [step(across, i), step(deep, j)]);
        let mut at = grid.max_by(|a, b| down(a[0], a[1]).total_cmp(&down(b[0], b[1]))).unwrap_or([across[0], deep[0]]);
        for _ in 0..2 {
            for axis in [0, 1] {
                let [from, to] = reach[axis];
                let near = (to - from) / COARSE as f64;
                let along = |place: f64| if axis == 0 { down(place, at[1]) } else { down(at[0], place) };
                at[axis] = greatest((at[axis] - near).max(from), (at[axis] + near).min(to), 2, along);
            }
        }
        Farthest { at, length: (across[1] - across[0]).hypot(deep[1] - deep[0]), sag: self.sag(at) }
    }

    /// Where the plate is bent hardest along an axis, away from its points, and the stress there, N/mm²: along the lines between its points and midway
    /// between them. Right over a point a plate has no end of moment; there the beam tells.
    pub fn hardest(&self, axis: usize) -> ([f64; 2], f64) {
        let lines = self.lines(axis);
        let midway = match lines[..] {
            [first, second] => Some([0, 1].map(|end| [0, 1].map(|axis| first[end][axis].midpoint(second[end][axis])))),
            _ => None,
        };
        let mut found = ([0.0; 2], 0.0);
        for [first, second] in lines.into_iter().chain(midway) {
            let away = (2.0 * self.thickness).min((second[axis] - first[axis]) / 4.0);
            let mut place = first;
            let mut stress = |at: f64| {
                place[axis] = at;
                self.stress_at(place, axis)
            };
            let at = greatest(first[axis] + away, second[axis] - away, SAMPLES, &mut stress);
            let there = stress(at);
            if there > found.1 {
                found = (place, there);
            }
        }
        found
    }

    /// How hard it is bent along an axis at a place, N/mm².
    pub fn stress_at(&self, at: [f64; 2], axis: usize) -> f64 {
        6.0 * self.moment(at, axis).abs() / self.thickness.powi(2)
    }

    fn moment(&self, at: [f64; 2], axis: usize) -> f64 {
        self.bent.iter().map(|bent| bent.moment(at, axis)).sum()
    }

    /// Why it is bent so hard there.
    pub fn why_stress(&self, at: [f64; 2], axis: usize) -> Worked {
        let moment = self.moment(at, axis);
        let name = format!("moment m at {}", place(at));
        let moment = Worked::by(
            name,
            moment.abs(),
            "N·mm/mm",
            MOMENT,
            self.stiffness().into_iter().chain(self.under(0)).chain(self.under(1)).collect(),
        )
        .obtained(How::Derived);
        let inputs = vec![moment, Worked::given("thickness t", self.thickness, "mm")];
        let way = if axis == 0 { "bending stress, from side to side" } else { "bending stress, from front to back" };
        Worked::by(way, self.stress_at(at, axis), "N/mm²", ("6·m/t²", "statics"), inputs)
    }

    /// Why a place is so far down at once.
    pub fn why_at_once(&self, at: [f64; 2]) -> Worked {
        let Sag { load, own_weight, shear } = self.sag(at);
        let told = |of: usize| {
            let mut inputs =
                vec![Worked::given("at, from its left end", at[0], "mm"), Worked::given("at, from its back edge", at[1], "mm")];
            inputs.extend(self.stiffness());
            inputs.extend(self.under(of));
            inputs
        };
        let own = if self.loads[1].is_empty() {
            Worked::given("bending under its own weight, which is left out", 0.0, "mm")
        } else {
            let mut inputs = told(1);
            inputs.extend(self.beams[0].of.density.as_ref().map(|density| Worked::known("density", density, "kg/m³")));
            Worked::by("bending under its own weight", own_weight, "mm", PLATE, inputs)
        };
        let ways = [0, 1].map(|axis| {
            let sheared = self.beams[axis].borne().shear_at(at[axis]);
            let name = if axis == 0 { "shear, as a beam from side to side" } else { "shear, as a beam from front to back" };
            sheared.named(name)
        });
        let shear = Worked::by("shear", shear, "mm", ("sum of both ways", "ours"), ways.to_vec());
        let parts = vec![Worked::by("bending under the load", load, "mm", PLATE, told(0)), own, shear];
        let sum = ("bending under the load + bending under its own weight + shear", "arithmetic");
        Worked::by("sag at once", self.sag(at).total(), "mm", sum, parts)
    }

    /// Its sizes and how stiff it is.
    fn stiffness(&self) -> Vec<Worked> {
        let [along, across] = self.beams.each_ref().map(|beam| &beam.of);
        let stiffer = if along.shear_modulus.value >= across.shear_modulus.value { along } else { across };
        vec![
            Worked::given("length, from side to side", self.plate.size[0], "mm"),
            Worked::given("width, from front to back", self.plate.size[1], "mm"),
            Worked::given("thickness t", self.thickness, "mm"),
            Worked::known("modulus of elasticity E, from side to side", &along.modulus, "N/mm²"),
            Worked::known("modulus of elasticity E, from front to back", &across.modulus, "N/mm²"),
            Worked::known("shear modulus G", &stiffer.shear_modulus, "N/mm²"),
        ]
    }

    /// Its points with what they bear, and its loads: those on it (0) or its own weight (1).
    fn under(&self, of: usize) -> Vec<Worked> {
        let points = self.plate.points.iter().zip(self.bent[of].bears());
        let points = points.map(|(point, bears)| Worked::given(format!("pin at {} bears", place(*point)), *bears, "N"));
        let name = ["load", "own weight"][of];
        let load = |patch: &Patch| {
            let [x, z] = [0, 1].map(|axis| format!("{} to {}", figure(patch.from[axis]), figure(patch.to[axis])));
            Worked::given(format!("{name} from {x} × {z} mm"), patch.force, "N")
        };
        points.chain(self.loads[of].iter().map(load)).collect()
    }
}

/// "234 × 202 mm", from the left end and from the back edge.
fn place(at: [f64; 2]) -> String {
    format!("{} × {} mm", figure(at[0]), figure(at[1]))
}

/// Where a figure is greatest between two places: the best of some samples, and by the golden section beside it.
pub(super) fn greatest(from: f64, to: f64, samples: usize, mut of: impl FnMut(f64) -> f64) -> f64 {
    let step = (to - from) / samples as f64;
    let places = (0..=samples).map(|index| from + step * index as f64).map(|at| (at, of(at)));
    let best = places.max_by(|a, b| a.1.total_cmp(&b.1)).map_or(from, |(at, _)| at);
    let (mut low, mut high) = ((best - step).max(from), (best + step).min(to));
    let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
    for _ in 0..20 {
        let [near, far] = [high - golden * (high - low), low + golden * (high - low)];
        if of(near) < of(far) { low = near } else { high = far }
    }
    // An end or a kink may be where it is greatest.
    [best, low.midpoint(high)].into_iter().max_by(|a, b| of(*a).total_cmp(&of(*b))).unwrap_or(best)
}

//! Every figure that is told under load can be made again from what is printed beside it, and from nothing else.
//!
//! What `loads --why` prints is read as a reader reads it: a figure, under it its formula, under that what goes into it. Each formula that is printed is worked
//! out here again, by other means where there are any (sums over short lengths where the program integrates, three moments where it solves stiffness).

use std::collections::BTreeMap;

use casewright_core::loads;
use casewright_tests::Case;

use crate::plate::Plate;

/// A figure as it is printed.
#[derive(Debug)]
struct Told {
    name: String,
    value: f64,
    formula: Option<String>,
    inputs: Vec<Told>,
}

impl Told {
    fn read(lines: &[String]) -> Told {
        let deep = |line: &str| line.len() - line.trim_start().len();
        let (name, value) = figure(lines[0].trim());
        let level = deep(&lines[0]) + 2;
        let below = &lines[1..];
        let formula = below.first().map(|line| line.trim().to_owned());
        let starts: Vec<usize> = (1..below.len()).filter(|index| deep(&below[*index]) == level).collect();
        let ends = starts.iter().skip(1).copied().chain([below.len()]);
        let inputs = starts.iter().zip(ends).map(|(from, to)| Told::read(&below[*from..to])).collect();
        Told { name, value, formula, inputs }
    }

    /// Those of its inputs whose names begin so.
    fn all<'t>(&'t self, begins: &'t str) -> impl Iterator<Item = &'t Told> {
        self.inputs.iter().filter(move |input| input.name.starts_with(begins))
    }

    fn one(&self, begins: &str) -> f64 {
        let found: Vec<f64> = self.all(begins).map(|input| input.value).collect();
        assert_eq!(found.len(), 1, "{begins} of {self:#?}");
        found[0]
    }

    fn values(&self) -> Vec<f64> {
        self.inputs.iter().map(|input| input.value).collect()
    }
}

/// "load from 0 to 1400 mm 499.12 N (source)": the name and the figure, without the unit.
fn figure(line: &str) -> (String, f64) {
    let bare = line.split(" (").next().unwrap_or(line);
    let bare = bare.strip_suffix(" a percent").unwrap_or(bare);
    let words: Vec<&str> = bare.split(' ').collect();
    let at = words.iter().rposition(|word| word.parse::<f64>().is_ok()).unwrap_or_else(|| panic!("no figure in {line:?}"));
    assert!(at + 2 >= words.len(), "a figure and a unit: {line:?}");
    (words[..at].join(" "), words[at].parse().expect("it was tried"))
}

/// Places and force of a load by its words: "load from 0 to 1400 mm", "own weight at 5 mm".
fn load(told: &Told) -> ([f64; 2], f64) {
    let words: Vec<&str> = told.name.split(' ').collect();
    let places: Vec<f64> = words.iter().filter_map(|word| word.parse().ok()).collect();
    match places[..] {
        [at] => ([at; 2], told.value),
        [from, to] => ([from, to], told.value),
        _ => panic!("{told:?}"),
    }
}

/// A sum over a load in short lengths: `each` is the share of a force of 1 N at a place.
fn summed((places, force): ([f64; 2], f64), within: [f64; 2], each: impl Fn(f64) -> f64) -> f64 {
    const LENGTHS: usize = 4000;
    let [from, to] = places;
    if to - from < 1e-9 {
        return if (within[0]..=within[1]).contains(&from) { force * each(from) } else { 0.0 };
    }
    let step = (to - from) / LENGTHS as f64;
    let middles = (0..LENGTHS).map(|index| from + step * (index as f64 + 0.5));
    middles.filter(|at| (within[0]..=within[1]).contains(at)).map(|at| force / LENGTHS as f64 * each(at)).sum()
}

/// The sag at x of a span L under 1 N at a, times E·I, which lies beyond a support where it is below 0 or above L.
fn unit(length: f64, a: f64, x: f64) -> f64 {
    if a < 0.0 {
        a * x * (length - x) * (2.0 * length - x) / (6.0 * length)
    } else if a > length {
        (length - a) * x * (length.powi(2) - x.powi(2)) / (6.0 * length)
    } else if x <= a {
        let b = length - a;
        b * x * (length.powi(2) - b.powi(2) - x.powi(2)) / (6.0 * length)
    } else {
        unit(length, length - a, length - x)
    }
}

/// What is printed of a beam: supports and loads, and its stiffness.
struct Beam {
    supports: Vec<f64>,
    loads: Vec<([f64; 2], f64)>,
    stiff: f64,
}

impl Beam {
    /// From the block of a bending: "bending under the load" and what stands under it.
    fn of(block: &Told) -> Beam {
        let supports = block.all("support at").map(|support| support.value).collect();
        let loads =
            block.inputs.iter().filter(|input| input.name.starts_with("by the load") || input.name.starts_with("by the own weight"));
        let loads = loads.map(|by| load(&by.inputs[0])).collect();
        Beam { supports, loads, stiff: block.one("modulus of elasticity E") * block.one("second moment of area I") }
    }

    /// Where the first support of the span in question is.
    fn first(&self, block: &Told) -> f64 {
        let length = block.one("span L");
        if let Some(by) = block.all("by the moments over its supports").next() {
            return by.inputs[0].name.split(' ').find_map(|word| word.parse().ok()).expect("moment M₁ at … mm");
        }
        assert!((self.supports[1] - self.supports[0] - length).abs() < 0.02, "{:?} {length}", self.supports);
        self.supports[0]
    }

    /// Moments over all supports by Clapeyron's three moments; `k` is 6·E·I/(G·A′), 0 without shear.
    fn moments(&self, k: f64) -> Vec<f64> {
        let (spans, count) = (self.supports.windows(2).map(|pair| pair[1] - pair[0]).collect::<Vec<_>>(), self.supports.len());
        let outer = |support: f64, beyond: [f64; 2]| -> f64 {
            -self.loads.iter().map(|load| summed(*load, beyond, |at| (at - support).abs())).sum::<f64>()
        };
        let mut moments = vec![0.0; count];
        moments[0] = outer(self.supports[0], [f64::NEG_INFINITY, self.supports[0]]);
        moments[count - 1] = outer(self.supports[count - 1], [self.supports[count - 1], f64::INFINITY]);
        // 6·E·I × the turn of a span that lies alone at its first end (or its second).
        let turn = |index: usize, second: bool| -> f64 {
            let (from, length) = (self.supports[index], spans[index]);
            let each = |at: f64| {
                let (a, b) = (at - from, length - (at - from));
                if second { a * (length.powi(2) - a.powi(2)) / length } else { b * (length.powi(2) - b.powi(2)) / length }
            };
            self.loads.iter().map(|load| summed(*load, [from, from + length], each)).sum()
        };
        let turns: Vec<f64> = (1..count.max(1) - 1).map(|inner| turn(inner - 1, true) + turn(inner, false)).collect();
        // Gauss and Seidel: each inner support in turn from its neighbours until nothing changes.
        for _ in 0..500 {
            for inner in 1..count - 1 {
                let (left, right) = (spans[inner - 1], spans[inner]);
                let others = moments[inner - 1] * (left - k / left) + moments[inner + 1] * (right - k / right);
                moments[inner] = -(turns[inner - 1] + others) / (2.0 * (left + right) + k / left + k / right);
            }
        }
        moments
    }

    /// The moment and the shear force at a place, by statics, the moments over the supports known.
    fn at(&self, place: f64) -> (f64, f64) {
        let moments = self.moments(0.0);
        let inner = self.supports.windows(2).position(|pair| (pair[0] - 0.01..=pair[1] + 0.01).contains(&place));
        let Some(index) = inner else {
            let outward = |at: &f64| if place < self.supports[0] { *at < place } else { *at > place };
            let beyond = |at: f64| if outward(&at) { (at - place).abs() } else { 0.0 };
            let everything = [f64::NEG_INFINITY, f64::INFINITY];
            let moment = -self.loads.iter().map(|load| summed(*load, everything, beyond)).sum::<f64>();
            let force = self.loads.iter().map(|load| summed(*load, everything, |at| f64::from(u8::from(outward(&at))))).sum();
            return (moment, force);
        };
        let (from, to) = (self.supports[index], self.supports[index + 1]);
        let (length, x) = (to - from, place - from);
        let alone = |at: f64| {
            let a = at - from;
            if a <= x { a * (length - x) / length } else { x * (length - a) / length }
        };
        let sheared = |at: f64| if at - from <= x { -(at - from) / length } else { (to - at) / length };
        let sum = |each: &dyn Fn(f64) -> f64| self.loads.iter().map(|load| summed(*load, [from, to], each)).sum::<f64>();
        let between = moments[index] * (1.0 - x / length) + moments[index + 1] * x / length;
        (sum(&alone) + between, sum(&sheared) + (moments[index + 1] - moments[index]) / length)
    }
}

/// Works a figure out from its inputs by the formula that is printed; `above` is what it stands under. With the greatest term of it, which tells how far the
/// rounding of what is printed may go. Nothing where the formula is answered by another test.
fn again(told: &Told, above: &[&Told]) -> Option<(f64, f64)> {
    let formula = told.formula.as_deref()?;
    let values = told.values();
    let sum = |values: &[f64]| (values.iter().sum::<f64>(), values.iter().fold(0.0_f64, |most, value| most.max(value.abs())));
    let plain = |value: f64| Some((value, value.abs()));
    let is = |begins: &str| formula.starts_with(begins);
    let block = above.last().copied();
    let by = |begins: &str| -> Vec<f64> { told.all(begins).map(|input| input.value).collect() };
    if is("sag at once × creep") || is("sag at once × (1 + k_def)") {
        let factor = if is("sag at once × creep") { values[1] } else { 1.0 + values[1] };
        plain(values[0] * factor)
    } else if is("at once 1; from 10 years on") {
        assert!(told.one("years") >= 10.0, "the demo is for ten years");
        plain(told.one("from 10 years on"))
    } else if is("bending under the load + bending under its own weight + shear") {
        Some(sum(&values))
    } else if is("sum over the loads") {
        Some(sum(&by("by the ")))
    } else if is("its share of that sum") {
        let block = block.expect("it stands under a sum");
        let beam = Beam::of(block);
        let (first, length, x) = (beam.first(block), block.one("span L"), block.one("greatest sag x"));
        let alone = block.all("by the moments over").next().is_none();
        let within = if alone { [f64::NEG_INFINITY, f64::INFINITY] } else { [first, first + length] };
        plain(summed(load(&told.inputs[0]), within, |at| unit(length, at - first, x)) / beam.stiff)
    } else if is("(M₁·(2·L²·x") {
        let block = block.expect("it stands under a sum");
        let (length, x) = (block.one("span L"), block.one("greatest sag x"));
        let stiff = block.one("modulus of elasticity E") * block.one("second moment of area I");
        let one = values[0] * (2.0 * length.powi(2) * x - 3.0 * length * x.powi(2) + x.powi(3)) / (6.0 * length * stiff);
        let two = values[1] * (length.powi(2) * x - x.powi(3)) / (6.0 * length * stiff);
        Some(sum(&[one, two]))
    } else if is("at every support between two spans") || is("M with k less M without") {
        // Three moments: held against the beam as a whole, below.
        None
    } else if is("what makes both rails sag alike") {
        // Held against both rails in `frame`; what is printed is told in two parts.
        Some(sum(&values))
    } else if is("M₀/(G·A′), M₀ at x") {
        let alone = told.one("moment M₀") / (told.one("shear modulus G") * told.one("area A′"));
        Some(sum(&[&[alone][..], &by("by the moments that shear shifts")].concat()))
    } else if is("5/6·b·h") {
        plain(5.0 / 6.0 * values[0] * values[1])
    } else if is("b·h³/12") {
        plain(values[0] * values[1].powi(3) / 12.0)
    } else if is("M·y/I") {
        plain(told.one("moment M") * told.one("distance y") / told.one("second moment of area I"))
    } else if is("V·S/(I·b)") {
        plain(1.5 * told.one("shear force V").abs() / (told.one("width b") * told.one("height h")))
    } else if is("strength × share that is kept") {
        plain(values[0] * values[1] / values[2])
    } else if is("force / (width × length)") {
        plain(values[0] / (values[1] * values[2]))
    } else if is("1.5 × force / (width × thickness)") {
        plain(1.5 * values[0] / (values[1] * values[2]))
    } else if is("the heaviest boxes that the shelf takes") {
        let share = by("share that goes to these ends").first().copied().unwrap_or(1.0);
        plain(by("of ").iter().sum::<f64>() * share)
    } else if is("mass × free fall × what stands on it") {
        plain(values[0] * values[1] * values[2] / values[3])
    } else if is("deflection of a plate held along three edges") {
        const PRINTED: [(f64, f64); 5] = [(0.0, 0.0), (0.5, 0.497), (2.0 / 3.0, 0.677), (1.0, 0.9), (2.0, 1.0)];
        let over = told.one("width over span");
        let pair = PRINTED.windows(2).find(|pair| over <= pair[1].0);
        plain(pair.map_or(1.0, |pair| pair[0].1 + (pair[1].1 - pair[0].1) * (over - pair[0].0) / (pair[1].0 - pair[0].0)))
    } else if is("sum, each shelf at its heaviest")
        || is("sum; of all your boxes")
        || is("all that it is made of")
        || is("all that is lifted")
        || is("those that go in when each room")
        || is("mass, empty + ")
    {
        Some(sum(&values))
    } else if is("of wood + of boxes at their heaviest × share") {
        plain(values[0] + values[1] * values[2])
    } else if is("(all boxes − those where they bend it more)") {
        plain(((values[0] - values[1]) / values[2]).clamp(0.0, 1.0))
    } else if is("volume × density") || is("weight × free fall") {
        plain(values[0] * values[1])
    } else if is("mass × free fall × distance to the edge ÷ height") {
        plain(values[0] * values[1] * values[2] / values[3])
    } else if is("height / depth") || is("pull / fixings") {
        plain(values[0] / values[1])
    } else {
        on_pins(told, block)
    }
}

/// The same of pins, and of shelves that are plates on their four points.
fn on_pins(told: &Told, block: Option<&Told>) -> Option<(f64, f64)> {
    let formula = told.formula.as_deref()?;
    let values = told.values();
    let plain = |value: f64| Some((value, value.abs()));
    let is = |begins: &str| formula.starts_with(begins);
    if is("32 × force × lever") {
        plain(32.0 * values[0] * values[1] / (std::f64::consts::PI * values[2].powi(3)))
    } else if is("(force / depth + 6 × force") {
        let [force, lever, deep, diameter] = values[..] else { panic!("{told:#?}") };
        plain((force / deep + 6.0 * force * (lever + deep / 2.0) / deep.powi(2)) / diameter)
    } else if is("4/3 × force / (π/4") {
        plain(4.0 / 3.0 * values[0] / (std::f64::consts::FRAC_PI_4 * values[1].powi(2)))
    } else if is("yield ÷ factor") || is("yield ÷ √3") {
        plain(values[0] / values[1] / if is("yield ÷ √3") { 3.0_f64.sqrt() } else { 1.0 })
    } else if is("0.082 × (1 − 0.01·d) × ρ") {
        plain(0.082 * (1.0 - 0.01 * values[0]) * values[1])
    } else if is("push × height of the top edge") {
        plain(values[0] * values[1] / values[2])
    } else if is("an orthotropic plate on these points") {
        let (plate, points) = plate(told, &["load", "own weight"]);
        let bent = plate.solve();
        for (point, bears) in points.iter().zip(&bent.bears) {
            assert!((point - bears).abs() < 0.01 * points.iter().fold(0.0, |most, point| f64::max(most, *point)), "{bears} in {told:#?}");
        }
        let by_elements = bent.shape([told.one("at, from its left end"), told.one("at, from its back edge")], [0, 0]);
        Some(near(by_elements, told.value, 0.02))
    } else if is("E·t³/12 × curvature") {
        let (plate, _) = plate(told, &["load", "own weight"]);
        let places: Vec<f64> = told.name.split(' ').filter_map(|word| word.parse().ok()).collect();
        let at = [places[0], places[1]];
        let bent = plate.solve();
        let [along, across] = [plate.along * bent.shape(at, [2, 0]), plate.across * bent.shape(at, [0, 2])].map(f64::abs);
        // It is of one way or the other; what stands over it says which.
        let by_elements = if block.is_some_and(|block| block.name.contains("from side to side")) { along } else { across };
        // A moment is a second derivative, which converges slower than the shape.
        Some(near(by_elements, told.value, 0.03))
    } else if is("6·m/t²") {
        plain(6.0 * values[0] / values[1].powi(2))
    } else if is("sum of both ways") {
        Some((values.iter().sum(), values.iter().fold(0.0_f64, |most, value| most.max(value.abs()))))
    } else if is("its own sag there + share of it ×") {
        let terms: Vec<f64> = std::iter::once(values[0]).chain(values[1..].chunks(2).map(|pair| pair[0] * pair[1])).collect();
        Some((terms.iter().sum(), terms.iter().fold(0.0_f64, |most, value| most.max(value.abs()))))
    } else if is("the greatest of these") {
        plain(values.iter().copied().fold(0.0, f64::max))
    } else {
        panic!("no reader can follow {formula:?} of {told:#?}")
    }
}

/// A figure that is told, where another way comes as near to it as this share.
fn near(other: f64, told: f64, share: f64) -> (f64, f64) {
    let value = if (other - told).abs() <= share * told.abs() { told } else { other };
    (value, value.abs())
}

/// The plate that is printed under a figure, and what its pins are said to bear.
fn plate(told: &Told, loads: &[&str]) -> (Plate, Vec<f64>) {
    let places = |name: &str| -> Vec<f64> { name.split(' ').filter_map(|word| word.parse().ok()).collect() };
    let inertia = told.one("thickness t").powi(3) / 12.0;
    let pins: Vec<&Told> = told.all("pin at").collect();
    // The pins stand there once for the load and once for the own weight where both are told.
    let mut points: Vec<[f64; 2]> = pins.iter().map(|pin| places(&pin.name)).map(|at| [at[0], at[1]]).collect();
    points.truncate(4);
    let bears = points.iter().map(|at| pins.iter().filter(|pin| places(&pin.name)[..2] == at[..]).map(|pin| pin.value).sum()).collect();
    let load = |load: &Told| {
        let at = places(&load.name);
        ([at[0], at[2]], [at[1], at[3]], load.value)
    };
    let plate = Plate {
        size: [told.one("length, from side to side"), told.one("width, from front to back")],
        along: told.one("modulus of elasticity E, from side to side") * inertia,
        across: told.one("modulus of elasticity E, from front to back") * inertia,
        twist: told.one("shear modulus G") * inertia,
        points,
        loads: loads.iter().flat_map(|name| told.all(name)).map(load).collect(),
    };
    (plate, bears)
}

/// Every figure under one, made again, and how many were by each formula.
fn follow<'t>(told: &'t Told, above: &[&'t Told], counts: &mut BTreeMap<String, usize>) {
    if told.formula.is_none() {
        return;
    }
    if let Some((value, greatest)) = again(told, above) {
        // Four places are printed of each figure: a thousandth of the greatest term, and two of the figure.
        let off = (value - told.value).abs();
        assert!(
            off <= 2e-3 * greatest.max(told.value.abs()) + 1e-9,
            "{}: {} is printed, {value} comes of {told:#?}",
            told.name,
            told.value
        );
        let formula = told.formula.clone().unwrap_or_default();
        *counts.entry(formula).or_default() += 1;
    }
    let mut under = above.to_vec();
    under.push(told);
    for input in &told.inputs {
        follow(input, &under, counts);
    }
}

/// The moments over the supports of what lies on more than two, and the moment and the shear force by which a part is stressed: from supports and loads.
fn statics(after: &Told, stress: &Told, shear: &Told) -> usize {
    let at_once = &after.inputs[0];
    let [load, own, by_shear] = &at_once.inputs[..] else { panic!("{at_once:#?}") };
    let mut checked = 0;
    if load.formula.as_deref().is_some_and(|formula| formula.starts_with("an orthotropic plate")) {
        // A plate is made again as a whole.
        return checked;
    }
    for block in [load, own] {
        let Some(by) = block.all("by the moments over its supports").next() else { continue };
        let beam = Beam::of(block);
        let moments = beam.moments(0.0);
        let most = moments.iter().fold(0.0_f64, |most, moment| most.max(moment.abs()));
        for moment in &by.inputs {
            let at: f64 = moment.name.split(' ').find_map(|word| word.parse().ok()).expect("a place");
            let index = beam.supports.iter().position(|support| (support - at).abs() < 0.02).expect("over a support");
            assert!((moments[index] - moment.value).abs() < 2e-3 * most, "{}: {} by three moments", moment.name, moments[index]);
            checked += 1;
        }
    }
    let mut both = Beam::of(load);
    both.loads.extend(own.formula.iter().flat_map(|_| Beam::of(own).loads));
    if let Some(by) = by_shear.all("by the moments that shear shifts").next() {
        let k = 6.0 * both.stiff / (by_shear.one("shear modulus G") * by_shear.one("area A′"));
        let (with, without) = (both.moments(k), both.moments(0.0));
        let most = with.iter().fold(0.0_f64, |most, moment| most.max(moment.abs()));
        for moment in &by.inputs {
            let at: f64 = moment.name.split(' ').find_map(|word| word.parse().ok()).expect("a place");
            let index = both.supports.iter().position(|support| (support - at).abs() < 0.02).expect("over a support");
            let shifted = with[index] - without[index];
            assert!((shifted - moment.value).abs() < 1e-3 * most, "{}: {} for {shifted}", moment.name, moment.value);
            checked += 1;
        }
    }
    for (told, which) in [(stress, "moment M"), (shear, "shear force V")] {
        let input = told.all(which).next().expect("it is printed");
        let at: f64 = input.name.split(' ').find_map(|word| word.parse().ok()).expect("a place");
        // On either side of a place where it makes a step.
        let near = [-0.02, 0.0, 0.02].map(|by| if which == "moment M" { both.at(at + by).0 } else { both.at(at + by).1 });
        let off = near.iter().map(|by_hand| (by_hand.abs() - input.value.abs()).abs()).fold(f64::INFINITY, f64::min);
        assert!(off < 4e-3 * input.value.abs(), "{}: {} is printed, {near:?} by statics", input.name, input.value);
        checked += 1;
    }
    checked
}

/// All figures of the demo under load: each part that bends, each place where one rests, its masses, and what tips it.
#[test]
fn every_figure_of_the_demo_can_be_made_again_from_what_is_printed() {
    for changes in [&[][..], &[("carcase.wall", "anchored"), ("interior.bays.1.opening.system", "pins")]] {
        let case = Case::with(changes);
        let (under, standing) = loads::of_case(&case.design, &case.model, &case.solids);
        let standing = standing.expect("it is a case");
        let (mut counts, mut stressed) = (BTreeMap::new(), 0);
        let mut tell = |lines: Vec<String>| {
            let told = Told::read(&lines);
            follow(&told, &[], &mut counts);
            told
        };
        for bending in &under.bending {
            let after = tell(bending.why_after().explain());
            bending.why_by_eurocode().into_iter().for_each(|why| drop(tell(why.explain())));
            tell(under.why_bears(&case.design, bending).explain());
            under.why_in_all(&case.model, bending.part).into_iter().for_each(|why| drop(tell(why.explain())));
            let ((stress, allowed), (shear, allowed_shear)) = (bending.why_bending(), bending.why_shear());
            allowed.into_iter().chain(allowed_shear).for_each(|why| drop(tell(why.explain())));
            let (stress, shear) = (tell(stress.explain()), tell(shear.explain()));
            stressed += statics(&after, &stress, &shear);
        }
        for (stress, allowed) in under.rests.iter().flat_map(casewright_core::loads::Rest::why) {
            tell(stress.explain());
            if let Some(why) = allowed {
                tell(why.explain());
            }
        }
        for push in &standing.pushes {
            tell(push.newtons.explain());
        }
        let masses = standing.weighs.iter().chain(standing.filled.iter().map(|filled| &filled.weighs)).chain([&standing.slender]);
        masses.chain(standing.fixing.iter().map(|fixing| &fixing.each)).for_each(|why| drop(tell(why.explain())));
        assert!(stressed > 60, "{stressed}");
        assert!(counts.values().sum::<usize>() > 800, "{counts:#?}");
    }
}

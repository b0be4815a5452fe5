//! Strength against figures from outside, each named with its source and how it was obtained, and against what must hold of any beam.

use approx::assert_relative_eq;
use casewright_core::model::Material;
use casewright_core::strength::{Beam, Bent, Creep, GRAVITY, Hold, Limits, Load, Properties, Section, Stretch, Support, Verdict};
use casewright_core::strength::{
    Board, Borne, ServiceClass, after, after_by_eurocode, allowed_bearing, allowed_shear, bearing_at_angle, creep, eurocode_final,
    eurocode_k_def, notch_factor, pin_bearing, screw_lateral, screw_shank, screw_withdrawal, screw_withdrawal_allowed, shear_along,
    shear_at_notch,
};
use casewright_core::timber::{How, Timbers};
use casewright_core::worked::{Basis, Worked};
use proptest::prelude::*;

const INCH: f64 = 25.4;
/// Pounds to the square inch, and to the square foot, in N/mm² (the international pound and inch).
const PSI: f64 = 0.006_894_757;
const PSF: f64 = PSI / 144.0;

/// A section of E·I, N·mm², and no shear to speak of.
fn section(bending: f64) -> Section {
    let stuff = Properties::plain("stuff", 1.0).with_shear_modulus(1e12);
    // A square of side a has I = a⁴/12.
    let side = (12.0 * bending).powf(0.25);
    Section::rectangle(side, side, &stuff).expect("a section")
}

fn rectangle(modulus: f64, width: f64, thickness: f64) -> Section {
    Section::rectangle(width, thickness, &Properties::plain("stuff", modulus)).expect("a section")
}

fn solve(beam: &Beam) -> Bent {
    beam.solve().unwrap_or_else(|error| panic!("{error}: {beam:?}"))
}

fn spread(total: f64, length: f64) -> Load {
    Load::Spread { from: 0.0, to: length, per_mm: total / length }
}

/// Wood Handbook FPL-GTR-282, equation 9-2 and table 9-1 (read): δ = kb·W·L³/(E·I) + ks·W·L/(G·A′).
#[test]
fn the_coefficients_of_the_handbook_come_out() {
    let (length, load) = (900.0_f64, 500.0);
    let stuff = rectangle(12_000.0, 250.0, 40.0);
    let (bends, shears) = (load * length.powi(3) / stuff.bending(), load * length / stuff.shear());
    let middle = |force: f64| Load::Point { at: length / 2.0, force };
    let quarters = |beam: Beam| [0.25, 0.75].iter().fold(beam, |beam, at| beam.with(Load::Point { at: at * length, force: load / 2.0 }));
    let (simple, built_in) = (Beam::simple(length, stuff.clone()), Beam::built_in(length, stuff.clone()));
    let cantilever = Beam::cantilever(length, stuff);
    for (name, beam, at, kb, ks) in [
        ("simple, spread", simple.clone().with(spread(load, length)), 0.5, 5.0 / 384.0, 0.125),
        ("simple, at the middle", simple.clone().with(middle(load)), 0.5, 1.0 / 48.0, 0.25),
        ("simple, at the quarters", quarters(simple.clone()), 0.5, 11.0 / 768.0, 0.125),
        // The copy files this row as clamped, which is wrong (worked example W18).
        ("simple, under the quarters", quarters(simple), 0.25, 1.0 / 96.0, 0.125),
        ("built in, spread", built_in.clone().with(spread(load, length)), 0.5, 1.0 / 384.0, 0.125),
        ("built in, at the middle", built_in.clone().with(middle(load)), 0.5, 1.0 / 192.0, 0.25),
        ("cantilever, spread", cantilever.clone().with(spread(load, length)), 1.0, 0.125, 0.5),
        ("cantilever, at its end", cantilever.with(Load::Point { at: length, force: load }), 1.0, 1.0 / 3.0, 1.0),
    ] {
        let sag = solve(&beam).sag_at(at * length);
        println!("{name}: {sag:?}");
        assert_relative_eq!(sag.load, kb * bends, max_relative = 1e-9);
        assert_relative_eq!(sag.shear, ks * shears, max_relative = 1e-7);
    }
    // Clamped, by a numerical check (worked example W18, derived).
    let bent = solve(&quarters(built_in));
    assert_relative_eq!(bent.sag_at(length / 2.0).load, bends / 384.0, max_relative = 1e-9);
    assert_relative_eq!(bent.sag_at(length / 4.0).load, bends / 614.4, max_relative = 1e-9);
}

/// The greatest deflections of beams on more supports than they need, and where (from memory, checked by a numerical solution; worked
/// examples W19 and W20).
#[test]
fn two_and_three_spans_and_a_beam_built_in_at_one_end() {
    let (length, per_mm) = (800.0_f64, 0.5);
    let unit = per_mm * length.powi(4) / 1e9;
    let all = |beam: Beam| {
        let to = beam.length();
        solve(&beam.with(Load::Spread { from: 0.0, to, per_mm }))
    };
    let near = |found: f64, wanted: f64, within: f64| assert!((found - wanted).abs() <= within * wanted.abs(), "{found} wanted {wanted}");
    let two = all(Beam::continuous(&[length; 2], section(1e9)));
    for (span, at) in two.spans().iter().zip([0.42154, 2.0 - 0.42154]) {
        near(span.sag.total(), unit / 184.63, 1e-4);
        near(span.at, at * length, 1e-4);
    }
    near(two.reactions()[1].force, 1.25 * per_mm * length, 1e-9);
    near(two.greatest_moment().value, -per_mm * length * length / 8.0, 1e-9);
    let three = all(Beam::continuous(&[length; 3], section(1e9)));
    let [outer, inner, _] = three.spans()[..] else { panic!("three spans") };
    near(outer.sag.total(), unit * 0.006_884_2, 1e-4);
    near(outer.at, 0.446_04 * length, 1e-4);
    near(inner.sag.total(), unit / 1920.0, 1e-6);
    let mut propped = Beam::simple(length, section(1e9));
    propped.supports[0].hold = Hold::BuiltIn;
    let [span] = all(propped).spans()[..] else { panic!("one span") };
    near(span.sag.total(), unit / 185.0, 2e-3);
    near(span.at, 0.578 * length, 1e-3);
}

/// Published examples of steel and timber beams: BEAM-HF, a page of engineering examples (read; worked examples W15 and W16). Newtons and
/// millimetres here.
#[test]
fn beams_worked_in_print() {
    let length = 6000.0;
    let steel = Beam::simple(length, section(200_000.0 * 8e6)).with(Load::Spread { from: 0.0, to: length, per_mm: 2.0 });
    assert_relative_eq!(solve(&steel).worst().sag.total(), 21.094, max_relative = 1e-4);

    let timber = Beam::simple(3000.0, section(8000.0 * 100.0 * 200.0_f64.powi(3) / 12.0));
    let loads = [(500.0, 10_000.0), (1500.0, 5000.0), (2500.0, 10_000.0)];
    let timber = loads.iter().fold(timber, |beam, (at, force)| beam.with(Load::Point { at: *at, force: *force }));
    let bent = solve(&timber.with(Load::Spread { from: 0.0, to: 3000.0, per_mm: 0.1177 }));
    for reaction in bent.reactions() {
        assert_relative_eq!(reaction.force, 12_676.55, max_relative = 1e-5);
    }
    assert_relative_eq!(bent.greatest_moment().value, 8_882_410.0, max_relative = 1e-5);
    assert_relative_eq!(bent.slope_at(0.0).to_degrees(), 0.9878, max_relative = 1e-3);
    assert_relative_eq!(bent.worst().sag.total(), 15.662, max_relative = 1e-4);
    assert_relative_eq!(bent.worst().at, 1500.0, max_relative = 1e-9);
}

/// EC5-NB, read: a beam of 50 × 250 over 4 m, permanent 1.0 and variable 2.0 kN/m, 12,000 N/mm², `psi_2` 0.4, `k_def` 0.6 (worked examples W21
/// and W22). Limits L/300 and L/250.
#[test]
fn a_joist_by_eurocode_5() {
    let section = section(12_000.0 * 50.0 * 250.0_f64.powi(3) / 12.0);
    let sag =
        |per_mm: f64| solve(&Beam::simple(4000.0, section.clone()).with(Load::Spread { from: 0.0, to: 4000.0, per_mm })).worst().sag.load;
    let (lasting, passing) = (sag(1.0), sag(2.0));
    assert_relative_eq!(lasting + passing, 12.8, max_relative = 1e-4);
    let last = eurocode_final(lasting, passing, 0.4, 0.6);
    assert_relative_eq!(last, 17.408, max_relative = 1e-4);
    assert!(lasting + passing < 4000.0 / 300.0 && last > 4000.0 / 250.0, "good at once, too much in the end");
}

/// Derived from handbook equation 9-2 (worked example W23): red oak 250 × 19 over 900 under 0.5 N/mm.
#[test]
fn bending_and_shear_of_an_oak_shelf_are_told_apart() {
    let bent = solve(&Beam::simple(900.0, rectangle(12_500.0, 250.0, 19.0)).with(Load::Spread { from: 0.0, to: 900.0, per_mm: 0.5 }));
    let sag = bent.worst().sag;
    assert_relative_eq!(sag.load, 2.3914, max_relative = 1e-4);
    assert_relative_eq!(sag.shear, 0.0164, max_relative = 5e-3);
    assert!(sag.own_weight.abs() < 1e-12);
    // Statics: w·L²/8, and a stress of M/(b·h²/6).
    assert_relative_eq!(bent.bending_stress().value, 0.5 * 900.0_f64.powi(2) / 8.0 * 6.0 / (250.0 * 361.0), max_relative = 1e-9);
    assert_relative_eq!(bent.shear_stress().value, 1.5 * 225.0 / (250.0 * 19.0), max_relative = 1e-9);
}

/// A board maker's page (read): MDF of 2,500 N/mm², 18 × 300 × 800 under 24 kg, without its own weight: 4.3 mm.
#[test]
fn the_mdf_shelf_of_a_board_maker() {
    let bent = solve(&Beam::simple(800.0, rectangle(2500.0, 300.0, 18.0)).with(Load::kg_spread(24.0, 0.0, 800.0)));
    assert!((bent.worst().sag.load - 4.3).abs() < 0.05, "{:?}", bent.worst());
}

/// The span table of the Architectural Woodwork Standards, edition 1, 2009 (read in a copy): the greatest spans of shelves under 40 and 50
/// lb/ft². What it is was found by recomputing it: simply supported, bending alone, no creep, L/144, cut to whole inches; one, 45.98, is
/// printed as 46.
#[test]
fn the_twelve_spans_of_the_architectural_woodwork_table() {
    for (name, psi, spans) in [
        ("red oak", 1.82e6, [[49, 46], [66, 61]]),
        ("Douglas-fir plywood", 0.95e6, [[40, 37], [53, 49]]),
        ("hardwood-faced plywood", 1.80e6, [[49, 46], [66, 61]]),
    ] {
        for (thickness, spans) in [0.75, 1.0].into_iter().zip(spans) {
            for (load, printed) in [40.0, 50.0].into_iter().zip(spans) {
                let greatest = greatest_span(psi * PSI, thickness * INCH, load * PSF) / INCH;
                let cut = (greatest + 0.03).floor() as i32;
                assert_eq!(cut, printed, "{name} {thickness} in under {load}: {greatest}");
            }
        }
    }
}

/// The span at which a shelf under a pressure sags by a 144th of it, mm, by halving.
fn greatest_span(modulus: f64, thickness: f64, pressure: f64) -> f64 {
    let width = 300.0;
    let share = |length: f64| {
        let beam = Beam::simple(length, rectangle(modulus, width, thickness)).with(spread(pressure * width * length, length));
        solve(&beam).worst().sag.load / length
    };
    let (mut good, mut bad) = (100.0, 10_000.0);
    for _ in 0..60 {
        let middle = f64::midpoint(good, bad);
        if share(middle) > 1.0 / 144.0 { bad = middle } else { good = middle }
    }
    good
}

/// Red oak 19 × 280 (derived in the notes of the project from handbook figures): 30 kg/m and 3.7 of its own over 900 gives 1.4 mm at once
/// and 2.1 after creep, over 1,000 2.1 and 3.2, over 1,200 4.4 and 6.7; with 37 kg/m over 900, 1.7 and 2.6.
#[test]
fn an_oak_shelf_of_books_sags_and_creeps() {
    let oak = Properties::plain("red oak", 12_500.0).with_density(706.0);
    let shelf = Section::rectangle(280.0, 19.0, &oak).expect("a section");
    for (load, span, at_once, later) in
        [(30.0, 900.0, 1.4, 2.1), (30.0, 1000.0, 2.1, 3.2), (30.0, 1200.0, 4.4, 6.7), (37.0, 900.0, 1.7, 2.6)]
    {
        let beam = Beam::simple(span, shelf.clone()).with(Load::kg_per_metre(load, 0.0, span)).heavy();
        let sag = solve(&beam).worst().sag;
        // The notes reckon bending alone.
        let total = sag.load + sag.own_weight;
        assert!((total - at_once).abs() < 0.07, "{span}: {total}");
        assert!((total * creep(Creep::Timber, 10.0) - later).abs() < 0.08, "{span}: {total}");
        assert!(sag.own_weight > 0.0 && sag.shear > 0.0);
    }
    // Past L/200, not past L/144.
    assert_eq!(Limits::default().judge(1200.0, 4.4, 6.7), Verdict::Seen);
}

/// Derived in the notes of the project: a slat of red oak 60 × 20 over 800 with 10 kg at its middle sags by 2.1 mm.
#[test]
fn a_slat_with_a_box_at_its_middle() {
    let bent = solve(&Beam::simple(800.0, rectangle(12_500.0, 60.0, 20.0)).with(Load::kg_at(10.0, 400.0)));
    assert!((bent.worst().sag.load - 2.1).abs() < 0.05, "{:?}", bent.worst());
}

/// The widely copied prose is wrong (see the table of the trade): a tenth more length at a fixed load a metre is 46 % more sag, at a fixed
/// load in all 33 %; a tenth more thickness makes it a third stiffer. Bending alone.
#[test]
fn a_tenth_more_length_or_thickness() {
    let sag = |length: f64, thickness: f64, total: f64| {
        solve(&Beam::simple(length, rectangle(10_000.0, 280.0, thickness)).with(spread(total, length))).worst().sag.load
    };
    let first = sag(900.0, 19.0, 300.0);
    assert!((sag(990.0, 19.0, 330.0) / first - 1.46).abs() < 0.005);
    assert!((sag(990.0, 19.0, 300.0) / first - 1.33).abs() < 0.005);
    assert!((first / sag(900.0, 20.9, 300.0) - 1.33).abs() < 0.005);
}

#[test]
fn what_can_not_be_reckoned_is_told() {
    let shelf = || Beam::simple(900.0, rectangle(12_500.0, 250.0, 19.0));
    let told = |beam: Beam| beam.solve().expect_err("it can't be reckoned").to_string();
    assert!(told(Beam { supports: vec![Support { at: 0.0, hold: Hold::Simple }], ..shelf() }).contains("needs two supports"));
    assert!(told(Beam { supports: Vec::new(), ..shelf() }).contains("needs two supports"));
    assert!(told(shelf().with(Load::kg_at(10.0, 901.0))).contains("a load is at 901 mm"));
    assert!(told(shelf().with(Load::Point { at: 10.0, force: f64::NAN })).contains("finite"));
    assert!(told(shelf().with(Load::Spread { from: 20.0, to: 10.0, per_mm: 1.0 })).contains("end after it begins"));
    assert!(told(shelf().heavy()).contains("no density is known"));
    let near = [0.0, 0.2, 900.0].map(|at| Support { at, hold: Hold::Simple });
    assert!(told(Beam { supports: near.into(), ..shelf() }).contains("less than 1 mm apart"));
    assert!(told(Beam { stretches: Vec::new(), ..shelf() }).contains("no stretch"));
    assert!(told(Beam::simple(f64::INFINITY, rectangle(1.0, 1.0, 1.0))).contains("1 mm at the least"));
    assert!(told(Beam { supports: vec![Support { at: f64::NAN, hold: Hold::BuiltIn }], ..shelf() }).contains("a support is at"));
}

/// A beam of one to four spans, perhaps built in, perhaps standing out at its ends, with loads anywhere on it.
fn beams() -> impl Strategy<Value = Beam> {
    let size = (50.0..400.0_f64, 8.0..40.0_f64, 2000.0..16_000.0_f64);
    let spans = prop::collection::vec(200.0..1200.0_f64, 1..5);
    let loads = prop::collection::vec((0.0..1.0_f64, 0.0..1.0_f64, 1.0..300.0_f64, any::<bool>()), 1..5);
    (size, spans, any::<[bool; 2]>(), 0.0..300.0_f64, loads).prop_map(|((width, thickness, modulus), spans, built_in, over, loads)| {
        let mut beam = Beam::continuous(&spans, rectangle(modulus, width, thickness));
        beam.stretches[0].length += over;
        let length = beam.length();
        for (end, built_in) in [0, spans.len()].into_iter().zip(built_in) {
            if built_in {
                beam.supports[end].hold = Hold::BuiltIn;
            }
        }
        for (from, to, force, point) in loads {
            let (from, to) = (from.min(to) * length, from.max(to) * length);
            let load =
                if point || to - from < 1.0 { Load::Point { at: from, force } } else { Load::Spread { from, to, per_mm: force / length } };
            beam.loads.push(load);
        }
        beam
    })
}

/// The same beam seen from the other side.
fn mirrored(beam: &Beam) -> Beam {
    let length = beam.length();
    let mut other = beam.clone();
    other.stretches.reverse();
    for support in &mut other.supports {
        support.at = length - support.at;
    }
    for load in &mut other.loads {
        *load = match *load {
            Load::Point { at, force } => Load::Point { at: length - at, force },
            Load::Spread { from, to, per_mm } => Load::Spread { from: length - to, to: length - from, per_mm },
        };
    }
    other
}

/// The same with every length, and every load a metre, times something; its sections of another thickness.
fn scaled(beam: &Beam, times: f64) -> Beam {
    let mut other = beam.clone();
    other.stretches.iter_mut().for_each(|stretch| stretch.length *= times);
    other.supports.iter_mut().for_each(|support| support.at *= times);
    for load in &mut other.loads {
        *load = match *load {
            Load::Point { at, force } => Load::Point { at: at * times, force: force * times },
            Load::Spread { from, to, per_mm } => Load::Spread { from: from * times, to: to * times, per_mm },
        };
    }
    other
}

fn thicker(beam: &Beam, thickness: f64) -> Beam {
    let section = Section::rectangle(100.0, thickness, &Properties::plain("stuff", 10_000.0)).expect("a section");
    Beam { stretches: vec![Stretch { length: beam.length(), section }], ..beam.clone() }
}

fn close(a: f64, b: f64, scale: f64) -> bool {
    (a - b).abs() <= 1e-6 * scale
}

proptest! {
    /// Statics: what the supports bear is what lies on the beam, in force and in moment.
    #[test]
    fn supports_bear_what_lies_on_the_beam(beam in beams()) {
        let bent = solve(&beam);
        let forces: f64 = beam.loads.iter().map(Load::total).sum();
        let middle = |load: &Load| match *load { Load::Point { at, .. } => at, Load::Spread { from, to, .. } => f64::midpoint(from, to) };
        let moments: f64 = beam.loads.iter().map(|load| load.total() * middle(load)).sum();
        let borne: f64 = bent.reactions().iter().map(|reaction| reaction.force).sum();
        let turned: f64 = bent.reactions().iter().map(|reaction| reaction.force * reaction.at - reaction.moment).sum();
        prop_assert!(close(borne, forces, forces), "{borne} {forces}");
        prop_assert!(close(turned, moments, forces * beam.length()), "{turned} {moments}");
    }

    /// Bending alone goes with the fourth power of the length at a fixed load a metre, and with the third power of the thickness.
    #[test]
    fn sag_goes_with_length_to_the_fourth_and_thickness_to_the_third(beam in beams(), times in 0.5..2.0_f64) {
        let beam = thicker(&beam, 20.0);
        let (first, longer) = (solve(&beam), solve(&scaled(&beam, times)));
        let stouter = solve(&thicker(&beam, 20.0 * times));
        let greatest = first.worst().sag.load.abs();
        for step in 0..=20 {
            let at = beam.length() * f64::from(step) / 20.0;
            let sag = first.sag_at(at).load;
            prop_assert!(close(longer.sag_at(at * times).load, sag * times.powi(4), greatest * times.powi(4)));
            prop_assert!(close(stouter.sag_at(at).load, sag / times.powi(3), greatest / times.powi(3)));
        }
    }

    #[test]
    fn a_mirrored_beam_bends_mirrored(beam in beams()) {
        let (bent, other) = (solve(&beam), solve(&mirrored(&beam)));
        let greatest = bent.spans().iter().map(|span| span.sag.total().abs()).fold(0.0, f64::max);
        for step in 0..=20 {
            let at = beam.length() * f64::from(step) / 20.0;
            prop_assert!(close(bent.sag_at(at).total(), other.sag_at(beam.length() - at).total(), greatest));
        }
    }

    /// Where nothing changes, a joint between two stretches changes nothing; two loads do what each does alone.
    #[test]
    fn stretches_and_loads_add_up(beam in beams(), at in 0.1..0.9_f64) {
        let bent = solve(&beam);
        let whole = beam.stretches[0].clone();
        let halves = [at, 1.0 - at].map(|share| Stretch { length: whole.length * share, section: whole.section.clone() });
        let cut = solve(&Beam { stretches: halves.into(), ..beam.clone() });
        let alone: Vec<Bent> = beam.loads.iter().map(|load| solve(&Beam { loads: vec![*load], ..beam.clone() })).collect();
        let greatest = bent.spans().iter().map(|span| span.sag.total().abs()).fold(0.0, f64::max);
        for step in 0..=20 {
            let at = beam.length() * f64::from(step) / 20.0;
            let sag = bent.sag_at(at).total();
            prop_assert!(close(cut.sag_at(at).total(), sag, greatest));
            let sum: f64 = alone.iter().map(|bent| bent.sag_at(at).total()).sum();
            prop_assert!(close(sum, sag, greatest.max(sum.abs())));
        }
    }

    /// The greatest of each span is no less than the deflection anywhere in it, and is found where it is said to be.
    #[test]
    fn nothing_in_a_span_sags_more_than_its_greatest(beam in beams()) {
        let bent = solve(&beam);
        for span in bent.spans() {
            let greatest = span.sag.total().abs();
            prop_assert!(close(bent.sag_at(span.at).total().abs(), greatest, greatest));
            for step in 0..=50 {
                let at = span.from + (span.to - span.from) * f64::from(step) / 50.0;
                prop_assert!(bent.sag_at(at).total().abs() <= greatest * (1.0 + 1e-9) + 1e-12);
            }
        }
        for reaction in bent.reactions() {
            let worst = bent.worst().sag.total().abs();
            prop_assert!(bent.sag_at(reaction.at).total().abs() <= 1e-9 * worst, "a support does not give way");
        }
    }
}

/// The own weight is a load like another: arithmetic.
#[test]
fn own_weight_is_a_load_like_another() {
    let oak = Properties::plain("oak", 12_000.0).with_density(700.0);
    let shelf = Section::rectangle(280.0, 20.0, &oak).expect("a section");
    let heavy = solve(&Beam::simple(900.0, shelf.clone()).heavy()).worst();
    let per_mm = 700.0 * 0.28 * 0.02 * GRAVITY / 1000.0;
    let loaded = solve(&Beam::simple(900.0, shelf).with(Load::Spread { from: 0.0, to: 900.0, per_mm })).worst();
    assert_relative_eq!(heavy.sag.own_weight, loaded.sag.load, max_relative = 1e-9);
    assert_relative_eq!(heavy.sag.total(), loaded.sag.total(), max_relative = 1e-9);
}

/// Worked examples W24 and W25: at G 0.45 and D 0.190 in, 109 lb to the inch of thread may be asked (SCREW-ENG, read; cut, not rounded), and
/// 604.06 lbf draw it out by the inch form 15700 G² D (from memory), 604.10 by the SI form (Wood Handbook, equation 8-10, read).
#[test]
fn a_screw_is_drawn_out_as_the_handbook_has_it() {
    let mut wood = Properties::plain("wood", 10_000.0);
    wood.gravity = wood.density.clone().or(Some(casewright_core::timber::Known::new(0.45, How::Maker, "the example")));
    let pound_force = 4.448_222;
    let (shank, thread) = (0.190 * INCH, INCH);
    let ultimate = screw_withdrawal(&wood, shank, thread).expect("its gravity is known");
    assert_relative_eq!(ultimate.value / pound_force, 604.10, max_relative = 1e-4);
    let asked = screw_withdrawal_allowed(&wood, shank, thread).expect("its gravity is known").value / pound_force;
    assert!((asked.floor() - 109.0).abs() < 1e-9, "{asked}");
    // Chapter 8, read: an 8 gauge has 4.17 mm; K of 23.17 for hardwood of 0.33 to 0.47.
    assert_eq!((screw_shank(8), screw_shank(13)), (Some(4.17), None));
    assert_relative_eq!(screw_lateral(&wood, false, 4.17).expect("in range").value, 23.17 * 4.17 * 4.17, max_relative = 1e-12);
    assert!(screw_withdrawal(&Properties::plain("a board", 2500.0), 4.17, 20.0).is_none(), "ask its maker");
}

/// By hand: 20 kg on four pins of 5 that reach 8 under the shelf: 49.03 N each on 40 mm²; of red oak, 7.0 N/mm² at its proportional limit (Wood Handbook
/// FPL-GTR-190, table 5-3a, read), six tenths of that for ten years, over 1.5.
#[test]
fn four_pins_under_a_shelf_of_red_oak() {
    let stress = pin_bearing(20.0 * GRAVITY / 4.0, 5.0, 8.0);
    assert_relative_eq!(stress.value, 1.2258, max_relative = 1e-4);
    let oak = Properties::of(&Material::Solid("red_oak".to_owned()), &Timbers::default()).expect("it is in the table");
    let allowed = allowed_bearing(&oak).expect("it is in the table");
    assert_relative_eq!(allowed.value, 2.8, max_relative = 1e-9);
    assert!(stress.explain().join("\n").contains("diameter 5 mm") && allowed.explain().join("\n").contains("table 5-3a"));
}

/// EN 1995-1-1 table 3.2: solid timber 0.60, 0.80 and 2.00, plywood 0.80, 1.00 and 2.50, MDF.LA 2.25 in class 1 only (read in copies).
#[test]
fn deformation_factors_of_eurocode_5() {
    let of = |board| [ServiceClass::One, ServiceClass::Two, ServiceClass::Three].map(|class| eurocode_k_def(board, class));
    assert_eq!(of(Board::Timber), [Some(0.60), Some(0.80), Some(2.00)]);
    assert_eq!(of(Board::Plywood), [Some(0.80), Some(1.00), Some(2.50)]);
    assert_eq!(of(Board::Mdf), [Some(2.25), None, None]);
}

/// What must hold of the formulas at their ends: along and across the grain, no notch and a deep one, a plane that is too long to count.
#[test]
fn ends_of_beams_at_the_ends_of_their_formulas() {
    assert_relative_eq!(bearing_at_angle(50.0, 8.0, 0.0).value, 50.0, max_relative = 1e-12);
    assert_relative_eq!(bearing_at_angle(50.0, 8.0, 90.0).value, 8.0, max_relative = 1e-12);
    assert_relative_eq!(notch_factor(40.0, 40.0, 20.0).value, 1.0, max_relative = 1e-12);
    assert!(notch_factor(200.0, 100.0, 40.0).value < notch_factor(200.0, 150.0, 40.0).value);
    assert_relative_eq!(shear_at_notch(300.0, 20.0, 40.0, 40.0, 10.0).value, 1.5 * 300.0 / 800.0, max_relative = 1e-12);
    assert_relative_eq!(shear_along(300.0, 20.0, 500.0, 5.0).value, 300.0 / (20.0 * 40.0), max_relative = 1e-12);
}

/// A figure can be asked why, and says of what comes from memory that it does.
#[test]
fn a_sag_tells_its_formula_its_inputs_and_their_sources() {
    let oak = Properties::of(&Material::Solid("red_oak".to_owned()), &Timbers::default()).expect("it is in the table");
    let section = Section::rectangle(280.0, 19.0, &oak).expect("a section");
    let bent = solve(&Beam::simple(900.0, section.clone()).with(Load::kg_per_metre(30.0, 0.0, 900.0)).heavy());
    let borne = Borne { of: &oak, section: &section, loads: &[Load::kg_per_metre(30.0, 0.0, 900.0)], bent: &bent };
    let at_once = borne.at_once();
    assert!((at_once.value - 1.42).abs() < 0.02, "{}", at_once.value);
    let told = at_once.explain().join("\n");
    for words in ["bending under its own weight", "equation 9-2", "modulus of elasticity E 12500 N/mm²", "Wood Handbook", "span 900 mm"] {
        assert!(told.contains(words), "{words}: {told}");
    }
    let (stress, allowed) = borne.bending_stress();
    // 99 N/mm² × 0.6 / 3.
    assert_relative_eq!(allowed.expect("red oak has a strength").value, 19.8, max_relative = 1e-9);
    assert!(stress.value > 0.0 && stress.value < 19.8);
    assert!(allowed_shear(&oak).is_some());
    let later = after(at_once.clone(), Creep::Timber, 10.0);
    assert_relative_eq!(later.value, at_once.value * 1.5, max_relative = 1e-12);
    assert_eq!(after(at_once, Creep::Timber, 3.0).how(), How::Memory, "the curve between is from memory");
}

/// Figures of the inputs of a worked figure whose names begin so.
fn inputs_of<'w>(worked: &'w Worked, begins: &str) -> Vec<&'w Worked> {
    let Basis::Formula { inputs, .. } = &worked.basis else { return Vec::new() };
    inputs.iter().filter(|input| input.name.starts_with(begins)).collect()
}

fn one<'w>(worked: &'w Worked, begins: &str) -> &'w Worked {
    let found = inputs_of(worked, begins);
    assert_eq!(found.len(), 1, "{begins}: {:?}", worked.explain());
    found[0]
}

/// What is told of a beam can be followed by hand: point and spread loads with their places add up to the sag, moment and section to the
/// stress, force and section to the shear. Formulas: statics, Wood Handbook FPL-GTR-282, equation 9-2.
#[test]
fn why_a_beam_sags_and_is_stressed_can_be_followed_by_hand() {
    let oak = Properties::of(&Material::Solid("red_oak".to_owned()), &Timbers::default()).expect("it is in the table");
    let section = Section::rectangle(280.0, 19.0, &oak).expect("a section");
    let loads = [
        Load::Point { at: 300.0, force: 120.0 },
        Load::Spread { from: 350.0, to: 800.0, per_mm: 0.2 },
        Load::Point { at: 940.0, force: 15.0 },
    ];
    // It stands out by 50 at either end.
    let supports = [50.0, 900.0].map(|at| Support { at, hold: Hold::Simple }).into();
    let beam =
        Beam { stretches: vec![Stretch { length: 950.0, section: section.clone() }], supports, loads: loads.into(), own_weight: true };
    let bent = solve(&beam);
    let borne = Borne { of: &oak, section: &section, loads: &loads, bent: &bent };
    let at_once = borne.at_once();
    let bends = one(&at_once, "bending under the load");
    let shares = inputs_of(bends, "by the load");
    assert_eq!(shares.len(), 3, "{:?}", bends.explain());
    assert!(shares[0].name.contains("at 300 mm") && shares[1].name.contains("from 350 to 800 mm"), "{:?}", bends.explain());
    assert_relative_eq!(one(shares[1], "load").value, 90.0, max_relative = 1e-9);
    assert_relative_eq!(shares.iter().map(|share| share.value).sum::<f64>(), bends.value, max_relative = 1e-9);
    let own = one(&at_once, "bending under its own weight");
    assert_relative_eq!(one(own, "by the own weight").value, own.value, max_relative = 1e-9);
    let shear = one(&at_once, "shear");
    let by_hand = one(shear, "moment M").value / (one(shear, "shear modulus G").value * one(shear, "area A′").value);
    assert_relative_eq!(shear.value, by_hand, max_relative = 1e-6);
    let (stress, _) = borne.bending_stress();
    let by_hand = one(&stress, "moment M").value * one(&stress, "distance y").value / one(&stress, "second moment of area I").value;
    assert_relative_eq!(stress.value, by_hand, max_relative = 1e-9);
    assert_relative_eq!(one(&stress, "distance y").value, 9.5, max_relative = 1e-9);
    let (stress, _) = borne.shear_stress();
    let by_hand = 1.5 * one(&stress, "shear force V").value / (280.0 * 19.0);
    assert_relative_eq!(stress.value, by_hand.abs(), max_relative = 1e-9);
}

/// EN 1995-1-1, table 3.2 (read in copies): `k_def` 0.60 for solid timber and 2.25 for `MDF.LA` in service class 1.
#[test]
fn the_creep_of_the_eurocode_stands_beside_ours() {
    let at_once = Worked::given("sag at once", 2.0, "mm");
    for (board, k_def) in [(Board::Timber, 0.6), (Board::Mdf, 2.25)] {
        let told = after_by_eurocode(&at_once, board).expect("it has a factor");
        assert_relative_eq!(told.value, eurocode_final(2.0, 0.0, 1.0, k_def), max_relative = 1e-12);
        let factor = one(&told, "k_def");
        assert_relative_eq!(factor.value, k_def, max_relative = 1e-12);
        assert!(factor.name.contains("service class 1") && factor.how() == How::Read, "{factor:?}");
    }
    let recalled = after_by_eurocode(&at_once, Board::ParticleP7).expect("it has a factor");
    assert_eq!(one(&recalled, "k_def").how(), How::Memory);
}

#[test]
fn a_stuff_that_no_table_has_is_told() {
    let told = |material: Material| Properties::of(&material, &Timbers::default()).expect_err("it is not known").to_string();
    assert!(told(Material::Solid("moonwood".to_owned())).contains("moonwood is in no table"));
    assert!(told(Material::Sheet("edge_glued_panel".to_owned())).contains("no modulus of elasticity is known"));
}

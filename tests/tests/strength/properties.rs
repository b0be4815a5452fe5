//! What must hold of any beam.

use crate::{rectangle, solve};
use approx::assert_relative_eq;
use casewright_core::strength::{Beam, Bent, GRAVITY, Hold, Load, Properties, Section, Stretch};
use proptest::prelude::*;

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

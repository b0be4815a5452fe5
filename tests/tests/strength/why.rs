//! What a sag and a stress rest on, step by step.

use crate::{solve, spread};
use approx::assert_relative_eq;
use casewright_core::model::Material;
use casewright_core::strength::{Beam, Creep, Hold, Load, Properties, Section, Stretch, Support};
use casewright_core::strength::{Board, Borne, after, after_by_eurocode, allowed_shear, eurocode_final};
use casewright_core::timber::{How, Timbers};
use casewright_core::worked::{Basis, Worked};

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
    for words in ["bending under its own weight", "equation 9-2", "modulus of elasticity E 12500 N/mm²", "Wood Handbook", "span L 900 mm"]
    {
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

/// What is left out is said to be, and nothing is told of it that is not in the sum.
#[test]
fn an_own_weight_that_is_left_out_says_so() {
    let oak = Properties::of(&Material::Solid("red_oak".to_owned()), &Timbers::default()).expect("it is in the table");
    let section = Section::rectangle(280.0, 19.0, &oak).expect("a section");
    let told = |beam: &Beam| {
        let bent = solve(beam);
        Borne { of: &oak, section: &section, loads: &beam.loads, bent: &bent }.at_once().explain().join("\n")
    };
    let light = Beam::simple(900.0, section.clone()).with(spread(300.0, 900.0));
    let without = told(&light);
    assert!(without.contains("own weight, which is left out 0 mm") && !without.contains("by the own weight"), "{without}");
    assert!(told(&light.clone().heavy()).contains("by the own weight"));
    // On more than two supports each is told, so that the sum can be made again.
    let many = Beam::continuous(&[400.0, 500.0], section.clone()).with(spread(300.0, 900.0));
    let many = told(&many);
    assert!(["support at 0 mm", "support at 400 mm", "support at 900 mm"].iter().all(|at| many.contains(at)), "{many}");
}

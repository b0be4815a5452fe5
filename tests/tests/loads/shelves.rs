//! Shelves under what stands on them.

use approx::assert_relative_eq;
use casewright_core::design::shop::measure_batch;
use casewright_core::inspect::{Rule, Seriousness};
use casewright_core::loads::{Bending, Pressed, UnderLoad, bear};
use casewright_core::model::PartKind;
use casewright_core::strength::{GRAVITY, Verdict};
use casewright_core::{Length, derive};
use casewright_tests::{Case, demo_with};
use proptest::prelude::*;

/// A slat of the derived case under a fixed load a millimetre, bending alone: × 1.46 for a span × 1.1, × 1 / 1.33 for a thickness × 1.1
/// (notes of the project, by L⁴ and t³).
#[test]
fn a_slat_of_the_case_follows_its_span_and_thickness() {
    let sag = |bay: f64, thickness: f64| {
        let changes = [("interior.bays.1.size", bay.to_string()), ("sawtooth.slats.thickness", thickness.to_string())];
        let case = Case::of(demo_with(&changes.each_ref().map(|(path, value)| (*path, value.as_str())))).expect("it derives");
        let slat = case.model.find("slat.1.1.2").expect("a slat");
        let block = slat.block();
        let pressed = Pressed { from: block.min.x, to: block.max.x, force: 0.1 * block.size().x };
        let bent = bear(&case.design.limits, &case.model, slat.id, &[pressed]).expect("it lies on two cleats");
        (bent.span(), bent.curve.bent().worst().sag.load)
    };
    let (short, sag_short) = sag(400.0, 20.0);
    let (long, sag_long) = sag(short * 1.1 - (short - 400.0), 20.0);
    assert_relative_eq!(long, short * 1.1, max_relative = 1e-9);
    // A little beyond the cleats counts a little less in the longer one.
    assert_relative_eq!(sag_long / sag_short, 1.4641, max_relative = 0.01);
    let (_, thick) = sag(400.0, 22.0);
    assert_relative_eq!(sag_short / thick, 1.331, max_relative = 1e-9);
}

/// One carton of 16 kg on one slat shelf of a bay that takes no other: 16 kg and no more, in the middle.
#[test]
fn a_shelf_bears_the_boxes_that_there_are() {
    let mut design = demo_with(&[]);
    design.contents.truncate(1);
    design.contents[0].count = 1;
    let model = derive(&design).expect("it derives");
    let under = UnderLoad::of(&design, &model);
    let shelf = under.shelves(&model).into_iter().find(|shelf| shelf.name == "shelf 1 of bay 1").expect("it is there");
    assert_relative_eq!(shelf.kg, 16.0, max_relative = 1e-12);
    let on_slats = under.bending.iter().filter(|bending| bending.room == Some(shelf.room) && bending.is_board(&model));
    assert_relative_eq!(on_slats.map(|bending| bending.bears.total()).sum::<f64>(), 16.0 * GRAVITY, max_relative = 1e-9);
    let [stack] = &under.stacks[shelf.room][..] else { panic!("{:?}", under.stacks[shelf.room]) };
    let space = model.rooms[shelf.room].space;
    assert_relative_eq!(stack.block.centre().x, space.centre().x, max_relative = 1e-9);
    assert_relative_eq!(stack.block.max.z, space.max.z, max_relative = 1e-12);
}

/// In a bay of 1268 the slats of 20 that the maker decided sag too far; by the load they get thicker, until every shelf at its heaviest is within
/// what it is made for, and no thicker. A measured thickness stays.
#[test]
fn slats_are_as_thick_as_their_load_wants_them() {
    let wide = [("carcase.width", "2300"), ("carcase.rails.top", "96"), ("carcase.rails.bottom", "140")];
    let by = |words: &str| Case::of(demo_with(&[&wide[..], &[("sawtooth.slats.thick_by", words)]].concat())).expect("it derives");
    let thickness = |case: &Case| case.model.find("slat.3.1.1").expect("a slat").size[2].clone();
    let (decided, load) = (by("as_decided"), by("load"));
    assert_relative_eq!(thickness(&decided).mm, 20.0, max_relative = 1e-12);
    let thick = thickness(&load);
    assert!(thick.mm > 20.0 && thick.mm.fract() == 0.0, "{thick:?}");
    assert!(thick.explain().join("\n").contains("its load wants it"), "{:?}", thick.explain());
    let sags = |case: &Case| case.findings.iter().find(|finding| finding.rule == Rule::Sags).map(|finding| finding.seriousness);
    assert_eq!((sags(&decided), sags(&load)), (Some(Seriousness::WillFail), None));
    let worst = |case: &Case| {
        let under = UnderLoad::of(&case.design, &case.model);
        under.bending.iter().filter(|it| case.model.part(it.part).kind == PartKind::Slat).map(Bending::verdict).max()
    };
    assert_eq!(worst(&load), Some(Verdict::Good));
    let one_less = (thick.mm - 1.0).to_string();
    let decided = [("sawtooth.slats.thick_by", "as_decided"), ("sawtooth.slats.thickness", one_less.as_str())];
    let thinner = Case::with(&[&wide[..], &decided[..]].concat());
    assert!(worst(&thinner) > Some(Verdict::Good), "a millimetre less would not do");
    let told = thick.explain().join("\n");
    assert!(told.contains(&format!("too thin: {}", thick.mm - 1.0)) && told.contains("it is made for"), "{told}");
    let mut measured = load.design.clone();
    measure_batch(&mut measured, "sawtooth.slats.thickness", Some(Length::mm(19.2))).expect("it is stock");
    let model = derive(&measured).expect("it derives");
    assert_relative_eq!(model.find("slat.3.1.1").expect("a slat").size[2].mm, 19.2, max_relative = 1e-12);
}

/// What fails with boxes one high fails; what fails only when they are stacked is at risk, and is told how much the shelf bears.
#[test]
fn stacked_boxes_put_a_shelf_at_risk() {
    let mut design = demo_with(&[("carcase.width", "2300"), ("carcase.rails.top", "96"), ("carcase.rails.bottom", "140")]);
    design.sawtooth.slats.thick_by = casewright_core::design::ThickBy::AsDecided;
    for kind in &mut design.contents {
        kind.count = if kind.name == "Flat archive box" { 40 } else { 0 };
    }
    let found = |mass: f64| {
        let mut design = design.clone();
        design.contents.iter_mut().for_each(|kind| kind.mass = mass);
        let case = Case::of(design).expect("it derives");
        let slats =
            |finding: &&casewright_core::Finding| finding.rule == Rule::Sags && case.model.part(finding.parts[0]).kind == PartKind::Slat;
        case.findings.iter().find(slats).cloned()
    };
    let stacked = found(9.0).expect("two high they are too heavy");
    assert_eq!(stacked.seriousness, Seriousness::AtRisk, "{}", stacked.message);
    assert!(stacked.remedies.iter().any(|remedy| remedy.words.starts_with("Put no more than")), "{:?}", stacked.remedies);
    assert_eq!(found(15.0).map(|finding| finding.seriousness), Some(Seriousness::WillFail));
    assert_eq!(found(1.0), None);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, rng_seed: proptest::test_runner::RngSeed::Fixed(31), failure_persistence: None, ..ProptestConfig::default() })]

    /// Heavier boxes never make a shelf sag less, and the case never stand less firmly when they are in it; every figure is one.
    #[test]
    fn more_load_sags_more(times in 1.0f64..4.0, width in 1100.0f64..1700.0, thickness in 14.0f64..30.0, years in 0.0f64..20.0) {
        let (width, thickness, years) = (format!("{width:.1}"), format!("{thickness:.1}"), format!("{years:.1}"));
        let changes = [
            ("carcase.width", width.as_str()),
            ("sawtooth.slats.thickness", thickness.as_str()),
            ("sawtooth.slats.thick_by", "as_decided"),
            ("limits.years", years.as_str()),
        ];
        let light = demo_with(&changes);
        let mut heavy = light.clone();
        heavy.contents.iter_mut().for_each(|kind| kind.mass *= times);
        let model = derive(&light).expect("it derives");
        let (before, after) = (UnderLoad::of(&light, &model), UnderLoad::of(&heavy, &model));
        prop_assert_eq!(before.bending.len(), after.bending.len());
        for (a, b) in before.bending.iter().zip(&after.bending) {
            prop_assert!(a.after().is_finite() && b.after() >= a.after() - 1e-9, "{}", model.part(a.part).name);
            prop_assert!(a.after() >= a.at_once() - 1e-12);
        }
        let of = |under: &UnderLoad| under.stacks.iter().flatten().map(|stack| stack.kg).sum::<f64>();
        prop_assert!((of(&after) / of(&before) - times).abs() < 1e-9, "the same boxes, so many times as heavy");
    }
}

//! Parts that are roughed: what is larger than planned is only not yet at its size.

use approx::assert_abs_diff_eq;
use casewright_core::design::Dimension::{Length as L, Thickness as T, Width as W};
use casewright_core::design::shop::State;
use casewright_core::inspect::{Rule, Seriousness};
use casewright_tests::{Case, demo, demo_with};

use crate::{bones, case, make, measure, of_shop, size};

fn notes(case: &Case) -> Vec<&str> {
    let told = of_shop(case);
    assert!(told.iter().all(|finding| (finding.rule, finding.seriousness) == (Rule::MadePartFits, Seriousness::Note)), "{told:#?}");
    told.into_iter().map(|finding| finding.message.as_str()).collect()
}

/// A post sawn to 50 is planed to its 48, and counts as that: nothing else changes.
#[test]
fn a_part_roughed_larger_than_planned_counts_as_planned() {
    for (part, of, rough, words) in [
        ("post.front.left", W, 50.0, "planed to 48"),
        ("post.back.right", T, 52.0, "planed to 48"),
        ("rail.front.bottom", L, 1300.0, "cut to 1264"),
        ("rail.front.bottom", W, 130.0, "planed to "),
        ("slat.1.1.1", T, 24.0, "planed to "),
        ("top", L, 1420.0, "cut to 1400"),
    ] {
        let mut design = demo();
        measure(&mut design, part, of, rough);
        assert_eq!(design.shop.state(part), State::Roughed);
        let case = case(&design);
        assert_eq!(bones(&case.model), bones(&crate::case(&demo()).model), "{part}");
        assert_eq!(case.model.find(part).expect("a part").state, State::Roughed);
        let notes = notes(&case);
        let [note] = notes[..] else { panic!("{part}: {notes:?}") };
        assert!(note.contains("still to be") && note.contains(words) && note.contains(&rough.to_string()), "{note}");
        assert_eq!(case.findings.len(), 1, "{:#?}", case.findings);
    }
}

/// The four posts sawn alike are told together.
#[test]
fn parts_roughed_alike_are_told_together() {
    let mut design = demo();
    for post in ["front.left", "front.right", "back.left", "back.right"] {
        measure(&mut design, &format!("post.{post}"), W, 50.0);
    }
    let case = case(&design);
    let notes = notes(&case);
    assert_eq!(notes.len(), 1, "{notes:?}");
    assert!(notes[0].contains("and 3 more"), "{}", notes[0]);
}

/// A rail with tenons on its ends is wanted longer than it is between the posts: 1300 is longer than 1264, and still too short for both tenons.
#[test]
fn a_rough_rail_is_long_enough_for_its_tenons_or_told() {
    let tenons = [("joinery.rail_to_post.by", "mortise_and_tenon")];
    let planned = size(&case(&demo_with(&tenons)), "rail.front.bottom", L);
    for (rough, enough) in [(planned - 1.0, false), (planned - 40.0, false), (planned + 20.0, true)] {
        let mut design = demo_with(&tenons);
        measure(&mut design, "rail.front.bottom", L, rough);
        let case = case(&design);
        assert_eq!(case.failures().is_empty(), enough, "{rough}: {:#?}", case.findings);
        assert_abs_diff_eq!(size(&case, "rail.front.bottom", L), rough.min(planned), epsilon = 1e-9);
    }
}

/// A sheet is as thick as it is: what is not yet cut follows it.
#[test]
fn a_sheet_that_is_thicker_counts_as_it_measures() {
    let mut design = demo();
    measure(&mut design, "panel.back.1", T, 13.0);
    let case = case(&design);
    assert_abs_diff_eq!(size(&case, "panel.back.1", T), 13.0, epsilon = 1e-9);
    assert_eq!(case.findings, []);
}

/// Once it is cut it keeps what was measured.
#[test]
fn a_part_that_is_cut_larger_than_planned_is_no_rough_one() {
    let mut design = demo();
    measure(&mut design, "rail.front.bottom", L, 1270.0);
    make(&mut design, "rail.front.bottom", State::Cut);
    let case = case(&design);
    assert_abs_diff_eq!(size(&case, "rail.front.bottom", L), 1270.0, epsilon = 1e-9);
    assert_eq!(case.failures().len(), 1, "{:#?}", case.findings);
}

//! Joints that are cut, against those that are planned now.

use approx::assert_abs_diff_eq;
use casewright_core::design::Dimension::Thickness as T;
use casewright_core::design::shop::State;
use casewright_core::inspect::{Finding, Rule, Seriousness};
use casewright_tests::{demo, demo_with, set};

use crate::{assert_each_mends, case, make, measure, measure_batch, of_shop};

#[test]
fn grooves_already_cut_are_too_narrow_for_a_sheet_that_is_thicker() {
    let thin = [("timber.panel.nominal", "6"), ("timber.panel.measured", "6"), ("joinery.groove.cutter", "6")];
    let mut design = demo_with(&thin);
    for rail in ["rail.left.bottom", "rail.left.top"] {
        make(&mut design, rail, State::Cut);
    }
    assert_eq!(of_shop(&case(&design)), Vec::<&Finding>::new());
    measure_batch(&mut design, "timber.panel.measured", 6.4);
    let case = case(&design);
    let findings = of_shop(&case);
    assert_eq!(findings.len(), 1, "one cause is told once: {findings:?}");
    let finding = findings[0];
    assert_eq!((finding.rule, finding.seriousness), (Rule::CutsStillRight, Seriousness::WillFail));
    assert_eq!(case.names(finding), ["rail.left.bottom", "rail.left.top"]);
    // 6.4 of sheet in a groove of 6.2.
    assert_abs_diff_eq!(finding.figures[0].value, 0.2, epsilon = 1e-6);
    assert!(finding.message.contains("too narrow by 0.2 mm"), "{}", finding.message);
    assert_each_mends(&case, finding);
    // As wide as the sheet and a little more is enough, though more was planned.
    let mut easy = demo_with(&thin);
    make(&mut easy, "rail.left.bottom", State::Cut);
    measure_batch(&mut easy, "timber.panel.measured", 6.1);
    assert_eq!(of_shop(&crate::case(&easy)), Vec::<&Finding>::new());
}

#[test]
fn a_mortise_that_a_later_decision_moves_is_told() {
    let mut design = demo();
    make(&mut design, "post.front.left", State::Cut);
    assert_eq!(case(&design).findings, []);
    set(&mut design, "carcase.rails.foot", "56").expect("a length");
    let case = case(&design);
    let finding = case.failures().into_iter().find(|finding| finding.rule == Rule::CutsStillRight).expect("mortises too low");
    assert_eq!(case.names(finding), ["post.front.left"]);
    assert!(finding.message.contains("a mortise is off by 6 mm"), "{}", finding.message);
    assert_each_mends(&case, finding);
}

/// A sheet is never planed: a panel cut from one that is too thick wants wider grooves, or another sheet.
#[test]
fn a_panel_of_sheet_is_never_planed() {
    for grooves_cut in [false, true] {
        let mut design = demo();
        for part in ["post.back.left", "rail.back.bottom"].into_iter().filter(|_| grooves_cut) {
            make(&mut design, part, State::Cut);
        }
        measure(&mut design, "panel.back.1", T, 14.0);
        make(&mut design, "panel.back.1", State::Cut);
        let case = case(&design);
        let told = of_shop(&case);
        assert!(!told.is_empty(), "{grooves_cut}");
        let words: Vec<_> = told.iter().flat_map(|finding| &finding.remedies).map(|remedy| remedy.words.as_str()).collect();
        assert!(!words.iter().any(|words| words.contains("Plane")), "{words:?}");
        assert!(words.contains(&"Make it new, from a sheet of 12.75 mm"), "{words:?}");
        for finding in told {
            assert_each_mends(&case, finding);
        }
    }
}

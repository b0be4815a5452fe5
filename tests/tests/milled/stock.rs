//! Stock that is measured when all that is made of it is cut.

use approx::assert_abs_diff_eq;
use casewright_core::Design;
use casewright_core::design::Dimension::{Length as L, Width as W};
use casewright_core::design::shop::State;
use casewright_core::inspect::Seriousness;
use casewright_tests::demo;

use crate::{apply, bones, case, make, measure_batch, of_shop, size};

fn posts_cut(but: usize) -> Design {
    let mut design = demo();
    for post in ["front.left", "front.right", "back.left", "back.right"].into_iter().skip(but) {
        make(&mut design, &format!("post.{post}"), State::Cut);
    }
    design
}

/// Four posts cut at 48, then the stock is said to measure 47: nothing is left that could be 47, so the plan stays, and both figures are named.
#[test]
fn stock_measured_after_all_of_it_is_cut_is_a_contradiction() {
    let mut design = posts_cut(0);
    let before = case(&design);
    measure_batch(&mut design, "carcase.post.width", 47.0);
    let after = case(&design);
    assert_eq!(bones(&after.model), bones(&before.model));
    let told = of_shop(&after);
    let [finding] = told[..] else { panic!("{:#?}", after.findings) };
    assert_eq!(finding.seriousness, Seriousness::AtRisk);
    assert!(finding.message.contains("measured 47") && finding.message.contains("cut at 48"), "{}", finding.message);
    assert_eq!(after.names(finding).len(), 4);
    let words: Vec<_> = finding.remedies.iter().map(|remedy| remedy.words.as_str()).collect();
    assert_eq!(words.len(), 2, "the measure goes, or the posts are as it says: {words:?}");
    for remedy in &finding.remedies {
        let mended = apply(&after.design, remedy);
        let left = of_shop(&mended).into_iter().filter(|finding| finding.message.contains("measured 47")).count();
        assert_eq!(left, 0, "{}: {:#?}", remedy.words, mended.findings);
    }
    assert_abs_diff_eq!(size(&apply(&after.design, &finding.remedies[0]), "rail.front.bottom", L), 1264.0, epsilon = 1e-9);
    // 1360 less two posts of 47.
    let narrower = apply(&after.design, &finding.remedies[1]);
    assert_abs_diff_eq!(size(&narrower, "rail.front.bottom", L), 1266.0, epsilon = 1e-9);
}

/// While one post is not cut, it is what was measured; a measure that says what was cut says nothing new.
#[test]
fn stock_measured_while_some_of_it_is_left_holds_for_that() {
    let mut design = posts_cut(1);
    measure_batch(&mut design, "carcase.post.width", 47.0);
    let one_left = case(&design);
    assert_abs_diff_eq!(size(&one_left, "post.front.left", W), 47.0, epsilon = 1e-9);
    assert_abs_diff_eq!(size(&one_left, "post.front.right", W), 48.0, epsilon = 1e-9);
    assert_abs_diff_eq!(size(&one_left, "rail.front.bottom", L), 1265.0, epsilon = 1e-9);
    assert!(!of_shop(&one_left).iter().any(|finding| finding.message.contains("measured 47")), "{:#?}", one_left.findings);
    let mut design = posts_cut(0);
    measure_batch(&mut design, "carcase.post.width", 48.0);
    assert!(of_shop(&case(&design)).is_empty());
}

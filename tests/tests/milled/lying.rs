//! Parts that lie on others and no longer reach them.

use casewright_core::design::Dimension::{self, Length as L, Width as W};
use casewright_core::design::shop::State;
use casewright_core::inspect::{Rule, Seriousness};
use casewright_tests::{Case, demo, demo_with};

use crate::{assert_each_mends, case, make, measure, of_shop};

fn cut(part: &str, of: Dimension, mm: f64) -> Case {
    let mut design = demo();
    measure(&mut design, part, of, mm);
    make(&mut design, part, State::Cut);
    case(&design)
}

/// Bay 1 is 470 wide: its slats are 508, their cleats 18 thick at either side. A slat of 300 lies on one of them at most; a bearer of 100 bears a
/// fifth of its floor, a floor of 300 leaves more than a third of its bearers bare; a top of 460 does not cover a case of 470.
#[test]
fn a_part_that_does_not_reach_what_it_lies_on_fails() {
    for (part, of, made, words) in [
        ("slat.1.1.1", L, 300.0, "does not lie on Cleat, bay 1, shelf 1"),
        ("bearer.1.front", L, 100.0, "of the 488 mm"),
        ("floor.1", L, 300.0, "lies on only"),
        ("top", W, 460.0, "of the 48 mm"),
    ] {
        let case = cut(part, of, made);
        let told = of_shop(&case);
        let [finding] = told[..] else { panic!("{part}: {:#?}", case.findings) };
        assert_eq!(finding.seriousness, Seriousness::WillFail, "{part}: {}", finding.message);
        assert!(finding.message.contains(words), "{part}: {}", finding.message);
        assert!(!finding.remedies.is_empty(), "{part}");
        assert_each_mends(&case, finding);
    }
}

/// A slat 5 short still lies on 15.5 of 18 at each end when it is put in the middle: its play alone is told.
#[test]
fn a_part_that_still_lies_on_both_its_ends_does_not_fail() {
    for (part, of, made) in [("slat.1.1.1", L, 503.0), ("top", W, 473.0)] {
        let case = cut(part, of, made);
        assert_eq!(case.failures().len(), 0, "{part}: {:#?}", case.failures());
    }
}

/// A slat set by the maker to 300 lies on one cleat at most, as one that was cut so: each is told once, in its own way.
#[test]
fn a_slat_of_ones_own_that_is_too_short_fails() {
    let own = case(&demo_with(&[("part.slat.1.1.1.length", "300")]));
    let told: Vec<_> = own.findings.iter().filter(|finding| finding.message.contains("does not lie on its cleat")).collect();
    let [finding] = told[..] else { panic!("{:#?}", own.findings) };
    assert_eq!((finding.rule, finding.seriousness), (Rule::SlatBears, Seriousness::WillFail));
    assert_eq!(own.names(finding)[0], "slat.1.1.1");
    let measured = cut("slat.1.1.1", L, 300.0);
    assert!(!measured.findings.iter().any(|finding| finding.rule == Rule::SlatBears), "{:#?}", measured.findings);
}

/// A bearer is glued to its rail: of 488 planned, 300 hold it with what lies on it, and are at risk; 200 are told to fail.
#[test]
fn a_bearer_that_is_glued_over_more_than_half_of_its_length_is_at_risk() {
    for (long, wanted) in [(300.0, Seriousness::AtRisk), (200.0, Seriousness::WillFail)] {
        let mut design = demo();
        measure(&mut design, "bearer.1.front", L, long);
        make(&mut design, "bearer.1.front", State::Cut);
        let case = case(&design);
        let told: Vec<_> = of_shop(&case).into_iter().filter(|finding| finding.rule == Rule::MadePartFits).collect();
        assert!(told.iter().any(|finding| finding.seriousness == wanted), "{long}: {told:#?}");
    }
}

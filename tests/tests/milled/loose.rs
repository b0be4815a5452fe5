//! Loose tenons and dowels that are there and are too thin, too narrow or too thick for their holes.

use approx::assert_abs_diff_eq;
use casewright_core::design::Dimension::{self, Thickness as T, Width as W};
use casewright_core::design::shop::State;
use casewright_core::inspect::{Finding, Rule, Seriousness};
use casewright_tests::{Case, demo};

use crate::{assert_each_mends, case, make, measure, of_shop};

const TENON: &str = "tenon.rail.front.bottom.post.front.left.1";

fn with_tenon(of: Dimension, mm: f64) -> Case {
    let mut design = demo();
    measure(&mut design, TENON, of, mm);
    make(&mut design, TENON, State::Cut);
    case(&design)
}

/// Tenons of 8 in mortises of 8.1: one of 7.5 is loose by 0.6, and stands in nothing.
#[test]
fn a_loose_tenon_too_thin_is_loose_in_its_mortises() {
    for (made, loose) in [(7.5, 0.6), (7.8, 0.3)] {
        let case = with_tenon(T, made);
        let told = of_shop(&case);
        let [finding] = told[..] else { panic!("{:#?}", case.findings) };
        assert_eq!((finding.rule, finding.seriousness), (Rule::MadePartFits, Seriousness::AtRisk));
        assert!(finding.message.contains(&format!("loose by {loose} mm")), "{}", finding.message);
        assert_abs_diff_eq!(finding.figures.iter().find(|figure| figure.name == "loose").expect("a figure").value, loose, epsilon = 1e-9);
        assert!(!case.findings.iter().any(|finding| finding.rule == Rule::Overlap), "{:#?}", case.findings);
        assert_each_mends(&case, finding);
    }
    // 0.15 of room is still snug (Elek et al. 2020, Eur. J. Wood Prod., and a university test, second-hand).
    assert_eq!(with_tenon(T, 7.95).findings, []);
}

/// Tenons 22 wide in mortises of 22.1: one of 12 locates nothing.
#[test]
fn a_loose_tenon_too_narrow_is_loose_in_its_mortises() {
    let case = with_tenon(W, 12.0);
    let told = of_shop(&case);
    let [finding] = told[..] else { panic!("{:#?}", case.findings) };
    assert_eq!(finding.seriousness, Seriousness::AtRisk);
    assert!(finding.message.contains("10 mm too narrow") && finding.message.contains("loose by 10.1 mm"), "{}", finding.message);
    assert_each_mends(&case, finding);
}

/// One of 8.4 does not go into 8.1.
#[test]
fn a_loose_tenon_too_thick_does_not_go_in() {
    let case = with_tenon(T, 8.4);
    let told = of_shop(&case);
    let [finding] = told[..] else { panic!("{:#?}", case.findings) };
    assert_eq!(finding.seriousness, Seriousness::WillFail);
    assert!(finding.message.contains("0.4 mm too thick") && finding.message.contains("0.3 mm too tight"), "{}", finding.message);
    assert_eq!(case.failures(), Vec::<&Finding>::from([finding]), "the cause is told once");
    assert_each_mends(&case, finding);
}

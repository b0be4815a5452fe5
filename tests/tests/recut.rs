//! Cuts that are there and no longer those that are planned: what is wrong with one is told once.

use casewright_core::design::shop::{self, State};
use casewright_core::inspect::Rule;
use casewright_tests::{Case, demo, set};

/// A rail that was grooved for a sheet of 12.75, 9 deep, is to take one of 15.75 in grooves 10.6 deep: it is cut anew for the sheet, and then as deep as planned too.
#[test]
fn a_groove_that_is_too_narrow_is_not_told_as_too_shallow_besides() {
    let mut design = demo();
    shop::set_state(&mut design, "rail.left.bottom", State::Cut).unwrap_or_else(|error| panic!("{error}"));
    for (path, value) in [("timber.panel.measured", "15.75"), ("joinery.groove.depth", "10.6")] {
        set(&mut design, path, value).unwrap_or_else(|error| panic!("{error}"));
    }
    let case = Case::of(design).unwrap_or_else(|errors| panic!("{errors:?}"));
    let told: Vec<&str> =
        case.findings.iter().filter(|finding| finding.rule == Rule::CutsStillRight).map(|finding| finding.message.as_str()).collect();
    let of_groove: Vec<&&str> = told.iter().filter(|message| message.contains("too narrow")).collect();
    assert_eq!(of_groove.len(), 1, "{told:?}");
    assert!(!of_groove[0].contains("too shallow"), "{told:?}");
}

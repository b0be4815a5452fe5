//! Sheets as they measure, against what they are sold as.

use casewright_core::design::Dimension;
use casewright_core::design::shop::State;
use casewright_core::inspect::{Finding, Rule, Seriousness};
use casewright_tests::{Case, demo, demo_with, set};

use crate::{case, make, measure, measure_batch, of_shop, size};

fn doubts(case: &Case) -> Vec<&Finding> {
    case.findings.iter().filter(|finding| finding.rule == Rule::RightSheet).collect()
}

/// The demo's panels are veneered sheets of 12, which measure up to two veneers of 0.6 more; a sheet of 2 or of 18 is another sheet.
#[test]
fn a_sheet_far_from_what_it_is_sold_as_is_doubted() {
    for (measured, doubted) in [(2.0, true), (18.0, true), (12.0, false), (12.75, false), (13.2, false)] {
        let mut design = demo();
        measure_batch(&mut design, "timber.panel.measured", measured);
        let case = case(&design);
        let told = doubts(&case);
        assert_eq!(!told.is_empty(), doubted, "{measured}: {told:#?}");
        for finding in told {
            assert_eq!(finding.seriousness, Seriousness::AtRisk);
            let words = format!("measured {measured} where 12 is nominal: is it the right sheet?");
            assert!(finding.message.contains(&words), "{}", finding.message);
            assert!(finding.source.contains("from memory"), "{}", finding.source);
        }
    }
}

/// The same where it is decided and not recorded, and for the floor.
#[test]
fn a_sheet_decided_far_from_what_it_is_sold_as_is_doubted() {
    let floor = case(&demo_with(&[("timber.floor.measured", "12")]));
    assert_eq!(doubts(&floor).len(), 1);
    assert!(doubts(&floor)[0].message.contains("measured 12 where 18 is nominal"), "{}", doubts(&floor)[0].message);
    let panel = case(&demo_with(&[("timber.panel.measured", "18")]));
    assert_eq!(doubts(&panel).len(), 1);
    let thin = [("timber.panel.nominal", "6"), ("timber.panel.measured", "6.4"), ("joinery.groove.cutter", "6")];
    assert_eq!(doubts(&case(&demo_with(&thin))).len(), 0);
}

/// MDF of up to 19 mm is within 0.2 (EN 622-1, from memory); a particle board within 0.3 (EN 312, as a maker's sheet quotes it); a hardwood
/// plywood of 12.7 is sanded to 12, and is never over and at most 1.2 under (HP-1, from memory).
#[test]
fn a_sheet_is_doubted_by_the_tolerance_of_its_product() {
    for (product, nominal, measured, doubted) in [
        ("mdf_en622_5_12", "12", "12.2", false),
        ("mdf_en622_5_12", "12", "12.3", true),
        ("mdf_en622_5_12", "12", "11.7", true),
        ("particleboard_p2_12", "12", "12.3", false),
        ("particleboard_p2_12", "12", "12.4", true),
        ("hardwood_plywood_12", "12.7", "11.5", false),
        ("hardwood_plywood_12", "12.7", "12.7", false),
        ("hardwood_plywood_12", "12.7", "10.7", true),
        ("hardwood_plywood_12", "12.7", "12.9", true),
        // Three quarters of an inch, +0 and −1.2, by its short name: 17.85 to 19.05.
        ("hardwood_plywood_18", "18", "18.4", false),
        ("hardwood_plywood_18", "18", "17.5", true),
    ] {
        let sheet = [("timber.panel.product", product), ("timber.panel.nominal", nominal), ("timber.panel.measured", measured)];
        let case = case(&demo_with(&sheet));
        assert_eq!(!doubts(&case).is_empty(), doubted, "{product} {measured}: {:#?}", doubts(&case));
    }
}

/// Two pieces of a floor halved over each other: the sheet is sold as 18, so the lap is 27 wide and 9 of the left piece stay. One piece cut, the second sheet
/// measures otherwise: nothing is wrong with what is there, and the solids meet.
#[test]
fn the_second_piece_of_a_lapped_floor_goes_by_the_first() {
    let design = demo_with(&[("carcase.bottom.pieces", "lapped"), ("timber.floor.measured", "18.4")]);
    let [left, right] = ["floor.1.left", "floor.1.right"];
    for (first, second) in [(left, right), (right, left)] {
        let mut started = design.clone();
        make(&mut started, first, State::Cut);
        for measured in ["17.4", "18.2", "18.8"] {
            let mut thinner = started.clone();
            set(&mut thinner, "timber.floor.measured", measured).expect("a thickness");
            let other = case(&thinner);
            // One that is much thicker than planned now stands higher, and is told for that.
            let wrong = of_shop(&other).into_iter().filter(|finding| finding.rule == Rule::CutsStillRight);
            let told: Vec<_> = wrong.map(|finding| finding.message.clone()).collect();
            assert!(told.is_empty(), "{first} then {measured}: {told:?}");
            let [a, b] = [left, right].map(|name| other.model.find(name).expect("a piece"));
            assert!((size(&other, second, Dimension::Thickness) - measured.parse::<f64>().expect("mm")).abs() < 1e-9);
            let shared = a.block().max.x - b.block().min.x;
            assert!((shared - 27.0).abs() < 1e-9, "{shared}");
            let meet = |finding: &&Finding| finding.rule == Rule::Overlap && [a.id, b.id].iter().all(|id| finding.parts.contains(id));
            assert!(!other.findings.iter().any(|finding| meet(&finding)), "{first} then {measured}");
        }
        // One cut 12 short: the other is 12 longer, and the lap is as it was.
        let mut short = design.clone();
        let planned = case(&design);
        measure(&mut short, first, Dimension::Length, size(&planned, first, Dimension::Length) - 12.0);
        make(&mut short, first, State::Cut);
        let other = case(&short);
        assert!((size(&other, second, Dimension::Length) - size(&planned, second, Dimension::Length) - 12.0).abs() < 1e-9);
        assert!(other.findings.iter().all(|finding| finding.seriousness != Seriousness::WillFail));
    }
}

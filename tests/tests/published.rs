//! Checks against figures from outside: each names its source and how it was obtained.

use approx::assert_abs_diff_eq;
use casewright_core::contents::common_boxes;
use casewright_core::inspect::Rule;
use casewright_core::joint::groove::passes;
use casewright_core::joint::seat::{seat_height, slope_degrees};
use casewright_core::length::MM_PER_INCH;
use casewright_tests::{Case, demo};

/// A tenon of a third of the thickness: Noyes, Handwork in Wood, and later primers of mortise and tenon (read). The demo's rails
/// are 24, its tenons 8, and the check has nothing to say; at 3 and at 16 it speaks.
#[test]
fn a_tenon_is_about_a_third_of_the_thickness() {
    let tells = |thickness: &str| {
        let case = Case::with(&[("joinery.rail_to_post.thickness", thickness)]);
        case.findings.iter().any(|finding| finding.rule == Rule::TenonThickness)
    };
    assert_abs_diff_eq!(
        demo().joinery.rail_to_post.loose.thickness.to_mm() / demo().carcase.rails.thickness.to_mm(),
        1.0 / 3.0,
        epsilon = 1e-12
    );
    assert!(!tells("8"));
    assert!(tells("3"));
    assert!(tells("16"));
}

/// A sheet sold as 12 that measures 12.75, cut with a 12.7 cutter: two passes, each 0.025 off centre, and half the fit besides
/// (common practice, no source; the arithmetic is (12.75 + fit − 12.7) / 2).
#[test]
fn a_measured_sheet_needs_two_passes_just_off_centre() {
    for fit in [0.0, 0.1, 0.2] {
        let passes = passes(12.75 + fit, 12.7).expect("wider than the cutter");
        assert_eq!(passes.count, 2);
        assert_abs_diff_eq!(passes.offset, 0.025 + fit / 2.0, epsilon = 1e-9);
    }
    assert_eq!(passes(12.7, 12.7).expect("as wide as the cutter").count, 1);
    assert_eq!(passes(12.0, 12.7), None);
}

/// The demo's grooves follow the measured thickness of the sheet, not the one it is sold as.
#[test]
fn grooves_follow_the_measured_sheet() {
    let case = Case::with(&[("timber.panel.measured", "12.75"), ("timber.panel.nominal", "12"), ("joinery.groove.fit", "0.1")]);
    let rail = case.model.find("rail.left.bottom").expect("a rail");
    let groove = rail.cuts.iter().find_map(|cut| match cut.feature {
        casewright_core::model::Feature::Groove { width, .. } => Some(width),
        _ => None,
    });
    assert_abs_diff_eq!(groove.expect("a groove"), 12.85, epsilon = 1e-9);
}

/// ISO 216: A0 has an area of one square metre and sides in the ratio of 1 to √2; each next size is half, rounded down to the
/// millimetre. B sizes are the geometric means. (Rule of the standard, recalled; A3, A4, B4 and C4 as listed by a printer, read.)
fn iso_216_a(number: i32) -> (f64, f64) {
    let mut size = (841.0, 1189.0);
    for _ in 0..number {
        size = ((size.1 / 2.0_f64).floor(), size.0);
    }
    size
}

#[test]
fn paper_sizes_follow_iso_216_and_boxes_hold_their_paper() {
    assert_eq!(iso_216_a(3), (297.0, 420.0));
    assert_eq!(iso_216_a(4), (210.0, 297.0));
    assert_eq!(iso_216_a(5), (148.0, 210.0));
    let holds = |id: &str, paper: (f64, f64)| {
        let common = common_boxes().iter().find(|common| common.id == id).unwrap_or_else(|| panic!("{id}"));
        let mut sides = [common.width_mm, common.depth_mm, common.height_mm];
        sides.sort_by(f64::total_cmp);
        // Paper lies or stands along the two longer sides of its box.
        sides[1] >= paper.0 && sides[2] >= paper.1
    };
    for id in ["folder_carton", "box_file_a4", "ring_file_a4", "records_carton", "document_case_letter"] {
        assert!(holds(id, iso_216_a(4)), "{id} holds A4");
    }
    assert!(!holds("box_file_a4", iso_216_a(3)));
    let kind = demo().contents.into_iter().find(|kind| kind.name == "Print box, A3").expect("the demo keeps A3 prints");
    assert!(kind.width.to_mm() >= 420.0 && kind.depth.to_mm() >= 297.0);
}

/// The records-centre carton is 10 × 13 × 16 inches outside (university and state records management pages, read), and the demo holds it
/// at its heaviest, 35 pounds (same pages, read) in whole kilograms.
#[test]
fn the_records_carton_is_the_published_one() {
    let kind = &demo().contents[0];
    assert_eq!(kind.name, "Records carton");
    for (length, inches) in [(kind.height, 10.0), (kind.width, 13.0), (kind.depth, 16.0)] {
        assert_abs_diff_eq!(length.to_mm(), inches * MM_PER_INCH, epsilon = 0.5);
    }
    assert_abs_diff_eq!(kind.mass, 35.0 * 0.453_592_37, epsilon = 0.5);
    let heaviest = demo().contents.iter().map(|kind| kind.mass).fold(0.0, f64::max);
    assert_abs_diff_eq!(heaviest, 16.0);
    assert!(demo().contents.len() >= 8);
}

/// Every box of the demo that stands in the table of boxes has the table's size.
#[test]
fn the_demo_keeps_boxes_of_the_table() {
    let mut met = 0;
    for kind in demo().contents {
        let Some(common) = common_boxes().iter().find(|common| common.name.starts_with(&kind.name)) else { continue };
        met += 1;
        for (own, table) in [(kind.width, common.width_mm), (kind.depth, common.depth_mm), (kind.height, common.height_mm)] {
            assert_abs_diff_eq!(own.to_mm(), table);
        }
    }
    assert!(met >= 6, "{met}");
}

/// Sawtooth with pitch 32, seat 16, crest 2: 28.1° from the upright; 25, 12, 2: 27.6° (derived, trade check values without source).
#[test]
fn the_slope_of_sawteeth() {
    assert_abs_diff_eq!(slope_degrees(32.0, 16.0, 2.0), 28.1, epsilon = 0.05);
    assert_abs_diff_eq!(slope_degrees(25.0, 12.0, 2.0), 27.6, epsilon = 0.05);
    let sawtooth = demo().sawtooth;
    assert_abs_diff_eq!(seat_height(&sawtooth, 11) - seat_height(&sawtooth, 1), 320.0, epsilon = 1e-9);
}

/// Cleats are as long as from riser to riser less their play (trade check value without source).
#[test]
fn a_cleat_is_riser_to_riser_less_its_play() {
    let case = Case::with(&[]);
    let design = &case.design;
    let between = design.carcase.depth.to_mm() - 2.0 * design.carcase.post.depth.to_mm();
    let risers = between - 2.0 * design.sawtooth.backing.to_mm();
    let cleat = case.model.find("cleat.1.1.left").expect("a cleat");
    assert_abs_diff_eq!(cleat.size[0].mm, risers - 1.5, epsilon = 1e-9);
}

/// Two mortises meeting in a post (derived by arithmetic): post 45, rails 20 set back 3, tenon 7: 25.5 deep leaves a wall of 3; 30 deep
/// breaks into the other mortise.
#[test]
fn mortises_that_meet_in_a_post() {
    let at_depth = |depth: &str, length: &str| {
        Case::with(&[
            ("carcase.post.width", "45"),
            ("carcase.post.depth", "45"),
            ("carcase.rails.thickness", "20"),
            ("carcase.rails.reveal", "3"),
            ("joinery.rail_to_post.thickness", "7"),
            ("joinery.rail_to_post.fit", "0"),
            ("joinery.rail_to_post.depth_in_face", depth),
            ("joinery.rail_to_post.length", length),
        ])
    };
    let meets = |case: &Case| case.findings.iter().filter(|finding| finding.rule == Rule::MortisesMeet).count();
    assert_eq!(meets(&at_depth("25.5", "50")), 0);
    let thin = at_depth("26", "50");
    let finding = thin.findings.iter().find(|finding| finding.rule == Rule::MortisesMeet).expect("a thin wall");
    assert_abs_diff_eq!(finding.figures[0].value, 2.5, epsilon = 1e-6);
    let broken = at_depth("30", "54");
    let finding = broken.failures().into_iter().find(|finding| finding.rule == Rule::MortisesMeet).cloned().expect("mortises meet");
    assert!(broken.names(&finding)[0].starts_with("post."), "{:?}", broken.names(&finding));
    // 30 against the 28.5 to the other mortise's near wall.
    assert!(finding.message.contains("breaks 1.5 mm into the other"), "{}", finding.message);
    let remedy = &finding.remedies.first().expect("a remedy").changes;
    assert_eq!(remedy[0], ("joinery.rail_to_post.depth_in_face".to_owned(), "25.5".to_owned()));
}

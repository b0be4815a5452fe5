//! What a design decides of grooves and edges.

use approx::assert_abs_diff_eq;
use casewright_core::inspect::{Rule, Seriousness};
use casewright_core::model::{Feature, Stop};
use casewright_tests::{Case, DEMO};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

use crate::with_figures;

/// A groove of the post at the front left, with what is told of it.
fn post_groove(case: &Case) -> (&Feature, String) {
    let post = case.model.find("post.front.left").expect("a post");
    let cut = post.cuts.iter().find(|cut| matches!(cut.feature, Feature::Groove { .. })).expect("a groove");
    (&cut.feature, cut.feature.describe())
}

#[test]
fn designs_of_before_take_a_round_cutter_square_corners_and_square_edges() {
    for field in ["cutter_kind", "cutter_diameter", "corners", "edges"] {
        assert!(!DEMO.contains(field), "the demo is a design of before");
    }
    let case = Case::with(&[]);
    assert!(matches!(post_groove(&case).0, Feature::Groove { stop: Stop::Round, .. }));
    // Nothing but the pilot holes of what holds it.
    let top = case.model.find("top").expect("a top");
    assert!(top.cuts.iter().all(|cut| cut.joint.is_some()), "{:?}", top.cuts);
}

/// A slot cutter of 40 at the demo's 9 deep: √(9 · 31) = 16.7 (geometry).
#[test]
fn a_slot_cutter_ramps_past_square_panels_or_their_corners_are_cut_off() {
    let ramp = (9.0_f64 * 31.0).sqrt();
    let with = |corners: &str| {
        Case::with(&[("joinery.groove.cutter_kind", "slot"), ("joinery.groove.cutter_diameter", "40"), ("joinery.groove.corners", corners)])
    };
    let overlaps = |case: &Case| case.findings.iter().any(|finding| finding.rule == Rule::Overlap);
    let bounds = |case: &Case| {
        let Feature::Groove { from, to, width, depth, stop, through, .. } = *post_groove(case).0 else { panic!("a groove") };
        assert_eq!(through, [false, false]);
        assert_abs_diff_eq!(stop.run_out(width, depth), ramp, epsilon = 1e-9);
        (from, to)
    };
    let (square, cut_off) = (with("square"), with("cut_off"));
    assert!(!overlaps(&square) && !overlaps(&cut_off));
    let ((from, to), (full_from, full_to)) = (bounds(&square), bounds(&cut_off));
    assert_abs_diff_eq!(full_from - from, ramp, epsilon = 1e-9);
    assert_abs_diff_eq!(to - full_to, ramp, epsilon = 1e-9);
    assert!(post_groove(&square).1.contains("ramps begin at"), "{}", post_groove(&square).1);
    // Four corners of every panel, as wide as it reaches in, as long as the ramp and the millimetre it is clear of it, less the play.
    let panel = |case: &Case| {
        let part = case.model.parts.iter().find(|part| part.name.starts_with("panel.left")).expect("a panel").clone();
        let corners = part.cuts.iter().filter(|cut| matches!(cut.feature, Feature::Notch { .. })).count();
        let gone = part.lwt().element_product() - case.solids.shape(part.id).expect("a shape").volume;
        (corners, gone, part.size[2].mm)
    };
    assert_eq!(panel(&square).0, 0);
    let (corners, gone, thickness) = panel(&cut_off);
    assert_eq!(corners, 4);
    assert_abs_diff_eq!(gone, 4.0 * (ramp + 1.0 - 1.5) * 7.5 * thickness, epsilon = 1e-3);
    // The ramps of square panels run on toward the mortises of the rails; cut off corners keep them away.
    let near = |case: &Case| case.findings.iter().filter(|finding| finding.rule == Rule::GrooveLeavesWood).count();
    assert!(near(&square) > 0);
    assert_eq!(near(&cut_off), 0);
}

#[test]
fn a_cutter_too_small_for_its_groove_breaks_a_rule() {
    let case = Case::with(&[("joinery.groove.cutter_kind", "slot"), ("joinery.groove.cutter_diameter", "30")]);
    let broken = case.model.joints.iter().flat_map(|joint| joint.kind.broken()).collect::<Vec<_>>();
    assert!(with_figures(&broken).contains(&("a slot cutter reaches no deeper than its arbor lets it", 9.0, 7.0)));
}

#[test]
fn the_edges_of_the_top_are_worked_as_decided() {
    let taken = |changes: &[(&str, &str)]| {
        let case = Case::with(changes);
        let top = case.model.find("top").expect("a top");
        let shape = case.solids.shape(top.id).expect("a shape");
        assert!(shape.is_watertight());
        (top.cuts.iter().filter(|cut| cut.joint.is_none()).count(), top.lwt().element_product() - shape.volume, case)
    };
    // The pilot holes of what holds it up are the same in all.
    let (_, pilots, _) = taken(&[]);
    let chamfer = ("carcase.top.edges.shape", "chamfer");
    let (cuts, gone, case) = taken(&[chamfer, ("carcase.top.edges.size", "4")]);
    let top = case.model.find("top").expect("a top").lwt();
    assert_eq!(cuts, 3);
    // Along the front and both ends; where they meet at the two front corners a piece of 4 · 4 · 4 / 3 is common to both.
    assert_abs_diff_eq!(gone - pilots, 8.0 * (top.x + 2.0 * top.y) - 2.0 * 64.0 / 3.0, epsilon = 1e-3);
    assert_eq!(case.findings, []);
    let (cuts, gone, _) =
        taken(&[chamfer, ("carcase.top.edges.size", "4"), ("carcase.top.edges.sides", "all_round"), ("carcase.top.edges.arrises", "both")]);
    assert_eq!(cuts, 8);
    assert_abs_diff_eq!(gone - pilots, 2.0 * (8.0 * 2.0 * (top.x + top.y) - 4.0 * 64.0 / 3.0), epsilon = 1e-3);
    let (_, gone, _) = taken(&[("carcase.top.edges.shape", "round"), ("carcase.top.edges.size", "6")]);
    let round = (1.0 - std::f64::consts::FRAC_PI_4) * 36.0 * (top.x + 2.0 * top.y);
    let gone = gone - pilots;
    assert!((gone - round).abs() < 0.03 * 36.0 * (top.x + 2.0 * top.y), "{gone} for {round}");
}

/// At most half of the thickness (common practice, no source): the demo's top is 24 thick.
#[test]
fn a_round_of_more_than_half_the_thickness_is_at_risk_and_mended_at_half() {
    let rules = |size: &str| {
        let case = Case::with(&[("carcase.top.edges.shape", "round"), ("carcase.top.edges.size", size)]);
        case.findings.iter().map(|finding| (finding.rule, finding.seriousness, finding.message.clone())).collect::<Vec<_>>()
    };
    assert_eq!(rules("12"), []);
    let told = rules("15");
    assert_eq!(told.len(), 1);
    assert_eq!((told[0].0, told[0].1), (Rule::EdgeLeavesWood, Seriousness::AtRisk));
    assert!(told[0].2.contains("15 mm") && told[0].2.contains("24 mm"), "{}", told[0].2);
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 96, rng_seed: RngSeed::Fixed(404), failure_persistence: None, max_shrink_iters: 40, ..ProptestConfig::default()
    })]

    /// Whatever cutter, corners and edges are decided, every part can be made and no two are in the same place.
    #[test]
    fn any_cutter_and_any_edge_give_a_case_that_goes_together(
        slot in any::<bool>(),
        diameter in 20.0f64..400.0,
        depth in 4.0f64..16.0,
        cut_off in any::<bool>(),
        shape in 0usize..3,
        size in 0.0f64..40.0,
        arrises in 0usize..3,
        all_round in any::<bool>(),
    ) {
        let word = |set: bool, yes: &'static str, no: &'static str| if set { yes } else { no };
        let (diameter, depth, size) = (format!("{diameter:.1}"), format!("{depth:.1}"), format!("{size:.1}"));
        let mut changes = vec![
            ("joinery.groove.cutter_kind", word(slot, "slot", "round")),
            ("joinery.groove.depth", depth.as_str()),
            ("joinery.groove.corners", word(cut_off, "cut_off", "square")),
            ("carcase.top.edges.shape", ["square", "round", "chamfer"][shape]),
        ];
        if slot {
            changes.push(("joinery.groove.cutter_diameter", diameter.as_str()));
        }
        if shape > 0 {
            changes.extend([
                ("carcase.top.edges.size", size.as_str()),
                ("carcase.top.edges.arrises", ["upper", "lower", "both"][arrises]),
                ("carcase.top.edges.sides", word(all_round, "all_round", "front_and_ends")),
            ]);
        }
        let case = Case::with(&changes);
        for part in &case.model.parts {
            let shape = case.solids.shape(part.id);
            prop_assert!(shape.is_some_and(|shape| shape.is_watertight()), "{}", part.name);
        }
        let together = |rule: Rule| rule != Rule::Overlap && rule != Rule::Solid;
        prop_assert!(case.findings.iter().all(|finding| together(finding.rule)), "{:?}", case.findings);
        // What is decided is written and read back the same.
        let text = casewright_core::design::text::write(&case.design).expect("text");
        prop_assert_eq!(casewright_core::design::text::read(&text).expect("a design"), case.design);
    }
}

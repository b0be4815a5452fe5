//! What is not yet cut follows what is measured and what is cut.

use approx::assert_abs_diff_eq;
use casewright_core::Design;
use casewright_core::design::Dimension::{self, Length as L, Thickness as T, Width as W};
use casewright_core::design::shop::{self, State};
use casewright_core::inspect::{Finding, Rule, Seriousness};
use casewright_core::joint::JointKind;
use casewright_tests::{Case, demo, demo_with, set};
use proptest::prelude::*;

use crate::{bones, case, make, measure, measure_batch, of_shop, size};

#[test]
fn posts_milled_thinner_make_what_stands_between_them_longer() {
    let mut design = demo_with(&[("carcase.post.width", "45"), ("carcase.post.depth", "45")]);
    let before = case(&design);
    measure_batch(&mut design, "carcase.post.width", 44.6);
    measure_batch(&mut design, "carcase.post.depth", 44.6);
    let after = case(&design);
    for (part, of, planned, milled) in [
        ("post.front.left", W, 45.0, 44.6),
        ("post.front.left", T, 45.0, 44.6),
        ("post.front.left", L, 1456.0, 1456.0),
        // 1360 less two posts.
        ("rail.front.bottom", L, 1270.0, 1270.8),
        ("rail.back.top", L, 1270.0, 1270.8),
        // 470 less two posts.
        ("rail.left.middle.1", L, 380.0, 380.8),
        // Between the posts less two dividers of 60 and two bays of 470 and 346; 7.5 in each groove.
        ("panel.back.3", W, 334.0 + 15.0, 334.8 + 15.0),
        ("panel.back.1", W, 470.0 + 15.0, 470.0 + 15.0),
        ("panel.left.1", W, 380.0 + 15.0, 380.8 + 15.0),
        // A standard of 20 more at each end, less 1 of play.
        ("slat.3.1.1", L, 334.0 + 38.0, 334.8 + 38.0),
        // Between the posts less 18 behind each seat and 1.5 of play.
        ("cleat.1.1.left", L, 380.0 - 37.5, 380.8 - 37.5),
        // As deep as a post behind the set-back of 4.
        ("stile.1", T, 41.0, 40.6),
        ("stile.1", L, 1456.0 - 72.0 - 160.0, 1456.0 - 72.0 - 160.0),
        ("top", L, 1400.0, 1400.0),
    ] {
        assert_abs_diff_eq!(size(&before, part, of), planned, epsilon = 1e-9);
        assert_abs_diff_eq!(size(&after, part, of), milled, epsilon = 1e-9);
    }
    // The left stile stands 470 from a post that is 0.4 thinner.
    let left = |case: &Case| case.model.find("stile.1").expect("a stile").block().min.x;
    assert_abs_diff_eq!(left(&before) - left(&after), 0.4, epsilon = 1e-9);
    let told = after.model.find("rail.front.bottom").expect("a rail").size[0].explain().join("\n");
    assert!(told.contains("less 2 × post width 44.6") && told.contains("measured 44.6 (planned 45)"), "{told}");
    assert_eq!(of_shop(&after), Vec::<&Finding>::new());
}

/// Behind a rail of 24 set back 4, a post of 48 leaves 20 for the standards; a thicker post leaves more, a thinner one too little.
#[test]
fn posts_a_little_thicker_than_planned_leave_nothing_to_find() {
    let mut design = demo();
    measure_batch(&mut design, "carcase.post.width", 48.4);
    measure_batch(&mut design, "carcase.post.depth", 48.4);
    assert_eq!(case(&design).findings, []);
    measure_batch(&mut design, "carcase.post.width", 47.6);
    let thin = case(&design);
    assert!(thin.failures().iter().any(|finding| finding.message.contains("Standard") && finding.message.contains("0.4 mm deep")));
}

#[test]
fn one_post_milled_thinner_lengthens_only_what_meets_it() {
    let mut design = demo();
    measure(&mut design, "post.front.left", Dimension::Width, 47.2);
    let case = case(&design);
    let length = |part: &str| size(&case, part, Dimension::Length);
    assert_abs_diff_eq!(length("rail.front.bottom"), 1264.8, epsilon = 1e-9);
    assert_abs_diff_eq!(length("rail.back.bottom"), 1264.0, epsilon = 1e-9);
    assert_abs_diff_eq!(length("rail.left.bottom"), 374.0, epsilon = 1e-9);
    assert_eq!(case.findings, [], "the rail follows");
    assert_eq!(case.model.find("post.front.left").expect("a post").state, State::Roughed);
}

/// A sheet sold as 6 and planned at 6.0 measures 6.4: with 0.2 of fit the grooves are 6.6 instead of 6.2.
#[test]
fn grooves_follow_the_sheet_for_panels_that_are_not_cut() {
    let thin = [("timber.panel.nominal", "6"), ("timber.panel.measured", "6"), ("joinery.groove.cutter", "6")];
    let mut design = demo_with(&thin);
    let grooves = |design: &Design, panel: &str| {
        let case = case(design);
        let id = case.model.find(panel).expect("a panel").id;
        let widths: Vec<f64> = case
            .model
            .joints_of(id)
            .filter_map(|joint| match &joint.kind {
                JointKind::Groove(figures) => Some(figures.width),
                _ => None,
            })
            .collect();
        assert_eq!(widths.len(), 4, "a groove on each side");
        assert!(widths.iter().all(|width| (width - widths[0]).abs() < 1e-12), "{widths:?}");
        (widths[0], size(&case, panel, Dimension::Thickness))
    };
    assert_eq!(grooves(&design, "panel.back.1"), (6.2, 6.0));
    make(&mut design, "panel.back.2", State::Cut);
    measure_batch(&mut design, "timber.panel.measured", 6.4);
    let (width, thickness) = grooves(&design, "panel.back.1");
    assert_abs_diff_eq!(width, 6.6, epsilon = 1e-9);
    assert_abs_diff_eq!(thickness, 6.4, epsilon = 1e-9);
    let (width, thickness) = grooves(&design, "panel.back.2");
    assert_abs_diff_eq!(width, 6.2, epsilon = 1e-9);
    assert_abs_diff_eq!(thickness, 6.0, epsilon = 1e-9);
    assert_eq!(of_shop(&case(&design)), Vec::<&Finding>::new());
}

/// Cross rails run from rail to rail, so they follow rails that came out thinner.
#[test]
fn a_cross_rail_follows_the_rails_it_stands_between() {
    let mut design = demo();
    measure(&mut design, "rail.front.bottom", Dimension::Thickness, 23.4);
    let thin = case(&design);
    // 470 less 4 + 23.4 in front and 4 + 24 at the back.
    assert_abs_diff_eq!(size(&thin, "cross_rail.1.bottom", Dimension::Length), 414.6, epsilon = 1e-9);
    assert_abs_diff_eq!(size(&thin, "cross_rail.1.top", Dimension::Length), 414.0, epsilon = 1e-9);
    assert!(!thin.findings.iter().any(|finding| finding.rule == Rule::Shoulder), "{:?}", thin.findings);
}

#[test]
fn a_part_that_is_cut_keeps_its_size_and_a_planned_one_follows() {
    let mut design = demo();
    make(&mut design, "rail.front.top", State::Cut);
    make(&mut design, "rail.front.bottom", State::Roughed);
    set(&mut design, "carcase.width", "1400").expect("a length");
    let wide = case(&design);
    assert_abs_diff_eq!(size(&wide, "rail.front.top", Dimension::Length), 1264.0, epsilon = 1e-9);
    assert_abs_diff_eq!(size(&wide, "rail.front.bottom", Dimension::Length), 1304.0, epsilon = 1e-9);
    let finding = of_shop(&wide)[0];
    assert_eq!(finding.rule, Rule::MadePartFits);
    assert!(finding.remedies.iter().any(|remedy| remedy.words.contains("case width 1360 mm")), "{:?}", finding.remedies);
    // Back to planned: it is to be made, and follows again.
    make(&mut design, "rail.front.top", State::Planned);
    assert_abs_diff_eq!(size(&case(&design), "rail.front.top", Dimension::Length), 1304.0, epsilon = 1e-9);
    assert_eq!(design.shop.parts.len(), 1);
}

#[test]
fn measuring_what_is_planned_changes_nothing() {
    let plain = case(&demo());
    let mut design = demo();
    for stock in shop::stock(&demo()) {
        measure_batch(&mut design, &stock.path, stock.planned.to_mm());
    }
    assert!(design.shop.batches.len() > 20, "{:?}", design.shop.batches);
    for part in &plain.model.parts {
        for of in Dimension::ALL {
            measure(&mut design, &part.name, of, part.size[of.index()].mm);
        }
    }
    let measured = case(&design);
    assert_eq!(bones(&measured.model), bones(&plain.model));
    assert_eq!(measured.findings, []);
    assert_eq!(demo().shop, shop::Shop::default());
}

#[test]
fn a_case_cut_as_planned_has_nothing_to_find() {
    let mut design = demo();
    let plain = case(&design);
    // The state is the same for all parts of a mark; one of each will do, and both ends of the case.
    let mut marks = Vec::new();
    for part in &plain.model.parts {
        if !marks.contains(&part.mark) {
            marks.push(part.mark.clone());
            make(&mut design, &part.name, State::Cut);
        }
    }
    let made = case(&design);
    assert_eq!(bones(&made.model), bones(&plain.model));
    assert_eq!(made.findings, []);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, rng_seed: proptest::test_runner::RngSeed::Fixed(44), failure_persistence: None, max_shrink_iters: 20, ..ProptestConfig::default() })]

    /// Nothing is cut yet: whatever the stock and single posts, stiles and panels measure, all that meets them follows.
    #[test]
    fn what_is_not_cut_fits_what_is_measured(off in proptest::collection::vec(-0.4f64..0.4, 64)) {
        let mut design = demo();
        let mut off = off.into_iter();
        for path in ["carcase.post.width", "carcase.rails.thickness", "carcase.rails.bottom", "carcase.top.thickness", "timber.panel.measured"] {
            let planned = shop::stock(&design).into_iter().find(|stock| stock.path == path).expect("stock").planned.to_mm();
            // The pocket for the standards between post and rail must not get less.
            let off = off.next().unwrap_or_default();
            let off = match path {
                "carcase.post.width" => off.abs(),
                "carcase.rails.thickness" => -off.abs(),
                _ => off,
            };
            measure_batch(&mut design, path, planned + off);
        }
        let milled = case(&design);
        for part in milled.model.parts.iter().filter(|part| ["post.", "stile.", "muntin.", "panel."].iter().any(|kind| part.name.starts_with(kind))) {
            let dimensions = if part.name.starts_with("post.") { &[Dimension::Width, Dimension::Thickness][..] } else if part.name.starts_with("panel.") { &[Dimension::Thickness] } else { &[Dimension::Width] };
            for of in dimensions {
                let off = off.next().unwrap_or_default();
                // Of posts too: the pocket for the standards must not get less.
                let off = if part.name.starts_with("post.") { off.abs() } else { off };
                measure(&mut design, &part.name, *of, part.size[of.index()].mm + off);
            }
        }
        let case = case(&design);
        // A rough part that is still to be planed is told of as that.
        let wrong = |finding: &&Finding| finding.seriousness < Seriousness::Note;
        let open: Vec<_> = case.findings.iter().filter(wrong).filter(|finding| matches!(finding.rule, Rule::Shoulder | Rule::MadePartFits | Rule::PanelThickness | Rule::Overlap | Rule::Solid)).collect();
        prop_assert!(open.is_empty(), "{open:?}");
    }
}

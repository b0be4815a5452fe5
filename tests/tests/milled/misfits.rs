//! Parts that are there and no longer fit, and what saves them.

use approx::assert_abs_diff_eq;
use casewright_core::design::Dimension::{self, Length as L, Width as W};
use casewright_core::design::decisions;
use casewright_core::design::shop::State;
use casewright_core::inspect::{Finding, Rule, Seriousness};
use casewright_tests::{demo, demo_with, set};
use proptest::prelude::*;

use crate::{apply, assert_each_mends, case, make, measure, measure_batch, of_shop, size};

/// The front rail was cut from the case's width with posts and set-back forgotten: 12 short.
#[test]
fn a_rail_cut_short_tells_which_joint_stays_open_and_what_saves_it() {
    let mut design = demo();
    measure(&mut design, "rail.front.bottom", Dimension::Length, 1252.0);
    make(&mut design, "rail.front.bottom", State::Cut);
    let case = case(&design);
    assert_eq!(case.failures().len(), 1, "{:?}", case.failures());
    let finding = case.failures()[0];
    assert_eq!(finding.rule, Rule::MadePartFits);
    assert_eq!(case.names(finding), ["rail.front.bottom", "post.front.right"]);
    let figure = |name: &str| finding.figures.iter().find(|figure| figure.name == name).map(|figure| figure.value);
    assert_eq!((figure("lacking"), figure("open"), figure("wanted")), (Some(12.0), Some(12.0), Some(1264.0)));
    assert!(
        finding.message.contains("12 mm too short") && finding.message.contains("Post, front right stays open by 12 mm"),
        "{}",
        finding.message
    );
    let words: Vec<_> = finding.remedies.iter().map(|remedy| remedy.words.as_str()).collect();
    assert_eq!(words.len(), 3, "a shim, a new rail, another case: {words:?}");
    assert!(
        words[0].contains("shim of 12 mm") && words[1].contains("new, 1264 mm") && words[2].contains("case width 1348 mm"),
        "{words:?}"
    );
    assert_each_mends(&case, finding);
    assert_eq!(apply(&case.design, &finding.remedies[0]).findings, []);
    assert_eq!(apply(&case.design, &finding.remedies[1]).findings, []);
}

/// A rail with tenons cut on its ends is measured over them: one cut as planned is right, and one 12 short is saved as any other.
#[test]
fn a_rail_with_tenons_is_measured_over_them() {
    let mut design = demo_with(&[("joinery.rail_to_post.by", "mortise_and_tenon")]);
    let planned = size(&case(&design), "rail.front.bottom", Dimension::Length);
    assert!(planned > 1264.0 + 40.0, "1264 between the posts and two tenons: {planned}");
    make(&mut design, "rail.front.bottom", State::Cut);
    assert_eq!(of_shop(&case(&design)), Vec::<&Finding>::new(), "cut as planned");
    measure(&mut design, "rail.front.bottom", Dimension::Length, planned - 12.0);
    let case = case(&design);
    let told = of_shop(&case);
    let [finding] = told[..] else { panic!("{told:#?}") };
    assert!(
        finding.message.contains("12 mm too short") && finding.message.contains("Post, front right stays open by 12 mm"),
        "{}",
        finding.message
    );
    let words: Vec<_> = finding.remedies.iter().map(|remedy| remedy.words.as_str()).collect();
    assert!(words.iter().any(|words| words.contains("shim of 12 mm")), "{words:?}");
    assert!(words.iter().any(|words| words.contains("case width 1348 mm")), "{words:?}");
    assert!(!words.iter().any(|words| words.contains("off")), "nobody is told to saw tenons off: {words:?}");
    assert_each_mends(&case, finding);
}

#[test]
fn a_rail_cut_long_is_trimmed() {
    let mut design = demo();
    measure(&mut design, "rail.left.top", Dimension::Length, 376.5);
    make(&mut design, "rail.left.top", State::Cut);
    let case = case(&design);
    let finding = case.failures()[0];
    assert_eq!((case.failures().len(), finding.rule), (1, Rule::MadePartFits), "{:?}", case.failures());
    assert!(finding.message.contains("2.5 mm too long"), "{}", finding.message);
    assert!(finding.remedies[0].words.contains("2.5 mm off"), "{:?}", finding.remedies);
    assert_each_mends(&case, finding);
}

/// A rail 36 too long, its mortises cut: what is sawn off takes the joint at that end with it, which is then still to be cut.
#[test]
fn a_rail_sawn_to_length_loses_the_joint_at_that_end() {
    for (joint, words) in [("loose_tenons", "mortise"), ("mortise_and_tenon", "tenon")] {
        let mut design = demo_with(&[("joinery.rail_to_post.by", joint)]);
        let planned = size(&case(&design), "rail.left.top", L);
        measure(&mut design, "rail.left.top", L, planned + 36.0);
        make(&mut design, "rail.left.top", State::Cut);
        let long = case(&design);
        let finding = long.failures()[0];
        let saw = finding.remedies.iter().find(|remedy| remedy.words.contains("36 mm off")).expect("it can be sawn");
        assert!(saw.words.contains("anew"), "{}", saw.words);
        let sawn = apply(&long.design, saw);
        assert_abs_diff_eq!(size(&sawn, "rail.left.top", L), planned, epsilon = 1e-9);
        // The same where all of it is tried at once, whatever the order.
        let length = ("made.rail.left.top.length".to_owned(), (planned + 36.0).to_string());
        let cut = ("made.rail.left.top.state".to_owned(), "cut".to_owned());
        let mut tried = demo_with(&[("joinery.rail_to_post.by", joint)]);
        assert_eq!(decisions::set_all(&mut tried, &[&saw.changes[..], &[cut, length]].concat()), []);
        assert_eq!(tried.shop, sawn.design.shop, "{joint}");
        let told = of_shop(&sawn);
        let [left] = told[..] else { panic!("{joint}: {:#?}", sawn.findings) };
        assert_eq!((left.rule, left.seriousness), (Rule::CutsStillRight, Seriousness::Note), "{joint}: {}", left.message);
        assert!(left.message.contains("still to be cut") && left.message.contains(words), "{}", left.message);
        let done = apply(&sawn.design, left.remedies.first().expect("it is cut anew"));
        assert_eq!(of_shop(&done), Vec::<&Finding>::new());
    }
}

/// Two front rails cut for posts of 48 when the posts come out at 47.6: each 0.8 short, one word for both.
#[test]
fn rails_cut_for_thicker_posts_are_told_together() {
    let mut design = demo();
    for rail in ["rail.front.bottom", "rail.front.top", "rail.back.bottom", "rail.back.top"] {
        make(&mut design, rail, State::Cut);
    }
    measure_batch(&mut design, "carcase.post.width", 47.6);
    let case = case(&design);
    let findings = of_shop(&case);
    let short: Vec<_> = findings.iter().filter(|finding| finding.rule == Rule::MadePartFits).collect();
    assert_eq!(short.len(), 1, "{findings:?}");
    assert_abs_diff_eq!(short[0].figures[0].value, 0.8, epsilon = 1e-6);
    assert!(short[0].message.contains("and 3 more are 0.8 mm too short"), "{}", short[0].message);
    // 1360 less 0.8: the bay that takes a share gives.
    let others: Vec<_> = findings.iter().filter(|finding| finding.rule == Rule::CutsStillRight).collect();
    assert!(others.is_empty(), "with its gap at the right end, each rail's mortises lie where the stiles are: {others:?}");
    let narrower = short[0].remedies.iter().find(|remedy| remedy.words.contains("case width")).expect("a narrower case");
    assert_eq!(narrower.changes, [("carcase.width".to_owned(), "1359.2".to_owned())]);
    assert_each_mends(&case, short[0]);
}

/// All four long rails cut 12 short, as one who forgot the set-back cuts them, and all four of the sides: one word for the four, and the case that saves them,
/// 1360 less 12 wide, or 470 less 12 deep. Their mortises were all marked out from one side, so that they lie right in it.
#[test]
fn four_rails_cut_short_alike_are_saved_by_one_case() {
    for (rails, short, case_words) in [
        (["front.bottom", "front.top", "back.bottom", "back.top"], 1252.0, "case width 1348 mm"),
        (["left.bottom", "left.top", "right.bottom", "right.top"], 362.0, "case depth 458 mm"),
    ] {
        let mut design = demo();
        for rail in rails {
            measure(&mut design, &format!("rail.{rail}"), L, short);
            make(&mut design, &format!("rail.{rail}"), State::Cut);
        }
        let case = case(&design);
        let told = of_shop(&case);
        let [finding] = told[..] else { panic!("{told:#?}") };
        assert!(finding.message.contains("and 3 more are 12 mm too short"), "{}", finding.message);
        let saved = finding.remedies.iter().find(|remedy| remedy.words.contains(case_words));
        let saved = saved.unwrap_or_else(|| panic!("{:?}", finding.remedies));
        assert_eq!(of_shop(&apply(&case.design, saved)), Vec::<&Finding>::new());
        assert_each_mends(&case, finding);
    }
}

/// A top cut 3 too narrow stands out less, in front or behind; one cut 25 too narrow in front and behind; one cut 6 too long at each side 3 more.
#[test]
fn a_top_cut_too_narrow_may_stand_out_less() {
    for (of, made, wanted) in [
        (W, 495.0, &["Let it stand 17 mm over the front, not 20", "Let it stand 5 mm over the back, not 8"][..]),
        (W, 473.0, &["Let it stand 0 mm over the front, not 20, and let it stand 3 mm over the back, not 8"]),
        (L, 1406.0, &["Let it stand 23 mm over each side, not 20"]),
    ] {
        let mut design = demo();
        measure(&mut design, "top", of, made);
        make(&mut design, "top", State::Cut);
        let case = case(&design);
        let told = of_shop(&case);
        let [finding] = told[..] else { panic!("{told:#?}") };
        for words in wanted {
            assert!(finding.remedies.iter().any(|remedy| remedy.words == *words), "{words}: {:?}", finding.remedies);
        }
        assert_each_mends(&case, finding);
    }
}

/// A top of 1400 over a case made 40 wider stands over it by nothing: no joint minds, the eye does.
#[test]
fn a_top_cut_for_a_narrower_case_is_told() {
    let mut design = demo();
    make(&mut design, "top", State::Cut);
    set(&mut design, "carcase.width", "1400").expect("a length");
    let case = case(&design);
    let findings = of_shop(&case);
    assert_eq!(findings.len(), 1, "{findings:?}");
    assert_eq!((findings[0].rule, findings[0].seriousness), (Rule::MadePartFits, Seriousness::Note));
    assert!(findings[0].message.contains("40 mm too short"), "{}", findings[0].message);
    assert!(findings[0].remedies.iter().any(|remedy| remedy.words.contains("case width 1360 mm")), "{:?}", findings[0].remedies);
    assert_each_mends(&case, findings[0]);
}

/// A loose tenon cut 2 too long is 1 too long for its mortises: the check of its length tells it, with what mends the tenon that is there, and nothing
/// says that no joint minds.
#[test]
fn a_loose_tenon_cut_too_long_is_told_by_its_joint() {
    let mut design = demo();
    let tenon = "tenon.rail.front.bottom.post.front.left.1";
    measure(&mut design, tenon, L, 52.0);
    make(&mut design, tenon, State::Cut);
    let case = case(&design);
    assert_eq!(of_shop(&case), Vec::<&Finding>::new());
    let [finding] = case.failures()[..] else { panic!("{:#?}", case.findings) };
    assert_eq!(finding.rule, Rule::TenonLength);
    assert!(finding.remedies.iter().any(|remedy| remedy.words == "Cut 2 mm off"), "{:?}", finding.remedies);
    for remedy in &finding.remedies {
        let mended = apply(&case.design, remedy);
        assert!(!mended.findings.iter().any(|finding| finding.rule == Rule::TenonLength), "{}", remedy.words);
    }
}

#[test]
fn what_is_glued_is_not_made_new() {
    let mut design = demo();
    measure(&mut design, "rail.front.bottom", Dimension::Length, 1252.0);
    make(&mut design, "rail.front.bottom", State::Glued);
    let case = case(&design);
    let words: Vec<_> = case.failures()[0].remedies.iter().map(|remedy| remedy.words.clone()).collect();
    assert!(!words.is_empty() && !words.iter().any(|words| words.contains("new")), "{words:?}");
}

/// A rail that measures 12 short is glued to both of its posts, to the left one only, or to none that is glued: nothing goes between shoulders that are
/// glued, and nothing is cut off what is.
#[test]
fn what_is_glued_is_not_cut_or_shimmed_where_its_joint_is_made() {
    for (posts, shim) in [(&["left", "right"][..], None), (&["left"], Some("second")), (&["right"], Some("first"))] {
        let mut design = demo();
        measure(&mut design, "rail.front.bottom", L, 1252.0);
        make(&mut design, "rail.front.bottom", State::Glued);
        for side in posts {
            make(&mut design, &format!("post.front.{side}"), State::Glued);
        }
        let case = case(&design);
        let short = case.failures().into_iter().find(|finding| finding.rule == Rule::MadePartFits).expect("it is short");
        let words: Vec<_> = short.remedies.iter().map(|remedy| remedy.words.as_str()).collect();
        assert!(
            !words.iter().any(|words| words.contains("new") || words.contains(" off") || words.contains("Plane")),
            "{posts:?}: {words:?}"
        );
        let shims: Vec<_> = short.remedies.iter().flat_map(|remedy| &remedy.changes).filter(|(path, _)| path.ends_with("_shim")).collect();
        match shim {
            Some(end) => {
                assert_eq!(shims.len(), 1, "{posts:?}: {words:?}");
                assert_eq!(shims[0].0, format!("made.rail.front.bottom.{end}_shim"));
            }
            None => assert!(shims.is_empty(), "{words:?}"),
        }
    }
}

/// Nothing is cut into a post that is glued, whatever its mortises are.
#[test]
fn the_cuts_of_what_is_glued_are_not_made_anew() {
    let mut design = demo();
    for part in ["post.front.left", "rail.left.bottom"] {
        make(&mut design, part, State::Glued);
    }
    set(&mut design, "carcase.rails.foot", "56").expect("a length");
    let case = case(&design);
    let cuts: Vec<_> = case.findings.iter().filter(|finding| finding.rule == Rule::CutsStillRight).collect();
    assert!(!cuts.is_empty(), "{:#?}", case.findings);
    for finding in cuts {
        let words: Vec<_> = finding.remedies.iter().map(|remedy| remedy.words.as_str()).collect();
        assert!(!words.iter().any(|words| words.contains("ut to what") || words.contains("new") || words.contains("lug")), "{words:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, rng_seed: proptest::test_runner::RngSeed::Fixed(44), failure_persistence: None, max_shrink_iters: 20, ..ProptestConfig::default() })]

    /// Some parts are cut to other sizes than planned: all that is offered mends.
    #[test]
    fn every_remedy_for_a_part_that_is_there_mends(draws in proptest::collection::vec((0usize..1000, -15.0f64..15.0), 1..4)) {
        const PARTS: [&str; 8] = ["rail.front.bottom", "rail.back.top", "rail.left.top", "stile.1", "muntin.2", "cross_rail.1.top", "post.front.left", "rail.right.middle.1"];
        let mut design = demo();
        let plain = case(&design);
        for (index, off) in draws {
            let part = PARTS[index % PARTS.len()];
            measure(&mut design, part, Dimension::Length, size(&plain, part, Dimension::Length) + (off * 10.0).round() / 10.0);
            make(&mut design, part, State::Cut);
        }
        let case = case(&design);
        for finding in of_shop(&case) {
            for remedy in finding.remedies.iter().filter(|remedy| !remedy.changes.is_empty()) {
                let after = apply(&case.design, remedy);
                prop_assert!(!of_shop(&after).iter().any(|other| other.message == finding.message), "{} does not mend: {}", remedy.words, finding.message);
            }
        }
    }
}

/// A bench can't tell a twentieth of a millimetre (common practice, no source).
#[test]
fn what_a_bench_can_not_tell_is_as_planned() {
    for (part, of, measured, fits) in [
        ("rail.front.bottom", L, 1263.999, true),
        ("rail.front.bottom", L, 1263.96, true),
        ("rail.front.bottom", L, 1264.046, true),
        ("post.front.left", L, 1456.05, true),
        ("rail.front.bottom", L, 1263.9, false),
        ("rail.front.bottom", L, 1264.2, false),
    ] {
        let mut design = demo();
        measure(&mut design, part, of, measured);
        make(&mut design, part, State::Cut);
        let case = case(&design);
        assert_eq!(case.findings.is_empty(), fits, "{part} {measured}: {:?}", case.findings);
    }
}

//! What is cut in a part is what is in its solid, and the dry fit sees it beside what is planned now.

use approx::assert_abs_diff_eq;
use casewright_core::DryFit;
use casewright_core::design::shop::State;
use casewright_core::inspect::{Finding, Rule, Seriousness};
use casewright_core::model::{CutState, Feature};
use casewright_core::origin::Origin;
use casewright_solid::{Pose, Solid, overlap};
use casewright_tests::{Case, demo, demo_with, set};
use glam::DVec3;
use proptest::prelude::*;

use crate::{apply, bones, case, make, of_shop};

/// What the whole dry fit finds of a rule.
fn dry_fitted(case: &Case, rule: Rule) -> Vec<Finding> {
    let told = DryFit::of(&case.design, &case.model, &case.solids).findings;
    told.into_iter().filter(|finding| finding.rule == rule).collect()
}

/// Everything that is offered and changes something leaves no finding of that rule about these parts.
fn assert_each_mends(case: &Case, finding: &Finding) {
    for remedy in finding.remedies.iter().filter(|remedy| !remedy.changes.is_empty()) {
        let after = apply(&case.design, remedy);
        let named = |other: &Finding| case.names(finding).iter().take(2).all(|name| after.names(other).contains(name));
        let left: Vec<_> =
            after.findings.iter().filter(|other| other.rule == finding.rule && named(other)).map(|other| &other.message).collect();
        assert!(left.is_empty(), "{}: {left:?}", remedy.words);
    }
}

fn volume(case: &Case, part: &str) -> f64 {
    let part = case.model.find(part).expect("a part");
    case.solids.shape(part.id).expect("a solid").volume
}

#[test]
fn a_part_that_is_cut_as_planned_is_as_planned() {
    let planned = case(&demo());
    let mut design = demo();
    for part in ["post.front.left", "rail.left.bottom", "rail.front.bottom", "standard.1.front.left", "top", "panel.left.1", "stile.1"] {
        if planned.model.find(part).is_some() {
            make(&mut design, part, State::Cut);
        }
    }
    let made = case(&design);
    assert_eq!(bones(&made.model), bones(&planned.model));
    assert_eq!(made.findings, planned.findings);
    assert!(made.model.parts.iter().all(|part| part.planned.is_none()));
}

/// A rail grooved 9 deep, of which 6 are wanted now: 3 mm more of its edge are gone, and a panel that stands 5 in each groove with 1 of play can be pushed
/// 4 down: 1 of it stays in the groove above, less what it shrinks (0.03 % of some 590 a percent) and what its rails of 110 and 64 go back, 0.274 % of half of
/// both, from 8 to 6 %.
#[test]
fn a_groove_that_was_cut_deeper_lets_its_panel_slide() {
    let mut design = demo_with(&[("joinery.groove.play", "1")]);
    make(&mut design, "rail.left.bottom", State::Cut);
    let before = case(&design);
    set(&mut design, "joinery.groove.depth", "6").expect("a length");
    let now = case(&design);
    assert_abs_diff_eq!(volume(&now, "rail.left.bottom"), volume(&before, "rail.left.bottom"), epsilon = 1e-3);
    let plain = case(&demo_with(&[("joinery.groove.play", "1"), ("joinery.groove.depth", "6")]));
    assert_eq!(plain.findings, []);
    assert!(volume(&plain, "rail.left.bottom") > volume(&now, "rail.left.bottom") + 1000.0);
    let told = dry_fitted(&now, Rule::PanelEngaged);
    let [finding] = &told[..] else { panic!("{told:#?}") };
    assert_eq!(finding.seriousness, Seriousness::AtRisk);
    assert_eq!(now.names(finding), ["panel.left.1", "rail.left.middle.1", "rail.left.bottom"]);
    let engaged = 1.0 - (590.0 * 0.0003 + f64::midpoint(110.0, 64.0) * 0.00274) * 2.0;
    assert_abs_diff_eq!(finding.figures[0].value, engaged, epsilon = 0.01);
    let cuts = dry_fitted(&now, Rule::CutsStillRight);
    let [note] = &cuts[..] else { panic!("{cuts:#?}") };
    assert_eq!(note.seriousness, Seriousness::Note);
    assert!(note.message.contains("a groove for a panel is deeper, by 3 mm"), "{}", note.message);
    let words: Vec<&str> = note.remedies.iter().map(|remedy| remedy.words.as_str()).collect();
    for wanted in ["Fill up what is too deep", "Make it new", "Go back"] {
        assert!(words.iter().any(|words| words.starts_with(wanted)), "{wanted}: {words:?}");
    }
    let back = note.remedies.iter().find(|remedy| remedy.words.starts_with("Go back")).expect("the old depth");
    assert_eq!(back.changes, [("joinery.groove.depth".to_owned(), "9".to_owned())]);
    assert!(finding.remedies.iter().any(|remedy| !remedy.changes.is_empty()), "{:#?}", finding.remedies);
    assert_each_mends(&now, finding);
    assert_each_mends(&now, note);
}

/// A post that was mortised for loose tenons is to take dowels: their holes lie in the old mortises.
#[test]
fn old_mortises_under_new_dowel_holes_are_seen() {
    let mut design = demo();
    make(&mut design, "post.front.left", State::Cut);
    set(&mut design, "joinery.rail_to_post.by", "dowels").expect("a joint");
    let now = case(&design);
    let told = dry_fitted(&now, Rule::MortisesMeet);
    let in_post: Vec<_> = told.iter().filter(|finding| now.names(finding)[0] == "post.front.left").collect();
    assert!(!in_post.is_empty(), "{told:#?}");
    assert_eq!(in_post[0].seriousness, Seriousness::WillFail);
    assert!(in_post[0].message.contains("hole") && in_post[0].message.contains("mortise"), "{}", in_post[0].message);
    // Nothing of the like in a post that was not cut.
    let mut plain = demo();
    set(&mut plain, "joinery.rail_to_post.by", "dowels").expect("a joint");
    let plain = case(&plain);
    assert!(!plain.findings.iter().any(|finding| finding.rule == Rule::MortisesMeet));
    assert!(volume(&now, "post.front.left") < volume(&plain, "post.front.left") - 1000.0, "the old mortises are gone from it");
    assert!(volume(&now, "post.front.left") < volume(&case(&demo()), "post.front.left") - 100.0, "and the holes will be");
    for finding in in_post {
        let words: Vec<&str> = finding.remedies.iter().map(|remedy| remedy.words.as_str()).collect();
        assert!(words.iter().any(|words| words.starts_with("Plug")), "{words:?}");
        assert!(
            !words.iter().any(|words| words.contains("Mitre") || words.contains("Stagger")),
            "an old mortise stays where it is: {words:?}"
        );
        assert_each_mends(&now, finding);
    }
    let cuts = dry_fitted(&now, Rule::CutsStillRight);
    let [note] = &cuts[..] else { panic!("{cuts:#?}") };
    let back = note.remedies.iter().find(|remedy| remedy.words.starts_with("Go back")).unwrap_or_else(|| panic!("{:#?}", note.remedies));
    assert_eq!(back.changes, [("joinery.rail_to_post.by".to_owned(), "loose_tenons".to_owned())]);
    assert_each_mends(&now, note);
}

/// A post mortised before the rails were moved up by 6: with the foot as it was its mortises lie right again.
#[test]
fn what_a_part_was_cut_for_is_found_again() {
    let mut design = demo();
    make(&mut design, "post.front.left", State::Cut);
    set(&mut design, "carcase.rails.foot", "56").expect("a length");
    let now = case(&design);
    let told = dry_fitted(&now, Rule::CutsStillRight);
    let [finding] = &told[..] else { panic!("{told:#?}") };
    let changes: Vec<_> = finding.remedies.iter().map(|remedy| remedy.changes.clone()).collect();
    assert!(changes.contains(&vec![("carcase.rails.foot".to_owned(), "50".to_owned())]), "{:#?}", finding.remedies);
    assert!(finding.remedies.iter().any(|remedy| remedy.words.starts_with("Plug")), "{:#?}", finding.remedies);
    assert_each_mends(&now, finding);
}

/// What is wrong with a cut that is there is told once, and not again as what it does.
#[test]
fn a_cut_that_is_wrong_is_told_once() {
    for (before, after) in [
        ([("joinery.groove.depth", "9")], ("joinery.groove.depth", "12")),
        ([("carcase.rails.foot", "50")], ("carcase.rails.foot", "56")),
        ([("joinery.rail_to_post.depth_in_face", "24.5")], ("joinery.rail_to_post.depth_in_face", "26")),
    ] {
        let mut design = demo_with(&before);
        make(&mut design, "post.front.left", State::Cut);
        set(&mut design, after.0, after.1).expect("a length");
        let plain = case(&demo_with(&[after]));
        let now = case(&design);
        let rules = |case: &Case| case.findings.iter().map(|finding| finding.rule).collect::<Vec<_>>();
        let mut wanted = rules(&plain);
        wanted.push(Rule::CutsStillRight);
        let (mut found, mut wanted) = (rules(&now), wanted);
        found.sort_unstable();
        wanted.sort_unstable();
        assert_eq!(found, wanted, "{after:?}: {:#?}", now.findings);
    }
}

/// A mortise that goes deeper than is wanted now still breaks into what is planned across it.
#[test]
fn a_mortise_that_was_cut_deeper_is_as_deep_as_it_is() {
    let mut design = demo();
    make(&mut design, "post.front.left", State::Cut);
    let before = case(&design);
    for (path, value) in [("joinery.rail_to_post.depth_in_face", "20"), ("joinery.rail_to_post.length", "45.5")] {
        set(&mut design, path, value).expect("a length");
    }
    let now = case(&design);
    assert_abs_diff_eq!(volume(&now, "post.front.left"), volume(&before, "post.front.left"), epsilon = 1e-3);
    let told = of_shop(&now);
    let [note] = told[..] else { panic!("{told:#?}") };
    assert_eq!((note.rule, note.seriousness), (Rule::CutsStillRight, Seriousness::Note));
    assert!(note.message.contains("a mortise is deeper, by 4.5 mm"), "{}", note.message);
}

/// Whether a point of a part, in its own measures, lies in the wood of its solid.
fn is_wood(case: &Case, part: &str, point: [f64; 3]) -> bool {
    let part = case.model.find(part).expect("a part");
    let crumb = Solid::blank(DVec3::splat(0.02)).cells(8).expect("a crumb");
    let at = Pose { origin: DVec3::from(point) - DVec3::splat(0.01), ..Pose::IDENTITY };
    let found = overlap(&crumb, &at, case.solids.cells(part.id).expect("a solid"), &Pose::IDENTITY);
    found.is_some_and(|found| found.depth > 1e-3)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, rng_seed: proptest::test_runner::RngSeed::Fixed(45), failure_persistence: None, max_shrink_iters: 10, ..ProptestConfig::default() })]

    /// Parts are cut, and then some decision changes: where a mortise, a hole or a groove was cut there is no wood, nor where one is planned that is not there.
    #[test]
    fn where_it_was_cut_there_is_no_wood(changed in 0usize..7, cut in proptest::collection::vec(0usize..6, 1..4)) {
        const PARTS: [&str; 6] = ["post.front.left", "post.back.right", "rail.left.bottom", "rail.front.top", "stile.1", "muntin.2"];
        const CHANGES: [(&str, &str); 7] = [
            ("joinery.rail_to_post.by", "dowels"),
            ("joinery.rail_to_post.by", "mortise_and_tenon"),
            ("joinery.stile_to_rail.by", "dowels"),
            ("joinery.groove.depth", "6"),
            ("carcase.rails.foot", "80"),
            ("carcase.rails.reveal", "2"),
            ("joinery.rail_to_post.margin", "12"),
        ];
        let mut design = demo();
        for part in cut {
            make(&mut design, PARTS[part], State::Cut);
        }
        let (path, value) = CHANGES[changed];
        set(&mut design, path, value).unwrap_or_else(|error| panic!("{error}"));
        let now = case(&design);
        let kept = |name: &str| ["mortise", "hole", "groove"].iter().any(|kind| name.starts_with(kind));
        for record in &design.shop.parts {
            let part = now.model.find(&record.part).expect("a part");
            prop_assert!(now.solids.of(part.id).is_ok(), "{path}: {}", record.part);
            // One that is shorter now than it should be may stand with its gap at its first end: its cuts are then told from where that should be.
            if matches!(&part.size[0].origin, Origin::Measured { planned, .. } if planned.mm > part.size[0].mm + 0.01) {
                continue;
            }
            for cut in record.cuts.iter().filter(|cut| kept(&cut.0)) {
                let middle = [0, 1, 2].map(|axis| f64::midpoint(cut.1[axis], cut.2[axis]));
                prop_assert!(!is_wood(&now, &record.part, middle), "{path}: {} of {}", cut.0, record.part);
            }
            for missing in part.cuts.iter().filter(|cut| cut.there == CutState::Missing) {
                let Feature::Hole { centre, face, depth, .. } = missing.feature else { continue };
                let mut middle = centre;
                middle[face.axis()] = if face.is_first() { depth / 2.0 } else { part.lwt()[face.axis()] - depth / 2.0 };
                prop_assert!(!is_wood(&now, &record.part, middle.to_array()), "{path}: a hole in {}", record.part);
            }
        }
    }
}

//! What is recorded as glued stands together: the order begins from there.

use std::collections::BTreeSet;

use casewright_core::DryFit;
use casewright_core::design::shop::{self, State};
use casewright_core::inspect::{Finding, Rule, Seriousness};
use casewright_core::model::{BuildStage, JointId, PartId, PartKind};
use casewright_core::sequence::verify;
use casewright_core::{Design, Sequence};
use casewright_tests::{Case, demo};
use proptest::prelude::*;

use super::{assert_whole, names, order_of};

/// The parts of the demo's left frame but its loose tenons.
const LEFT_FRAME: [&str; 7] =
    ["post.front.left", "post.back.left", "rail.left.bottom", "rail.left.middle.1", "rail.left.top", "panel.left.1", "panel.left.2"];

fn glue(design: &mut Design, parts: &[&str]) {
    for part in parts {
        shop::set_state(design, part, State::Glued).unwrap_or_else(|error| panic!("{error}"));
    }
}

/// The demo with some of its parts glued.
fn with_glued(parts: &[&str]) -> Case {
    let mut design = demo();
    glue(&mut design, parts);
    Case::of(design).unwrap_or_else(|errors| panic!("{errors:?}"))
}

/// The wet joints both of whose members are among these.
fn wet_between(case: &Case, parts: &[&str]) -> BTreeSet<JointId> {
    let is_one = |part| parts.contains(&case.model.part(part).name.as_str());
    case.model.joints.iter().filter(|joint| joint.glued && is_one(joint.a) && is_one(joint.b)).map(|joint| joint.id).collect()
}

fn still_wet(order: &Sequence) -> BTreeSet<JointId> {
    order.glue_ups.iter().flat_map(|glue_up| glue_up.joints.iter().copied()).collect()
}

fn locked_out(case: &Case) -> Vec<Finding> {
    let told = DryFit::of(&case.design, &case.model, &case.solids).findings;
    told.into_iter().filter(|finding| finding.rule == Rule::LockedOut).collect()
}

#[test]
fn a_frame_that_is_glued_is_not_told_as_to_be_glued() {
    let before = Case::with(&[]);
    let case = with_glued(&LEFT_FRAME);
    let order = order_of(&case);
    assert_whole(&case.model, &case.solids, &order);
    let done = wet_between(&case, &LEFT_FRAME);
    // Three rails between two posts.
    assert_eq!(done.len(), 6);
    let all = still_wet(&order_of(&before));
    assert_eq!(still_wet(&order), all.difference(&done).copied().collect());
    // No step moves a part of it but with all of it, and nothing of it is told to be glued.
    let of_frame = |part: &str| case.model.find(part).expect("a part").id;
    for mv in order.steps.iter().flat_map(|step| &step.moves) {
        let moved = LEFT_FRAME.iter().filter(|part| mv.parts.contains(&of_frame(part))).count();
        assert!(moved == 0 || moved == LEFT_FRAME.len(), "{:?}", names(&case.model, &mv.parts));
    }
    assert!(!order.groups.iter().any(|group| group.title == "left frame" && !group.steps.is_empty()));
    assert_eq!(locked_out(&case), []);
}

#[test]
fn when_all_is_glued_only_what_goes_in_after_is_left() {
    let names: Vec<String> =
        Case::with(&[]).model.parts.iter().filter(|part| part.stage == BuildStage::GlueUp).map(|part| part.name.clone()).collect();
    let case = with_glued(&names.iter().map(String::as_str).collect::<Vec<_>>());
    let order = order_of(&case);
    assert_whole(&case.model, &case.solids, &order);
    // Spacers are glued to their standards when these stand.
    let spacers = case.model.joints.iter().filter(|joint| joint.glued && case.model.part(joint.a).kind == PartKind::Spacer);
    assert_eq!(still_wet(&order), spacers.map(|joint| joint.id).collect());
    for mv in order.steps.iter().flat_map(|step| &step.moves) {
        for part in &mv.parts {
            assert_ne!(case.model.part(*part).stage, BuildStage::GlueUp, "{}", case.model.part(*part).name);
        }
    }
    assert!(!DryFit::of(&case.design, &case.model, &case.solids).findings.iter().any(|finding| finding.rule == Rule::GlueTime));
}

/// Two posts with the upper rail between them are glued, the rest of the frame is not.
#[test]
fn of_a_frame_that_is_half_glued_the_other_half_is_left() {
    let some = ["post.front.left", "rail.left.top"];
    let case = with_glued(&some);
    let order = order_of(&case);
    assert_whole(&case.model, &case.solids, &order);
    let done = wet_between(&case, &some);
    assert_eq!(done.len(), 1);
    let all = still_wet(&order_of(&Case::with(&[])));
    assert_eq!(still_wet(&order), all.difference(&done).copied().collect());
}

/// Posts and rails of a frame are glued round a panel that lies on the bench.
#[test]
fn a_panel_left_out_of_a_glued_frame_is_locked_out() {
    let without: Vec<&str> = LEFT_FRAME.into_iter().filter(|part| *part != "panel.left.1").collect();
    let case = with_glued(&without);
    let order = order_of(&case);
    let locked: Vec<_> = order.locked.iter().map(|locked| names(&case.model, &locked.parts)).collect();
    assert_eq!(locked, [["panel.left.1"]]);
    let by = names(&case.model, &order.locked[0].blocked_by);
    assert!(!by.is_empty() && by.iter().all(|name| LEFT_FRAME.contains(name)), "{by:?}");
    // All the rest is put together and proved.
    assert_eq!(verify(&case.model, &case.solids, &order), []);
    let told = locked_out(&case);
    let [finding] = &told[..] else { panic!("{told:#?}") };
    assert_eq!(finding.seriousness, Seriousness::WillFail);
    assert_eq!(case.names(finding)[0], "panel.left.1");
    assert!(finding.message.contains("left panel 1") && finding.message.contains("glued"), "{}", finding.message);
    let words: Vec<&str> = finding.remedies.iter().map(|remedy| remedy.words.as_str()).collect();
    assert!(!words.iter().any(|words| words.contains("during the glue-up")), "too late: {words:?}");
    assert!(words.iter().any(|words| words.contains("open") && words.contains("bead")), "{words:?}");
    assert!(words.iter().any(|words| words.contains("between beads")), "{words:?}");
    // And that it was in all along.
    let in_already = finding.remedies.iter().find(|remedy| !remedy.changes.is_empty()).expect("a change");
    assert_eq!(in_already.changes, [("made.panel.left.1.state".to_owned(), "glued".to_owned())]);
}

/// Two panels left out are told each for itself.
#[test]
fn each_panel_left_out_is_told() {
    let without: Vec<&str> = LEFT_FRAME.into_iter().filter(|part| !part.starts_with("panel")).collect();
    let case = with_glued(&without);
    let order = order_of(&case);
    let mut locked: Vec<_> = order.locked.iter().flat_map(|locked| names(&case.model, &locked.parts)).collect();
    locked.sort_unstable();
    assert_eq!(locked, ["panel.left.1", "panel.left.2"]);
    assert_eq!(verify(&case.model, &case.solids, &order), []);
}

/// A rail that was forgotten between two posts that stand glued: its tenons don't go in any more.
#[test]
fn a_rail_left_out_of_a_glued_frame_is_locked_out() {
    let without: Vec<&str> = LEFT_FRAME.into_iter().filter(|part| *part != "rail.left.middle.1" && !part.starts_with("panel")).collect();
    let case = with_glued(&without);
    let order = order_of(&case);
    let locked: Vec<_> = order.locked.iter().map(|locked| names(&case.model, &locked.parts)[0]).collect();
    assert!(locked.contains(&"rail.left.middle.1"), "{locked:?}");
    let told = locked_out(&case);
    let of_rail = told.iter().find(|finding| case.names(finding)[0] == "rail.left.middle.1").unwrap_or_else(|| panic!("{told:#?}"));
    let words: Vec<&str> = of_rail.remedies.iter().map(|remedy| remedy.words.as_str()).collect();
    assert!(words.iter().any(|words| words.contains("mortises") && words.contains("open")), "{words:?}");
}

/// What is done is told by name, with the joints that are made; nothing is where nothing is glued.
#[test]
fn what_is_done_is_told() {
    let order = order_of(&with_glued(&[]));
    assert_eq!(order.done, []);
    let case = with_glued(&LEFT_FRAME);
    let order = order_of(&case);
    let [done] = &order.done[..] else { panic!("{:?}", order.done) };
    assert_eq!(done.words(&case.model), "left frame: 7 parts, 6 joints");
    assert_eq!(done.joints.iter().copied().collect::<BTreeSet<_>>(), wet_between(&case, &LEFT_FRAME));
    // The loose tenons of these joints are in them.
    let tenons: Vec<_> = done.joints.iter().flat_map(|joint| case.model.joint(*joint).loose.clone()).collect();
    assert!(!tenons.is_empty() && tenons.iter().all(|tenon| done.parts.contains(tenon)));
}

/// A rail that is recorded as glued between posts that are not stands alone: the order is that of a case of which nothing is glued, and it is told.
#[test]
fn a_part_that_is_glued_to_nothing_counts_as_cut() {
    let case = with_glued(&["rail.left.top"]);
    let order = order_of(&case);
    assert_eq!(order.done, []);
    assert_eq!(still_wet(&order), still_wet(&order_of(&Case::with(&[]))));
    let told: Vec<_> = case.findings.iter().filter(|finding| finding.rule == Rule::GluedToOthers).collect();
    let [finding] = &told[..] else { panic!("{:#?}", case.findings) };
    assert!(finding.message.contains("counts as cut"), "{}", finding.message);
    for remedy in &finding.remedies {
        let mut design = case.design.clone();
        for (path, value) in &remedy.changes {
            casewright_tests::set(&mut design, path, value).unwrap_or_else(|error| panic!("{error}"));
        }
        let mended = Case::of(design).unwrap_or_else(|errors| panic!("{errors:?}"));
        assert!(!mended.findings.iter().any(|other| other.rule == Rule::GluedToOthers), "{}", remedy.words);
    }
}

/// Both side frames are glued, nothing between them is: what is left closes along the width.
#[test]
fn two_frames_that_are_glued_are_joined_by_the_rest() {
    let right: Vec<String> = LEFT_FRAME.iter().map(|part| part.replace("left", "right")).collect();
    let parts: Vec<&str> = LEFT_FRAME.into_iter().chain(right.iter().map(String::as_str)).collect();
    let case = with_glued(&parts);
    let order = order_of(&case);
    assert_whole(&case.model, &case.solids, &order);
    assert_eq!(order.done.len(), 2);
    let all = still_wet(&order_of(&Case::with(&[])));
    assert_eq!(still_wet(&order), all.difference(&wet_between(&case, &parts)).copied().collect());
    // Taken apart for the eye, each stands as one.
    let frames = order.positions(case.model.parts.len(), 0.0);
    for done in &order.done {
        let first = frames[done.parts[0].0].origin;
        for part in &done.parts {
            let off = (frames[part.0].origin - first).length();
            assert!(off < 1e-9, "{} stands {off} apart from what it is glued to", case.model.part(*part).name);
        }
    }
}

/// A frame is glued, the strips that carry its floor are not: each is brought in past the rails, and pressed onto its own.
#[test]
fn bearers_are_glued_into_a_frame_that_stands() {
    let all = glued_up();
    let glued: Vec<&str> = all.iter().map(String::as_str).filter(|name| !name.starts_with("bearer")).collect();
    let case = with_glued(&glued);
    let order = order_of(&case);
    assert_whole(&case.model, &case.solids, &order);
    let glued = |kinds: &[PartKind]| -> BTreeSet<JointId> {
        let of = case.model.joints.iter().filter(|joint| joint.glued && kinds.contains(&case.model.part(joint.a).kind));
        of.map(|joint| joint.id).collect()
    };
    // And the spacers to their standards, when these stand.
    assert_eq!(still_wet(&order), glued(&[PartKind::Bearer, PartKind::Spacer]));
    let bearers = glued(&[PartKind::Bearer]);
    let of_bearers = order.glue_ups.iter().filter(|glue_up| glue_up.joints.iter().any(|joint| bearers.contains(joint)));
    assert!(of_bearers.flat_map(|glue_up| &glue_up.clamps).all(|clamp| clamp.along.axis() == 2), "{:#?}", order.glue_ups);
}

fn names_of(case: &Case, parts: &[PartId]) -> Vec<String> {
    names(&case.model, parts).into_iter().map(str::to_owned).collect()
}

/// The names of all that the demo glues up, but its loose tenons.
fn glued_up() -> Vec<String> {
    let case = Case::with(&[]);
    let parts = case.model.parts.iter().filter(|part| part.stage == BuildStage::GlueUp && part.kind != PartKind::LooseTenon);
    parts.map(|part| part.name.clone()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 16, rng_seed: proptest::test_runner::RngSeed::Fixed(43), failure_persistence: None, max_shrink_iters: 8, ..ProptestConfig::default() })]

    /// Whatever of the demo is glued: every wet joint is made, is still to be glued once, or is one of what is locked out; and every step that is given is proved.
    #[test]
    fn whatever_is_glued_the_rest_is_glued_once_or_told(chosen in proptest::collection::vec(any::<bool>(), 80), most in 1usize..80) {
        let all = glued_up();
        let glued: Vec<&str> = all.iter().zip(chosen.iter().cycle()).filter(|(_, chosen)| **chosen).map(|(name, _)| name.as_str()).take(most).collect();
        let case = with_glued(&glued);
        let order = order_of(&case);
        prop_assert_eq!(verify(&case.model, &case.solids, &order), []);
        let done: BTreeSet<JointId> = order.done.iter().flat_map(|done| done.joints.iter().copied()).collect();
        prop_assert_eq!(&done, &wet_between(&case, &glued));
        let wet = still_wet(&order);
        prop_assert!(done.is_disjoint(&wet));
        prop_assert_eq!(wet.len(), order.glue_ups.iter().map(|glue_up| glue_up.joints.len()).sum::<usize>(), "each is glued once");
        let locked: BTreeSet<PartId> = order.locked.iter().flat_map(|locked| locked.parts.iter().copied()).collect();
        for joint in case.model.joints.iter().filter(|joint| joint.glued) {
            let out = locked.contains(&joint.a) || locked.contains(&joint.b) || joint.loose.iter().any(|loose| locked.contains(loose));
            prop_assert!(done.contains(&joint.id) || wet.contains(&joint.id) || out, "{} to {}", case.model.part(joint.a).name, case.model.part(joint.b).name);
        }
        // What is glued together goes in as one, or is locked out as one.
        let told = || order.locked.iter().map(|locked| (names_of(&case, &locked.parts), names_of(&case, &locked.blocked_by))).collect::<Vec<_>>();
        for done in &order.done {
            let out = done.parts.iter().filter(|part| locked.contains(part)).count();
            prop_assert!(out == 0 || out == done.parts.len(), "{}: {:#?}", done.title, told());
        }
        for locked in &order.locked {
            prop_assert!(!locked.blocked_by.is_empty(), "{:#?}", told());
        }
    }
}

//! The shop: what its tools reach, and what an older design gets.

use casewright_core::design::Gluing;
use casewright_core::design::shop::{self, State};
use casewright_core::inspect::Rule;
use casewright_core::model::BuildStage;
use casewright_core::sequence::findings;
use casewright_core::{DryFit, Seriousness, derive};
use casewright_tests::{Case, demo, demo_with, set};

use super::order_of;

/// Slots for buttons are cut before glue-up when the tool that makes them does not get in: here one as long as the case is deep.
#[test]
fn a_slot_that_no_tool_reaches_is_flagged() {
    let flagged = |changes: &[(&str, &str)]| {
        let case = Case::of(demo_with(changes)).expect("it derives");
        let order = order_of(&case);
        let told = findings(&order, &case.model, &case.design.shop.glue);
        told.into_iter().filter(|finding| finding.rule == Rule::ToolReach && finding.message.contains("buttons")).collect::<Vec<_>>()
    };
    let long = [("shop.tools.1.name", "Slotting machine"), ("shop.tools.1.length", "460")];
    let told = flagged(&long);
    let [finding] = &told[..] else { panic!("{told:?}") };
    assert_eq!(finding.seriousness, Seriousness::Note);
    assert!(finding.message.starts_with("Cut before glue-up") && finding.message.contains("slotting machine"), "{}", finding.message);
    assert!(finding.remedies[0].words.contains("before glue-up"));
    let small = [("shop.tools.1.length", "120"), ("shop.tools.1.width", "40"), ("shop.tools.1.height", "40"), ("shop.tools.1.above", "20")];
    assert!(flagged(&small).is_empty(), "{:?}", flagged(&small));
}

/// Rows of holes for pins, and housings for shelves, are cut before glue-up where no tool gets in: a drill 250 long does not go between posts 200 apart, and one 70
/// thick not 37 from the back of a post, beside which the back panel stands.
#[test]
fn holes_and_housings_that_no_tool_reaches_are_flagged() {
    let flagged = |changes: &[(&str, &str)], work: &str| {
        let case = Case::with(changes);
        let order = order_of(&case);
        let told = findings(&order, &case.model, &case.design.shop.glue);
        told.into_iter().filter(|finding| finding.rule == Rule::ToolReach && finding.message.contains(work)).collect::<Vec<_>>()
    };
    let pins = [("interior.bays.2.opening.system", "pins"), ("interior.bays.2.opening.shelves", "7 17")];
    let thin = [("shop.tools.5.width", "24"), ("shop.tools.5.height", "24"), ("shop.tools.5.above", "12")];
    let of_pins = |wide: &'static str, thin: &[(&'static str, &'static str)]| {
        flagged(&[&pins[..], &[("interior.bays.2.size", wide)], thin].concat(), " for shelf pins")
    };
    let told = of_pins("200", &thin);
    let [finding] = &told[..] else { panic!("{told:?}") };
    assert_eq!(finding.seriousness, Seriousness::Note);
    assert!(finding.message.starts_with("Cut before glue-up") && finding.message.contains("drill"), "{}", finding.message);
    assert!(of_pins("500", &thin).is_empty(), "{:?}", of_pins("500", &thin));
    assert!(!of_pins("500", &[]).is_empty());
    let housed = [("interior.bays.1.opening.system", "housed")];
    // Beside the back panel there is room for little.
    let short = [("shop.tools.3.length", "120"), ("shop.tools.3.width", "20"), ("shop.tools.3.height", "20"), ("shop.tools.3.above", "10")];
    let long = [("shop.tools.3.length", "600"), ("shop.tools.4.length", "600")];
    let told = flagged(&[&housed[..], &long].concat(), "grooves for shelves");
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(flagged(&[&housed[..], &short].concat(), "grooves for shelves").is_empty());
}

/// Housings that come to be planned when the carcase is glued already are still to be cut: that is at risk, is not taken as right, and stands before the step in
/// which the first shelf goes in.
#[test]
fn housings_still_to_be_cut_into_a_glued_carcase_are_told() {
    let plain = Case::of(demo()).expect("it derives");
    let mut design = demo();
    for part in plain.model.parts.iter().filter(|part| part.stage == BuildStage::GlueUp) {
        shop::set_state(&mut design, &part.name, State::Glued).unwrap_or_else(|error| panic!("{error}"));
    }
    set(&mut design, "interior.bays.1.opening.system", "housed").expect("a system");
    let case = Case::of(design).unwrap_or_else(|errors| panic!("{errors:?}"));
    let told: Vec<_> =
        case.findings.iter().filter(|finding| finding.rule == Rule::CutsStillRight && finding.message.contains("housing")).collect();
    assert!(!told.is_empty());
    for finding in told {
        assert_eq!(finding.seriousness, Seriousness::AtRisk, "{}", finding.message);
        assert!(finding.remedies.iter().any(|remedy| remedy.words.contains("as it stands")), "{:?}", finding.remedies);
        assert!(finding.remedies.iter().all(|remedy| !remedy.words.contains("right")), "{:?}", finding.remedies);
    }
    let order = order_of(&case);
    let first = order
        .steps
        .iter()
        .position(|step| step.moves.iter().any(|mv| mv.parts.iter().any(|part| case.model.part(*part).name.starts_with("shelf.1."))));
    let before: Vec<&str> = order.before(first.expect("shelves go in")).map(|it| it.words.as_str()).collect();
    assert!(before.iter().any(|words| words.starts_with("Still to be cut") && words.contains("housing")), "{before:?}");
    // The router does not get into the corner at the back panel, so with the order known it is not offered to cut there, but what makes the cuts needless.
    let fit = DryFit::of(&case.design, &case.model, &case.solids);
    let changes = |rule: Rule| {
        let told = fit.findings.iter().filter(move |finding| finding.rule == rule && finding.seriousness == Seriousness::AtRisk);
        told.flat_map(|finding| &finding.remedies).map(|remedy| remedy.changes.clone()).collect::<Vec<_>>()
    };
    let needless = vec![("interior.bays.1.opening.system".to_owned(), "cleats".to_owned())];
    assert_eq!(changes(Rule::ToolReach), std::slice::from_ref(&needless));
    assert_eq!(changes(Rule::CutsStillRight), std::slice::from_ref(&needless));
    let mut mended = case.design.clone();
    set(&mut mended, &needless[0].0, &needless[0].1).expect("a system");
    let mended = Case::of(mended).unwrap_or_else(|errors| panic!("{errors:?}"));
    let fit = DryFit::of(&mended.design, &mended.model, &mended.solids);
    assert!(fit.findings.iter().all(|finding| finding.rule != Rule::ToolReach || finding.seriousness == Seriousness::Note));
}

// --- Played ---

/// A design of before there was a shop reads, and gets the usual glue and tools.
#[test]
fn an_older_design_gets_the_usual_glue_and_tools() {
    let design = demo();
    assert_eq!(design.shop.glue, Gluing::default());
    assert!(design.shop.tools.is_usual());
    assert!(derive(&design).is_ok());
}

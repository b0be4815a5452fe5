//! The shop: what its tools reach, and what an older design gets.

use casewright_core::design::Gluing;
use casewright_core::inspect::Rule;
use casewright_core::sequence::findings;
use casewright_core::{Seriousness, derive};
use casewright_tests::{Case, demo, demo_with};

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

// --- Played ---

/// A design of before there was a shop reads, and gets the usual glue and tools.
#[test]
fn an_older_design_gets_the_usual_glue_and_tools() {
    let design = demo();
    assert_eq!(design.shop.glue, Gluing::default());
    assert!(design.shop.tools.is_usual());
    assert!(derive(&design).is_ok());
}

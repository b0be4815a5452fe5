//! The order of assembly follows from the joints: the way in which each goes together is the only one there is.

use casewright_core::Sequence;
use casewright_core::joint::breadboard;
use casewright_core::model::PartId;
use casewright_core::sequence::verify;
use casewright_tests::demo;

use crate::{INDOORS, Pair, boxes, breadboard_ends};

fn order_of(pair: &Pair) -> Sequence {
    let order = Sequence::of(&demo(), &pair.model, &pair.solids);
    assert!(order.locked.is_empty(), "{:?}", order.locked);
    assert_eq!(verify(&pair.model, &pair.solids, &order), []);
    order
}

/// The step that brings a part to its place; none for the one that all is built on.
fn step_of(order: &Sequence, part: PartId) -> Option<usize> {
    order.steps.iter().rposition(|step| step.moves.iter().any(|mv| mv.parts.contains(&part)))
}

/// A side of a dovetailed drawer comes on sideways, over tails at both its ends; so the bottom must be in before the last side is.
#[test]
fn the_bottom_of_a_drawer_goes_in_before_its_last_side() {
    let drawer = boxes::drawer();
    let order = order_of(&drawer);
    let id = |name: &str| drawer.model.find(name).expect("a part").id;
    let at = |name: &str| step_of(&order, id(name)).unwrap_or(0);
    assert!(at("bottom") <= at("left").max(at("right")), "{:?}", order.steps.iter().map(|step| &step.words).collect::<Vec<_>>());
}

/// Pegs lock a breadboard end: they come after it.
#[test]
fn the_pegs_of_a_breadboard_end_come_after_it() {
    let pair = breadboard_ends::breadboard_end(breadboard::Wanted::by_rule(&INDOORS));
    let order = order_of(&pair);
    let joint = pair.model.joint(pair.joint);
    let joined = [joint.a, joint.b].iter().filter_map(|part| step_of(&order, *part)).max().expect("one comes to the other");
    for peg in &joint.loose {
        assert!(
            step_of(&order, *peg).expect("a peg goes in") > joined,
            "{:?}",
            order.steps.iter().map(|step| &step.words).collect::<Vec<_>>()
        );
    }
}

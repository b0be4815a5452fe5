//! The order of assembly: found, proved, timed and played.

mod by_hand;
mod glued;
mod gluing;
mod mended;
mod played;
mod proved;
mod shop;
mod ways;

use casewright_core::model::PartId;
use casewright_core::sequence::verify;
use casewright_core::{Model, Sequence, Solids};
use casewright_tests::Case;

fn order_of(case: &Case) -> Sequence {
    Sequence::of(&case.design, &case.model, &case.solids)
}

fn names<'m>(model: &'m Model, parts: &[PartId]) -> Vec<&'m str> {
    parts.iter().map(|part| model.part(*part).name.as_str()).collect()
}

/// Every part of a model is put somewhere, by name, and nothing is locked.
fn assert_whole(model: &Model, solids: &Solids, order: &Sequence) {
    let locked: Vec<_> = order.locked.iter().map(|locked| (names(model, &locked.parts), names(model, &locked.blocked_by))).collect();
    assert!(locked.is_empty(), "{locked:?}");
    assert_eq!(verify(model, solids, order), []);
}

//! How the finished case comes to its place.

use super::{Case, Chapter};
use crate::design::Wall;
use crate::length::trimmed_to;
use crate::loads::Standing;
use crate::model::PartKind;
use crate::stability::CAUTIONS;

/// Carried in, levelled, anchored, labelled and handed over.
pub(super) fn in_its_place(case: &Case<'_>) -> Chapter {
    let mut chapter = Chapter { title: "In its place".to_owned(), ..Chapter::default() };
    let jobs = &mut chapter.jobs;
    for lift in case.lifts.iter().filter(|lift| lift.step.is_none()) {
        let more = lift.too_heavy_for_two(case.design);
        let who = if more.is_empty() { ": two carry it".to_owned() } else { more };
        jobs.push(format!("Carry it in empty, what lies loose by itself: {} kg{who}", trimmed_to(lift.mass.kg, 0)).into());
    }
    jobs.push("Set it level both ways, with thin wedges under what does not touch".into());
    if let Wall::Anchored(anchors) = &case.design.carcase.wall {
        let (many, s) = (anchors.fixings, if anchors.fixings == 1 { "" } else { "s" });
        jobs.push(
            format!("Anchor it to the wall with {many} fixing{s} at the middle of the back's top rail, before anything is put into it")
                .into(),
        );
    } else if must_be_anchored(case) {
        jobs.push("It can tip where it stands free: decide how it is anchored, and anchor it before anything is put into it".into());
    } else if can_hurt(case) {
        jobs.push(
            "It is planned to stand free: anchor it all the same, before anything is put into it, wherever a child may come to it".into(),
        );
    }
    let movable = case.model.bays.iter().filter_map(|bay| bay.teeth).any(|levels| levels.kind.moves_by_hand());
    if movable {
        jobs.push("Lay out the shelves as the shelf plan has them, and fix its label to each".into());
    } else if case.model.parts.iter().any(|part| matches!(part.kind, PartKind::Shelf | PartKind::Slat)) {
        jobs.push("Fix the labels of the shelf plan, one to each shelf".into());
    }
    jobs.push("Leave the care sheet with whoever keeps it".into());
    if can_hurt(case) {
        chapter.cautions = CAUTIONS.iter().map(|words| (*words).to_owned()).collect();
    }
    chapter
}

fn must_be_anchored(case: &Case<'_>) -> bool {
    Standing::of(case.design, case.model, case.solids).is_some_and(|standing| !standing.reasons.is_empty())
}

/// Whether what is said of tipping and anchoring concerns it.
pub(super) fn can_hurt(case: &Case<'_>) -> bool {
    Standing::of(case.design, case.model, case.solids).is_some_and(|standing| standing.can_hurt(&case.design.limits))
}

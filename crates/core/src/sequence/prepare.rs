//! What is done to parts before they are put together.

use super::Sequence;
use super::words::list;
use crate::design::Design;
use crate::design::shop::State;
use crate::finishing::{Bare, bare_lines, told, widest};
use crate::model::{CutState, Model, PartId};

/// Something to be done before a step.
#[derive(Clone, Debug, PartialEq)]
pub struct Preparation {
    /// The step before which it is done, by its place in [`Sequence::steps`]: the first of its sub-assembly.
    pub before: usize,
    /// The parts that it is done to.
    pub parts: Vec<PartId>,
    /// What to do, as a maker reads it.
    pub words: String,
}

/// The edges that are to be finished before they disappear in their grooves, sub-assembly by sub-assembly.
pub(super) fn finishing(design: &Design, model: &Model, sequence: &Sequence) -> Vec<Preparation> {
    let bare = bare_lines(design, model);
    let closes: Vec<Option<usize>> = bare.iter().map(|bare| group_of(model, sequence, bare)).collect();
    let mut told_of: Vec<PartId> = Vec::new();
    let mut all = Vec::new();
    for (index, group) in sequence.groups.iter().enumerate() {
        // A panel is finished once, before the first of its grooves.
        let new = bare.iter().zip(&closes).filter(|(bare, at)| **at == Some(index) && !told_of.contains(&bare.part));
        let Some((parts, line)) = widest(new.map(|(bare, _)| bare)) else { continue };
        let words = format!("Finish the edges all round first: {}", told(model, &parts, line));
        told_of.extend(&parts);
        all.push(Preparation { before: group.steps.start, parts, words });
    }
    all
}

/// Cuts that are planned in what is glued together already and are not there: made in the case as it stands, before what they are for goes in.
pub(super) fn late_cuts(model: &Model, sequence: &Sequence) -> Vec<Preparation> {
    let mut all: Vec<(usize, &'static str, Vec<PartId>, usize)> = Vec::new();
    for part in model.parts.iter().filter(|part| part.state == State::Glued) {
        for cut in part.cuts.iter().filter(|cut| cut.there == CutState::Missing) {
            let Some(joint) = cut.joint.map(|joint| model.joint(joint)) else { continue };
            let comes = |parts: &[PartId]| [joint.a, joint.b].iter().any(|id| *id != part.id && parts.contains(id));
            let Some(step) = sequence.steps.iter().position(|step| step.moves.iter().any(|mv| comes(&mv.parts))) else { continue };
            let name = cut.feature.name();
            match all.iter_mut().find(|(before, known, ..)| *before == step && *known == name) {
                Some((_, _, parts, count)) => {
                    *count += 1;
                    if !parts.contains(&part.id) {
                        parts.push(part.id);
                    }
                }
                None => all.push((step, name, vec![part.id], 1)),
            }
        }
    }
    let told = all.into_iter().map(|(before, name, parts, count)| {
        let what = if count == 1 { format!("1 {name}") } else { format!("{count} cuts ({name})") };
        let words = format!("Still to be cut, in the case as it stands: {what} in {}", list(model, &parts));
        Preparation { before, parts, words }
    });
    told.collect()
}

/// The sub-assembly in which an edge goes into its groove.
fn group_of(model: &Model, sequence: &Sequence, bare: &Bare) -> Option<usize> {
    let joint = model.joint(bare.joint);
    let closes = |parts: &[PartId]| parts.contains(&joint.a) != parts.contains(&joint.b);
    let meets = |parts: &[PartId]| parts.contains(&joint.a) || parts.contains(&joint.b);
    let step = sequence.steps.iter().rposition(|step| step.moves.iter().any(|mv| meets(&mv.parts) && closes(&mv.parts)))?;
    // The last step that moves one of them alone is the one in which they meet.
    sequence.steps.get(step).map(|step| step.group)
}

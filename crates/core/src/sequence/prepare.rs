//! What is done to parts before they are put together.

use super::Sequence;
use crate::design::Design;
use crate::finishing::{Bare, bare_lines, told, widest};
use crate::model::{Model, PartId};

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

/// The sub-assembly in which an edge goes into its groove.
fn group_of(model: &Model, sequence: &Sequence, bare: &Bare) -> Option<usize> {
    let joint = model.joint(bare.joint);
    let closes = |parts: &[PartId]| parts.contains(&joint.a) != parts.contains(&joint.b);
    let meets = |parts: &[PartId]| parts.contains(&joint.a) || parts.contains(&joint.b);
    let step = sequence.steps.iter().rposition(|step| step.moves.iter().any(|mv| meets(&mv.parts) && closes(&mv.parts)))?;
    // The last step that moves one of them alone is the one in which they meet.
    sequence.steps.get(step).map(|step| step.group)
}

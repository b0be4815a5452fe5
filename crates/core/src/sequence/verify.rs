//! Proof of an order: every move walked forward against exactly what stands. Knows nothing of how the order was found.

use casewright_solid::Pose;
use glam::DVec3;

use super::Sequence;
use super::world::{World, indices};
use crate::model::{Model, PartId};
use crate::shapes::Solids;

/// What is wrong with an order.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Flaw {
    /// A part runs into another that stands already.
    Blocked {
        /// The step, from 0.
        step: usize,
        /// The part that moves.
        moving: PartId,
        /// The part that is in the way.
        standing: PartId,
        /// Where they meet, in the case, mm.
        place: DVec3,
    },
    /// A step moves a part and leaves behind what was put together with it.
    Torn {
        /// The step, from 0.
        step: usize,
        /// The part that is left behind, is brought to itself, or is none of the model's.
        part: PartId,
    },
    /// A part is never put together with the rest, and not told as locked.
    Missing {
        /// The part.
        part: PartId,
    },
}

impl Flaw {
    /// The step it is in.
    pub fn step(&self) -> Option<usize> {
        match *self {
            Flaw::Blocked { step, .. } | Flaw::Torn { step, .. } => Some(step),
            Flaw::Missing { .. } => None,
        }
    }
}

/// Every flaw of an order, in the order of its steps; none when it is proved.
///
/// Parts start alone, or with what they are glued to already. A step brings what was put together before to what stands at the part it goes onto, and each leg is swept against
/// every part that stands there. Pairs of parts that are in the same place even when all is together are left to the check that tells those.
pub fn verify(model: &Model, solids: &Solids, sequence: &Sequence) -> Vec<Flaw> {
    walk(&World::new(model, solids), sequence)
}

pub(super) fn walk(world: &World<'_>, sequence: &Sequence) -> Vec<Flaw> {
    let count = world.model.parts.len();
    // Parts that were put together bear the same number.
    let mut heap: Vec<usize> = (0..count).map(|part| world.glued.root(PartId(part)).0).collect();
    let mut flaws = Vec::new();
    for (number, step) in sequence.steps.iter().enumerate() {
        for mv in &step.moves {
            let moving = indices(&mv.parts);
            let Some(&first) = moving.first() else { continue };
            if let Some(&part) = moving.iter().chain([&mv.onto.0]).find(|part| **part >= count) {
                flaws.push(Flaw::Torn { step: number, part: PartId(part) });
                continue;
            }
            let left_behind = (0..count).find(|part| heap[*part] == heap[first] && !moving.contains(part));
            let other_heap = moving.iter().copied().find(|part| heap[*part] != heap[first]);
            let onto_itself = (heap[mv.onto.0] == heap[first]).then_some(mv.onto.0);
            if let Some(part) = left_behind.or(other_heap).or(onto_itself) {
                flaws.push(Flaw::Torn { step: number, part: PartId(part) });
                continue;
            }
            let standing: Vec<usize> = (0..count).filter(|part| heap[*part] == heap[mv.onto.0]).collect();
            let standing = world.standing(&standing);
            // The same way backward: from the place outward.
            let mut frame = Pose::IDENTITY;
            let met = mv.legs.iter().rev().map(super::Leg::reversed).find_map(|leg| {
                let met = world.meets(&moving, &frame, &leg, &standing).map(|pair| (pair, frame, leg));
                frame = leg.after(&frame);
                met
            });
            if let Some(((part, other), frame, leg)) = met {
                flaws.push(Flaw::Blocked {
                    step: number,
                    moving: PartId(part),
                    standing: PartId(other),
                    place: world.hit(part, &frame, &leg, other).map_or(world.boxes[other].0, |hit| hit.place),
                });
            } else {
                let (from, to) = (heap[first], heap[mv.onto.0]);
                heap.iter_mut().filter(|number| **number == from).for_each(|number| *number = to);
            }
        }
    }
    let told = |part: usize| sequence.locked.iter().any(|locked| locked.parts.contains(&PartId(part)));
    let whole = (0..count).find(|part| !told(*part)).map(|part| heap[part]);
    flaws.extend((0..count).filter(|part| Some(heap[*part]) != whole && !told(*part)).map(|part| Flaw::Missing { part: PartId(part) }));
    flaws
}

//! From what comes apart to the steps that put it together.

use super::mounts::Mounted;
use super::split::{Node, Splitter};
use super::steps::Writer;
use super::unload::{Emptied, unload};
use super::verify::{Flaw, walk};
use super::world::{World, ids};
use super::{Captive, Done, Locked, Sequence, locked, reach, words};
use crate::design::{Gluing, Tool};
use crate::explode;
use crate::model::{BuildStage, Model, PartId};
use crate::shapes::Solids;

/// Finds the order in which a model goes together, and proves it. What is glued together already stands from the beginning, as one.
///
/// What can't go in is among [`Sequence::locked`], and the steps put together all the rest. A model of any kind gets an answer: one whose parts
/// have no solid is ordered as if those parts were not in the way.
pub fn plan(model: &Model, solids: &Solids, gluing: &Gluing, tools: &[Tool]) -> Sequence {
    let world = World::new(model, solids);
    let (mut sequence, standing) = put_together(&world, gluing, true);
    sequence.reach = reach::of(&world, &standing, tools);
    explode::set_apart(model, &mut sequence);
    sequence
}

/// The same in short: what goes together and what is locked, but not what would let that in.
pub(super) fn in_short(model: &Model, solids: &Solids, gluing: &Gluing) -> Sequence {
    put_together(&World::new(model, solids), gluing, false).0
}

/// The order, proved, and the parts of the glue-up; `explains` whether ways round are sought for what is locked.
fn put_together(world: &World<'_>, gluing: &Gluing, explains: bool) -> (Sequence, Vec<usize>) {
    let mounted = Mounted::of(world);
    let (fixed, later) = bodies(world, &mounted);
    let splitter = Splitter::new(world, &fixed);
    let mut locked: Vec<Locked> = mounted.jammed.iter().map(|(part, hit)| locked::jammed(*part, hit)).collect();
    let node = settle(world, &splitter, &fixed, &mut locked, explains);
    let standing = node.as_ref().map_or_else(Vec::new, |node| splitter.parts(&node.bodies()));
    let Emptied { out, held, captive } = unload(world, &standing, &later);
    locked.extend(held.iter().map(|held| locked::explain(world, &later[held.body], &held.among, Some(&fixed), explains)));
    let mut writer = Writer { world, mounted: &mounted, splitter: &splitter, gluing, sequence: Sequence::default(), count: standing.len() };
    if let Some(node) = &node {
        writer.whole(node);
    }
    writer.later(&standing, &later, &out);
    let mut sequence = writer.sequence;
    sequence.locked = locked;
    sequence.done = done(world);
    sequence.captive = captive.iter().map(|(body, by)| Captive { part: PartId(later[*body][0]), held_by: ids(by) }).collect();
    prove(world, &mut sequence);
    (sequence, standing)
}

/// Parts with what is mounted on them: those of the glue-up, and those that come later.
fn bodies(world: &World<'_>, mounted: &Mounted) -> (Vec<Vec<usize>>, Vec<Vec<usize>>) {
    let parts = &world.model.parts;
    let roots = (0..parts.len()).filter(|&part| mounted.root[part] == part);
    // What is glued to a part of the glue-up stands with it.
    let is_fixed = |root: &usize| world.body_of(*root).any(|part| parts[part].stage == BuildStage::GlueUp);
    let (fixed, later): (Vec<usize>, Vec<usize>) = roots.partition(is_fixed);
    let all = |roots: Vec<usize>| roots.into_iter().map(|root| mounted.all_of(root)).collect();
    (all(fixed), all(later))
}

/// What is glued together already.
fn done(world: &World<'_>) -> Vec<Done> {
    let model = world.model;
    let count = model.parts.iter().filter(|part| part.stage == BuildStage::GlueUp).count();
    let of_glue_up = |parts: &[PartId]| parts.iter().filter(|part| model.part(**part).stage == BuildStage::GlueUp).count();
    let done = world.glued.bodies().map(|parts| Done {
        title: words::group_title(model, parts, of_glue_up(parts) == count),
        parts: parts.to_vec(),
        joints: model
            .joints
            .iter()
            .filter(|joint| joint.glued && parts.contains(&joint.a) && parts.contains(&joint.b))
            .map(|joint| joint.id)
            .collect(),
    });
    // A loose tenon in one of its members makes no sub-assembly.
    done.filter(|done| !done.joints.is_empty()).collect()
}

/// Takes the glue-up apart; what holds the rest locked is left out and told, one body after another, until the rest comes apart.
fn settle(world: &World<'_>, splitter: &Splitter<'_, '_>, fixed: &[Vec<usize>], locked: &mut Vec<Locked>, explains: bool) -> Option<Node> {
    let mut set: Vec<usize> = (0..fixed.len()).collect();
    while !set.is_empty() {
        let node = splitter.split(&set);
        let stuck = node.stuck();
        let Some(first) = stuck.first() else { return Some(node) };
        let culprit = first.iter().copied().find(|&body| {
            let rest: Vec<usize> = first.iter().copied().filter(|&other| other != body).collect();
            splitter.glued_between(&[body], &rest).next().is_none() && splitter.split(&rest).stuck().is_empty()
        });
        if let Some((body, by)) = left_out(splitter, first) {
            locked.push(locked::left_out(world, &fixed[body], &splitter.parts(&[by]), explains));
            set.retain(|&other| other != body);
        } else if let Some(body) = culprit {
            let others: Vec<usize> = first.iter().copied().filter(|&other| other != body).collect();
            locked.push(locked::explain(world, &fixed[body], &splitter.parts(&others), None, explains));
            set.retain(|&other| other != body);
        } else {
            let parts = splitter.parts(first);
            let all = first.to_vec();
            locked.push(locked::ring(world, &parts));
            set.retain(|body| !all.contains(body));
        }
    }
    None
}

/// A body that was left out of what is glued together already and no longer goes in, and that; of two that are glued up each, the smaller.
fn left_out(splitter: &Splitter<'_, '_>, stuck: &[usize]) -> Option<(usize, usize)> {
    let (mut closed, open): (Vec<usize>, Vec<usize>) = stuck.iter().partition(|body| splitter.is_glued_up(**body));
    closed.sort_by_key(|body| std::cmp::Reverse(splitter.parts(&[*body]).len()));
    let goes_in = |body: usize, closed: usize| splitter.split(&[body.min(closed), body.max(closed)]).stuck().is_empty();
    let held_out =
        |body: usize| closed.iter().take_while(|other| **other != body).find(|other| !goes_in(body, **other)).map(|other| (body, *other));
    open.into_iter().chain(closed.iter().rev().copied()).find_map(held_out)
}

/// Leaves out every step that the proof refuses, and tells what it moves as locked, until all that is left is proved.
fn prove(world: &World<'_>, sequence: &mut Sequence) {
    loop {
        let flaws = walk(world, sequence);
        let Some(first) = flaws.first() else { return };
        match (*first, first.step()) {
            (Flaw::Missing { part }, _) => sequence.locked.push(locked::left(&[part], &[], None)),
            (flaw, Some(step)) => {
                let parts: Vec<PartId> = sequence.steps[step].moves.iter().flat_map(|mv| mv.parts.iter().copied()).collect();
                let (by, place) = match flaw {
                    Flaw::Blocked { standing, place, .. } => (vec![standing], Some(place)),
                    Flaw::Torn { .. } | Flaw::Missing { .. } => (Vec::new(), None),
                };
                sequence.locked.push(locked::left(&parts, &by, place));
                drop_step(sequence, step);
            }
            (Flaw::Blocked { .. } | Flaw::Torn { .. }, None) => return,
        }
    }
}

fn drop_step(sequence: &mut Sequence, step: usize) {
    sequence.steps.remove(step);
    for group in &mut sequence.groups {
        let moved = |at: usize| if at > step { at - 1 } else { at };
        group.steps = moved(group.steps.start)..moved(group.steps.end);
    }
}

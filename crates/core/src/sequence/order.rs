//! From what comes apart to the steps that put it together.

use std::collections::{HashMap, HashSet};

use glam::DVec3;

use super::mounts::Mounted;
use super::route::Route;
use super::split::{Node, Splitter};
use super::steps::Writer;
use super::verify::{Flaw, walk};
use super::world::{World, share};
use super::{Leg, Locked, Sequence, locked, reach};
use crate::design::{Gluing, Tool};
use crate::explode;
use crate::model::{BuildStage, Model, PartId};
use crate::shapes::Solids;

/// Finds the order in which a model goes together, and proves it.
///
/// What can't go in is among [`Sequence::locked`], and the steps put together all the rest. A model of any kind gets an answer: one whose parts
/// have no solid is ordered as if those parts were not in the way.
pub fn plan(model: &Model, solids: &Solids, gluing: &Gluing, tools: &[Tool]) -> Sequence {
    let world = World::new(model, solids);
    let mounted = Mounted::of(&world);
    let (fixed, later) = bodies(model, &mounted);
    let splitter = Splitter::new(&world, &fixed);
    let mut locked: Vec<Locked> = mounted.jammed.iter().map(|(part, hit)| locked::jammed(*part, hit)).collect();
    let node = settle(&world, &splitter, &fixed, &mut locked);
    let standing = node.as_ref().map_or_else(Vec::new, |node| splitter.parts(&node.bodies()));
    let (unloaded, held) = unload(&world, &standing, &later);
    for &body in &held {
        let others = all_but(&standing, &later, &held, body);
        locked.push(locked::explain(&world, &later[body], &others, Some(&fixed)));
    }
    let mut writer =
        Writer { world: &world, mounted: &mounted, splitter: &splitter, gluing, sequence: Sequence::default(), count: standing.len() };
    if let Some(node) = &node {
        writer.whole(node);
    }
    writer.later(&standing, &later, &unloaded);
    let mut sequence = writer.sequence;
    sequence.locked = locked;
    prove(&world, &mut sequence);
    sequence.reach = reach::of(&world, &standing, tools);
    explode::set_apart(model, &mut sequence);
    sequence
}

/// Parts with what is mounted on them: those of the glue-up, and those that come later.
fn bodies(model: &Model, mounted: &Mounted) -> (Vec<Vec<usize>>, Vec<Vec<usize>>) {
    let roots = (0..model.parts.len()).filter(|&part| mounted.root[part] == part);
    let (fixed, later): (Vec<usize>, Vec<usize>) = roots.partition(|&part| model.parts[part].stage == BuildStage::GlueUp);
    let all = |roots: Vec<usize>| roots.into_iter().map(|root| mounted.all_of(root)).collect();
    (all(fixed), all(later))
}

/// Takes the glue-up apart; what holds the rest locked is left out and told, one body after another, until the rest comes apart.
fn settle(world: &World<'_>, splitter: &Splitter<'_, '_>, fixed: &[Vec<usize>], locked: &mut Vec<Locked>) -> Option<Node> {
    let mut set: Vec<usize> = (0..fixed.len()).collect();
    while !set.is_empty() {
        let node = splitter.split(&set);
        let stuck = node.stuck();
        let Some(first) = stuck.first() else { return Some(node) };
        let culprit = first.iter().copied().find(|&body| {
            let rest: Vec<usize> = first.iter().copied().filter(|&other| other != body).collect();
            splitter.glued_between(&[body], &rest).next().is_none() && splitter.split(&rest).stuck().is_empty()
        });
        if let Some(body) = culprit {
            let others: Vec<usize> = first.iter().copied().filter(|&other| other != body).collect();
            locked.push(locked::explain(world, &fixed[body], &splitter.parts(&others), None));
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

/// A body that came out, and its way.
pub(super) type Unloaded = (usize, Vec<Leg>);

/// Takes out what goes in after glue-up, one body after another; gives the way of each in the order in which they came out, and what stayed.
///
/// First what is loose, past all the rest: it must come out by hand for as long as the piece lives. A part that rests on another, or is fixed
/// to it, comes out before it; where that leads nowhere, the solids alone decide. Straight ways are taken before any part is tipped.
fn unload(world: &World<'_>, standing: &[usize], later: &[Vec<usize>]) -> (Vec<Unloaded>, Vec<usize>) {
    let carried = Carried::of(world, later);
    let mut unloading = Unloading {
        world,
        standing,
        later,
        inside: (0..later.len()).collect(),
        out: Vec::new(),
        known: HashMap::new(),
        tried: HashMap::new(),
    };
    unloading.inside.sort_by(|&a, &b| {
        let top = |body: usize| world.boxes[later[body][0]].1.y;
        carried.depth[b].cmp(&carried.depth[a]).then(top(b).total_cmp(&top(a)))
    });
    let loose = |body: usize| world.model.parts[later[body][0]].stage == BuildStage::Loose;
    let free = |inside: &[usize], body: usize| !carried.by[body].iter().any(|other| inside.contains(other));
    unloading.round(|inside, body| loose(body) && free(inside, body));
    unloading.round(free);
    unloading.round(|_, _| true);
    (unloading.out, unloading.inside)
}

/// What is still inside, and what came out.
struct Unloading<'w, 'm> {
    world: &'w World<'m>,
    standing: &'w [usize],
    later: &'w [Vec<usize>],
    inside: Vec<usize>,
    out: Vec<Unloaded>,
    /// Ways found before, by the mark of the part: equal parts often go the same way.
    known: HashMap<&'m str, Vec<(DVec3, Vec<Leg>)>>,
    /// How many had come out when a body was last tried in vain, straight or tipped.
    tried: HashMap<(usize, bool), usize>,
}

/// What comes out farther than this from a body, up or down, to the front or to the back, gives it no room, mm.
const NEAR: f64 = 400.0;

impl Unloading<'_, '_> {
    /// Takes out all that comes and may.
    fn round(&mut self, may: impl Fn(&[usize], usize) -> bool) {
        let mut tip = false;
        loop {
            let before = self.out.len();
            // Where a part finds no way, its equals need not be asked before the next round.
            let mut failed: HashSet<&str> = HashSet::new();
            for body in self.inside.clone() {
                let mark = self.world.model.parts[self.later[body][0]].mark.as_str();
                if failed.contains(mark) || !may(&self.inside, body) || !self.is_worth_a_try(body, tip) {
                    continue;
                }
                if let Some(legs) = self.way_of(body, tip) {
                    self.inside.retain(|other| *other != body);
                    self.out.push((body, legs));
                } else {
                    self.tried.insert((body, tip), self.out.len());
                    failed.insert(mark);
                }
            }
            match (self.out.len() > before, tip) {
                (true, _) => tip = false,
                (false, false) => tip = true,
                (false, true) => return,
            }
        }
    }

    /// Whether a body was not tried before, or something near it has come out since.
    fn is_worth_a_try(&self, body: usize, tip: bool) -> bool {
        let Some(since) = self.tried.get(&(body, tip)) else { return true };
        let own = self.world.boxes[self.later[body][0]];
        let room = (own.0 - DVec3::new(0.0, NEAR, NEAR), own.1 + DVec3::new(0.0, NEAR, NEAR));
        let parts = self.out[*since..].iter().flat_map(|(other, _)| &self.later[*other]);
        parts.copied().any(|part| share(room, self.world.boxes[part]))
    }

    fn way_of(&mut self, body: usize, tip: bool) -> Option<Vec<Leg>> {
        let others: Vec<usize> = all_but(self.standing, self.later, &self.inside, body);
        let route = Route::new(self.world, &self.later[body], &others);
        let part = &self.world.model.parts[self.later[body][0]];
        let same = self.known.entry(&part.mark).or_default();
        let shifted = same.iter().rev().take(SAME_WAYS).map(|(from, legs)| shift(legs, part.pose.origin - *from));
        let known = shifted.into_iter().find(|legs| route.serves(legs));
        let legs = known.or_else(|| if tip { route.tipped() } else { route.in_straight_legs() })?;
        same.push((part.pose.origin, legs.clone()));
        Some(legs)
    }
}

/// The parts of the glue-up, and of all bodies inside but one.
fn all_but(standing: &[usize], later: &[Vec<usize>], inside: &[usize], body: usize) -> Vec<usize> {
    let others = inside.iter().filter(|other| **other != body).flat_map(|&other| &later[other]);
    standing.iter().chain(others).copied().collect()
}

/// So many ways of equal parts are tried before a new one is sought.
const SAME_WAYS: usize = 4;

/// The same way for an equal part that stands elsewhere.
fn shift(legs: &[Leg], by: DVec3) -> Vec<Leg> {
    legs.iter()
        .map(|leg| match *leg {
            Leg::Turn { pivot, axis, angle } => Leg::Turn { pivot: pivot + by, axis, angle },
            straight @ Leg::Straight { .. } => straight,
        })
        .collect()
}

/// What rests on what, among bodies that go in after glue-up.
struct Carried {
    /// For each body those that rest on it or are fixed to it.
    by: Vec<Vec<usize>>,
    /// How many bodies lie one on the other below it.
    depth: Vec<usize>,
}

impl Carried {
    fn of(world: &World<'_>, later: &[Vec<usize>]) -> Carried {
        let mut body_of: HashMap<usize, usize> = HashMap::new();
        for (body, parts) in later.iter().enumerate() {
            body_of.extend(parts.iter().map(|&part| (part, body)));
        }
        let mut carried = Carried { by: vec![Vec::new(); later.len()], depth: vec![0; later.len()] };
        let mut pairs = Vec::new();
        for joint in &world.model.joints {
            if let (Some(&upper), Some(&lower)) = (body_of.get(&joint.a.0), body_of.get(&joint.b.0))
                && upper != lower
            {
                carried.by[lower].push(upper);
                pairs.push((upper, lower));
            }
        }
        // Grows by one a round along each chain; a ring would grow for ever, so there is an end.
        for _ in 0..MOST_DEEP {
            let before = carried.depth.clone();
            for &(upper, lower) in &pairs {
                carried.depth[upper] = carried.depth[upper].max(carried.depth[lower] + 1);
            }
            if carried.depth == before {
                break;
            }
        }
        carried
    }
}

/// So many parts rest one on the other at most.
const MOST_DEEP: usize = 12;

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

//! What goes in after glue-up, taken out body by body.

use std::collections::{HashMap, HashSet};

use casewright_solid::Bounds;
use glam::DVec3;

use super::Leg;
use super::route::{Effort, Route};
use super::world::World;
use crate::model::{BuildStage, PartKind};

/// A body that came out, and its way.
pub(super) type Unloaded = (usize, Vec<Leg>);

/// What came of taking out.
pub(super) struct Emptied {
    /// The way of each body, in the order in which they came out.
    pub out: Vec<Unloaded>,
    /// The bodies that stayed.
    pub held: Vec<usize>,
    /// Loose bodies that came out only after others that are fastened, and the parts of those.
    pub captive: Vec<(usize, Vec<usize>)>,
}

/// Takes out what goes in after glue-up, one body after another.
///
/// First what is loose, past all the rest: it must come out by hand for as long as the piece lives. A part that rests on another, or is fixed
/// to it, comes out before it; where that leads nowhere, the solids alone decide, and ways are sought longest. Straight ways are taken before
/// any part is tipped.
pub(super) fn unload(world: &World<'_>, standing: &[usize], later: &[Vec<usize>]) -> Emptied {
    let carried = Carried::of(world, later);
    let mut unloading = Unloading {
        world,
        standing,
        later,
        inside: (0..later.len()).collect(),
        out: Vec::new(),
        known: Vec::new(),
        blocked: HashMap::new(),
    };
    unloading.inside.sort_by(|&a, &b| {
        let top = |body: usize| world.boxes[later[body][0]].1.y;
        carried.depth[b].cmp(&carried.depth[a]).then(top(b).total_cmp(&top(a)))
    });
    let loose = |body: usize| world.model.parts[later[body][0]].stage == BuildStage::Loose;
    let free = |inside: &[usize], body: usize| !carried.by[body].iter().any(|other| inside.contains(other));
    unloading.round(&QUICK, |inside, body| loose(body) && free(inside, body));
    let fastened: HashSet<usize> = (0..later.len()).filter(|&body| !loose(body)).flat_map(|body| later[body].iter().copied()).collect();
    let mut captive = unloading.blocked_by(&fastened);
    unloading.round(&QUICK, free);
    unloading.round(&THOROUGH, |_, _| true);
    captive.retain(|(body, _)| !unloading.inside.contains(body));
    Emptied { out: unloading.out, held: unloading.inside, captive }
}

/// What is tried first of all bodies, then what is tried where nothing comes out; again from the first when something has.
const QUICK: [Effort; 2] = [Effort::Straight, Effort::Tipped];
const THOROUGH: [Effort; 3] = [Effort::Straight, Effort::Tipped, Effort::Pushed];

/// What is still inside, and what came out.
struct Unloading<'w, 'm> {
    world: &'w World<'m>,
    standing: &'w [usize],
    later: &'w [Vec<usize>],
    inside: Vec<usize>,
    out: Vec<Unloaded>,
    /// Ways found before: parts of one kind often go the same way.
    known: Vec<KnownWay>,
    /// What was in the way of a body that was tried in vain: while all of it stands, nothing has changed for the body.
    blocked: HashMap<(usize, Effort), HashSet<usize>>,
}

/// A way that a body took, to be tried by the next.
struct KnownWay {
    kind: PartKind,
    bounds: Bounds,
    legs: Vec<Leg>,
}

impl Unloading<'_, '_> {
    /// Takes out all that comes and may, by efforts that grow only where nothing else comes.
    fn round(&mut self, efforts: &[Effort], may: impl Fn(&[usize], usize) -> bool) {
        let mut at = 0;
        while let Some(&effort) = efforts.get(at) {
            let before = self.out.len();
            // Where a part finds no way, its equals need not be asked before the next round.
            let mut failed: HashSet<&str> = HashSet::new();
            for body in self.inside.clone() {
                let mark = self.world.model.parts[self.later[body][0]].mark.as_str();
                if failed.contains(mark) || !may(&self.inside, body) || !self.is_worth_a_try(body, effort) {
                    continue;
                }
                if let Some(legs) = self.way_of(body, effort) {
                    self.inside.retain(|other| *other != body);
                    self.out.push((body, legs));
                } else {
                    failed.insert(mark);
                }
            }
            at = if self.out.len() > before { 0 } else { at + 1 };
        }
    }

    /// The bodies inside that were tried in vain, each with those of some parts that were in its way.
    fn blocked_by(&self, parts: &HashSet<usize>) -> Vec<(usize, Vec<usize>)> {
        let of_body = |&body: &usize| {
            let tried = self.blocked.iter().filter(|((other, _), _)| *other == body).flat_map(|(_, blockers)| blockers);
            let mut by: Vec<usize> = tried.copied().filter(|part| parts.contains(part)).collect();
            by.sort_unstable();
            by.dedup();
            (!by.is_empty()).then_some((body, by))
        };
        self.inside.iter().filter_map(of_body).collect()
    }

    /// Whether a body was not tried before, or something that was in its way has come out since.
    fn is_worth_a_try(&self, body: usize, effort: Effort) -> bool {
        let Some(blockers) = self.blocked.get(&(body, effort)) else { return true };
        self.out.iter().flat_map(|(other, _)| &self.later[*other]).any(|part| blockers.contains(part))
    }

    fn way_of(&mut self, body: usize, effort: Effort) -> Option<Vec<Leg>> {
        let others: Vec<usize> = all_but(self.standing, self.later, &self.inside, body);
        let route = Route::new(self.world, &self.later[body], &others);
        let first = self.later[body][0];
        let (kind, bounds) = (self.world.model.parts[first].kind, self.world.boxes[first]);
        let alike = self.known.iter().rev().filter(|known| known.kind == kind).take(SAME_WAYS);
        let known = alike.map(|known| known.fitted_to(bounds)).find(|legs| route.serves(legs));
        let found = known.or_else(|| route.by(effort));
        match &found {
            Some(legs) => self.known.push(KnownWay { kind, bounds, legs: legs.clone() }),
            None => drop(self.blocked.insert((body, effort), route.blockers())),
        }
        found
    }
}

/// The parts of the glue-up, and of all bodies inside but one.
pub(super) fn all_but(standing: &[usize], later: &[Vec<usize>], inside: &[usize], body: usize) -> Vec<usize> {
    let others = inside.iter().filter(|other| **other != body).flat_map(|&other| &later[other]);
    standing.iter().chain(others).copied().collect()
}

/// So many ways of parts of the same kind are tried before a new one is sought.
const SAME_WAYS: usize = 8;

impl KnownWay {
    /// The same way for a body with another box around it: what it turns about lies as far from the nearer side of its box.
    fn fitted_to(&self, bounds: Bounds) -> Vec<Leg> {
        let beside = |at: f64, axis: usize| {
            let (low, high) = (at - self.bounds.0[axis], at - self.bounds.1[axis]);
            if low.abs() <= high.abs() { bounds.0[axis] + low } else { bounds.1[axis] + high }
        };
        let fitted = |leg: &Leg| match *leg {
            Leg::Turn { pivot, axis, angle } => {
                Leg::Turn { pivot: DVec3::new(beside(pivot.x, 0), beside(pivot.y, 1), beside(pivot.z, 2)), axis, angle }
            }
            straight @ Leg::Straight { .. } => straight,
        };
        self.legs.iter().map(fitted).collect()
    }
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

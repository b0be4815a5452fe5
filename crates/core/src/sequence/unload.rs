//! What goes in after glue-up, taken out body by body.

use std::collections::{HashMap, HashSet};

use casewright_solid::Bounds;
use glam::DVec3;

use super::Leg;
use super::route::Route;
use super::world::World;
use crate::model::{BuildStage, PartKind};

/// A body that came out, and its way.
pub(super) type Unloaded = (usize, Vec<Leg>);

/// Takes out what goes in after glue-up, one body after another; gives the way of each in the order in which they came out, and what stayed.
///
/// First what is loose, past all the rest: it must come out by hand for as long as the piece lives. A part that rests on another, or is fixed
/// to it, comes out before it; where that leads nowhere, the solids alone decide. Straight ways are taken before any part is tipped.
pub(super) fn unload(world: &World<'_>, standing: &[usize], later: &[Vec<usize>]) -> (Vec<Unloaded>, Vec<usize>) {
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
    /// Ways found before: parts of one kind often go the same way.
    known: Vec<KnownWay>,
    /// What was in the way of a body that was tried in vain, straight or tipped: while all of it stands, nothing has changed for the body.
    blocked: HashMap<(usize, bool), HashSet<usize>>,
}

/// A way that a body took, to be tried by the next.
struct KnownWay {
    kind: PartKind,
    bounds: Bounds,
    legs: Vec<Leg>,
}

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

    /// Whether a body was not tried before, or something that was in its way has come out since.
    fn is_worth_a_try(&self, body: usize, tip: bool) -> bool {
        let Some(blockers) = self.blocked.get(&(body, tip)) else { return true };
        self.out.iter().flat_map(|(other, _)| &self.later[*other]).any(|part| blockers.contains(part))
    }

    fn way_of(&mut self, body: usize, tip: bool) -> Option<Vec<Leg>> {
        let others: Vec<usize> = all_but(self.standing, self.later, &self.inside, body);
        let route = Route::new(self.world, &self.later[body], &others);
        let first = self.later[body][0];
        let (kind, bounds) = (self.world.model.parts[first].kind, self.world.boxes[first]);
        let alike = self.known.iter().rev().filter(|known| known.kind == kind).take(SAME_WAYS);
        let known = alike.map(|known| known.fitted_to(bounds)).find(|legs| route.serves(legs));
        let found = known.or_else(|| if tip { route.tipped() } else { route.in_straight_legs() });
        match &found {
            Some(legs) => self.known.push(KnownWay { kind, bounds, legs: legs.clone() }),
            None => drop(self.blocked.insert((body, tip), route.blockers())),
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

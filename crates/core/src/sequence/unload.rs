//! What goes in after glue-up, taken out body by body.

use std::collections::{HashMap, HashSet, VecDeque};

use casewright_solid::Bounds;
use glam::DVec3;

use super::Leg;
use super::route::{Effort, Route};
use super::world::World;
use crate::model::{BuildStage, Part, PartKind};

/// A body that came out, and its way.
pub(super) type Unloaded = (usize, Vec<Leg>);

/// What came of taking out.
pub(super) struct Emptied {
    /// The way of each body, in the order in which they came out.
    pub out: Vec<Unloaded>,
    /// The bodies that stayed.
    pub held: Vec<Held>,
    /// Loose bodies that came out only after others that are fastened, and the parts of those.
    pub captive: Vec<(usize, Vec<usize>)>,
}

/// A body that does not come out.
pub(super) struct Held {
    /// The body.
    pub body: usize,
    /// The parts that stand at best when it would go in.
    pub among: Vec<usize>,
}

/// Takes out what goes in after glue-up, one body after another.
///
/// First what is loose, past all the rest: it must come out by hand for as long as the piece lives. A part that rests on another, or is fixed
/// to it, comes out before it; where that leads nowhere, the solids alone decide, and ways are sought longest. Straight ways are taken before
/// any part is tipped. What stays in the end is told with what it is held by; what was kept in by that alone comes out all the same, so that one cause is told
/// once.
pub(super) fn unload(world: &World<'_>, standing: &[usize], later: &[Vec<usize>]) -> Emptied {
    let carried = Carried::of(world, later);
    let mut unloading = Unloading {
        world,
        standing,
        later,
        inside: (0..later.len()).collect(),
        given_up: Vec::new(),
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
    unloading.held_up(&carried, loose);
    let fastened: HashSet<usize> = (0..later.len()).filter(|&body| !loose(body)).flat_map(|body| later[body].iter().copied()).collect();
    let mut captive = unloading.blocked_by(&fastened);
    unloading.round(&QUICK, free);
    unloading.round(&Effort::ALL, |_, _| true);
    captive.retain(|(body, _)| !unloading.inside.contains(body));
    let held = unloading.give_up(loose);
    Emptied { out: unloading.out, held, captive }
}

/// What is tried first of all bodies, then what is tried where nothing comes out; again from the first when something has.
const QUICK: [Effort; 3] = [Effort::Straight, Effort::Levelled, Effort::Tipped];

/// What is still inside, and what came out.
#[derive(Clone)]
struct Unloading<'w, 'm> {
    world: &'w World<'m>,
    standing: &'w [usize],
    later: &'w [Vec<usize>],
    inside: Vec<usize>,
    /// What is out of the way because it never went in.
    given_up: Vec<usize>,
    out: Vec<Unloaded>,
    /// Ways found before: parts of one kind often go the same way.
    known: Vec<KnownWay>,
    /// What was in the way of a body that was tried in vain: while all of it stands, nothing has changed for the body.
    blocked: HashMap<(usize, Effort), HashSet<usize>>,
}

/// A way that a body took, to be tried by the next.
#[derive(Clone)]
struct KnownWay {
    kind: PartKind,
    bounds: Bounds,
    legs: Vec<Leg>,
}

impl<'m> Unloading<'_, 'm> {
    /// Takes out all that comes and may, by efforts that grow only where nothing else comes; what belongs to one shelf one after another.
    fn round(&mut self, efforts: &[Effort], may: impl Fn(&[usize], usize) -> bool) {
        let mut at = 0;
        while let Some(&effort) = efforts.get(at) {
            let before = self.out.len();
            // Where a part finds no way, its equals need not be asked before the next round.
            let mut failed: HashSet<&str> = HashSet::new();
            let mut next: VecDeque<usize> = self.inside.iter().copied().collect();
            while let Some(body) = next.pop_front() {
                let mark = self.part(body).mark.as_str();
                if failed.contains(mark) || !may(&self.inside, body) || !self.is_worth_a_try(body, effort) {
                    continue;
                }
                if let Some(legs) = self.way_of(body, effort) {
                    self.inside.retain(|other| *other != body);
                    self.out.push((body, legs));
                    let shelf = shelf_of(&self.part(body).name);
                    let is_mate = |other: &usize| shelf.is_some() && shelf_of(&self.part(*other).name) == shelf;
                    let mates: Vec<usize> = self.inside.iter().copied().filter(is_mate).collect();
                    failed.retain(|mark| !mates.iter().any(|mate| self.part(*mate).mark == **mark));
                    next.retain(|other| !mates.contains(other));
                    mates.into_iter().rev().for_each(|mate| next.push_front(mate));
                } else {
                    failed.insert(mark);
                }
            }
            at = if self.out.len() > before { 0 } else { at + 1 };
        }
    }

    /// The part that a body is called by.
    fn part(&self, body: usize) -> &'m Part {
        &self.world.model.parts[self.later[body][0]]
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
        let gone = self.out.iter().map(|(other, _)| other).chain(&self.given_up);
        gone.flat_map(|other| &self.later[*other]).any(|part| blockers.contains(part))
    }

    /// Takes out one body, without growing the effort beyond what is quick.
    fn take(&mut self, body: usize) -> bool {
        let efforts = QUICK.into_iter().filter(|effort| self.is_worth_a_try(body, *effort)).collect::<Vec<_>>();
        let Some(legs) = efforts.into_iter().find_map(|effort| self.way_of(body, effort)) else { return false };
        self.inside.retain(|other| *other != body);
        self.out.push((body, legs));
        true
    }

    /// What comes out by hand only where it lies lower is held up while what it rests on is drawn out from under it: a slat under a top. Nothing is left hanging:
    /// where not all that rests there comes out, nothing is touched.
    fn held_up(&mut self, carried: &Carried, loose: impl Fn(usize) -> bool) {
        for body in self.inside.clone() {
            let rests_on = |lower: &usize| carried.by[*lower].contains(&body) && loose(*lower);
            let under: Vec<usize> = self.inside.iter().copied().filter(rests_on).collect();
            let is_held = |upper: &usize| loose(*upper) && under.iter().any(|lower| carried.by[*lower].contains(upper));
            let mut upper: Vec<usize> = self.inside.iter().copied().filter(is_held).collect();
            if !loose(body) || !self.inside.contains(&body) || under.is_empty() {
                continue;
            }
            let mut trial = self.clone();
            if !under.iter().all(|&lower| trial.take(lower)) {
                continue;
            }
            while let Some(at) = upper.iter().position(|&upper| trial.take(upper)) {
                upper.remove(at);
            }
            if upper.is_empty() {
                *self = trial;
            }
        }
    }

    /// Tells what does not come out, and takes out what comes without it.
    ///
    /// What is loose has to pass all that is fastened, but nothing else that is loose. What finds no way past the glue-up alone has itself to blame. Of parts
    /// that hold each other those are told without which most of the others come out.
    fn give_up(&mut self, loose: impl Fn(usize) -> bool) -> Vec<Held> {
        let mut held = Vec::new();
        let fastened: Vec<usize> = self.inside.iter().copied().filter(|&body| !loose(body)).collect();
        let stuck: Vec<usize> = self.inside.iter().copied().filter(|&body| loose(body) && !self.leaves(body, &fastened)).collect();
        self.without(&stuck, &fastened, &mut held);
        let stuck: Vec<usize> = self.inside.iter().copied().filter(|&body| !self.leaves(body, &[])).collect();
        self.without(&stuck, &[], &mut held);
        while let Some(&first) = self.inside.first() {
            let frees = |&body: &usize| {
                let mut trial = self.clone();
                trial.without(&[body], &[], &mut Vec::new());
                (trial.out.len(), loose(body))
            };
            let all = self.inside.clone();
            let best = if all.len() > MOST_HELD { first } else { all.iter().copied().max_by_key(frees).unwrap_or(first) };
            self.without(&[best], &all, &mut held);
        }
        held
    }

    /// Goes on without some bodies, of which each is told to be held by the glue-up and the others of `by`.
    fn without(&mut self, bodies: &[usize], by: &[usize], held: &mut Vec<Held>) {
        if bodies.is_empty() {
            return;
        }
        held.extend(bodies.iter().map(|&body| Held { body, among: all_but(self.standing, self.later, by, body) }));
        self.inside.retain(|body| !bodies.contains(body));
        self.given_up.extend(bodies);
        self.round(&QUICK, |_, _| true);
    }

    /// Whether a body comes out past the glue-up and some others.
    fn leaves(&self, body: usize, past: &[usize]) -> bool {
        let others = all_but(self.standing, self.later, past, body);
        Route::new(self.world, &self.later[body], &others).find().is_some()
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

/// Of more parts that hold each other none is sought that holds most of them.
const MOST_HELD: usize = 24;

/// The parts of the glue-up, and of all bodies inside but one.
fn all_but(standing: &[usize], later: &[Vec<usize>], inside: &[usize], body: usize) -> Vec<usize> {
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

/// The bay and the number of the shelf that a part belongs to, by its name: "1.3" of "slat.1.3.2".
fn shelf_of(name: &str) -> Option<(&str, &str)> {
    let mut words = name.split('.');
    matches!(words.next()?, "slat" | "cleat" | "shelf" | "pin").then(|| Some((words.next()?, words.next()?)))?
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

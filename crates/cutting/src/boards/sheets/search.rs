//! Rounds of search on several lanes: each goes its own way for a round, and goes on from the best of all.

use std::sync::Mutex;

use super::super::dice::Dice;
use super::super::effort::{Progress, Watching};
use super::super::ground::Ground;
use super::lane::Lane;
use super::standing::{Standing, Weights};

/// Lanes where the answer must not depend on the number of threads.
const LANES: usize = 4;

/// Steps of one lane in one round.
const STEPS: u32 = 256;

/// Steps from one asking of the watch to the next.
const ASK_EVERY: u32 = 16;

/// The best layout that was found, and what nothing can beat.
pub(super) fn best(ground: &Ground, bound: u64, watching: &Watching) -> Standing {
    let step = ground.boards.iter().fold(0, |step, board| gcd(step, board.cost)).max(1);
    let mut search = Search { ground, bound, step, watching, best: Standing::new(ground, &by_value(ground)), rounds: 0 };
    let mut lanes = search.lanes();
    if let Some(first) = lanes.first() {
        search.best = first.standing.clone();
    }
    for lane in &mut lanes {
        search.aim(lane);
    }
    while !search.done() && search.goes_on() {
        search.round(&mut lanes);
    }
    search.best
}

struct Search<'a, 'w> {
    ground: &'a Ground<'a>,
    bound: u64,
    step: u64,
    watching: &'a Watching<'w>,
    best: Standing,
    rounds: u64,
}

/// Pieces weigh what they are worth: so long as there may not be boards enough.
fn by_value(ground: &Ground) -> Weights {
    Weights::new(ground, |kind| ground.kinds[kind].value.max(f64::MIN_POSITIVE))
}

/// Pieces weigh what room they take: where all have a place, and only the cost counts.
fn by_area(ground: &Ground) -> Weights {
    Weights::new(ground, |kind| ground.kinds[kind].size[0] as f64 * ground.kinds[kind].size[1] as f64)
}

impl<'a> Search<'a, '_> {
    fn done(&self) -> bool {
        self.best.complete() && (self.best.cost <= self.bound || self.best.cost < self.step)
    }

    fn goes_on(&self) -> bool {
        self.watching.effort().rounds.is_none_or(|rounds| self.rounds < rounds) && self.watching.tell(&self.progress())
    }

    fn progress(&self) -> Progress {
        let cost = self.best.complete().then(|| Ground::cost(self.best.cost));
        Progress { rounds: self.rounds, cost, bound: Ground::cost(self.bound) }
    }

    /// As many lanes as are worked on, each with its first answer.
    fn lanes(&self) -> Vec<Lane<'a>> {
        let effort = self.watching.effort();
        let count = if effort.rounds.is_some() { LANES } else { effort.threads.max(1) };
        let lane = |number: usize| {
            let mut lane = Lane::new(self.ground, by_value(self.ground), Dice::new(effort.seed, number as u64));
            lane.begin();
            lane
        };
        (0..count).map(lane).collect()
    }

    /// Below the cost of what a lane has, or at as much of its worth as goes onto the boards that there are.
    fn aim(&self, lane: &mut Lane<'a>) {
        if lane.standing.complete() {
            lane.aim(lane.standing.cost.saturating_sub(self.step), by_area(self.ground));
        } else {
            lane.aim(u64::MAX, by_value(self.ground));
        }
    }

    fn round(&mut self, lanes: &mut [Lane<'a>]) {
        let threads = self.watching.effort().threads.clamp(1, lanes.len());
        let found: Vec<Mutex<Option<Standing>>> = lanes.iter().map(|_| Mutex::new(None)).collect();
        let progress = self.progress();
        if threads == 1 {
            for (lane, found) in lanes.iter_mut().zip(&found) {
                self.walk(lane, found, &progress);
            }
        } else {
            let share = lanes.len().div_ceil(threads);
            std::thread::scope(|scope| {
                for (lanes, found) in lanes.chunks_mut(share).zip(found.chunks(share)) {
                    let this = &*self;
                    scope.spawn(move || lanes.iter_mut().zip(found).for_each(|(lane, found)| this.walk(lane, found, &progress)));
                }
            });
        }
        self.rounds += 1;
        let found = found.into_iter().map(|found| found.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner));
        // The first of equals, whatever thread was first.
        let found: Vec<Option<Standing>> = found.collect();
        let cheaper = |standing: &Standing, best: &Standing| match (standing.complete(), best.complete()) {
            (true, true) => standing.cost < best.cost,
            (true, false) => true,
            (false, true) => false,
            (false, false) => standing.missing < best.missing,
        };
        let had = self.best.complete().then_some(self.best.cost);
        for standing in found.into_iter().flatten() {
            if cheaper(&standing, &self.best) {
                self.best = standing;
            }
        }
        if self.best.complete() && had.is_none_or(|had| self.best.cost < had) {
            for lane in lanes.iter_mut().filter(|lane| lane.limit >= self.best.cost) {
                lane.standing = self.best.clone();
                self.aim(lane);
            }
        }
    }

    /// One round of a lane; what it finds is the best that it had in this round.
    fn walk(&self, lane: &mut Lane<'a>, found: &Mutex<Option<Standing>>, progress: &Progress) {
        let mut best: Option<Standing> = None;
        let mut least = if self.best.complete() { 0.0 } else { self.best.missing };
        for step in 0..STEPS {
            if step % ASK_EVERY == 0 && !self.watching.tell(progress) {
                break;
            }
            lane.step();
            if lane.standing.complete() {
                best = Some(lane.standing.clone());
                if lane.standing.cost <= self.bound || lane.standing.cost < self.step {
                    break;
                }
                self.aim(lane);
                least = 0.0;
            } else if lane.standing.missing < least - 1e-9 {
                least = lane.standing.missing;
                best = Some(lane.standing.clone());
            }
        }
        if let Ok(mut found) = found.lock() {
            *found = best;
        }
    }
}

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

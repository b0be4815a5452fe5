//! Rounds of search on several lanes: each goes its own way for a round, and goes on from the best of all.

use std::sync::{Arc, Mutex};

use super::super::dice::Dice;
use super::super::effort::{Progress, Watching};
use super::super::ground::Ground;
use super::choices::Choices;
use super::lane::Lane;
use super::standing::{Standing, Weights};

/// Lanes where the answer must not depend on the number of threads.
const LANES: usize = 4;

/// Steps of one lane in one round.
const STEPS: u32 = 256;

/// Steps from one asking of the watch to the next.
const ASK_EVERY: u32 = 16;

/// Work on the choices of boards before the first round, and in each: where there is one kind of board, the search
/// gains nothing from it.
const FIRST_WORK: [u64; 2] = [5_000, 40_000];
const WORK: [u64; 2] = [200, 1_000];

/// The best layout that was found, and what nothing can beat.
pub(super) fn best(ground: &Ground, watching: &Watching) -> (Standing, u64) {
    let choices = Choices::new(ground);
    let mut search = Search { ground, choices, watching, best: Standing::new(ground, &by_value(ground)), rounds: 0 };
    let mut lanes = search.lanes();
    if let Some(first) = lanes.first() {
        search.best = first.standing.clone();
    }
    let several = usize::from(ground.boards.len() > 1);
    search.choose(&mut lanes, FIRST_WORK[several]);
    for lane in &mut lanes {
        search.aim(lane);
    }
    while !search.done() && search.goes_on() {
        search.round(&mut lanes);
        search.choose(&mut lanes, WORK[several]);
    }
    (search.best, search.choices.bound)
}

struct Search<'a, 'w> {
    ground: &'a Ground<'a>,
    choices: Choices,
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
        self.best.complete() && (self.best.cost <= self.choices.bound || self.best.cost < self.choices.step)
    }

    fn goes_on(&self) -> bool {
        self.watching.effort().rounds.is_none_or(|rounds| self.rounds < rounds) && self.watching.tell(&self.progress())
    }

    fn progress(&self) -> Progress {
        let cost = self.best.complete().then(|| Ground::cost(self.best.cost));
        Progress { rounds: self.rounds, cost, bound: Ground::cost(self.choices.bound) }
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

    /// Looks into choices of boards that cost less than the best layout, and tells the lanes which may do.
    fn choose(&mut self, lanes: &mut [Lane<'a>], work: u64) {
        if self.done() {
            return;
        }
        let limit = if self.best.complete() { self.best.cost.saturating_sub(self.choices.step) } else { u64::MAX };
        if self.choices.advance(limit, work) && self.ground.boards.len() > 1 {
            let known = Arc::new(self.choices.known());
            for lane in lanes {
                lane.tell(&known);
            }
        }
    }

    /// Below the cost of what a lane has, or at as much of its worth as goes onto the boards that there are.
    fn aim(&self, lane: &mut Lane<'a>) {
        if lane.standing.complete() {
            lane.aim(lane.standing.cost.saturating_sub(self.choices.step), by_area(self.ground));
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
                if lane.standing.cost <= self.choices.bound || lane.standing.cost < self.choices.step {
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

//! How long to go on, and who may say stop.

use std::fmt;
use std::ops::ControlFlow;

/// Steps of search from one [`Progress`] to the next.
const TELL_EVERY: u64 = 1 << 14;

/// How much work may be spent, and who is told of it.
#[derive(Clone, Copy)]
pub struct Effort<'a> {
    /// Steps of search at most, each some tens of nanoseconds. The quick filling at the start does not count.
    pub steps: u64,
    /// Is told now and then how far the work has come. `ControlFlow::Break` ends it, and the best answer so far is given.
    pub watch: &'a dyn Fn(&Progress) -> ControlFlow<()>,
}

impl Effort<'_> {
    /// So many steps, and nobody to be told.
    pub fn steps(steps: u64) -> Self {
        Self { steps, watch: &|_| ControlFlow::Continue(()) }
    }
}

impl Default for Effort<'_> {
    /// Twenty million steps: for most questions well under a second.
    fn default() -> Self {
        Self::steps(20_000_000)
    }
}

impl fmt::Debug for Effort<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Effort").field("steps", &self.steps).finish_non_exhaustive()
    }
}

/// How far the work has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Steps spent so far.
    pub steps: u64,
    /// The best answer so far: worth placed, or cost of a cover; `None` while there is no cover.
    pub best: Option<u64>,
    /// What no answer can beat.
    pub bound: u64,
}

/// Counts steps and asks now and then whether to go on.
pub(super) struct Meter<'a> {
    effort: Effort<'a>,
    progress: Progress,
    next: u64,
    stopped: bool,
}

impl<'a> Meter<'a> {
    pub fn new(effort: Effort<'a>) -> Self {
        Self { effort, progress: Progress { steps: 0, best: None, bound: 0 }, next: TELL_EVERY, stopped: false }
    }

    /// What is known now, told at once.
    pub fn tell(&mut self, best: Option<u64>, bound: u64) {
        self.progress.best = best;
        self.progress.bound = bound;
        self.ask();
    }

    /// Spends steps; `None` when there are no more.
    pub fn spend(&mut self, steps: u64) -> Option<()> {
        self.progress.steps = self.progress.steps.saturating_add(steps);
        if self.progress.steps >= self.next {
            self.next = self.progress.steps.saturating_add(TELL_EVERY);
            self.ask();
        }
        self.goes_on().then_some(())
    }

    pub fn goes_on(&self) -> bool {
        !self.stopped && self.progress.steps < self.effort.steps
    }

    /// Runs a part of the work that may spend no more than a share of what is left, in sixteenths.
    pub fn share<T>(&mut self, sixteenths: u64, work: impl FnOnce(&mut Self) -> T) -> T {
        let left = self.effort.steps.saturating_sub(self.progress.steps);
        self.part(left / 16 * sixteenths, work)
    }

    /// Runs a part of the work that may spend no more than so many steps.
    pub fn part<T>(&mut self, steps: u64, work: impl FnOnce(&mut Self) -> T) -> T {
        let all = self.effort.steps;
        self.effort.steps = all.min(self.progress.steps.saturating_add(steps));
        let result = work(self);
        self.effort.steps = all;
        result
    }

    fn ask(&mut self) {
        if !self.stopped {
            self.stopped = (self.effort.watch)(&self.progress).is_break();
        }
    }
}

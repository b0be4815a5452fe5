//! How long to go on, on how many threads, and who may say stop.

use std::fmt;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};

/// How much work may be spent, and who is told of it.
///
/// With rounds the answer depends on task and seed alone, whatever the number of threads. A watch that breaks off ends the
/// work early: the answer is then the best so far, which is valid but may differ from one time to the next.
#[derive(Clone, Copy)]
pub struct Effort<'a> {
    /// Rounds of search at most, each some hundredths of a second; `None` to go on until `watch` says stop or the answer is proven.
    pub rounds: Option<u64>,
    /// Threads to work on; 0 counts as 1.
    pub threads: usize,
    /// Where chance begins.
    pub seed: u64,
    /// Is asked now and then, from any of the threads. `ControlFlow::Break` ends the work.
    pub watch: &'a (dyn Fn(&Progress) -> ControlFlow<()> + Sync),
}

impl Effort<'_> {
    /// So many rounds on one thread, and nobody to be told.
    pub fn rounds(rounds: u64) -> Self {
        Self { rounds: Some(rounds), threads: 1, seed: 1, watch: &|_| ControlFlow::Continue(()) }
    }
}

impl Default for Effort<'_> {
    /// Twenty rounds.
    fn default() -> Self {
        Self::rounds(20)
    }
}

impl fmt::Debug for Effort<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { rounds, threads, seed, watch: _ } = self;
        f.debug_struct("Effort").field("rounds", rounds).field("threads", threads).field("seed", seed).finish_non_exhaustive()
    }
}

/// How far the work has come.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Progress {
    /// Rounds finished.
    pub rounds: u64,
    /// Cost of the best layout so far that places everything; `None` while there is none.
    pub cost: Option<f64>,
    /// No layout costs less.
    pub bound: f64,
}

/// Steps of search in one round.
const ROUND: u64 = 1 << 16;

/// Steps from one asking to the next.
const ASK_EVERY: u64 = 1 << 11;

/// Asks the watch, and remembers that it said stop. Shared by all threads.
pub(super) struct Watching<'a> {
    effort: Effort<'a>,
    stopped: AtomicBool,
}

impl<'a> Watching<'a> {
    pub fn new(effort: Effort<'a>) -> Self {
        Self { effort, stopped: AtomicBool::new(false) }
    }

    pub fn effort(&self) -> &Effort<'a> {
        &self.effort
    }

    pub fn stopped(&self) -> bool {
        self.stopped.load(Ordering::Relaxed)
    }

    /// Tells how far the work has come; whether to go on.
    pub fn tell(&self, progress: &Progress) -> bool {
        if !self.stopped() && (self.effort.watch)(progress).is_break() {
            self.stopped.store(true, Ordering::Relaxed);
        }
        !self.stopped()
    }
}

/// Counts the steps of one thread's work, as many as its share of the rounds.
pub(super) struct Meter<'a> {
    watching: &'a Watching<'a>,
    pub progress: Progress,
    steps: u64,
    most: u64,
    next: u64,
}

impl<'a> Meter<'a> {
    pub fn new(watching: &'a Watching<'a>) -> Self {
        let most = watching.effort.rounds.map_or(u64::MAX, |rounds| rounds.saturating_mul(ROUND));
        Self { watching, progress: Progress::default(), steps: 0, most, next: ASK_EVERY }
    }

    /// Spends steps; whether there are more.
    pub fn spend(&mut self, steps: u64) -> bool {
        self.steps = self.steps.saturating_add(steps);
        if self.steps >= self.next {
            self.next = self.steps.saturating_add(ASK_EVERY);
            self.tell();
        }
        self.goes_on()
    }

    /// Whether there are steps left and nobody said stop.
    pub fn goes_on(&self) -> bool {
        self.steps < self.most && !self.watching.stopped()
    }

    /// Says how far the work has come.
    pub fn tell(&mut self) {
        self.progress.rounds = self.steps / ROUND;
        self.watching.tell(&self.progress);
    }
}

//! How much is spent on the layouts of all species and thicknesses, and how far that has come.

use std::ops::ControlFlow;

use casewright_cutting::boards as solver;

/// How much is spent on the layouts.
#[derive(Clone, Copy)]
pub struct Effort<'a> {
    /// Rounds of search at most on each species and thickness; `None` to go on until `watch` says stop or the answer is proven.
    pub rounds: Option<u64>,
    /// Threads to work on; 0 counts as 1.
    pub threads: usize,
    /// Where chance begins.
    pub seed: u64,
    /// Is asked now and then, from any of the threads. `ControlFlow::Break` ends the work on one species and thickness; the best that was
    /// found is taken, and the next begins.
    pub watch: &'a (dyn Fn(&Progress<'_>) -> ControlFlow<()> + Sync),
}

impl Effort<'_> {
    /// So many rounds on one thread, and nobody to be told.
    pub fn rounds(rounds: u64) -> Self {
        Self { rounds: Some(rounds), threads: 1, seed: 1, watch: &|_| ControlFlow::Continue(()) }
    }

    /// The part of it that is spent on one of so many species and thicknesses.
    pub(super) fn on<T>(&self, group: usize, groups: usize, name: &str, work: impl FnOnce(solver::Effort<'_>) -> T) -> T {
        let watch = |progress: &solver::Progress| {
            let solver::Progress { rounds, cost, bound } = *progress;
            (self.watch)(&Progress { group, groups, rounds, name, cost, bound })
        };
        work(solver::Effort { rounds: self.rounds, threads: self.threads, seed: self.seed, watch: &watch })
    }
}

/// How far the work has come.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Progress<'a> {
    /// Which species and thickness is laid out, counted from 0.
    pub group: usize,
    /// How many there are.
    pub groups: usize,
    /// Rounds of search that are finished.
    pub rounds: u64,
    /// Its name: "Ash, white 32 mm".
    pub name: &'a str,
    /// Cost of the best layout of it so far that places everything; `None` while there is none.
    pub cost: Option<f64>,
    /// No layout of it costs less.
    pub bound: f64,
}

impl Progress<'_> {
    /// Whether this one has had its share of `seconds`, which are spread evenly over all of them: `spent` have gone since the first began.
    /// What one leaves over, because its answer is proven, goes to those after it. Each has a round, however long the others took.
    pub fn has_had_its_share(&self, spent: f64, seconds: f64) -> bool {
        self.rounds > 0 && spent * self.groups as f64 > seconds * (self.group + 1) as f64
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn time_is_spread_evenly_and_what_is_left_over_goes_on() {
        let at = |group| Progress { group, groups: 4, rounds: 1, name: "", cost: None, bound: 0.0 };
        assert!(!at(0).has_had_its_share(0.4, 2.0));
        assert!(at(0).has_had_its_share(0.6, 2.0));
        // The first three were quick.
        assert!(!at(3).has_had_its_share(1.9, 2.0));
        assert!(at(3).has_had_its_share(2.1, 2.0));
        // On a busy machine too each is searched once.
        assert!(!Progress { rounds: 0, ..at(0) }.has_had_its_share(9.0, 2.0));
    }
}

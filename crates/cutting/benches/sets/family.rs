//! Runs the instances of a family, and prints what came of it.

use std::collections::BTreeMap;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Instant;

use casewright_cutting::boards::{Effort, Layout, Progress, Task, lay};

/// What was asked for.
pub struct Asked {
    pub seconds: f64,
    pub every: usize,
    pub only: Option<String>,
    pub each: bool,
    pub seed: u64,
}

impl Default for Asked {
    fn default() -> Self {
        Self { seconds: 1.0, every: 1, only: None, each: false, seed: 1 }
    }
}

/// An instance with what is known of it.
pub struct Instance {
    pub name: String,
    pub class: String,
    pub task: Task,
    /// The best cost known, or proven; not known for some.
    pub best: Option<f64>,
    /// What is proven to be the least.
    pub bound: Option<f64>,
    /// How an answer is measured.
    pub measure: Measure,
}

/// How an answer is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// By its cost.
    Cost,
    /// By the area that is lost, with what lies beyond the last cut of the last board kept.
    Waste,
}

/// Instances of one kind.
pub struct Family {
    pub name: String,
    pub instances: Vec<Instance>,
}

#[derive(Default)]
struct Sum {
    instances: usize,
    cost: f64,
    bound: f64,
    best: f64,
    known_bound: f64,
    proven: usize,
    reached: usize,
    incomplete: usize,
    slowest: f64,
}

impl Family {
    pub fn run(&self, asked: &Asked) {
        let mut classes: BTreeMap<&str, Sum> = BTreeMap::new();
        let mut all = Sum::default();
        for instance in self.instances.iter().step_by(asked.every) {
            let (layout, seconds, rounds) = timed(&instance.task, asked);
            let measured = measured(instance, &layout);
            if asked.each {
                let proven = if layout.proven { "proven" } else { "" };
                let best = instance.best.map_or("?".to_owned(), |best| best.to_string());
                println!(
                    "  {:24} {measured:>10} bound {:>10} best {best:>10} {seconds:6.2} s {rounds:>6} rounds {proven}",
                    instance.name, layout.bound
                );
            }
            for sum in [classes.entry(&instance.class).or_default(), &mut all] {
                sum.instances += 1;
                sum.cost += measured;
                sum.bound += layout.bound;
                sum.best += instance.best.unwrap_or(measured);
                sum.known_bound += instance.bound.unwrap_or(layout.bound);
                sum.proven += usize::from(layout.proven);
                sum.reached += usize::from(instance.best.is_some_and(|best| measured <= best + 1e-6));
                sum.incomplete += usize::from(!layout.unplaced.is_empty());
                sum.slowest = sum.slowest.max(seconds);
            }
        }
        let head = ["class", "count", "cost", "best", "gap %", "bound", "known", "proven", "reached", "left", "slowest"];
        println!("{} ({} s each)", self.name, asked.seconds);
        println!(
            "  {:14}{:>6}{:>14}{:>14}{:>8}{:>14}{:>14}{:>8}{:>8}{:>6}{:>9}",
            head[0], head[1], head[2], head[3], head[4], head[5], head[6], head[7], head[8], head[9], head[10]
        );
        for (class, sum) in classes.iter().chain([(&"all", &all)]) {
            let gap = if sum.best > 0.0 { (sum.cost - sum.best) / sum.best * 100.0 } else { 0.0 };
            println!(
                "  {class:14}{:>6}{:>14.1}{:>14.1}{gap:>8.2}{:>14.1}{:>14.1}{:>8}{:>8}{:>6}{:>9.2}",
                sum.instances, sum.cost, sum.best, sum.bound, sum.known_bound, sum.proven, sum.reached, sum.incomplete, sum.slowest
            );
        }
    }
}

/// Lays out for so many seconds of one core; with the rounds that it took.
fn timed(task: &Task, asked: &Asked) -> (Layout, f64, u64) {
    let clock = Clock::new();
    let rounds = AtomicU64::new(0);
    let watch = |progress: &Progress| {
        rounds.fetch_max(progress.rounds, Ordering::Relaxed);
        if clock.seconds() > asked.seconds { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    };
    let layout = lay(task, Effort { rounds: None, threads: 1, seed: asked.seed, watch: &watch });
    (layout, clock.seconds(), rounds.into_inner())
}

/// Time that this thread has had a core, so that what else runs on the machine doesn't count; where the system doesn't tell
/// it, time by the clock.
struct Clock {
    begin: Instant,
    had: Option<f64>,
}

impl Clock {
    fn new() -> Self {
        Self { begin: Instant::now(), had: Self::had() }
    }

    fn had() -> Option<f64> {
        let told = std::fs::read_to_string("/proc/self/schedstat").ok()?;
        told.split_whitespace().next()?.parse::<f64>().ok().map(|nanoseconds| nanoseconds / 1e9)
    }

    fn seconds(&self) -> f64 {
        match (self.had, Self::had()) {
            (Some(begin), Some(now)) => now - begin,
            _ => self.begin.elapsed().as_secs_f64(),
        }
    }
}

fn measured(instance: &Instance, layout: &Layout) -> f64 {
    match instance.measure {
        Measure::Cost => layout.cost,
        Measure::Waste => {
            let size = |line: usize| {
                let piece = &instance.task.pieces[line];
                (piece.length, piece.width.unwrap_or(0.0))
            };
            let pieces: f64 =
                layout.used.iter().flat_map(|used| &used.placed).map(|placed| size(placed.line).0 * size(placed.line).1).sum();
            let area = |line: usize| {
                let stock = &instance.task.stock[line];
                stock.length * stock.width.unwrap_or(0.0)
            };
            let boards: f64 = layout.used.iter().map(|used| area(used.line)).sum();
            let kept = layout.used.iter().map(|used| {
                let end = used.placed.iter().map(|placed| {
                    let (length, width) = size(placed.line);
                    placed.x + if placed.turned { width } else { length }
                });
                let stock = &instance.task.stock[used.line];
                (stock.length - end.fold(0.0, f64::max)) * stock.width.unwrap_or(0.0)
            });
            boards - pieces - kept.fold(0.0, f64::max)
        }
    }
}

//! Lengths alone.
//!
//! Quick answers first (`fill`), and the simple bounds (`bounds`). Where they do not meet, prices of sizes are found by column
//! generation (`prices`), whole numbers from there by diving (`dive`), and the number of bars of each kind by branching
//! (`branch`). What is left at the end of a dive is packed exactly where it is small (`pack`).

mod bounds;
mod branch;
mod dive;
mod fill;
mod pack;
mod prices;
mod shares;
mod task;

use super::effort::{Meter, Watching};
use super::ground::Ground;
use super::layout::{Cut, Layout, Placed, Used};
use super::task::Direction;
use branch::Branching;
use task::{Answer, Pattern, Rods};

/// Lays the pieces of a ground without defects out of its boards by length.
pub(super) fn lay(ground: Ground, watching: &Watching) -> Layout {
    let rods = Rods::new(&ground);
    let mut meter = Meter::new(watching);
    let mut branching = Branching::new(&rods, watching.effort().seed, &mut meter);
    branching.run();
    let bound = branching.bound;
    let best = branching.best.take();
    let (answer, left) = best.map_or_else(|| most(&rods, &mut meter), |best| (best.1, vec![0; rods.sizes.len()]));
    let mut handing = Handing::new(&ground, &rods);
    let used = answer.iter().flat_map(|(pattern, times)| (0..*times).map(|_| handing.used(pattern)).collect::<Vec<_>>()).collect();
    let left = handing.left(&left);
    ground.layout(used, &left, bound)
}

/// What is worth most for its length first, where not everything has a place.
fn most(rods: &Rods, meter: &mut Meter) -> (Answer, Vec<u32>) {
    let dearest = rods.values.iter().copied().fold(0.0, f64::max).max(f64::MIN_POSITIVE);
    let prices: Vec<u64> = rods.values.iter().map(|value| (value / dearest * f64::from(1 << 30)) as u64 + 1).collect();
    fill::by_prices(rods, &prices, meter)
}

/// Hands out pieces for sizes, the worthier first.
struct Handing<'a> {
    ground: &'a Ground<'a>,
    rods: &'a Rods,
    /// How many of each kind are not handed out.
    still: Vec<u32>,
}

impl<'a> Handing<'a> {
    fn new(ground: &'a Ground<'a>, rods: &'a Rods) -> Self {
        Self { ground, rods, still: ground.kinds.iter().map(|kind| kind.count).collect() }
    }

    fn next(&mut self, size: usize) -> Option<usize> {
        let kind = *self.rods.kinds[size].iter().find(|&&kind| self.still[kind] > 0)?;
        self.still[kind] -= 1;
        Some(kind)
    }

    fn used(&mut self, pattern: &Pattern) -> Used {
        let board = &self.ground.boards[self.rods.bars[pattern.bar].board];
        let task = self.ground.task;
        let mut used = Used { stock: task.stock[board.line].id.clone(), line: board.line, placed: Vec::new(), cuts: Vec::new() };
        let mut at = 0;
        for &(size, amount) in &pattern.amounts {
            for _ in 0..amount {
                let Some(number) = self.next(size) else {
                    continue;
                };
                let kind = &self.ground.kinds[number];
                let [x, y] = self.ground.place([at, 0]);
                at += kind.size[0];
                used.placed.push(Placed { piece: task.pieces[kind.line].id.clone(), line: kind.line, x, y, turned: false });
                // A piece that ends where the board ends needs no cut.
                if at - self.ground.kerf < board.room[0] - self.ground.kerf {
                    let [end, _] = self.ground.place([at - self.ground.kerf, 0]);
                    used.cuts.push(Cut { stage: 1, cut: Direction::Across, at: end, from: 0.0, to: 0.0 });
                }
            }
        }
        used
    }

    /// How many of each kind found no place; sizes that were left over take the least worthy.
    fn left(self, left: &[u32]) -> Vec<u32> {
        debug_assert_eq!(self.still.iter().sum::<u32>(), left.iter().sum());
        self.still
    }
}

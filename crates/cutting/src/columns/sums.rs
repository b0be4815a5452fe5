//! What columns can cost together that bring enough.

use super::bound::Prices;
use super::task::Task;

/// Sums are listed up to so many steps of their greatest common divisor.
const MOST_SUMS: u64 = 1 << 18;

/// More columns than this are not counted one by one.
const MOST_COUNTED: u64 = 1 << 10;

/// Sums of costs of columns that together can bring the price of all things.
#[derive(Debug)]
pub(super) struct Sums {
    /// Every sum is a multiple of it; 0 where nothing costs anything.
    step: u64,
    /// Whether columns of such a multiple can bring enough; those past the end all count as if they could.
    can: Vec<bool>,
}

impl Sums {
    /// The sums up to `most`.
    pub fn new(task: &Task, prices: &Prices, most: u64) -> Self {
        let step = task.shapes.iter().fold(0, |step, shape| divisor(step, shape.cost));
        if step == 0 || most / step > MOST_SUMS {
            return Self { step, can: Vec::new() };
        }
        // The most that columns of each sum can bring.
        let mut best: Vec<Option<u64>> = vec![None; (most / step) as usize + 1];
        best[0] = Some(0);
        for (number, shape) in task.shapes.iter().enumerate() {
            let cost = (shape.cost / step) as usize;
            let count = u64::from(shape.count);
            if cost == 0 {
                // As many as there are, for nothing.
                let all = prices.brings[number].saturating_mul(count);
                best.iter_mut().flatten().for_each(|best| *best = best.saturating_add(all));
            } else if count * shape.cost >= most || count > MOST_COUNTED {
                add(&mut best, cost, prices.brings[number], cost..=(most / step) as usize);
            } else {
                for _ in 0..count {
                    let downwards = (cost..=(most / step) as usize).rev();
                    add(&mut best, cost, prices.brings[number], downwards);
                }
            }
        }
        let needed = prices.of_all(task);
        Self { step, can: best.into_iter().map(|best| best.is_some_and(|best| best >= needed)).collect() }
    }

    /// The least sum that is no less than `cost`; the next multiple where that is past the sums that are known.
    pub fn next(&self, cost: u64) -> u64 {
        if self.step == 0 {
            return cost;
        }
        let mut multiple = cost.div_ceil(self.step);
        while self.can.get(multiple as usize) == Some(&false) {
            multiple += 1;
        }
        multiple * self.step
    }
}

/// One more column of such a cost wherever that brings more. Upwards it may be taken again and again.
fn add(best: &mut [Option<u64>], cost: usize, brings: u64, sums: impl Iterator<Item = usize>) {
    for sum in sums {
        best[sum] = best[sum].max(best[sum - cost].map(|under| under.saturating_add(brings)));
    }
}

fn divisor(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { divisor(b, a % b) }
}

#[cfg(test)]
mod tests {
    use crate::columns::bound::Prices;
    use crate::columns::task::{Question, Task};
    use crate::columns::{Column, Needs, Stack, Thing};

    use super::Sums;

    #[test]
    fn sums_are_those_that_can_be_paid_and_bring_enough() {
        let stack = Stack { thing: 1, holds: 1, width: 1, needs: Needs::same(1), mass: 0.0, low: None };
        let column = |cost, count| Column {
            width: 1,
            height: 1,
            most_mass: 1.0,
            bottom_mass: 1.0,
            empty: None,
            most_rows: None,
            cost,
            count,
            stacks: vec![stack],
        };
        let things = [Thing { id: 1, count: 50, worth: 1 }];
        let columns = [column(18, None), column(21, Some(3))];
        let task = Task::new(&things, &columns, Question::Cover).expect("the figures are sound");
        // 18 as often as wanted and 21 three times: 213 cannot be paid, 216 = 12 × 18 can.
        let free = Prices { scale: 1, price: vec![0], brings: vec![0, 0] };
        let sums = Sums::new(&task, &free, 400);
        assert_eq!([1, 37, 40, 211].map(|cost| sums.next(cost)), [18, 39, 42, 216]);
        // Fifty things at 1, and columns that bring 4 and 5: 12 × 4 = 48 for 216 is too little, and so is 5 + 11 × 4 = 49 for 219;
        // 2 × 5 + 10 × 4 = 50 for 222 will do.
        let dear = Prices { scale: 1, price: vec![1], brings: vec![4, 5] };
        assert_eq!(Sums::new(&task, &dear, 400).next(0), 222);
    }
}

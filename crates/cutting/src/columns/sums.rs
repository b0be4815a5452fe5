//! What columns can cost together.

use super::task::Task;

/// Sums are listed up to so many steps of their greatest common divisor.
const MOST_SUMS: u64 = 1 << 20;

/// Sums of costs, each column taken as often as there are of it.
#[derive(Debug)]
pub(super) struct Sums {
    /// Every sum is a multiple of it; 0 where nothing costs anything.
    step: u64,
    /// Whether a multiple can be had; those past the end all count as if they could.
    can: Vec<bool>,
}

impl Sums {
    /// The sums up to `most`.
    pub fn new(task: &Task, most: u64) -> Self {
        let step = task.shapes.iter().fold(0, |step, shape| divisor(step, shape.cost));
        if step == 0 || most / step > MOST_SUMS {
            return Self { step, can: Vec::new() };
        }
        let mut can = vec![false; (most / step) as usize + 1];
        can[0] = true;
        for shape in task.shapes.iter().filter(|shape| shape.cost > 0) {
            let cost = (shape.cost / step) as usize;
            // How many of this shape each sum takes at the least.
            let mut taken = vec![0; can.len()];
            for sum in cost..can.len() {
                if !can[sum] && can[sum - cost] && taken[sum - cost] < shape.count {
                    can[sum] = true;
                    taken[sum] = taken[sum - cost] + 1;
                }
            }
        }
        Self { step, can }
    }

    /// The least sum that is no less than `cost`; `cost` itself where that is past the sums that are known.
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

fn divisor(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { divisor(b, a % b) }
}

#[cfg(test)]
mod tests {
    use crate::columns::task::{Question, Task};
    use crate::columns::{Column, Needs, Stack, Thing};

    use super::Sums;

    #[test]
    fn sums_are_those_that_can_be_paid() {
        let stack = Stack { thing: 1, holds: 1, width: 1, needs: Needs::same(1), mass: 0.0, low: false };
        let column =
            |cost, count| Column { width: 1, height: 1, most_mass: 1.0, most_rows: None, low: 0, cost, count, stacks: vec![stack] };
        let things = [Thing { id: 1, count: 50, worth: 1 }];
        // 18 as often as wanted and 21 three times: 213 cannot be paid, 216 = 12 × 18 can.
        let columns = [column(18, None), column(21, Some(3))];
        let task = Task::new(&things, &columns, Question::Cover).expect("the figures are sound");
        let sums = Sums::new(&task, 400);
        assert_eq!(sums.next(1), 18);
        assert_eq!(sums.next(37), 39);
        assert_eq!(sums.next(40), 42);
        assert_eq!(sums.next(211), 216);
    }
}

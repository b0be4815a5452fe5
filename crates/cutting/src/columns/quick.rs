//! Quick answers: columns filled one after the other for given values.

use super::effort::Meter;
use super::fill::{FilledUp, fill};
use super::pattern::Pattern;
use super::search::Answer;
use super::task::Task;

/// Every column filled in turn, and what it all is worth.
pub(super) fn filled(task: &Task, values: &[u64], bands: u32, meter: &mut Meter) -> (u64, Answer) {
    let mut left = task.counts();
    let mut answer = Answer::new();
    for (number, shape) in task.shapes.iter().enumerate() {
        let mut still = shape.count;
        while still > 0 {
            let FilledUp { rows, value, work } = fill(shape, values, &left, bands);
            meter.spend(work);
            if value == 0 {
                break;
            }
            let pattern = Pattern::new(number, shape, rows, left.len());
            let times = pattern.times(&left).clamp(1, still);
            (0..times).for_each(|_| pattern.take(&mut left));
            still -= times;
            answer.push((pattern, times));
        }
    }
    let placed: Vec<u32> = task.kinds.iter().zip(&left).map(|(kind, left)| kind.count - left).collect();
    (task.worth(&placed), answer)
}

pub(super) fn cost_of(task: &Task, answer: &Answer) -> u64 {
    answer.iter().map(|(pattern, times)| task.shapes[pattern.shape].cost * u64::from(*times)).sum()
}

/// Columns taken one after the other, each time the one that holds most for its cost, until one takes all that is left.
pub(super) fn covered(task: &Task, values: &[u64], bands: u32, by_value: bool, meter: &mut Meter) -> Option<(u64, Answer)> {
    let mut left = task.counts();
    let mut columns: Vec<u32> = task.shapes.iter().map(|shape| shape.count).collect();
    let (mut cost, mut answer) = (0, Answer::new());
    let mut best: Option<(u64, Answer)> = None;
    while left.iter().any(|&left| left > 0) {
        let mut next: Option<(f64, Pattern)> = None;
        for (number, shape) in task.shapes.iter().enumerate().filter(|(number, _)| columns[*number] > 0) {
            let FilledUp { rows, value, work } = fill(shape, values, &left, bands);
            meter.spend(work);
            let pattern = Pattern::new(number, shape, rows, left.len());
            if pattern.amounts == left && best.as_ref().is_none_or(|(best, _)| cost + shape.cost < *best) {
                let whole = answer.iter().cloned().chain([(pattern.clone(), 1)]).collect();
                best = Some((cost + shape.cost, whole));
            }
            let merit = if by_value { value as f64 } else { value as f64 / (shape.cost.max(1)) as f64 };
            if value > 0 && next.as_ref().is_none_or(|(other, _)| merit > *other) {
                next = Some((merit, pattern));
            }
        }
        let Some((_, pattern)) = next else {
            return best;
        };
        let times = pattern.times(&left).clamp(1, columns[pattern.shape]);
        (0..times).for_each(|_| pattern.take(&mut left));
        columns[pattern.shape] -= times;
        cost += task.shapes[pattern.shape].cost * u64::from(times);
        answer.push((pattern, times));
        if best.as_ref().is_some_and(|(best, _)| *best <= cost) {
            return best;
        }
    }
    if best.as_ref().is_none_or(|(best, _)| cost < *best) { Some((cost, answer)) } else { best }
}

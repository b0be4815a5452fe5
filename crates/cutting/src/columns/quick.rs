//! Quick answers: columns filled one after the other for given values.

use super::effort::Meter;
use super::fill::{FilledUp, fill, sizes};
use super::pattern::Pattern;
use super::search::Answer;
use super::task::Task;

/// How large things and low ones are favoured, one after the other, and in how many bands columns are begun.
const WAYS: [(f64, f64, u32); 6] = [(1.0, 1.5, 4), (1.2, 2.0, 8), (1.0, 1.0, 24), (1.5, 3.0, 16), (0.8, 1.5, 16), (1.1, 1.2, 48)];

/// Steps after which even the first answer takes no more columns, should the effort be spent.
const MOST_STEPS: u64 = 20_000_000;

/// Values of things by their sizes, in several ways, and in how many bands columns are to be begun with them.
pub(super) fn ways(task: &Task) -> impl Iterator<Item = (Vec<u64>, u32)> {
    WAYS.into_iter().map(|(steep, lifted, bands)| (sizes(task, steep, lifted), bands))
}

/// So many columns of each shape filled in turn.
pub(super) fn filled(task: &Task, counts: &[u32], values: &[u64], bands: u32, meter: &mut Meter) -> Answer {
    let mut left = task.counts();
    let mut answer = Answer::new();
    let mut steps = 0;
    for (number, shape) in task.shapes.iter().enumerate() {
        let mut still = counts[number];
        while still > 0 {
            let FilledUp { rows, value, work } = fill(shape, values, &left, bands);
            meter.spend(work);
            steps += work;
            if value == 0 || steps > MOST_STEPS && !meter.goes_on() {
                break;
            }
            let pattern = Pattern::new(number, shape, rows, left.len());
            let times = pattern.times(&left).clamp(1, still);
            (0..times).for_each(|_| pattern.take(&mut left));
            still -= times;
            answer.push((pattern, times));
        }
    }
    answer
}

/// What patterns come to that hold no more than there is.
pub(super) fn worth_of(task: &Task, answer: &Answer) -> u64 {
    let counts = task.counts();
    let mut left = counts.clone();
    for (pattern, times) in answer {
        (0..*times).for_each(|_| pattern.take(&mut left));
    }
    task.worth(&counts) - task.worth(&left)
}

/// What its columns cost.
pub(super) fn cost_of(task: &Task, answer: &Answer) -> u64 {
    answer.iter().map(|(pattern, times)| task.shapes[pattern.shape].cost * u64::from(*times)).sum()
}

/// Columns taken one after the other, each time the one that holds most for its cost, until one takes all that is left.
pub(super) fn covered(task: &Task, values: &[u64], bands: u32, by_value: bool, meter: &mut Meter) -> Option<Answer> {
    let mut left = task.counts();
    let mut columns: Vec<u32> = task.shapes.iter().map(|shape| shape.count).collect();
    let (mut cost, mut answer) = (0, Answer::new());
    let mut best: Option<(u64, Answer)> = None;
    let mut steps = 0;
    while left.iter().any(|&left| left > 0) {
        let mut next: Option<(f64, Pattern)> = None;
        for (number, shape) in task.shapes.iter().enumerate().filter(|(number, _)| columns[*number] > 0) {
            let FilledUp { rows, value, work } = fill(shape, values, &left, bands);
            meter.spend(work);
            steps += work;
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
        let Some((_, pattern)) = next.filter(|_| steps <= MOST_STEPS || meter.goes_on()) else {
            return best.map(|best| best.1);
        };
        let times = pattern.times(&left).clamp(1, columns[pattern.shape]);
        (0..times).for_each(|_| pattern.take(&mut left));
        columns[pattern.shape] -= times;
        cost += task.shapes[pattern.shape].cost * u64::from(times);
        answer.push((pattern, times));
        if best.as_ref().is_some_and(|(best, _)| *best <= cost) {
            return best.map(|best| best.1);
        }
    }
    Some(best.filter(|(best, _)| *best <= cost).map_or(answer, |best| best.1))
}

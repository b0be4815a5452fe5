//! The way from a quick answer to a proven one.

use super::Least;
use super::bound;
use super::effort::{Effort, Meter};
use super::fill::{FilledUp, fill, sizes};
use super::pattern::Pattern;
use super::search::{self, Answer, Outcome};
use super::sums::Sums;
use super::task::{Found, Task};

/// How large things and low ones are favoured, one after the other, and in how many bands columns are begun.
const WAYS: [(f64, f64, u32); 6] = [(1.0, 1.5, 4), (1.2, 2.0, 8), (1.0, 1.0, 24), (1.5, 3.0, 16), (0.8, 1.5, 16), (1.1, 1.2, 48)];

/// Answers [`super::place`].
pub(super) fn place(task: &Task, effort: Effort) -> Found<u64> {
    let mut meter = Meter::new(effort);
    let all = task.worth(&task.counts());
    let mut best = (0, Answer::new());
    for (number, (steep, lifted, bands)) in WAYS.into_iter().enumerate() {
        if best.0 == all || number > 0 && !meter.goes_on() {
            break;
        }
        let filled = filled(task, &sizes(task, steep, lifted), bands, &mut meter);
        if filled.0 > best.0 || number == 0 {
            best = filled;
            meter.tell(Some(best.0), all);
        }
    }
    let mut most = all;
    if best.0 < most {
        let prices = bound::free(task);
        most = most.min(bound::most_worth(task, &prices) / prices.scale);
        meter.tell(Some(best.0), most);
        if best.0 < most && search::place(task, &prices, &mut best, &mut meter).is_some() {
            most = best.0;
        }
    }
    Found { patterns: best.1, bound: most }
}

/// Every column filled in turn, and what it all is worth.
fn filled(task: &Task, values: &[u64], bands: u32, meter: &mut Meter) -> (u64, Answer) {
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

/// Answers [`super::cover`].
pub(super) fn cover(task: &Task, effort: Effort) -> Found<Least> {
    let mut meter = Meter::new(effort);
    let mut best: Option<(u64, Answer)> = None;
    for (number, (steep, lifted, bands)) in WAYS.into_iter().enumerate() {
        if number > 0 && !meter.goes_on() {
            break;
        }
        if let Some(covered) = covered(task, &sizes(task, steep, lifted), bands, number % 2 == 1, &mut meter)
            && best.as_ref().is_none_or(|(cost, _)| covered.0 < *cost)
        {
            best = Some(covered);
        }
    }
    let prices = bound::by_size(task);
    let least = bound::least_cost(task, &prices);
    let mut cost = least.div_ceil(prices.scale);
    meter.tell(best.as_ref().map(|best| best.0), cost);
    if best.is_none() {
        match search::cover(task, &prices, least, u64::MAX, &mut meter) {
            Outcome::Found(answer) => best = Some((cost_of(task, &answer), answer)),
            Outcome::Impossible => {
                let some = filled(task, &sizes(task, 1.0, 1.5), 16, &mut meter).1;
                return Found { patterns: some, bound: Least::TooFew };
            }
            Outcome::GaveUp => {}
        }
    }
    let sums = Sums::new(task, best.as_ref().map_or(0, |best| best.0));
    cost = sums.next(cost);
    while best.as_ref().is_some_and(|best| best.0 > cost) {
        match search::cover(task, &prices, least, cost, &mut meter) {
            Outcome::Found(answer) => best = Some((cost_of(task, &answer), answer)),
            Outcome::Impossible => cost = sums.next(cost + 1),
            Outcome::GaveUp => break,
        }
        meter.tell(best.as_ref().map(|best| best.0), cost);
    }
    let patterns = best.map_or_else(|| filled(task, &sizes(task, 1.0, 1.5), 16, &mut meter).1, |best| best.1);
    Found { patterns, bound: Least::Cost(cost) }
}

fn cost_of(task: &Task, answer: &Answer) -> u64 {
    answer.iter().map(|(pattern, times)| task.shapes[pattern.shape].cost * u64::from(*times)).sum()
}

/// Columns taken one after the other, each time the one that holds most for its cost, until one takes all that is left.
fn covered(task: &Task, values: &[u64], bands: u32, by_value: bool, meter: &mut Meter) -> Option<(u64, Answer)> {
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

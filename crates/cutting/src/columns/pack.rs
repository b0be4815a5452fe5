//! The way from a quick answer to a proven one.

use super::Least;
use super::bound;
use super::effort::{Effort, Meter};
use super::fill::sizes;
use super::pattern::Pattern;
use super::prices::Pricing;
use super::quick::{cost_of, covered, filled};
use super::search::{self, Answer, Outcome, Prices};
use super::sums::Sums;
use super::task::{Found, Question, Task};

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
        let mut prices = bound::free(task);
        most = most.min(bound::most_worth(task, &prices) / prices.scale);
        if best.0 < most
            && meter.goes_on()
            && let Some(sharp) = sharp(task, Question::Place, &best.1, &mut meter)
        {
            prices = sharp;
            most = most.min(bound::most_worth(task, &prices) / prices.scale);
        }
        meter.tell(Some(best.0), most);
        if best.0 < most && search::place(task, &prices, &mut best, &mut meter).is_some() {
            most = best.0;
        }
    }
    Found { patterns: best.1, bound: most }
}

/// Prices by the linear programme, which begins with the patterns of an answer.
fn sharp(task: &Task, question: Question, known: &Answer, meter: &mut Meter) -> Option<Prices> {
    let known: Vec<Pattern> = known.iter().map(|(pattern, _)| pattern.clone()).collect();
    Pricing::new(task, question, &known)?.settle(meter).map(|(prices, _)| prices)
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
    let mut prices = bound::by_size(task);
    let mut least = bound::least_cost(task, &prices);
    let reached = |best: &Option<(u64, Answer)>, cost: u64| best.as_ref().is_some_and(|best| best.0 <= cost);
    if !reached(&best, least.div_ceil(prices.scale)) && meter.goes_on() {
        let known = best.as_ref().map_or_else(Answer::new, |(_, answer)| answer.clone());
        if let Some(sharp) = sharp(task, Question::Cover, &known, &mut meter)
            && bound::least_cost(task, &sharp) > least
        {
            least = bound::least_cost(task, &sharp);
            prices = sharp;
        }
    }
    meter.tell(best.as_ref().map(|best| best.0), least.div_ceil(prices.scale));
    if best.is_none() {
        let outcome = if least.div_ceil(prices.scale) > all_columns(task) {
            Outcome::Impossible
        } else {
            search::cover(task, &prices, least, u64::MAX, &mut meter)
        };
        match outcome {
            Outcome::Found(answer) => best = Some((cost_of(task, &answer), answer)),
            Outcome::Impossible => return Found { patterns: some(task, &mut meter), bound: Least::TooFew },
            Outcome::GaveUp => {}
        }
    }
    let sums = Sums::new(task, best.as_ref().map_or(0, |best| best.0));
    let mut cost = sums.next(least.div_ceil(prices.scale));
    while !reached(&best, cost) && best.is_some() {
        match search::cover(task, &prices, least, cost, &mut meter) {
            Outcome::Found(answer) => best = Some((cost_of(task, &answer), answer)),
            Outcome::Impossible => cost = sums.next(cost + 1),
            Outcome::GaveUp => break,
        }
        meter.tell(best.as_ref().map(|best| best.0), cost);
    }
    let patterns = best.map_or_else(|| some(task, &mut meter), |best| best.1);
    Found { patterns, bound: Least::Cost(cost) }
}

/// What all columns cost that could be taken.
fn all_columns(task: &Task) -> u64 {
    task.shapes.iter().map(|shape| shape.cost * u64::from(shape.count)).sum()
}

/// As much as goes into the columns that there are.
fn some(task: &Task, meter: &mut Meter) -> Answer {
    filled(task, &sizes(task, 1.0, 1.5), 16, meter).1
}

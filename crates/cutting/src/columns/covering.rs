//! From a quick cover to a proven one.

use super::Least;
use super::bound::Prices;
use super::effort::{Effort, Meter};
use super::fill::sizes;
use super::prices::sharp;
use super::quick::{cost_of, covered, filled, ways};
use super::refill::{Dice, Standing};
use super::search::{self, Answer, Outcome};
use super::sums::Sums;
use super::task::{Found, Question, Task};
use super::whole;

/// Trials of filling columns anew that may bring nothing, one after the other.
const TRIALS: u32 = 60;

/// Choices of columns that are tried at most.
const MOST_CHOICES: usize = 200;

/// Steps of the search that comes before columns are chosen.
const FIRST_SEARCH: u64 = 2_000_000;

struct Covering<'a, 'e> {
    task: &'a Task<'a>,
    best: Option<(u64, Answer)>,
    /// No cover costs less.
    least: u64,
    meter: Meter<'e>,
}

/// Answers [`super::cover`].
pub(super) fn cover(task: &Task, effort: Effort) -> Found<Least> {
    let mut covering = Covering { task, best: None, least: 0, meter: Meter::new(effort) };
    let mut ways = ways(task).enumerate();
    // The first cover comes whatever the effort.
    covering.taken(ways.next());
    let rough = Prices::by_size(task, &mut covering.meter);
    covering.bounded(&rough);
    while covering.goes_on() && covering.taken(ways.next()) {}
    let prices = covering.priced(rough);
    let possible = covering.possible(&prices);
    if possible {
        // The search is quick where the bound is sharp. Where it is not, a choice of columns may bring more.
        covering.exactly(&prices, FIRST_SEARCH);
        covering.chosen(&prices);
        covering.exactly(&prices, u64::MAX);
    }
    let bound = if possible { Least::Cost(covering.least) } else { Least::TooFew };
    let patterns = covering.best.take().map_or_else(|| covering.some(), |best| best.1);
    Found { patterns, bound }
}

impl Covering<'_, '_> {
    fn done(&self) -> bool {
        self.best.as_ref().is_some_and(|best| best.0 <= self.least)
    }

    fn goes_on(&self) -> bool {
        !self.done() && self.meter.goes_on()
    }

    fn cost(&self) -> Option<u64> {
        self.best.as_ref().map(|best| best.0)
    }

    /// Takes an answer that covers everything, if it is cheaper.
    fn offer(&mut self, answer: Answer) {
        let cost = cost_of(self.task, &answer);
        if self.cost().is_none_or(|best| cost < best) {
            self.best = Some((cost, answer));
            self.meter.tell(Some(cost), self.least);
        }
    }

    fn bounded(&mut self, prices: &Prices) {
        self.least = self.least.max(prices.least_cost(self.task).div_ceil(prices.scale));
        self.meter.tell(self.cost(), self.least);
    }

    /// Takes columns one after the other for given values.
    fn taken(&mut self, way: Option<(usize, (Vec<u64>, u32))>) -> bool {
        let Some((number, (values, bands))) = way else {
            return false;
        };
        let task = self.task;
        // The first of all is not cut short.
        let sixteenths = if number == 0 { 16 } else { 2 };
        let answer = self.meter.share(sixteenths, |meter| covered(task, &values, bands, number % 2 == 1, meter));
        if let Some(answer) = answer {
            self.offer(answer);
        }
        true
    }

    /// Looks for the best prices, and for what can be made of the patterns found with them.
    fn priced(&mut self, rough: Prices) -> Prices {
        if !self.goes_on() {
            return rough;
        }
        let task = self.task;
        let known = self.best.as_ref().map_or_else(Answer::new, |best| best.1.clone());
        let (prices, patterns) = self.meter.share(8, |meter| sharp(task, Question::Cover, &known, meter));
        let prices = prices.filter(|prices| prices.least_cost(task) > rough.least_cost(task)).unwrap_or(rough);
        self.bounded(&prices);
        if self.goes_on() {
            let by_price: Vec<u64> = prices.price.iter().map(|price| price + 1).collect();
            let answer = covered(task, &by_price, 24, false, &mut self.meter);
            if let Some(answer) = answer {
                self.offer(answer);
            }
        }
        if self.goes_on()
            && let Some(answer) = whole::best(task, Question::Cover, &patterns, &mut self.meter)
        {
            self.offer(answer);
        }
        prices
    }

    /// Chooses columns first and then tries to place everything in them: those first that can bring the most by the prices.
    fn chosen(&mut self, prices: &Prices) {
        let Some(below) = self.cost().filter(|_| self.goes_on()) else {
            return;
        };
        let mut choices = choices(self.task, prices, below, &mut self.meter);
        choices.sort_by_key(|choice| std::cmp::Reverse(choice.brings));
        let values = sizes(self.task, 1.0, 1.5);
        for choice in choices.into_iter().take(MOST_CHOICES) {
            if !self.goes_on() || self.cost().is_some_and(|best| choice.cost >= best) {
                continue;
            }
            let task = self.task;
            let standing = self.meter.share(4, |meter| {
                let answer = filled(task, &choice.counts, &values, 12, meter);
                let mut standing = Standing::new(task, &answer, &choice.counts);
                standing.refill(&values, TRIALS, &mut Dice::new(), meter);
                standing
            });
            if standing.left.iter().all(|&left| left == 0) {
                self.offer(standing.answer());
            }
        }
    }

    /// Whether there may be a cover; looks for one where there is none yet.
    fn possible(&mut self, prices: &Prices) -> bool {
        if self.best.is_some() {
            return true;
        }
        let all: u64 = self.task.shapes.iter().map(|shape| shape.cost * u64::from(shape.count)).sum();
        if self.least > all {
            return false;
        }
        match search::cover(self.task, prices, prices.least_cost(self.task), u64::MAX, &mut self.meter) {
            Outcome::Found(answer) => {
                self.offer(answer);
                true
            }
            Outcome::Impossible => false,
            Outcome::GaveUp => true,
        }
    }

    /// Searches for the least cost that there can be, and then for the next, each time within so many steps.
    fn exactly(&mut self, prices: &Prices, steps: u64) {
        let bound = prices.least_cost(self.task);
        let sums = Sums::new(self.task, prices, self.cost().unwrap_or(0));
        self.least = sums.next(self.least);
        while self.best.is_some() && self.goes_on() {
            let (task, least) = (self.task, self.least);
            match self.meter.part(steps, |meter| search::cover(task, prices, bound, least, meter)) {
                Outcome::Found(answer) => self.offer(answer),
                Outcome::Impossible => self.least = sums.next(self.least + 1),
                Outcome::GaveUp => break,
            }
            self.meter.tell(self.cost(), self.least);
        }
    }

    /// As much as goes into the columns that there are.
    fn some(&mut self) -> Answer {
        let counts: Vec<u32> = self.task.shapes.iter().map(|shape| shape.count).collect();
        filled(self.task, &counts, &sizes(self.task, 1.0, 1.5), 16, &mut self.meter)
    }
}

/// So many columns of each shape.
struct Choice {
    counts: Vec<u32>,
    cost: u64,
    brings: u64,
}

/// Choices of columns that cost less than `below`, can bring enough by the prices, and leave no money for one more.
fn choices(task: &Task, prices: &Prices, below: u64, meter: &mut Meter) -> Vec<Choice> {
    let start = Choice { counts: vec![0; task.shapes.len()], cost: 0, brings: 0 };
    let mut choosing = Choosing { task, prices, needed: prices.of_all(task), below, meter, choices: Vec::new(), current: start };
    choosing.go(0);
    choosing.choices
}

struct Choosing<'a, 'm, 'e> {
    task: &'a Task<'a>,
    prices: &'a Prices,
    needed: u64,
    below: u64,
    meter: &'m mut Meter<'e>,
    choices: Vec<Choice>,
    current: Choice,
}

impl Choosing<'_, '_, '_> {
    /// Chooses how many of each shape from a number on. `None` when there are enough choices, or the effort is spent.
    fn go(&mut self, number: usize) -> Option<()> {
        self.meter.spend(1)?;
        let Choice { counts, cost, brings } = &self.current;
        let Some(shape) = self.task.shapes.get(number) else {
            let another = |(shape, count): (&super::task::Shape, &u32)| *count < shape.count && cost + shape.cost < self.below;
            if *brings >= self.needed && !self.task.shapes.iter().zip(counts).any(another) {
                self.choices.push(Choice { counts: counts.clone(), cost: *cost, brings: *brings });
            }
            return (self.choices.len() < 8 * MOST_CHOICES).then_some(());
        };
        let affordable = (self.below - cost - 1).checked_div(shape.cost).unwrap_or(u64::MAX);
        let most = affordable.min(u64::from(shape.count)) as u32;
        let (cost, brings) = (*cost, *brings);
        for count in (0..=most).rev() {
            self.current.counts[number] = count;
            self.current.cost = cost + shape.cost * u64::from(count);
            self.current.brings = brings.saturating_add(self.prices.brings[number].saturating_mul(u64::from(count)));
            self.go(number + 1)?;
        }
        (self.current.counts[number], self.current.cost, self.current.brings) = (0, cost, brings);
        Some(())
    }
}

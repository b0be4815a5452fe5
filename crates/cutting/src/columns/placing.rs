//! From a quick placement to a proven one.

use super::bound::Prices;
use super::effort::{Effort, Meter};
use super::fill::worths;
use super::prices::sharp;
use super::quick::{filled, ways, worth_of};
use super::refill::{Dice, Standing};
use super::search::{self, Answer};
use super::task::{Found, Question, Task};
use super::whole;

/// Trials of filling columns anew that may bring nothing, one after the other.
const TRIALS: u32 = 400;

struct Placing<'a, 'e> {
    task: &'a Task<'a>,
    /// How many columns there are of each shape.
    counts: Vec<u32>,
    best: (u64, Answer),
    /// No placement is worth more.
    most: u64,
    meter: Meter<'e>,
}

/// Answers [`super::place`].
pub(super) fn place(task: &Task, effort: Effort) -> Found<u64> {
    let counts = task.shapes.iter().map(|shape| shape.count).collect();
    let most = task.worth(&task.counts());
    let mut placing = Placing { task, counts, best: (0, Answer::new()), most, meter: Meter::new(effort) };
    let by_worth = (worths(task), 16);
    let mut ways = ways(task).chain([by_worth]);
    // The first filling comes whatever the effort.
    placing.filled(ways.next());
    if !placing.done() {
        let free = Prices::free(task, &mut placing.meter);
        placing.bounded(&free);
        while placing.goes_on() && placing.filled(ways.next()) {}
        let prices = placing.priced(free);
        placing.anew();
        placing.exactly(&prices);
    }
    Found { patterns: placing.best.1, bound: placing.most }
}

impl Placing<'_, '_> {
    fn done(&self) -> bool {
        self.best.0 == self.most
    }

    fn goes_on(&self) -> bool {
        !self.done() && self.meter.goes_on()
    }

    fn offer(&mut self, answer: Answer) {
        let worth = worth_of(self.task, &answer);
        if worth > self.best.0 {
            self.best = (worth, answer);
            self.meter.tell(Some(worth), self.most);
        }
    }

    fn bounded(&mut self, prices: &Prices) {
        self.most = self.most.min(prices.most_worth(self.task) / prices.scale);
        self.meter.tell(Some(self.best.0), self.most);
    }

    /// Fills all columns for given values.
    fn filled(&mut self, way: Option<(Vec<u64>, u32)>) -> bool {
        let Some((values, bands)) = way else {
            return false;
        };
        let answer = filled(self.task, &self.counts, &values, bands, &mut self.meter);
        self.offer(answer);
        true
    }

    /// Looks for the best prices, and for what can be made of the patterns found with them.
    fn priced(&mut self, free: Prices) -> Prices {
        if !self.goes_on() {
            return free;
        }
        let (task, known) = (self.task, &self.best.1);
        let (prices, patterns) = self.meter.share(8, |meter| sharp(task, Question::Place, known, meter));
        let prices = prices.filter(|prices| prices.most_worth(task) < free.most_worth(task)).unwrap_or(free);
        self.bounded(&prices);
        if self.goes_on()
            && let Some(answer) = whole::best(task, Question::Place, &patterns, &mut self.meter)
        {
            self.offer(answer);
        }
        prices
    }

    /// Empties columns and fills them anew.
    fn anew(&mut self) {
        if self.goes_on() {
            let mut standing = Standing::new(self.task, &self.best.1, &self.counts);
            let values = worths(self.task);
            self.meter.share(8, |meter| standing.refill(&values, TRIALS, &mut Dice::new(), meter));
            self.offer(standing.answer());
        }
    }

    /// Searches for anything better, and proves the best where there is nothing.
    fn exactly(&mut self, prices: &Prices) {
        if self.goes_on() && search::place(self.task, prices, &mut self.best, &mut self.meter).is_some() {
            self.most = self.best.0;
        }
    }
}

//! Exact search over the patterns that a bound leaves.
//!
//! A bound prices things. A pattern that brings less than its column must, by these prices, loses something, and so does a
//! thing that is left; an answer better than the best known loses no more than lies between that and the bound. So only
//! patterns that lose little are listed, and only sequences that lose little in sum are tried.

use std::collections::{BTreeMap, HashMap};

use super::bound::Prices;
use super::climb::{Rows, undominated};
use super::effort::Meter;
use super::pattern::Pattern;
use super::task::Task;

/// More patterns than this are not searched.
const MOST_PATTERNS: usize = 30_000;

/// Lists up to this length are thinned out by comparing all pairs.
const MOST_COMPARED: usize = 4_000;

/// More states than this are not remembered.
const MOST_STATES: usize = 500_000;

/// Patterns and how often each is used.
pub(super) type Answer = Vec<(Pattern, u32)>;

/// Patterns of a shape worth at least `floor`, the best first. `None` when there are too many or the effort is spent.
fn patterns(task: &Task, number: usize, values: &[u64], floor: u64, meter: &mut Meter) -> Option<Vec<Pattern>> {
    let counts = task.counts();
    let rows = Rows::new(number, &task.shapes[number], values, &counts, floor, meter)?;
    let mut found: BTreeMap<Vec<u32>, Pattern> = BTreeMap::new();
    rows.every(floor, meter, &mut |_, fills| {
        let pattern = rows.pattern(&fills);
        found.entry(pattern.amounts.clone()).or_insert(pattern);
        (found.len() <= MOST_PATTERNS).then_some(floor)
    })?;
    let mut patterns: Vec<Pattern> = found.into_values().collect();
    if patterns.len() <= MOST_COMPARED {
        meter.spend((patterns.len() * patterns.len() / 8) as u64)?;
        patterns = undominated(patterns);
    }
    patterns.sort_by_cached_key(|pattern| std::cmp::Reverse(brings(&pattern.amounts, &pattern.amounts, values)));
    Some(patterns)
}

/// What a pattern brings where only so many are left.
fn brings(amounts: &[u32], left: &[u32], values: &[u64]) -> u64 {
    amounts.iter().zip(left).zip(values).map(|((&amount, &left), value)| value * u64::from(amount.min(left))).sum()
}

/// Looks for placements worth more than `best`. `Some` when it has seen them all, so that `best` is the greatest worth there is.
pub(super) fn place(task: &Task, prices: &Prices, best: &mut (u64, Answer), meter: &mut Meter) -> Option<()> {
    let values: Vec<u64> = task.kinds.iter().zip(&prices.price).map(|(kind, price)| kind.worth * prices.scale - price).collect();
    let counts = task.counts();
    let columns: u64 = task.shapes.iter().zip(&prices.brings).map(|(shape, most)| most * u64::from(shape.count)).sum();
    let bound = columns + brings(&counts, &counts, &prices.price);
    let Some(slack) = slack(bound, best.0, prices.scale) else {
        return Some(());
    };
    let menus = (0..task.shapes.len())
        .map(|number| patterns(task, number, &values, prices.brings[number].saturating_sub(slack), meter))
        .collect::<Option<Vec<_>>>()?;
    let mut search = Placing { task, prices, values, bound, menus, best, meter, chosen: Vec::new(), seen: HashMap::new(), left: counts };
    search.go(0, 0, 0, 0)
}

/// What an answer may lose that is worth more than `best`; `None` when it would have to lose less than nothing.
fn slack(bound: u64, best: u64, scale: u64) -> Option<u64> {
    bound.checked_sub((best + 1) * scale)
}

struct Placing<'a, 'm, 'e> {
    task: &'a Task<'a>,
    prices: &'a Prices,
    values: Vec<u64>,
    bound: u64,
    menus: Vec<Vec<Pattern>>,
    best: &'a mut (u64, Answer),
    meter: &'m mut Meter<'e>,
    /// Shape and pattern of each column filled so far.
    chosen: Vec<(usize, usize)>,
    /// The least loss with which a state was entered.
    seen: HashMap<(usize, u32, usize, Vec<u32>), u64>,
    left: Vec<u32>,
}

impl Placing<'_, '_, '_> {
    /// Fills the columns from number `used` of a shape on, with patterns from `start` on: equal columns are alike, so only
    /// the order in which their patterns do not decrease is tried.
    fn go(&mut self, shape: usize, used: u32, start: usize, loss: u64) -> Option<()> {
        self.keep();
        let Some(of) = self.task.shapes.get(shape) else {
            return Some(());
        };
        if used == of.count {
            return self.go(shape + 1, 0, 0, loss);
        }
        let Some(slack) = slack(self.bound, self.best.0, self.prices.scale) else {
            return Some(());
        };
        if loss + self.loss_at_least(shape, used) > slack {
            return Some(());
        }
        let state = (shape, used, start, self.left.clone());
        if self.seen.get(&state).is_some_and(|&before| before <= loss) {
            return Some(());
        }
        if self.seen.len() < MOST_STATES {
            self.seen.insert(state, loss);
        }
        self.meter.spend(1 + (self.menus[shape].len() * self.left.len() / 8) as u64)?;
        let most = self.prices.brings[shape];
        let mut next: Vec<(u64, usize)> = (start..self.menus[shape].len())
            .map(|number| (most - brings(&self.menus[shape][number].amounts, &self.left, &self.values), number))
            .filter(|(own, _)| loss + own <= slack)
            .collect();
        next.sort_unstable();
        if self.menus[shape].is_empty() {
            // No pattern loses little enough; where the slack allows, all of these columns stay empty.
            let empty = most * u64::from(of.count - used);
            return if loss + empty <= slack { self.go(shape + 1, 0, 0, loss + empty) } else { Some(()) };
        }
        for (own, number) in next {
            let before = self.left.clone();
            self.menus[shape][number].take(&mut self.left);
            self.chosen.push((shape, number));
            let going = self.go(shape, used + 1, number, loss + own);
            self.chosen.pop();
            self.left = before;
            going?;
        }
        Some(())
    }

    /// What the columns still to be filled lose at least, for want of things.
    fn loss_at_least(&self, shape: usize, used: u32) -> u64 {
        let still = self.task.shapes[shape..].iter().zip(&self.prices.brings[shape..]);
        let could: u64 = still.map(|(shape, most)| most * u64::from(shape.count)).sum();
        (could - self.prices.brings[shape] * u64::from(used)).saturating_sub(brings(&self.left, &self.left, &self.values))
    }

    fn keep(&mut self) {
        let placed: Vec<u32> = self.task.kinds.iter().zip(&self.left).map(|(kind, left)| kind.count - left).collect();
        let worth = self.task.worth(&placed);
        if worth > self.best.0 {
            *self.best = (worth, self.chosen.iter().map(|&(shape, number)| (self.menus[shape][number].clone(), 1)).collect());
        }
    }
}

/// What a search for a cover found out.
#[derive(Debug)]
pub(super) enum Outcome {
    Found(Answer),
    Impossible,
    /// The effort is spent, or the task is too large.
    GaveUp,
}

/// Looks for a cover that costs no more than `most_cost`.
pub(super) fn cover(task: &Task, prices: &Prices, bound: u64, most_cost: u64, meter: &mut Meter) -> Outcome {
    let Some(slack) = most_cost.saturating_mul(prices.scale).checked_sub(bound) else {
        return Outcome::Impossible;
    };
    let mut menu = Vec::new();
    for number in 0..task.shapes.len() {
        let whole = prices.whole(task, number);
        let Some(more) = patterns(task, number, &prices.price, whole.saturating_sub(slack), meter) else {
            return Outcome::GaveUp;
        };
        menu.extend(more);
    }
    // The dearest first, for they are the hardest to place.
    let mut order: Vec<usize> = (0..task.kinds.len()).collect();
    order.sort_by_key(|&kind| std::cmp::Reverse(prices.price[kind]));
    let by_kind = |kind: usize| (0..menu.len()).filter(|&number| menu[number].amounts[kind] > 0).collect();
    let with: Vec<Vec<usize>> = (0..task.kinds.len()).map(by_kind).collect();
    let counts = task.shapes.iter().map(|shape| shape.count).collect();
    let mut search = Covering {
        task,
        prices,
        slack,
        most_cost,
        menu,
        order,
        with,
        meter,
        chosen: Vec::new(),
        seen: HashMap::new(),
        left: task.counts(),
        columns: counts,
    };
    match search.go(0, 0) {
        Some(true) => Outcome::Found(search.chosen.iter().map(|&number| (search.menu[number].clone(), 1)).collect()),
        Some(false) => Outcome::Impossible,
        None => Outcome::GaveUp,
    }
}

struct Covering<'a, 'm, 'e> {
    task: &'a Task<'a>,
    prices: &'a Prices,
    slack: u64,
    most_cost: u64,
    menu: Vec<Pattern>,
    /// Kinds in the order in which they are covered.
    order: Vec<usize>,
    /// The patterns with each kind.
    with: Vec<Vec<usize>>,
    meter: &'m mut Meter<'e>,
    chosen: Vec<usize>,
    /// The least loss with which a state was entered: what is left, and how many columns of each shape.
    seen: HashMap<(Vec<u32>, Vec<u32>), u64>,
    left: Vec<u32>,
    columns: Vec<u32>,
}

impl Covering<'_, '_, '_> {
    /// Whether what is left can be covered without losing more than the slack, nor paying more than the most; `None` when the
    /// effort is spent. That columns of which there are few stay unused is a loss too, which only the cost tells.
    fn go(&mut self, loss: u64, cost: u64) -> Option<bool> {
        let Some(&kind) = self.order.iter().find(|&&kind| self.left[kind] > 0) else {
            return Some(true);
        };
        let state = (self.left.clone(), self.columns.clone());
        if self.seen.get(&state).is_some_and(|&before| before <= loss) {
            return Some(false);
        }
        if self.seen.len() < MOST_STATES {
            self.seen.insert(state, loss);
        }
        self.meter.spend(1 + (self.with[kind].len() * self.left.len() / 8) as u64)?;
        let mut next: Vec<(u64, usize)> = Vec::new();
        for &number in &self.with[kind] {
            let pattern = &self.menu[number];
            let whole = self.prices.whole(self.task, pattern.shape);
            let own = whole - brings(&pattern.amounts, &self.left, &self.prices.price);
            let payable = cost + self.task.shapes[pattern.shape].cost <= self.most_cost;
            if payable && self.columns[pattern.shape] > 0 && loss.saturating_add(own) <= self.slack {
                next.push((own, number));
            }
        }
        next.sort_unstable();
        for (own, number) in next {
            let before = self.left.clone();
            let shape = self.menu[number].shape;
            self.menu[number].take(&mut self.left);
            self.columns[shape] -= 1;
            self.chosen.push(number);
            if self.go(loss.saturating_add(own), cost + self.task.shapes[shape].cost)? {
                return Some(true);
            }
            self.chosen.pop();
            self.columns[shape] += 1;
            self.left = before;
        }
        Some(false)
    }
}
